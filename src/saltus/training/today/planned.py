"""What an item is today: the plan, as far as the last sessions let it stand.

The weight of jump squats rises only when height held, the box to land on follows the
landings, and the box to drop from the athlete's own results.
"""

import datetime as dt
from dataclasses import dataclass, replace
from math import hypot, sqrt

from scipy.special import ndtr

from saltus.athlete.measurement_error import jump_error
from saltus.athlete.observations import Jump, JumpMethod, JumpStyle
from saltus.quantities import CENTIMETRE
from saltus.training.exercises import DEPTH_JUMP, JUMP, Exercise, HeightKind
from saltus.training.heights import HURDLE_STEP_M, body_limit, height_ceiling
from saltus.training.log import LoggedSession, LoggedSet
from saltus.training.method import Method
from saltus.training.plan import Item
from saltus.training.situation import Gym
from saltus.training.today.block_end import next_week
from saltus.training.today.caps import as_loaded, eased_today
from saltus.training.today.drop_choice import choose_drop, drop_results
from saltus.training.today.facts import Facts

__all__ = ["Planned", "planned_today"]

_REMEMBERED_DAYS = 56
# Older sessions say nothing of what comes next (a judgement).
_LIGHTER_OR_SAME = 1.01
# Plates are not weighed any finer.
_SAME_KG = 0.005
_SAME_BOX_M = 0.011
# Boxes are told to the centimetre.


@dataclass(frozen=True, slots=True)
class Planned:
    """An item of the day.

    Parameters
    ----------
    item : Item
        With the load, box or drop of today.
    rule, why : str
        What changed it, or why it stands.
    ended : bool
        Whether the depth jumps have done what they can.
    """

    item: Item
    rule: str
    why: str
    ended: bool = False


def planned_today(item: Item, facts: Facts, method: Method) -> Planned:
    """What an item of the plan is today, given the sessions before it.

    Parameters
    ----------
    item : Item
        As the plan has it.
    facts, method : Facts, Method
        The log and the gym; the rules.
    """
    now = _after_the_last(item, facts, method)
    eased = eased_today(facts, method)
    if eased is None or now.item.load_kg is None or now.ended:
        return now
    exercise, gym = method.exercises[item.exercise], facts.situation.gym
    made = as_loaded(exercise, eased.load_kg(item.exercise, now.item.load_kg), gym)
    if made is None or made.total_kg > now.item.load_kg - _SAME_KG:
        return now
    why = f"Eased in after {eased.days} days without lifts or jumps on record."
    return Planned(replace(now.item, load_kg=made.total_kg), method.easing.rule, why)


def _after_the_last(item: Item, facts: Facts, method: Method) -> Planned:
    exercise = method.exercises[item.exercise]
    if item.load_kg is not None and JUMP in exercise.families:
        return _loaded_jump(item, item.load_kg, exercise, facts, method)
    if item.box_m is not None:
        return _box(item, item.box_m, exercise, facts, method)
    if item.drop_m is not None and DEPTH_JUMP in exercise.families:
        return _drop(item, exercise, facts, method)
    if item.drop_m is not None:
        return _drop_landing(item, item.drop_m, exercise, facts, method)
    return Planned(item, "", item.why.text)


def _done(exercise: str, facts: Facts) -> list[tuple[LoggedSession, list[LoggedSet]]]:
    """Earlier sessions that hold an exercise, the latest last."""
    found = []
    for session in facts.earlier:
        sets = [one for one in session.sets if one.exercise == exercise and not one.skipped]
        if sets and (facts.date - session.date).days <= _REMEMBERED_DAYS:
            found.append((session, sets))
    return found


# --- Loaded jumps ---------------------------------------------------------------------------


