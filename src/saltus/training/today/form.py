"""Form of the day: a warm-up jump or the first set, against this athlete's ordinary days."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import replace
from math import exp, hypot, log, sqrt

from scipy.special import ndtr, ndtri

from saltus.athlete.load_velocity import (
    GENERAL_SPEED_SD_M_S,
    SPEED_SD_M_S,
    percent_of_maximum,
)
from saltus.athlete.measurement_error import METHODS, jump_error
from saltus.athlete.observations import Jump, JumpMethod, JumpStyle, Lift
from saltus.athlete.strength import MAXIMUM_CV
from saltus.quantities import CENTIMETRE
from saltus.training.log import LoggedSet
from saltus.training.method import Method
from saltus.training.today.expected import Level, Shown, level_today
from saltus.training.today.facts import Facts, Form, FormState
from saltus.training.today.maximum import RECENT_DAYS, day_maximum, lift_of

__all__ = [
    "MEASURED",
    "expected_jump",
    "expected_speed",
    "form_of_day",
    "jump_form",
    "speed_form",
    "states",
]

_UNKNOWN_JUMP_SHARE = 0.20
# Arms, run-up and tape or flight time make one jump a fifth higher or lower than another (arm
# swing 15 to 40 %: docs/jumps.md); before the first of its kind no more is known.
_DRIFT_PER_ROOT_WEEK = 0.007
# Share of the height by which what is usual wanders in a week (a judgement).
_TYPICAL_COUNTS = 8
# Published spread counts as so many of the athlete's own days (a judgement).
_SAME_LOAD = 0.025
# Share of a load within which sets are compared (a judgement).
_SAME_HEIGHT_M = 0.011
# Boxes are told to the centimetre.
_SLOWEST_M_S, _FASTEST_M_S = 0.10, 1.5
MEASURED = frozenset({"free_jump", "approach_jump", "jump_squat", "trap_bar_jump", "depth_jump"})
_AT_FULL_SPEED = frozenset({Lift.BACK_SQUAT, Lift.FRONT_SQUAT})

_WORDS = {
    FormState.AS_USUAL: "as usual",
    FormState.BELOW: "below usual",
    FormState.WELL_BELOW: "well below usual",
}


def form_of_day(facts: Facts, method: Method) -> Form | None:
    """Form of the day from what the log holds of it; None before anything was measured.

    The first jump that was measured speaks, and only where there is none the first bar speed.
    """
    sets = [done for session in facts.log if session.date == facts.date for done in session.sets]
    for done in sets:
        if done.jump_m is not None and not done.skipped:
            found = jump_form(done, facts, method)
            if found is not None:
                return found
    for done in sets:
        if done.speed_m_s is not None and not done.skipped:
            found = speed_form(done, facts, method)
            if found is not None:
                return found
    return None


def states(level: Level, method: Method) -> tuple[float, float]:
    """Highest readings at which a day is below usual, and well below, in the unit of `level`."""
    day = method.day
    below, well = (
        level.mean + float(ndtri(max(share, 1e-9))) * level.sd
        for share in (day.below, day.well_below)
    )
    return below, well


def jump_form(done: LoggedSet, facts: Facts, method: Method) -> Form | None:
    """Form that the jump of a set shows; None where its exercise measures no jump.

    Parameters
    ----------
    done : LoggedSet
        With its jump.
    facts, method : Facts, Method
        Earlier days, and where the lines are.
    """
    level = expected_jump(done, facts, method)
    if level is None or done.jump_m is None:
        return None
    told = (
        f"The jump of {done.jump_m / CENTIMETRE:.0f} cm is %s: on ordinary days "
        f"{(level.mean - level.sd) / CENTIMETRE:.0f} to "
        f"{(level.mean + level.sd) / CENTIMETRE:.0f} cm."
    )
    return _form(done.jump_m, level, told, method)


def speed_form(done: LoggedSet, facts: Facts, method: Method) -> Form | None:
    """Form that the bar speed of a set shows; None where nothing is expected of it.

    Parameters are those of :func:`jump_form`.
    """
    level = expected_speed(done, facts, method)
    if level is None or done.speed_m_s is None:
        return None
    told = (
        f"The bar at {done.speed_m_s:.2f} m/s is %s: on ordinary days "
        f"{level.mean - level.sd:.2f} to {level.mean + level.sd:.2f} m/s with this load."
    )
    return _form(done.speed_m_s, level, told, method)


def _form(value: float, level: Level, told: str, method: Method) -> Form:
    probability = float(ndtr((value - level.mean) / level.sd))
    state = FormState.AS_USUAL
    if probability <= method.day.well_below:
        state = FormState.WELL_BELOW
    elif probability <= method.day.below:
        state = FormState.BELOW
    return Form(
        state=state,
        probability=probability,
        expected=level.mean,
        sd=level.sd,
        rule=method.day.form_rule,
        why=told % _WORDS[state],
    )


def expected_jump(done: LoggedSet, facts: Facts, method: Method) -> Level | None:
    """What the jump of a set should be on an ordinary day, m.

    The athlete's own earlier jumps of the same exercise with the same load or drop, each day
    with its form, on top of the assessment's jump, of which arms and ways of measuring make the
    figure wide until a first jump of this kind is known. The spread from day to day is the
    published one, and passes to the athlete's own as days are added.

    Returns
    -------
    Level or None
        None where the exercise measures no jump.
    """
    exercise = method.exercises.get(done.exercise)
    if exercise is None or not exercise.families & MEASURED:
        return None
    before = _earlier_jumps(done, facts)
    jump = facts.assessment.jump_m
    typical = jump.value + METHODS[JumpMethod.MAT].bias_m
    if done.load_kg:
        mass = facts.assessment.mass_kg
        typical *= mass / (mass + done.load_kg)
    wide = hypot(jump.sd, _UNKNOWN_JUMP_SHARE * typical)
    height = sum(before.values()) / len(before) if before else typical
    spread = _own_spread(_published_sd_m(height, done.load_kg or 0.0, facts.date), before)
    shown = [
        Shown(value=value, weeks_ago=(facts.date - date).days / 7, sd=0.0)
        for date, value in before.items()
    ]
    return level_today(
        shown,
        mean=typical,
        sd=wide,
        day_sd=spread,
        drift_per_root_week=_DRIFT_PER_ROOT_WEEK * height,
    )


def _published_sd_m(height_m: float, load_kg: float, date: dt.date) -> float:
    """From day to day, m, of one jump by a common way of measuring."""
    one = Jump(
        date=date,
        style=JumpStyle.COUNTERMOVEMENT,
        method=JumpMethod.MAT,
        heights_m=(height_m,),
        load_kg=load_kg,
    )
    return jump_error(one).sd_m


def _own_spread(published: float, before: dict[dt.date, float]) -> float:
    """Spread from day to day: the published one until the athlete's own days outweigh it."""
    if len(before) < 2:
        return published
    heights = list(before.values())
    mean = sum(heights) / len(heights)
    squares = sum((height - mean) ** 2 for height in heights)
    count = _TYPICAL_COUNTS + len(heights) - 1
    return sqrt((_TYPICAL_COUNTS * published**2 + squares) / count)


