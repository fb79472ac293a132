"""The heaviest load of a day, and loads as this gym makes them."""

import datetime as dt
from dataclasses import replace

from saltus.training.breaks import Eased, eased_in_week, find_breaks
from saltus.training.exercises import JUMP, Exercise
from saltus.training.gates import treated_as_minor
from saltus.training.gym_loads import Loading, load_below, put_together
from saltus.training.loads import percent_range, reference, rep_ceiling
from saltus.training.method import Method, Phase
from saltus.training.plan import Item, Week
from saltus.training.situation import Gym
from saltus.training.today.facts import Facts
from saltus.training.today.maximum import day_maximum

__all__ = ["as_loaded", "below", "eased_today", "load_cap"]

_A_LITTLE_KG = 0.005


def as_loaded(exercise: Exercise, load_kg: float, gym: Gym) -> Loading | None:
    """How the gym makes a load (kg), or the next one below; None where all are heavier."""
    exact = put_together(exercise, load_kg, gym)
    if exact is not None or exercise.load is None:
        return exact
    found = [one for on in exercise.load.on if (one := load_below(gym, on, load_kg)) is not None]
    return max(found, key=lambda one: one.total_kg, default=None)


def below(exercise: Exercise, load_kg: float, gym: Gym) -> Loading | None:
    """The heaviest load that is lighter than one (kg); None where there is none."""
    return as_loaded(exercise, load_kg - _A_LITTLE_KG, gym)


def eased_today(facts: Facts, method: Method) -> Eased | None:
    """How a day is eased after a break that the plan does not know of; None otherwise.

    The break is that of the log; weeks that the plan itself eases in are light enough.
    """
    week = _week_of(facts)
    if week is not None and week.eased_after:
        return None
    # Whatever days are free: this one is trained on.
    situation = replace(facts.situation, start=facts.date, minutes={}, on_days={})
    breaks = find_breaks(situation, method.easing)
    monday = facts.date - dt.timedelta(days=facts.date.weekday())
    return eased_in_week(breaks, monday, method.easing)


def load_cap(item: Item, facts: Facts, method: Method) -> float | None:
    """Heaviest load that an item may have today, kg; None without a load.

    For those under 18 (or of unknown age), beginners, lighter weeks, weeks that are eased in
    after a break, the method's careful first weeks, and loaded jumps it is the load of the
    plan. For others it is a little above that, never above what the phase allows of today's
    maximum, nor above what leaves the method's repetitions in reserve.
    """
    if item.load_kg is None:
        return None
    exercise = method.exercises[item.exercise]
    week = _week_of(facts)
    held = (
        treated_as_minor(facts.person, facts.date)
        or facts.person.training_age_years <= method.day.beginner_years
        or JUMP in exercise.families
        or exercise.load is None
        or exercise.load.of is None
        or week is None
        or week.back_off
        or week.eased_after > 0
        or eased_today(facts, method) is not None
        or facts.plan is None
        or facts.plan.week_number(facts.date) < method.careful.weeks
    )
    if held or week is None or exercise.load is None or exercise.load.of is None:
        return item.load_kg
    most = item.load_kg * (1 + method.day.most_rise)
    maximum = day_maximum(exercise.load.of, facts, method) or reference(exercise, facts.assessment)
    if maximum is None:
        return item.load_kg
    percent = rep_ceiling(item.reps, method.careful.reserve_reps)
    phase = _phase(method, week)
    allowed = None if phase is None else percent_range(exercise, phase)
    if allowed is not None:
        percent = min(percent, allowed.high)
    return max(item.load_kg, min(most, percent / 100 * maximum.value))


def _week_of(facts: Facts) -> Week | None:
    if facts.plan is None:
        return None
    return next((w for w in facts.plan.weeks if w.start <= facts.date <= w.end), None)


def _phase(method: Method, week: Week) -> Phase | None:
    return next((phase for phase in method.phases if phase.id == week.phase), None)