def _loaded_jump(
    item: Item, planned_kg: float, exercise: Exercise, facts: Facts, method: Method
) -> Planned:
    day = method.day
    before = _done(exercise.id, facts)
    if not before:
        return Planned(item, "", item.why.text)
    last_kg = max(one.load_kg or 0.0 for one in before[-1][1])
    if planned_kg <= last_kg * _LIGHTER_OR_SAME:
        return Planned(item, "", item.why.text)
    held = _held(before, last_kg, day.held_loss)
    if held is not None and held >= day.held_probability:
        return Planned(item, day.held_rule, "The height held: the weight rises.")
    load = _loadable(exercise, last_kg, facts.situation.gym)
    why = (
        "No jump was measured with the last weight: it stays. Measure one, and it can rise."
        if held is None
        else "Whether the height held is not sure: the weight stays. Jump higher."
    )
    return Planned(replace(item, load_kg=load), day.held_rule, why)


def _held(
    before: list[tuple[LoggedSession, list[LoggedSet]]], load_kg: float, loss: float
) -> float | None:
    """Probability that the last jumps were no lower than those before; None if not measured.

    Those before had as much weight or less.
    """
    means = [
        found
        for session, sets in before
        if (found := _mean_jump(session.date, sets, load_kg * _LIGHTER_OR_SAME)) is not None
    ]
    if len(means) < 2 or means[-1][0] != before[-1][0].date:
        return None
    *earlier, (_, now, now_sd) = means
    weights = [1 / sd**2 for _, _, sd in earlier]
    then = sum(w * h for w, (_, h, _) in zip(weights, earlier, strict=True)) / sum(weights)
    spread = hypot(now_sd, 1 / sqrt(sum(weights)))
    return float(ndtr((now - (1 - loss) * then) / spread))


def _mean_jump(
    date: dt.date, sets: list[LoggedSet], most_kg: float
) -> tuple[dt.date, float, float] | None:
    """Mean jump of a session with at most so much weight, m, and its error from day to day."""
    heights = tuple(
        one.jump_m for one in sets if one.jump_m is not None and (one.load_kg or 0.0) <= most_kg
    )
    if not heights:
        return None
    test = Jump(
        date=date,
        style=JumpStyle.COUNTERMOVEMENT,
        method=JumpMethod.MAT,
        heights_m=heights,
    )
    return date, sum(heights) / len(heights), jump_error(test).sd_m


def _loadable(exercise: Exercise, load_kg: float, gym: Gym) -> float | None:
    made = as_loaded(exercise, load_kg, gym) if load_kg > 0 else None
    return None if made is None else made.total_kg


# --- Boxes to land on -----------------------------------------------------------------------


def _box(item: Item, planned_m: float, exercise: Exercise, facts: Facts, method: Method) -> Planned:
    day = method.day
    before = _done(exercise.id, facts)
    if not before:
        return Planned(item, "", item.why.text)
    ceiling = height_ceiling(exercise, method, facts.assessment, facts.person, facts.date)
    heights = _at_hand(exercise, planned_m, facts)
    unsound = [one for one in before[-1][1] if one.box_m is not None and _unsound(one)]
    if unsound:
        lowest = min(one.box_m or 0.0 for one in unsound)
        lower = [box for box in heights if box < lowest - _SAME_BOX_M / 2 and box <= ceiling]
        if not lower:
            why = "A jump was missed or not landed softly last time: the lowest there is."
            return Planned(replace(item, box_m=min(heights)), day.box_rule, why)
        box = max(lower)
        why = f"A jump was missed or not landed softly last time: {box / CENTIMETRE:.0f} cm."
        return Planned(replace(item, box_m=box), day.box_rule, why)
    last = max((one.box_m for one in before[-1][1] if one.box_m is not None), default=None)
    if last is None:
        return Planned(item, "", item.why.text)
    soft = _soft_sessions(before, last)
    rise = day.box_step_m if soft >= day.box_sessions else 0.0
    allowed = min(last + rise, ceiling, max(planned_m, last))
    fit = [box for box in heights if box <= allowed + _SAME_BOX_M / 2]
    box = max(fit, default=min(heights))
    if box > last + _SAME_BOX_M:
        why = f"Every landing was soft in {soft} sessions: a step higher."
    elif planned_m > box + _SAME_BOX_M:
        why = "No higher until every landing was soft and was noted so."
    else:
        return Planned(replace(item, box_m=box), "", item.why.text)
    return Planned(replace(item, box_m=box), day.box_rule, why)


