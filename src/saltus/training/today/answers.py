"""What may happen in a set, and what follows, worked out ahead for a phone without signal.

Each answer says when it holds and what to do then; the first that holds counts. They know the
set that was just done and how many were missed, not the whole day: what
:func:`saltus.training.today.next_set.next_set` says of the same set alone.
"""

from dataclasses import replace
from typing import Any

from saltus.training.exercises import Carrier, Exercise
from saltus.training.gym_loads import Loading, put_together, side_text
from saltus.training.log import LoggedSet
from saltus.training.method import Method
from saltus.training.plan import Item
from saltus.training.situation import Gym
from saltus.training.today.caps import as_loaded, load_cap
from saltus.training.today.facts import Advice, Facts
from saltus.training.today.form import MEASURED
from saltus.training.today.next_set import after_set, stopped

__all__ = ["answers", "plates_of", "told_load"]

_MOST_RUNGS = 8
# Bounds what a phone has to keep (a judgement).
_LOWEST = 0.97
"""The lightest load that is worked out ahead stands for itself alone."""
_LOAD = "load_kg"
_FAR_KG = 1e-6
_SPEED_M_S, _JUMP_M = 0.7, 0.30
# Any figure does: what follows a loss of speed or height is told by the share alone.


def answers(
    item: Item, facts: Facts, method: Method, *, first: Item | None = None
) -> list[dict[str, Any]]:
    """Answers for every set of an item, in the order in which they are tried.

    Parameters
    ----------
    item : Item
        As it stands today (:func:`saltus.training.today.planned.planned_today`).
    facts, method : Facts, Method
        The athlete, the gym, the log; and by which rules.
    first : Item, optional
        It with the load of its first set, where the last sessions made that another one: loads
        keep their share of the plan's all the same, so that nothing is turned twice.

    Returns
    -------
    list of dict
        Only strings, numbers, lists, dicts, bools and None; SI. ``when`` holds a range (both
        ends included, None open) for each of ``missed``, ``missed_sets``, ``unsound_sets``,
        ``reserve``, ``speed_share``, ``jump_share``, ``load_kg``, ``box_m``, ``drop_m``, or a bool
        for ``soft_landings``; the rest is what follows, ``sets`` those of the item in all.
    """
    exercise = method.exercises[item.exercise]
    gym = facts.situation.gym
    first = first or item
    found: list[dict[str, Any]] = []
    if _can_miss(item, exercise):
        often = {"missed_sets": [method.day.missed_sets, None]}
        found.append(_answer(often, _twice(item, facts, method), item, exercise, gym))
    rungs = _rungs(item, first, facts, method)
    if item.load_kg is not None and _LOAD in rungs[0][1]:
        lowest = rungs[0][1][_LOAD][0]
        far_below = {"missed": [1, None], _LOAD: [None, round(lowest - _FAR_KG, 6)]}
        found.append(_answer(far_below, _no_lighter(item, method), item, exercise, gym))
    # By event, so that the more serious comes first whatever the load.
    for place, (when, _) in enumerate(_events(item, exercise, method, item)):
        by_rung = []
        for rung, range_ in rungs:
            _, done = _events(item, exercise, method, rung)[place]
            by_rung.append((range_, rung, after_set(item, done, facts, method)))
        if all(advice == by_rung[0][2] for _, _, advice in by_rung):
            by_rung = [({}, *by_rung[0][1:])]
        for range_, rung, advice in by_rung:
            held = _risen(advice, rung)
            if not advice.rule or (held and (rung.load_kg or 0.0) < (first.load_kg or 0.0)):
                continue  # as it is: nothing says that a load lowered today should rise again
            none_missed = {"missed_sets": [0, 0]} if held else {}
            found.append(_answer({**when, **range_, **none_missed}, advice, item, exercise, gym))
    return found


def _no_lighter(item: Item, method: Method) -> Advice:
    why = "Missed with much less than planned: that is all for today."
    return stopped(item, method.day.missed_rule, why)


def _can_miss(item: Item, exercise: Exercise) -> bool:
    return item.load_kg is not None or exercise.height is not None


def _risen(advice: Advice, rung: Item) -> bool:
    return not advice.stop and (advice.load_kg or 0.0) > (rung.load_kg or 0.0) + _FAR_KG


def _twice(item: Item, facts: Facts, method: Method) -> Advice:
    one = _set(item, item, missed=1)
    return after_set(item, [one] * method.day.missed_sets, facts, method)


def _set(item: Item, rung: Item, **what: Any) -> LoggedSet:
    return LoggedSet(
        exercise=item.exercise,
        reps=item.reps - min(what.get("missed", 0), item.reps),
        load_kg=rung.load_kg,
        box_m=rung.box_m,
        drop_m=rung.drop_m,
        **what,
    )


