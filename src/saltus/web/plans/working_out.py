"""Working a plan out, beside the pages: one for an athlete at a time, with progress, to be stopped.

What is asked for is kept in the database (:class:`~saltus.web.models.PlanRun`), so that every
page tells how far it is, whichever process works on it. A run that was stopped finds that its
row is gone, and ends.
"""

import datetime as dt
import logging
import threading
import time
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any
from uuid import UUID

from django.conf import settings
from django.db import close_old_connections, connection, transaction
from django.utils import timezone, translation
from django.utils.translation import gettext as _

from saltus.athlete.assessment import Assessment
from saltus.errors import SaltusError, UsageError
from saltus.record import Record
from saltus.record.following import assessment_for_planning
from saltus.training.audit import audit
from saltus.training.document import pins_document, read_pins
from saltus.training.method import Method
from saltus.training.pins import with_pins
from saltus.training.plan import Pin, Plan, Week
from saltus.web.assessments import inputs_of, known_of
from saltus.web.kept import Kept
from saltus.web.methods.using import copy_read
from saltus.web.models import Athlete, PlanRun, StoredPlan, User
from saltus.web.plans.stored import earlier_weeks, held, plan_of, propose, proposed
from saltus.web.records import record_of

if TYPE_CHECKING:
    from saltus.training.replan import Change

__all__ = ["Asked", "Stopped", "assessed", "begin", "running", "stop", "work"]

_log = logging.getLogger(__name__)

_SILENT = dt.timedelta(seconds=90)
"""A run that was not heard of for so long belongs to a process that is gone."""
_TELL_EVERY_S = 0.3
_AT_ONCE = threading.BoundedSemaphore(2)
_TURN_S = 5.0
_BEFORE_PLANNING = 0.3
"""Share of the work that reading and assessing takes."""
_kept: Kept[str, Assessment] = Kept(32)


class Stopped(Exception):
    """Nobody wants this plan any more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What is asked for.

    Parameters
    ----------
    what : str
        In words.
    start : date
        First day to plan.
    afresh : bool
        Whether it need not stay close to the plan that holds.
    shipped : bool
        Whether it follows the method that ships, whatever the squad's own.
    pins : tuple of Pin or None
        What is settled by hand; None for what the present plan says.
    missed : tuple of date
        Days on which the session did not take place.
    """

    what: str
    start: dt.date
    afresh: bool = False
    shipped: bool = False
    pins: tuple[Pin, ...] | None = None
    missed: tuple[dt.date, ...] = ()

    def as_json(self) -> dict[str, Any]:
        """As kept in the database."""
        return {
            "what": self.what,
            "start": self.start.isoformat(),
            "afresh": self.afresh,
            "shipped": self.shipped,
            "pins": None if self.pins is None else pins_document(self.pins),
            "missed": [day.isoformat() for day in self.missed],
        }

    @classmethod
    def from_json(cls, row: dict[str, Any]) -> "Asked":
        """From what the database kept."""
        pins = row["pins"]
        return cls(
            what=row["what"],
            start=dt.date.fromisoformat(row["start"]),
            afresh=row["afresh"],
            shipped=row["shipped"],
            pins=None if pins is None else read_pins(pins),
            missed=tuple(dt.date.fromisoformat(day) for day in row["missed"]),
        )


# --- asking ---------------------------------------------------------------------------------


def running(athlete: Athlete) -> PlanRun | None:
    """The run of an athlete: at work, or ended with a fault; None where there is none."""
    run = PlanRun.objects.filter(athlete=athlete).first()
    if run is None or (run.finished is None and timezone.now() - run.touched > _SILENT):
        return None
    return run


def begin(athlete: Athlete, user: User, asked: Asked) -> PlanRun:
    """Have a plan worked out.

    Raises
    ------
    UsageError
        If one is being worked out for this athlete already.
    """
    with transaction.atomic():
        Athlete.objects.select_for_update().get(pk=athlete.pk)
        present = running(athlete)
        if present is not None and present.finished is None:
            raise UsageError(
                _("A plan for %(name)s is being worked out already: wait for it, or stop it.")
                % {"name": athlete.name}
            )
        PlanRun.objects.filter(athlete=athlete).delete()
        run = PlanRun.objects.create(athlete=athlete, asked=asked.as_json(), by=user)
        token = run.token
        if settings.PLAN_IN_BACKGROUND:
            transaction.on_commit(lambda: _start(token))
    return run


def stop(athlete: Athlete) -> bool:
    """Stop a run, or put away the fault of one; whether there was any."""
    return bool(PlanRun.objects.filter(athlete=athlete).delete()[0])


def _start(token: UUID) -> None:
    threading.Thread(target=_alone, args=(token,), name="saltus-plan", daemon=True).start()


def _alone(token: UUID) -> None:
    close_old_connections()
    try:
        while not _AT_ONCE.acquire(timeout=_TURN_S):
            if not PlanRun.objects.filter(token=token).update(touched=timezone.now()):
                return
        try:
            work(token)
        except Exception:
            _log.exception("A plan could not be worked out")
            raise
        finally:
            _AT_ONCE.release()
    finally:
        connection.close()


# --- working --------------------------------------------------------------------------------


