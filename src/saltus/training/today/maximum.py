"""The maximum of the day, with its error, from logged sets: repetitions, reserve, bar speed."""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from math import log, sqrt

from saltus.athlete.load_velocity import checked_speeds
from saltus.athlete.maxima import FORGETTING_PER_ROOT_WEEK, lognormal
from saltus.athlete.measurement_error import maximum_from
from saltus.athlete.observations import BarSpeedSet, Lift, RepSet
from saltus.athlete.strength import MAXIMUM_CV
from saltus.errors import TestError
from saltus.quantities import Estimate
from saltus.training.exercises import Exercise
from saltus.training.log import LoggedSession, LoggedSet
from saltus.training.method import Method
from saltus.training.today.expected import Shown, level_today
from saltus.training.today.facts import Facts

__all__ = ["RECENT_DAYS", "day_maximum", "lift_of", "sets_as_tests"]

RECENT_DAYS = 42
"""Older sets say little of today: a training block lies between (a judgement)."""

_COMMON_SHARE = 0.5
# Formulas and people's habits of telling what is left come back with every set of an athlete;
# half of a set's error beside the form of the day is taken to be of that sort (a judgement).

_SAME_LOAD_KG = 0.01


def lift_of(exercise: Exercise) -> Lift | None:
    """Lift of which a set of the exercise is a test; None where it is only like it."""
    rule = exercise.load
    if rule is None or rule.of is None or exercise.id != str(rule.of):
        return None
    return rule.of


def sets_as_tests(log: Iterable[LoggedSession], method: Method) -> tuple[RepSet | BarSpeedSet, ...]:
    """Logged sets that say something of a maximum or of its change, for whoever follows.

    Parameters
    ----------
    log : iterable of LoggedSession
        What was done.
    method : Method
        Says which exercise is which lift, and how much told reserve still says something.

    Returns
    -------
    tuple of RepSet or BarSpeedSet
        Of each lift and day the set that says most, since sets of one day share their error, and
        counted one by one they would seem surer than they are; and all bar speeds, since a day
        that tells no maximum by itself, of a single load or of light ones, still tells a change
        beside others (:mod:`saltus.progress.bar_speeds_over_time`). In order of date; labelled
        "log".
    """
    found: list[RepSet | BarSpeedSet] = []
    for session in sorted(log, key=lambda each: each.date):
        best: dict[Lift, tuple[float, RepSet]] = {}
        said = _said(session.sets, session.date, method)
        for test, error in _read(said):
            if isinstance(test, RepSet) and (test.lift not in best or error < best[test.lift][0]):
                best[test.lift] = (error, test)
        found += [test for test in said if isinstance(test, BarSpeedSet) and _right(test)]
        found += [test for _, test in best.values()]
    return tuple(found)


def day_maximum(
    lift: Lift, facts: Facts, method: Method, today: Sequence[LoggedSet] = ()
) -> Estimate | None:
    """Maximum that the athlete has today, kg on the bar.

    Parameters
    ----------
    lift : Lift
        Which.
    facts : Facts
        The assessment gives what was known before; sets of the last six weeks add to it,
        those that stand among its tests left out.
    method : Method
        See :func:`sets_as_tests`.
    today : sequence of LoggedSet
        Sets of the day; they stand in place of what the log holds of the same exercises.

    Returns
    -------
    Estimate or None
        None where nothing is known of the lift.
    """
    before = facts.assessment.maxima_kg.get(lift)
    if before is None or not before.value > 0:
        return None
    tested = {_key(o) for o in facts.observations if isinstance(o, RepSet | BarSpeedSet)}
    by_day: dict[dt.date, list[LoggedSet]] = defaultdict(list)
    for session in facts.log:
        if 0 <= (facts.date - session.date).days <= RECENT_DAYS:
            by_day[session.date].extend(session.sets)
    redone = {one.exercise for one in today}
    others = [one for one in by_day[facts.date] if one.exercise not in redone]
    by_day[facts.date] = [*others, *today]
    shown = []
    for date, sets in sorted(by_day.items()):
        for test, sd_log in _read(_said(sets, date, method)):
            if test.lift is not lift or _key(test) in tested:
                continue
            own = max(sd_log**2 - MAXIMUM_CV**2, 0.0)
            shown.append(
                Shown(
                    value=log(maximum_from(test)[0]),
                    weeks_ago=(facts.date - date).days / 7,
                    sd=sqrt((1 - _COMMON_SHARE) * own),
                    common_sd=sqrt(_COMMON_SHARE * own),
                    kind=type(test).__name__,
                )
            )
    level = level_today(
        shown,
        mean=log(before.value),
        sd=before.sd / before.value,
        day_sd=MAXIMUM_CV,
        drift_per_root_week=FORGETTING_PER_ROOT_WEEK,
    )
    return lognormal(level.mean, level.sd)


def _said(sets: Iterable[LoggedSet], date: dt.date, method: Method) -> list[RepSet | BarSpeedSet]:
    """Sets of one day as tests of lifts."""
    speeds: dict[Lift, list[tuple[float, float]]] = defaultdict(list)
    tests: list[RepSet | BarSpeedSet] = []
    for done in sets:
        exercise = method.exercises.get(done.exercise)
        lift = None if exercise is None else lift_of(exercise)
        if lift is None or done.skipped or not done.load_kg or done.reps < 1:
            continue
        if done.speed_m_s is not None:
            speeds[lift].append((done.load_kg, done.speed_m_s))
        reserve = 0.0 if done.missed else done.reserve
        if reserve is not None and reserve <= method.day.most_reserve:
            tests.append(
                RepSet(
                    date=date,
                    label="log",
                    lift=lift,
                    load_kg=done.load_kg,
                    reps=done.reps,
                    reserve=reserve,
                )
            )
    for lift, pairs in speeds.items():
        loads, fastest = zip(*pairs, strict=True)
        tests.append(
            BarSpeedSet(date=date, label="log", lift=lift, loads_kg=loads, speeds_m_s=fastest)
        )
    return tests


def _read(
    tests: Iterable[RepSet | BarSpeedSet],
) -> Iterator[tuple[RepSet | BarSpeedSet, float]]:
    """Each with the error of its logarithm; what no equation takes is left out."""
    for test in tests:
        try:
            yield test, maximum_from(test)[1]
        except TestError:
            continue


def _right(test: BarSpeedSet) -> bool:
    try:
        checked_speeds(test)
    except TestError:
        return False
    return True


def _key(test: RepSet | BarSpeedSet) -> tuple[object, ...]:
    if isinstance(test, RepSet):
        return (test.date, test.lift, round(test.load_kg / _SAME_LOAD_KG), test.reps)
    return (test.date, test.lift, test.loads_kg, test.speeds_m_s)
