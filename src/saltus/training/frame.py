"""The frame of a plan: what each day allows, before anything stands on it."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from saltus.training.exercises import Exercise, Place
from saltus.training.method import Method
from saltus.training.phases import LaidWeek
from saltus.training.plan import Item
from saltus.training.situation import EventKind, Priority, Situation, TargetDate

__all__ = ["LANDING", "NOT_FREE", "OUTSIDE", "FrameDay", "FrameWeek", "belongs", "build_frame"]

LANDING = "landing"
"""The family of everything that lands, preparation left out."""

NOT_FREE = "not a training day"
"""Why a weekday without minutes is not free."""

OUTSIDE = "outside the plan"
"""Why a day before the start or after the goal is not free."""


@dataclass(frozen=True, slots=True)
class FrameDay:
    """What a day allows.

    Parameters
    ----------
    date : date
        The day.
    minutes : int
        Minutes for training; 0 on a day that is not free.
    sport_load : float
        Landing load of practices and matches on that day.
    closed : frozenset of str
        Families that may not stand on it.
    why : str
        Why it is not free, or why families are closed; empty otherwise.
    done : tuple of Item
        What already stood on it, where the plan is made from a later day on.
    """

    date: dt.date
    minutes: int
    sport_load: float = 0.0
    closed: frozenset[str] = frozenset()
    why: str = ""
    done: tuple[Item, ...] = ()

    @property
    def weekday(self) -> int:
        """0 for Monday."""
        return self.date.weekday()


@dataclass(frozen=True, slots=True)
class FrameWeek:
    """A laid week with what its days allow."""

    laid: LaidWeek
    days: tuple[FrameDay, ...]

    @property
    def start(self) -> dt.date:
        """Its Monday."""
        return self.laid.start

    @property
    def minutes(self) -> int:
        """Minutes free in the week."""
        return sum(day.minutes for day in self.days)

    @property
    def sport_load(self) -> float:
        """Landing load of practices and matches."""
        return sum(day.sport_load for day in self.days)


def belongs(exercise: Exercise, family: str) -> bool:
    """Whether an exercise is of a family; "landing" is all that lands but preparation."""
    if family == LANDING:
        return exercise.lands and exercise.place is not Place.PREPARATION
    return family in exercise.families


def build_frame(
    laid: Sequence[LaidWeek],
    situation: Situation,
    goal: TargetDate,
    method: Method,
    *,
    done: Mapping[dt.date, tuple[Item, ...]] | None = None,
) -> tuple[FrameWeek, ...]:
    """Work out what each day of the laid weeks allows.

    Parameters
    ----------
    laid : sequence of LaidWeek
        The weeks.
    situation : Situation
        Days, minutes, blocked days, sport, tests.
    goal : TargetDate
        The day that counts.
    method : Method
        Gaps round matches, days of rest and without jumps before a test.
    done : mapping of date to tuple of Item, optional
        What already stood on days before `situation.start`.
    """
    targets = [goal, *(t for t in situation.targets if t.date < goal.date)]
    sport = _sport_loads(situation, method)
    matches = [e.date for e in situation.events if e.kind is EventKind.MATCH]
    frame = []
    for week in laid:
        days = []
        for date in week.dates:
            minutes, why = _minutes(date, situation, goal, targets, method)
            closed, closed_why = _closed(date, matches, goal, targets, method)
            days.append(
                FrameDay(
                    date,
                    minutes,
                    sport.get(date, 0.0),
                    closed if minutes else frozenset(),
                    why or (closed_why if minutes else ""),
                    (done or {}).get(date, ()),
                )
            )
        frame.append(FrameWeek(week, tuple(days)))
    return tuple(frame)


def _sport_loads(situation: Situation, method: Method) -> dict[dt.date, float]:
    steps = method.landing_steps
    cost = {EventKind.PRACTICE: steps.practice_cost, EventKind.MATCH: steps.match_cost}
    loads: dict[dt.date, float] = {}
    for event in situation.events:
        loads[event.date] = loads.get(event.date, 0.0) + event.landings * cost[event.kind]
    return loads


def _minutes(
    date: dt.date,
    situation: Situation,
    goal: TargetDate,
    targets: Sequence[TargetDate],
    method: Method,
) -> tuple[int, str]:
    """Minutes on a day, and why there are none."""
    minutes = situation.minutes_on(date)
    if date < situation.start or date > goal.date:
        return 0, OUTSIDE
    if not minutes:
        return 0, NOT_FREE
    if date in situation.blocked:
        return 0, "blocked"
    for target in targets:
        rest = (
            method.unloading.rest_days
            if target is goal
            else method.unloading.second_rest_days
            if target.priority is not Priority.TRIAL
            else 0
        )
        before = (target.date - date).days
        if before == 0:
            return 0, "day of a test"
        if 0 < before <= rest:
            return 0, "rest before a test"
    return minutes, ""


def _closed(
    date: dt.date,
    matches: Sequence[dt.date],
    goal: TargetDate,
    targets: Sequence[TargetDate],
    method: Method,
) -> tuple[frozenset[str], str]:
    """Families that may not stand on a day, and why."""
    closed: set[str] = set()
    why: list[str] = []
    for gap in method.match_gaps:
        for match in matches:
            apart = (date - match).days
            if -gap.days_before <= apart <= gap.days_after:
                closed.add(gap.family)
                why.append("near a match")
                break
    for target in targets:
        days = (
            method.unloading.no_jump_days.low
            if target is goal
            else method.unloading.second_no_jump_days
        )
        if 0 < (target.date - date).days <= days:
            closed.add(LANDING)
            why.append("shortly before a test")
    return frozenset(closed), ", ".join(dict.fromkeys(why))