def work(token: UUID) -> StoredPlan | None:
    """Work a plan out and propose it; None where it was stopped or came to nothing."""
    run = PlanRun.objects.select_related("athlete__squad__method", "by").filter(token=token).first()
    if run is None:
        return None
    language = run.by.language if run.by is not None else ""
    try:
        with translation.override(language or settings.LANGUAGE_CODE):
            proposal = _Work(run).do()
    except Stopped:
        return None
    except SaltusError as error:
        _end(token, str(error))
        return None
    except Exception:
        # Whatever it is, the page must not wait for ever.
        _end(token, _("Something went wrong while the plan was worked out; it was written down."))
        raise
    PlanRun.objects.filter(token=token).delete()
    return proposal


def _end(token: UUID, fault: str) -> None:
    now = timezone.now()
    PlanRun.objects.filter(token=token).update(fault=fault, finished=now, touched=now)


class _Work:
    """One run."""

    def __init__(self, run: PlanRun) -> None:
        self.run = run
        self.athlete = run.athlete
        self.asked = Asked.from_json(run.asked)
        self._told = 0.0

    def do(self) -> StoredPlan:
        athlete, asked = self.athlete, self.asked
        self._tell("reading", 0.05)
        copy = None if asked.shipped else athlete.squad.method
        method = copy_read(copy)
        revision = athlete.revision
        record = record_of(athlete)
        self._tell("assessing", 0.1)
        assessment = assessed(athlete, record)
        self._tell("planning", _BEFORE_PLANNING)
        based_on, open_one = held(athlete), proposed(athlete)
        plan, changes, earlier = self._plan(record, assessment, method, based_on, open_one)
        self._tell("checking", 0.97)
        # What is new: the days before it were held to the rules when they were planned.
        breaches = audit(
            plan,
            method,
            _fitting(record, plan),
            record.person,
            assessment,
            earlier=earlier,
        )
        if based_on is not None:
            current = plan_of(based_on, method)
            from saltus.training.replan import joined

            plan = joined(current, plan, timezone.localdate(), method)
        with transaction.atomic():
            # A run that was stopped in the meantime proposes nothing.
            if not PlanRun.objects.select_for_update().filter(token=self.run.token).exists():
                raise Stopped
            return propose(
                athlete,
                self.run.by,
                plan,
                changes,
                breaches,
                what=asked.what,
                method_name=copy.name if copy is not None else "",
                revision=revision,
                based_on=based_on.number if based_on else None,
            )

    def _plan(
        self,
        record: Record,
        assessment: Assessment,
        method: Method,
        based_on: StoredPlan | None,
        open_one: StoredPlan | None,
    ) -> "tuple[Plan, tuple[Change, ...], tuple[Week, ...]]":
        # The solver is only loaded where a plan is worked out: pages come sooner.
        from saltus.training.planner import make_plan
        from saltus.training.replan import compare_plans, replan

        asked, person = self.asked, record.person
        stored = based_on or (None if asked.afresh else open_one)
        current = None if stored is None else plan_of(stored, method)
        over = current is None or current.goal_date < asked.start or not current.weeks
        if current is not None and not asked.afresh and not over:
            earlier = earlier_weeks(self.athlete, current, method)
            start = max(asked.start, current.start)
            plan, changes = replan(
                current,
                person,
                assessment,
                record.situation_from(start),
                method,
                from_date=start,
                missed=asked.missed,
                earlier=earlier,
                pins=asked.pins,
                progress=self._on_progress,
            )
            known = (*earlier, *current.weeks)
            gone = frozenset(asked.missed)
            return plan, changes, _before(known, plan.weeks[0].start, gone)
        situation = record.situation_from(asked.start)
        plan = make_plan(
            person,
            assessment,
            situation,
            method,
            pins=with_pins((), asked.pins or ()),
            progress=self._on_progress,
        )
        if current is None or over:
            return plan, (), ()
        return plan, compare_plans(current, plan, person, assessment, situation, method), ()

    def _on_progress(self, share: float) -> None:
        self._tell("planning", _BEFORE_PLANNING + (0.95 - _BEFORE_PLANNING) * share)

    def _tell(self, stage: str, share: float) -> None:
        """Write down how far it is, now and then; ends the work of whoever was stopped."""
        now = time.monotonic()
        if stage == self.run.stage and now - self._told < _TELL_EVERY_S:
            return
        self._told, self.run.stage = now, stage
        mine = PlanRun.objects.filter(token=self.run.token)
        if not mine.update(stage=stage, share=share, touched=timezone.now()):
            raise Stopped


def _fitting(record: Record, plan: Plan) -> Any:
    """The situation as the plan was made for it."""
    return replace(
        record.situation_from(plan.start), landing_practice_weeks=plan.landing_practice_weeks
    )


def _before(weeks: Iterable[Week], first: dt.date, gone: frozenset[dt.date]) -> tuple[Week, ...]:
    """Weeks before a day as they were done."""
    return tuple(
        replace(week, sessions=tuple(s for s in week.sessions if s.date not in gone))
        for week in weeks
        if week.start < first
    )


def assessed(athlete: Athlete, record: Record) -> Assessment:
    """The assessment of an athlete as the planner wants it, kept for a while."""
    return _kept.get(
        inputs_of(athlete), lambda: assessment_for_planning(record, known_of(athlete, record))
    )