def _earlier_jumps(done: LoggedSet, facts: Facts) -> dict[dt.date, float]:
    """Best jump of each earlier day's first such set, m."""
    found: dict[dt.date, float] = {}
    for session in facts.earlier:
        if (facts.date - session.date).days > RECENT_DAYS:
            continue
        for one in session.sets:
            if one.jump_m is not None and _alike(one, done):
                found.setdefault(session.date, one.jump_m)
    return found


def _alike(one: LoggedSet, other: LoggedSet) -> bool:
    load = abs((one.load_kg or 0.0) - (other.load_kg or 0.0))
    drop = abs((one.drop_m or 0.0) - (other.drop_m or 0.0))
    return (
        one.exercise == other.exercise
        and not one.skipped
        and load <= _SAME_LOAD * max(other.load_kg or 0.0, 1.0)
        and drop <= _SAME_HEIGHT_M
    )


def expected_speed(done: LoggedSet, facts: Facts, method: Method) -> Level | None:
    """What the bar's speed should be with the load of a set on an ordinary day, m/s.

    For squats the published curve of speed over the share of the maximum, moved up or down by
    how far the athlete's own earlier sets lay off it; other lifts need earlier sets with the
    same load. The form of the day is that of a maximum (4.2 %), turned into speed.

    Returns
    -------
    Level or None
        None where nothing is known to expect.
    """
    exercise = method.exercises.get(done.exercise)
    lift = None if exercise is None else lift_of(exercise)
    if lift is None or not done.load_kg:
        return None
    # What this very day showed must not be part of what is expected of it.
    before = replace(facts, log=facts.earlier)
    maximum = day_maximum(lift, before, method)
    if maximum is None:
        return None
    curve = _Curve(maximum.value) if lift in _AT_FULL_SPEED else None
    if curve is not None:
        typical, sd = curve.speed(done.load_kg), GENERAL_SPEED_SD_M_S
        per_log = curve.per_log_load(done.load_kg)
        sd = hypot(sd, per_log * maximum.sd / maximum.value)
    else:
        own = [v for _, s, _, v in _earlier_speeds(done.exercise, before) if _near(s, done)]
        if not own:
            return None
        typical, sd = sum(own) / len(own), GENERAL_SPEED_SD_M_S
        per_log = 1.0  # about that of the squat between 70 and 90 %
    shown = []
    for date, one, load_kg, speed_m_s in _earlier_speeds(done.exercise, before):
        if curve is None and not _near(one, done):
            continue
        moved = 0.0 if curve is None else typical - curve.speed(load_kg)
        weeks = (facts.date - date).days / 7
        shown.append(Shown(value=speed_m_s + moved, weeks_ago=weeks, sd=SPEED_SD_M_S))
    level = level_today(
        shown,
        mean=typical,
        sd=sd,
        day_sd=MAXIMUM_CV * per_log,
        drift_per_root_week=_DRIFT_PER_ROOT_WEEK * per_log,
    )
    return Level(level.mean, hypot(level.sd, SPEED_SD_M_S), level.n)