def _events(
    item: Item, exercise: Exercise, method: Method, rung: Item
) -> list[tuple[dict[str, Any], list[LoggedSet]]]:
    """What may happen in a set done at a rung, the more serious first."""
    day = method.day
    plain = _set(item, rung)
    found: list[tuple[dict[str, Any], list[LoggedSet]]] = []
    if _can_miss(item, exercise):
        found.append(({"missed": [2, None]}, [_set(item, rung, missed=2)]))
        found.append(({"missed": [1, 1]}, [_set(item, rung, missed=1)]))
    if exercise.lands:
        unsound = [_set(item, rung, soft_landings=False)] * day.missed_sets
        found.append(({"unsound_sets": [day.missed_sets, None]}, unsound))
        found.append(({"soft_landings": False}, [_set(item, rung, soft_landings=False)]))
    if rung.load_kg is not None and not exercise.lands:
        slow = (1 - day.speed_loss) * _SPEED_M_S
        found.append(
            (
                {"speed_share": [None, round(1 - day.speed_loss, 4)]},
                [replace(plain, speed_m_s=_SPEED_M_S), replace(plain, speed_m_s=slow)],
            )
        )
    if exercise.families & MEASURED:
        low = (1 - day.height_loss) * _JUMP_M
        found.append(
            (
                {"jump_share": [None, round(1 - day.height_loss, 4)]},
                [replace(plain, jump_m=_JUMP_M), replace(plain, jump_m=low)],
            )
        )
    if rung.load_kg is not None and not exercise.lands:
        for reserve in range(day.most_reserve + 1):
            # More left than a set can tell of counts as the most that it can.
            end = None if reserve == day.most_reserve else reserve + 0.49
            found.append(
                (
                    {"reserve": [reserve - 0.5, end]},
                    [_set(item, rung, reserve=float(reserve))],
                )
            )
    return found


def _rungs(
    item: Item, first: Item, facts: Facts, method: Method
) -> list[tuple[Item, dict[str, Any]]]:
    """Loads, boxes or drops that the answers lead to, each with the range it stands for."""
    exercise = method.exercises[item.exercise]
    seen: list[Item] = []
    cap = load_cap(item, facts, method)
    waiting = [first]
    if cap is not None and cap > (first.load_kg or 0.0):
        made = as_loaded(exercise, cap, facts.situation.gym)
        waiting += [] if made is None else [replace(item, load_kg=made.total_kg)]
    while waiting and len(seen) < _MOST_RUNGS:
        rung = waiting.pop(0)
        if any(_key(rung) == _key(one) for one in seen):
            continue
        seen.append(rung)
        for _, done in _events(item, exercise, method, rung):
            advice = after_set(item, done, facts, method)
            if not advice.stop:
                waiting.append(
                    replace(item, load_kg=advice.load_kg, box_m=advice.box_m, drop_m=advice.drop_m)
                )
    key = next((k for k in (_LOAD, "box_m", "drop_m") if getattr(item, k) is not None), None)
    if key is None:
        return [(item, {})]
    known = sorted((r for r in seen if getattr(r, key) is not None), key=lambda r: getattr(r, key))
    found = []
    for index, rung in enumerate(known):
        own = getattr(rung, key)
        low = (own + getattr(known[index - 1], key)) / 2 if index else None
        high = (own + getattr(known[index + 1], key)) / 2 if index + 1 < len(known) else None
        if low is None and key == _LOAD:
            low = _LOWEST * own
        ends = [None if low is None else round(low + _FAR_KG, 6), high and round(high, 6)]
        found.append((rung, {} if ends == [None, None] else {key: ends}))
    return found


def _key(rung: Item) -> tuple[float | None, ...]:
    return (rung.load_kg, rung.box_m, rung.drop_m)


def _answer(
    when: dict[str, Any], advice: Advice, item: Item, exercise: Exercise, gym: Gym
) -> dict[str, Any]:
    loading = _made(exercise, advice.load_kg, gym)
    return {
        "when": when,
        "load_kg": advice.load_kg,
        "load_words": told_load(loading, gym),
        "plates": plates_of(loading, gym),
        "box_m": advice.box_m,
        "drop_m": advice.drop_m,
        "sets": 0 if advice.stop else item.sets,
        "stop": advice.stop,
        "rule": advice.rule,
        "why": advice.why,
    }


def _made(exercise: Exercise, load_kg: float | None, gym: Gym) -> Loading | None:
    return None if load_kg is None else put_together(exercise, load_kg, gym)


def told_load(loading: Loading | None, gym: Gym) -> str:
    """How a load is put together, in words and in the gym's unit; empty without a load."""
    return "" if loading is None else side_text(loading, gym)


def plates_of(loading: Loading | None, gym: Gym) -> list[float] | None:
    """Plates on each side of the bar, the heaviest first, in the gym's unit.

    None where there is no bar; an empty list is the bar alone.
    """
    if loading is None or loading.carrier not in (Carrier.BARBELL, Carrier.TRAP_BAR):
        return None
    return [round(plate / gym.unit_kg, 3) for plate in loading.plates_kg]
