"""The squad page's rows, from summaries alone."""

from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.db.models import Q
from django.urls import reverse
from django.utils import timezone

from saltus.record.glance import ConcernKind, coming, concerns
from saltus.web import sentences
from saltus.web.access import athletes_of
from saltus.web.models import Athlete, Share, User
from saltus.web.squads.words import Wording
from saltus.web.summaries import is_stale, with_stamps
from saltus.web.templatetags.figures_in_words import height, height_change
from saltus.web.units import in_units

__all__ = ["Row", "Wanted", "rows_for"]


@dataclass(frozen=True, slots=True)
class Wanted:
    """Which athletes are asked for, and in which order."""

    search: str = ""
    group: str = ""
    squad: int | None = None
    archived: bool = False
    eye_first: bool = False


@dataclass(slots=True)
class Row:
    """One athlete as the page shows them: everything is text already."""

    pk: UUID
    name: str
    group: str
    squad: str
    url: str
    stale: bool
    may_edit: bool
    eye: list[tuple[str, bool]]
    """Sentences, each with whether it bids stop."""
    coming: list[tuple[str, str]]
    """Labels and what they label."""
    jump: str = ""
    jump_interval: str = ""
    change: str = ""
    change_interval: str = ""
    change_words: str = ""
    verdict: str = ""
    limiting: str = ""
    limiting_sure: str = ""

    @property
    def tick(self) -> str:
        """What a ticked box sends."""
        return str(self.pk)

    def __getitem__(self, name: str) -> Any:
        """What a template asks for; templates look here first, and two hundred rows add up."""
        try:
            return getattr(self, name)
        except AttributeError as error:
            raise KeyError(name) from error

    @property
    def urgency(self) -> tuple[int, int]:
        """Sorts those first who need the eye most."""
        return (-sum(stop for _words, stop in self.eye), -len(self.eye))


def rows_for(user: User, wanted: Wanted) -> list[Row]:
    """The rows that a person may see; two queries, whatever the size of the squad."""
    found = athletes_of(user).filter(archived__isnull=not wanted.archived)
    if wanted.search:
        found = found.filter(Q(name__icontains=wanted.search) | Q(group__icontains=wanted.search))
    if wanted.group:
        found = found.filter(group=wanted.group)
    if wanted.squad is not None:
        found = found.filter(squad=wanted.squad)
    athletes = with_stamps(found.select_related("squad").order_by("name", "pk"))
    shares = {share.squad_id: share for share in Share.objects.filter(user=user)}
    wording = Wording(timezone.localdate())
    rows = []
    for athlete in athletes:
        own = athlete.squad.owner_id == user.pk
        share = shares.get(athlete.squad_id)
        health = own or bool(athlete.health_shared and share and share.sees_health)
        rows.append(_row(athlete, wording, health, own or bool(share and share.can_edit)))
    return sorted(rows, key=lambda row: row.urgency) if wanted.eye_first else rows


def _row(athlete: Athlete, wording: Wording, health: bool, may_edit: bool) -> Row:
    told = athlete.summary
    facts, plan, assessed = told.get("facts"), told.get("plan"), told.get("assessed") or {}
    stale = is_stale(athlete)
    row = Row(
        pk=athlete.pk,
        name=athlete.name,
        group=athlete.group,
        squad=athlete.squad.name,
        url=reverse("athlete", args=[athlete.pk]),
        stale=stale,
        may_edit=may_edit,
        eye=_failures(told, stale, wording),
        coming=[],
    )
    if facts is not None:
        row.eye += [
            (wording.concern(each), each.kind is ConcernKind.PAIN_STOP)
            for each in concerns(facts, plan, wording.today)
            if health or not each.kind.health
        ]
        row.coming = wording.coming(
            coming(facts, plan, wording.today),
            in_units(sentences.told(assessed.get("next_test", ""))),
        )
    _tell_assessment(row, assessed, wording)
    return row


def _tell_assessment(row: Row, assessed: dict[str, Any], wording: Wording) -> None:
    if jump := assessed.get("jump"):
        row.jump, row.jump_interval = height(jump["estimate"]), wording.interval(jump)
    if change := assessed.get("change"):
        row.change, row.change_interval = (
            height_change(change["estimate"]),
            wording.interval(change),
        )
        row.change_words, row.verdict = wording.change(change), change["verdict"]
    if limiting := assessed.get("limiting"):
        row.limiting, row.limiting_sure = wording.limiting(limiting)


def _failures(told: dict[str, Any], stale: bool, wording: Wording) -> list[tuple[str, bool]]:
    if told.get("fault"):
        return [(wording.say("The record is at fault: open its text to mend it"), True)]
    failed_on = told.get("failed_on")
    if failed_on and not stale and failed_on[0] == told.get("revision"):
        why = sentences.told(told["failed"])
        return [(wording.say("No assessment: %(why)s") % {"why": why}, False)]
    return []