def _at_hand(exercise: Exercise, planned_m: float, facts: Facts) -> list[float]:
    height = exercise.height
    boxes = {planned_m}
    if height is not None and height.kind is not HeightKind.HURDLE:
        boxes |= {box for box in facts.situation.gym.boxes_m if box >= height.range_m.low}
    elif height is not None:
        steps = round(100 * height.range_m.high) // round(100 * HURDLE_STEP_M)
        hurdles = (round(n * HURDLE_STEP_M, 3) for n in range(1, steps + 1))
        boxes |= {hurdle for hurdle in hurdles if hurdle >= height.range_m.low}
    return sorted(boxes)


def _unsound(one: LoggedSet) -> bool:
    return one.missed > 0 or one.soft_landings is False


def _soft_sessions(before: list[tuple[LoggedSession, list[LoggedSet]]], box_m: float) -> int:
    """Sessions in a row up to the last that were soft throughout, on that box or a higher one."""
    count = 0
    for _, sets in reversed(before):
        on_it = [one for one in sets if (one.box_m or 0.0) >= box_m - _SAME_BOX_M]
        if not on_it or any(_unsound(one) or not one.soft_landings for one in sets):
            break
        count += 1
    return count


# --- Boxes to drop from ---------------------------------------------------------------------


def _drop(item: Item, exercise: Exercise, facts: Facts, method: Method) -> Planned:
    day = method.day
    names = {e.id for e in method.family(DEPTH_JUMP)}
    logged = drop_results((), facts.earlier, facts.date, names)
    coming = next_week(logged, facts.date, day)
    if coming is not None and coming.ended:
        return Planned(item, day.end_rule, coming.why, ended=True)
    assert exercise.height is not None
    limit = body_limit(exercise.height, facts.assessment, facts.person, facts.date)
    boxes = [
        box
        for box in facts.situation.gym.boxes_m
        if exercise.height.range_m.low <= box <= limit + _SAME_BOX_M / 2
    ]
    results = drop_results(facts.observations, facts.earlier, facts.date, names)
    choice = choose_drop(results, boxes, day.drop_by, day.drop_probability)
    unsound = _unsound_drops(_done(exercise.id, facts))
    if unsound:
        lower = [box for box in boxes if box < min(unsound) - _SAME_BOX_M / 2]
        box = max(lower, default=min([*boxes, item.drop_m or 0.0]))
        if choice is None or box < choice.box_m:
            why = f"A landing was not soft last time: {box / CENTIMETRE:.0f} cm."
            return Planned(replace(item, drop_m=box), day.box_rule, why)
    if choice is None:
        return Planned(item, "", item.why.text)
    return Planned(replace(item, drop_m=choice.box_m), day.drop_rule, choice.why)


def _unsound_drops(before: list[tuple[LoggedSession, list[LoggedSet]]]) -> list[float]:
    """Drops of the last session that were not landed softly, m."""
    last = before[-1][1] if before else []
    return [one.drop_m for one in last if one.drop_m and _unsound(one)]


def _drop_landing(
    item: Item, planned_m: float, exercise: Exercise, facts: Facts, method: Method
) -> Planned:
    unsound = _unsound_drops(_done(exercise.id, facts))
    if not unsound:
        return Planned(item, "", item.why.text)
    heights = _at_hand(exercise, planned_m, facts)
    box = max((h for h in heights if h < min(unsound) - _SAME_BOX_M / 2), default=min(heights))
    if box >= planned_m:
        return Planned(item, "", item.why.text)
    why = f"A landing was not soft last time: {box / CENTIMETRE:.0f} cm."
    return Planned(replace(item, drop_m=box), method.day.box_rule, why)
