"""What training and sport cost, week by week: sessions, session load, and landings.

The session load is the rating of the whole session times its minutes (Foster et al. 2001,
J Strength Cond Res 15:109-115). Landings are counted by their cost, a vertical jump's being 1
(:mod:`saltus.training.landings`). Sharp rises are said plainly, against the method's own rule
for landings and against the weeks before for the session load; no score is made of them.
"""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from saltus.training.exercises import Exercise
from saltus.training.log import LoggedSession, LoggedSet
from saltus.training.method import LandingSteps
from saltus.training.phases import monday_of
from saltus.training.situation import Event, EventKind

__all__ = ["Rise", "RiseOf", "WeekLoad", "landing_load_of", "rises", "weekly_load"]

_WEEK = dt.timedelta(weeks=1)

_SHARP = 1.5
_LOOK_BACK = 4
_FEWEST_WEEKS = 2
# A week's session load half as much again as the mean of the four before it (common practice;
# the week itself is not among those it is compared with: Lolli et al. 2019, Br J Sports Med
# 53:921-922, from memory). It asks for a look; it predicts no injury.


class RiseOf(StrEnum):
    """What rose."""

    SESSION_LOAD = "session_load"
    LANDINGS = "landings"


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekLoad:
    """One week, Monday to Sunday.

    Parameters
    ----------
    start : date
        Its Monday.
    sessions : int
        Sessions logged.
    rated : int
        Those of them whose minutes and effort are known.
    session_load : float or None
        Sum over the rated ones, in arbitrary units; None where none was rated.
    landings : float
        Plain count: of the log, of practices and of matches.
    landing_load : float
        The same by their cost.
    sport_landing_load : float
        The part of it that practices and matches cost.
    """

    start: dt.date
    sessions: int
    rated: int
    session_load: float | None
    landings: float
    landing_load: float
    sport_landing_load: float


@dataclass(frozen=True, slots=True)
class Rise:
    """A week that holds much more than those before it.

    Parameters
    ----------
    week : date
        Its Monday.
    of : RiseOf
        What rose.
    value, before : float
        That week's, and what it is compared with: the mean of the weeks before for the session
        load, the fullest of them for landings.
    text : str
        In a sentence.
    """

    week: dt.date
    of: RiseOf
    value: float
    before: float
    text: str


def landing_load_of(
    session: LoggedSession, exercises: Mapping[str, Exercise]
) -> tuple[float, float]:
    """Landings of a logged session: plain count, and by their cost.

    Parameters
    ----------
    session : LoggedSession
        As logged. Missed repetitions land too.
    exercises : mapping of str to Exercise
        Of the method. What it does not know costs nothing; where the session states a number
        of landings of its own that is higher, the rest are counted as vertical jumps.
    """
    count = cost = 0.0
    for done in session.sets:
        exercise = exercises.get(done.exercise)
        if exercise is None or not _tried(done):
            continue
        count += exercise.landings(done.sets, _tried(done))
        cost += exercise.landing_load(done.sets, _tried(done), done.drop_m)
    stated = session.landings or 0.0
    return max(count, stated), cost + max(stated - count, 0.0)


def weekly_load(
    log: Iterable[LoggedSession],
    exercises: Mapping[str, Exercise],
    *,
    events: Iterable[Event] = (),
    steps: LandingSteps,
    until: dt.date,
) -> tuple[WeekLoad, ...]:
    """Every week from the first that was logged to the one that holds a day.

    Parameters
    ----------
    log : iterable of LoggedSession
        Sessions that were done.
    exercises : mapping of str to Exercise
        Of the method.
    events : iterable of Event
        Practices and matches, with their landings.
    steps : LandingSteps
        What a landing of theirs costs.
    until : date
        Last day that counts.

    Returns
    -------
    tuple of WeekLoad
        In order, none left out; empty where nothing was logged.
    """
    sessions: dict[dt.date, list[LoggedSession]] = defaultdict(list)
    for session in log:
        if session.date <= until:
            sessions[monday_of(session.date)].append(session)
    if not sessions:
        return ()
    sport: dict[dt.date, list[Event]] = defaultdict(list)
    for event in events:
        if event.date <= until:
            sport[monday_of(event.date)].append(event)
    weeks = []
    monday = min(sessions)
    while monday <= until:
        weeks.append(_week(monday, sessions[monday], sport[monday], exercises, steps))
        monday += _WEEK
    return tuple(weeks)


def rises(weeks: Sequence[WeekLoad], steps: LandingSteps) -> tuple[Rise, ...]:
    """Weeks that hold much more than those before them.

    Parameters
    ----------
    weeks : sequence of WeekLoad
        From :func:`weekly_load`; the last may be unfinished, it is judged as far as it goes.
    steps : LandingSteps
        The method's rule for landings: what a week may hold above the fullest of those before.

    Returns
    -------
    tuple of Rise
        In order of date. The first weeks of a log have nothing to be compared with.
    """
    found: list[Rise] = []
    for i, week in enumerate(weeks):
        found.extend(_load_rise(week, weeks[max(i - _LOOK_BACK, 0) : i]))
        found.extend(_landing_rise(week, weeks[max(i - steps.look_back, 0) : i], steps))
    return tuple(found)


def _tried(done: LoggedSet) -> int:
    return done.reps + done.missed


def _week(
    monday: dt.date,
    sessions: Sequence[LoggedSession],
    sport: Sequence[Event],
    exercises: Mapping[str, Exercise],
    steps: LandingSteps,
) -> WeekLoad:
    landed = [landing_load_of(session, exercises) for session in sessions]
    cost = {EventKind.PRACTICE: steps.practice_cost, EventKind.MATCH: steps.match_cost}
    sport_cost = sum(event.landings * cost[event.kind] for event in sport)
    loads = [session.load for session in sessions if session.load is not None]
    return WeekLoad(
        start=monday,
        sessions=len(sessions),
        rated=len(loads),
        session_load=sum(loads) if loads else None,
        landings=sum(count for count, _ in landed) + sum(event.landings for event in sport),
        landing_load=sum(each for _, each in landed) + sport_cost,
        sport_landing_load=sport_cost,
    )


def _load_rise(week: WeekLoad, before: Sequence[WeekLoad]) -> Iterable[Rise]:
    known = [each.session_load for each in before if each.session_load is not None]
    if week.session_load is None or len(known) < _FEWEST_WEEKS:
        return
    mean = sum(known) / len(known)
    if mean > 0 and week.session_load > _SHARP * mean:
        more = 100 * (week.session_load / mean - 1)
        yield Rise(
            week.start,
            RiseOf.SESSION_LOAD,
            week.session_load,
            mean,
            f"In the week of {week.start.isoformat()} the sessions weighed {more:.0f} % more than "
            f"in the {len(known)} weeks before it (rating times minutes: {week.session_load:.0f} "
            f"against {mean:.0f}). See that the next days are lighter.",
        )


def _landing_rise(
    week: WeekLoad, before: Sequence[WeekLoad], steps: LandingSteps
) -> Iterable[Rise]:
    if len(before) < _FEWEST_WEEKS:
        return
    fullest = max(each.landing_load for each in before)
    if week.landing_load > (1 + steps.step) * fullest + steps.allowance:
        yield Rise(
            week.start,
            RiseOf.LANDINGS,
            week.landing_load,
            fullest,
            f"In the week of {week.start.isoformat()} the landings cost as much as "
            f"{week.landing_load:.0f} ordinary ones, against {fullest:.0f} in the fullest of the "
            f"{len(before)} weeks before it: more than the method lets a week grow. Ask "
            "how the tendons are.",
        )
