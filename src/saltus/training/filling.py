"""Weeks of a plan in full: loads, heights, rests, cues and reasons for what was laid out."""

from collections.abc import Mapping

from saltus.athlete.qualities import TRAINABLE, WORDS, Quality
from saltus.training.eligibility import Eligibility
from saltus.training.exercises import HeightKind, Place
from saltus.training.laying import FilledWeek
from saltus.training.loads import Unloadable
from saltus.training.options import Option
from saltus.training.plan import Item, Session, Week, Why

__all__ = ["fill_week"]

_ORDER = (
    Place.PREPARATION,
    Place.REACTIVE,
    Place.SPEED,
    Place.SPEED_STRENGTH,
    Place.STRENGTH_SPEED,
    Place.STRENGTH,
    Place.SUPPORT,
)
"""Fast before heavy, heavy before small (common practice)."""


def fill_week(filled: FilledWeek, eligibility: Eligibility, worth: Mapping[Quality, float]) -> Week:
    """Turn a laid week into sessions with items in the order they are done.

    Parameters
    ----------
    filled : FilledWeek
        What stands where, with how many sets.
    eligibility : Eligibility
        Loads and heights.
    worth : mapping of Quality to float
        What a week on each quality brings, m: decides what an item is mainly for.
    """
    sessions = []
    for day in filled.frame.days:
        if day.done:
            sessions.append(Session(day.date, day.done))
            continue
        mine = [
            (filled.options[j], n) for (d, j), n in filled.plan.sets.items() if d == day.weekday
        ]
        if mine:
            order = sorted(mine, key=lambda pair: _rank(pair[0]))
            items = tuple(_item(o, n, filled, eligibility, worth) for o, n in order)
            sessions.append(Session(day.date, items))
    laid = filled.frame.laid
    eased = 0 if laid.eased is None else laid.eased.days
    return Week(laid.start, laid.phase.id, tuple(sessions), laid.back_off, eased)


def _rank(option: Option) -> tuple[bool, int, float, str]:
    exercise = option.exercise
    return (
        "warm_up" not in exercise.families,
        _ORDER.index(exercise.place),
        -sum(exercise.adds.values()),
        exercise.id,
    )


def _item(
    option: Option,
    sets: int,
    filled: FilledWeek,
    eligibility: Eligibility,
    worth: Mapping[Quality, float],
) -> Item:
    exercise, reps = option.exercise, option.reps
    load = eligibility.load(exercise, filled.number, reps)
    height = eligibility.height(exercise, filled.frame.start)
    assert not isinstance(load, Unloadable)
    assert not isinstance(height, Unloadable)
    drops = exercise.height is not None and exercise.height.kind is HeightKind.DROP
    drop = height if drops else None
    cues = exercise.cues
    return Item(
        exercise=exercise.id,
        sets=sets,
        reps=reps,
        load_kg=load.load_kg,
        percent_of=load.percent_of if load.loading is not None else None,
        percent=load.percent if load.loading is not None else None,
        box_m=None if drops else height,
        drop_m=drop,
        rest_s=exercise.rest_s,
        rest_between_reps_s=exercise.rest_between_reps_s,
        cue=cues[filled.number % len(cues)] if cues else "",
        why=_why(option, filled, eligibility, worth),
        landings=exercise.landings(sets, reps),
        landing_load=exercise.landing_load(sets, reps, drop),
        minutes=exercise.minutes(sets, reps),
    )


def _why(
    option: Option, filled: FilledWeek, eligibility: Eligibility, worth: Mapping[Quality, float]
) -> Why:
    adds = option.exercise.adds
    value = {q: adds.get(q, 0.0) * worth.get(q, 0.0) for q in TRAINABLE}
    best = max(value, key=lambda q: value[q])
    rule = eligibility.method.rules.get(option.use.rule)
    text = rule.text if rule is not None else option.use.rule
    eased = filled.frame.laid.eased
    if eased is not None and (option.exercise.lands or option.exercise.load is not None):
        text = f"{text} Eased in after {eased.days} days without lifts or jumps on record."
    if option.exercise.place in (Place.SUPPORT, Place.PREPARATION) or value[best] <= 0:
        return Why(option.use.rule, None, text)
    return Why(option.use.rule, best, f"{text} Here mainly for {WORDS[best]}.")
