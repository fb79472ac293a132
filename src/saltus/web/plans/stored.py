"""Plans in the database: the one that holds, the one that is proposed, the weeks before."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from django.db import transaction
from django.db.models import Max
from django.utils import timezone
from django.utils.translation import gettext as _

from saltus.athlete.health import PainBand, pain_band
from saltus.errors import UsageError
from saltus.training.audit import Breach
from saltus.training.document import plan_document, read_plan_document
from saltus.training.method import Method
from saltus.training.plan import Plan, Week
from saltus.web.audit import note
from saltus.web.methods.using import copy_read
from saltus.web.models import Athlete, AuditEntry, MethodCopy, StoredPlan, User
from saltus.web.records import LOGGED, EditedMeanwhile, record_of

if TYPE_CHECKING:
    from saltus.training.replan import Change

__all__ = [
    "accept",
    "changed_since",
    "copy_of_plan",
    "decline",
    "earlier_weeks",
    "held",
    "meanwhile",
    "method_of_plan",
    "plan_of",
    "propose",
    "proposed",
]


def held(athlete: Athlete) -> StoredPlan | None:
    """The plan that holds: the newest accepted one."""
    return athlete.plans.filter(accepted__isnull=False).select_related("by").first()


def proposed(athlete: Athlete) -> StoredPlan | None:
    """The open proposal, if there is one that is newer than the plan that holds."""
    newest = athlete.plans.filter(declined__isnull=True).select_related("by").first()
    return newest if newest is not None and newest.accepted is None else None


def copy_of_plan(athlete: Athlete, stored: StoredPlan) -> MethodCopy | None:
    """The squad's own copy where a plan was made by one; None for the method that ships."""
    return athlete.squad.method if stored.method_name else None


def method_of_plan(athlete: Athlete, stored: StoredPlan) -> Method:
    """The method that a plan was made by.

    Raises
    ------
    MethodError
        If the text of the copy has faults.
    """
    return copy_read(copy_of_plan(athlete, stored))


def plan_of(stored: StoredPlan, method: Method) -> Plan:
    """Read a stored plan.

    Raises
    ------
    PlanError
        If it cannot be read.
    """
    return read_plan_document(stored.plan, method.exercises, str(stored))


def earlier_weeks(athlete: Athlete, plan: Plan, method: Method) -> tuple[Week, ...]:
    """Weeks before those of a plan that follows on from others, the latest last."""
    if plan.counted_from is None or not plan.weeks:
        return ()
    first = plan.weeks[0].start
    found: dict[object, Week] = {}
    # The newest plan that still speaks of a week tells it as it was done.
    for stored in athlete.plans.filter(accepted__isnull=False):
        for week in plan_of(stored, method).weeks:
            if plan.counted_from <= week.end and week.start < first:
                found.setdefault(week.start, week)
    return tuple(sorted(found.values(), key=lambda week: week.start))


def changed_since(athlete: Athlete, stored: StoredPlan) -> bool:
    """Whether the record says something new since a plan was worked out.

    What an athlete logs day by day is expected of a plan and makes it no older; a pain that came
    with it does.

    Raises
    ------
    RecordError
        If the record is at fault.
    """
    if stored.made_from_revision == athlete.revision:
        return False
    newer = athlete.revisions.filter(number__gt=stored.made_from_revision)
    if not newer or newer.exclude(what=LOGGED).exists():
        return True
    since = timezone.localdate(stored.at)
    pains = record_of(athlete, recordings=False).pains
    return any(each.date >= since and pain_band(each) is not PainBand.SAFE for each in pains)


def meanwhile(athlete: Athlete) -> EditedMeanwhile:
    """What to tell somebody whose page shows a plan that is no longer the newest."""
    newest = athlete.plans.select_related("by").first()
    name = newest.by.name if newest is not None and newest.by is not None else _("somebody else")
    return EditedMeanwhile(
        _(
            "%(athlete)s’s plan was changed by %(name)s since you opened it. Nothing was "
            "overwritten: go back, reload, and make your change again."
        )
        % {"athlete": athlete.name, "name": name}
    )


def propose(
    athlete: Athlete,
    user: User | None,
    plan: Plan,
    changes: "Iterable[Change]",
    breaches: Iterable[Breach],
    *,
    what: str,
    method_name: str,
    revision: int,
    based_on: int | None,
) -> StoredPlan:
    """Keep a plan as a proposal, in the place of any that is still open.

    Raises
    ------
    EditedMeanwhile
        If another plan holds by now than the one that it was based on.
    """
    with transaction.atomic():
        Athlete.objects.select_for_update().get(pk=athlete.pk)
        now = held(athlete)
        if (now.number if now else None) != based_on:
            raise meanwhile(athlete)
        athlete.plans.filter(accepted=None, declined=None).update(declined=timezone.now())
        last = athlete.plans.aggregate(last=Max("number"))["last"] or 0
        return StoredPlan.objects.create(
            athlete=athlete,
            number=last + 1,
            plan=plan_document(plan),
            changes=[{"date": c.date.isoformat(), "what": c.what, "why": c.why} for c in changes],
            breaches=[{"rule": b.rule, "where": b.where, "text": b.text} for b in breaches],
            based_on=based_on,
            what=what[:300],
            method_name=method_name,
            made_from_revision=revision,
            by=user,
        )


def accept(athlete: Athlete, number: int, user: User) -> StoredPlan:
    """Let a proposal hold.

    Raises
    ------
    EditedMeanwhile
        If it is no longer the open proposal, or another plan holds by now.
    UsageError
        If the record says something else by now than the proposal was made from.
    """
    with transaction.atomic():
        locked = Athlete.objects.select_for_update().get(pk=athlete.pk)
        proposal, now = proposed(athlete), held(athlete)
        if proposal is None or proposal.number != number:
            raise meanwhile(athlete)
        if (now.number if now else None) != proposal.based_on:
            raise meanwhile(athlete)
        if changed_since(locked, proposal):
            raise UsageError(
                _(
                    "The record has changed since this plan was worked out (a pain, a test or a "
                    "blocked day may be new). Nothing was accepted: work the plan out again."
                )
            )
        proposal.accepted = timezone.now()
        proposal.save(update_fields=["accepted"])
        note(user, AuditEntry.Action.PLAN_ACCEPTED, athlete=athlete, detail=str(number))
    return proposal


def decline(athlete: Athlete, number: int, user: User) -> None:
    """Put a proposal away.

    Raises
    ------
    EditedMeanwhile
        If it is no longer the open proposal.
    """
    with transaction.atomic():
        Athlete.objects.select_for_update().get(pk=athlete.pk)
        proposal = proposed(athlete)
        if proposal is None or proposal.number != number:
            raise meanwhile(athlete)
        proposal.declined = timezone.now()
        proposal.save(update_fields=["declined"])
        note(user, AuditEntry.Action.PLAN_DECLINED, athlete=athlete, detail=str(number))
