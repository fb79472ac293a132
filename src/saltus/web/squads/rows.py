"""The squad page's rows, from summaries alone."""

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from django.db.models import Q
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from saltus.record.glance import ConcernKind, coming, concerns
from saltus.web.access import athletes_of
from saltus.web.models import Athlete, Share, User
from saltus.web.squads.words import change_words, coming_words, concern_words
from saltus.web.summaries import is_stale, with_stamps

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
    """One athlete as the page shows them."""

    athlete: Athlete
    jump: dict[str, float] | None
    change: dict[str, Any] | None
    change_words: str
    limiting: dict[str, Any] | None
    coming: list[tuple[str, str]]
    eye: list[tuple[str, bool]]
    """Sentences, each with whether it bids stop."""
    stale: bool
    may_edit: bool

    @property
    def url(self) -> str:
        """The athlete's page."""
        return reverse("athlete", args=[self.athlete.pk])

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
    athletes = list(with_stamps(found.select_related("squad").order_by("name", "pk")))
    shares = {share.squad_id: share for share in Share.objects.filter(user=user)}
    rows = _told(athletes, user, shares, timezone.localdate())
    return sorted(rows, key=lambda row: row.urgency) if wanted.eye_first else rows


def _told(
    athletes: Iterable[Athlete], user: User, shares: dict[int, Share], today: dt.date
) -> list[Row]:
    rows = []
    for athlete in athletes:
        own = athlete.squad.owner_id == user.pk
        share = shares.get(athlete.squad_id)
        health = own or bool(athlete.health_shared and share and share.sees_health)
        rows.append(_row(athlete, today, health, own or bool(share and share.can_edit)))
    return rows


def _row(athlete: Athlete, today: dt.date, health: bool, may_edit: bool) -> Row:
    told = athlete.summary
    facts, plan, assessed = told.get("facts"), told.get("plan"), told.get("assessed") or {}
    eye: list[tuple[str, bool]] = []
    stale = is_stale(athlete)
    if told.get("fault"):
        eye.append((_("The record is at fault: open its text to mend it"), True))
    elif told.get("failed") and not stale and told.get("failed_on"):
        eye += _failed(told)
    if facts is not None:
        eye += [
            (concern_words(each, today), each.kind is ConcernKind.PAIN_STOP)
            for each in concerns(facts, plan, today)
            if health or not each.kind.health
        ]
    return Row(
        athlete=athlete,
        jump=assessed.get("jump"),
        change=assessed.get("change"),
        change_words=change_words(assessed.get("change")),
        limiting=assessed.get("limiting"),
        coming=[]
        if facts is None
        else coming_words(coming(facts, plan, today), assessed.get("next_test", ""), today),
        eye=eye,
        stale=stale,
        may_edit=may_edit,
    )


def _failed(told: dict[str, Any]) -> Sequence[tuple[str, bool]]:
    revision = told["failed_on"][0]
    if revision != told.get("revision"):
        return ()
    return [(_("No assessment: %(why)s") % {"why": told["failed"]}, False)]