def _earlier_speeds(
    exercise: str, facts: Facts
) -> Iterator[tuple[dt.date, LoggedSet, float, float]]:
    """Day, set, load (kg) and speed (m/s)."""
    for session in facts.earlier:
        if (facts.date - session.date).days <= RECENT_DAYS:
            for one in session.sets:
                if one.exercise == exercise and one.load_kg and one.speed_m_s is not None:
                    yield session.date, one, one.load_kg, one.speed_m_s


def _near(one: LoggedSet, other: LoggedSet) -> bool:
    return abs((one.load_kg or 0.0) - (other.load_kg or 0.0)) <= _SAME_LOAD * (other.load_kg or 0)


class _Curve:
    """The published curve of the squat, read from load to speed."""

    def __init__(self, maximum_kg: float):
        self.maximum_kg = maximum_kg

    def speed(self, load_kg: float) -> float:
        """m/s, within what the equation was drawn from."""
        from scipy.optimize import brentq

        percent = 100 * load_kg / self.maximum_kg
        low, high = (float(percent_of_maximum(v)) for v in (_FASTEST_M_S, _SLOWEST_M_S))
        wanted = min(max(percent, low), high)
        return float(
            brentq(lambda v: float(percent_of_maximum(v)) - wanted, _SLOWEST_M_S, _FASTEST_M_S)
        )

    def per_log_load(self, load_kg: float) -> float:
        """How much slower, m/s, for each unit of the load's logarithm (positive)."""
        step = 0.01
        above = self.speed(exp(log(load_kg) + step))
        below = self.speed(exp(log(load_kg) - step))
        return abs(below - above) / (2 * step)
