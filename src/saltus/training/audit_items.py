"""Checks of a finished plan, item by item: ranges, loads, heights, equipment, gates.

Loads are worked out here a second time, on purpose, rather than taken from where the plan
had them from.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence

from saltus.quantities import POUND, Estimate
from saltus.training.audit_case import Breach, Case, Placed
from saltus.training.breaks import Eased
from saltus.training.exercises import BodyLimit, Carrier, HeightKind, LoadRule
from saltus.training.gates import check_gates
from saltus.training.heights import height_ceiling
from saltus.training.loads import BODY_MASS, LIGHTEST_SHARE, reference
from saltus.training.method import Phase
from saltus.training.situation import Gym
from saltus.training.spans import Span

__all__ = [
    "check_costs",
    "check_equipment",
    "check_gated",
    "check_heights",
    "check_loads",
    "check_ranges",
]

_GRAM = 1e-3
_MINUTE = 0.05
_POINT = 0.05
_LANDING = 0.05
_MILLIMETRE = 1e-3
_EPLEY_REPS = 30.0


def check_ranges(case: Case) -> Iterator[Breach]:
    """Sets and repetitions lie within the ranges of the exercise and of the phase."""
    for placed in case.placed:
        item, exercise = placed.item, placed.exercise
        if item.sets not in exercise.sets:
            what = f"{item.sets} sets; {exercise.sets} are its range."
            yield Breach("ranges", placed.where, what)
        if item.reps not in exercise.reps:
            what = f"{item.reps} repetitions; {exercise.reps} are its range."
            yield Breach("ranges", placed.where, what)
        if item.why.rule not in case.method.rules:
            what = f'its reason names the rule "{item.why.rule}", which there is not.'
            yield Breach("reasons", placed.where, what)
        if not item.why.text.strip():
            yield Breach("reasons", placed.where, "it has no reason in words.")
        phase = case.phase(placed.week)
        use = None if phase is None else phase.use_of(exercise)
        if use is None:
            yield Breach("phases", placed.where, f"the phase {placed.week.phase} does not use it.")
        elif item.reps not in use.reps:
            what = f"{item.reps} repetitions; {use.reps} in this phase."
            yield Breach(use.rule, placed.where, what)
    yield from _family_sets(case)


def _family_sets(case: Case) -> Iterator[Breach]:
    sets: dict[tuple[str, str, str, str], int] = defaultdict(int)
    ranges = {}
    eased: dict[str, Eased] = {}
    for placed in case.placed:
        phase = case.phase(placed.week)
        use = None if phase is None else phase.use_of(placed.exercise)
        if phase is None or use is None:
            continue
        found = case.eased(placed.week)
        if found is not None:
            eased[placed.session.date.isoformat()] = found
        key = (placed.session.date.isoformat(), phase.id, use.family, use.rule)
        sets[key] += placed.item.sets
        ranges[key] = case.asked(use, placed.week).sets
    for key, number in sets.items():
        date, _, family, rule = key
        if number in ranges[key]:
            continue
        if date in eased:
            what = (
                f"{number} sets of {family}; {ranges[key]} in this week after "
                f"{eased[date].days} days without training."
            )
            yield Breach(case.method.easing.rule, date, what)
        else:
            what = f"{number} sets of {family}; {ranges[key]} in this phase."
            yield Breach(rule, date, what)


def check_costs(case: Case) -> Iterator[Breach]:
    """Minutes and landings are told as they are."""
    for placed in case.placed:
        item, exercise = placed.item, placed.exercise
        minutes = exercise.minutes(item.sets, item.reps)
        if abs(item.minutes - minutes) > _MINUTE:
            what = f"told as {item.minutes:.1f} minutes; it takes {minutes:.1f}."
            yield Breach("costs", placed.where, what)
        landings = exercise.landings(item.sets, item.reps)
        load = exercise.landing_load(item.sets, item.reps, item.drop_m)
        if abs(item.landings - landings) > _LANDING or abs(item.landing_load - load) > _LANDING:
            what = (
                f"told as {item.landings:g} landings that count {item.landing_load:.1f}; "
                f"they are {landings:g} and count {load:.1f}."
            )
            yield Breach("costs", placed.where, what)
        if item.rest_s < exercise.rest_s - 1e-6:
            what = f"a rest of {item.rest_s:g} s; it needs {exercise.rest_s:g} s."
            yield Breach("costs", placed.where, what)


# --- Loads ----------------------------------------------------------------------------------


def check_loads(case: Case) -> Iterator[Breach]:
    """Loads can be loaded here, lie within their range, and rise no faster than allowed."""
    for placed in case.placed:
        rule, load = placed.exercise.load, placed.item.load_kg
        if load is None:
            if rule is not None and not rule.may_be_none:
                yield Breach("loads", placed.where, "it has no load and needs one.")
        elif rule is None:
            yield Breach("loads", placed.where, "it has a load and takes none.")
        else:
            if not _can_be_loaded(load, rule, case.situation.gym):
                what = f"{load:g} kg cannot be put together with what is here."
                yield Breach("loads", placed.where, what)
            yield from _heavy(case, placed, rule, load)


def _can_be_loaded(load: float, rule: LoadRule, gym: Gym) -> bool:
    pairs = [(weight, count // 2) for weight, count in gym.plates_kg.items()]
    for carrier in rule.on:
        if carrier in (Carrier.BARBELL, Carrier.TRAP_BAR):
            if carrier.value in gym.equipment and _made_of((load - gym.bar_kg) / 2, pairs):
                return True
        elif carrier is Carrier.MACHINE:
            step = 10 * POUND if gym.unit == "lb" else 5.0
            steps = round(load / step)
            if "leg_press" in gym.equipment and steps and abs(load - steps * step) < _GRAM:
                return True
        else:
            bells = gym.kettlebells_kg if carrier is Carrier.KETTLEBELL else gym.dumbbells_kg
            times = 2 if carrier is Carrier.DUMBBELLS else 1
            if any(abs(times * bell - load) < _GRAM for bell in bells):
                return True
    return False


def _made_of(side: float, pairs: Sequence[tuple[float, int]]) -> bool:
    """Whether so many plates of each weight add up to a side."""
    reached = {0}
    for weight, count in pairs:
        grams = weight * 1000
        more = {round(r + n * grams) for r in reached for n in range(count + 1)}
        reached = {r for r in more if r <= side * 1000 + 2}
    return any(abs(r - side * 1000) <= 2 for r in reached)


def _heavy(case: Case, placed: Placed, rule: LoadRule, load: float) -> Iterator[Breach]:
    item, exercise = placed.item, placed.exercise
    phase = case.phase(placed.week)
    maximum = reference(exercise, case.assessment)
    if maximum is None:
        yield Breach("loads", placed.where, "it is loaded from a maximum that nothing is known of.")
        return
    name = BODY_MASS if rule.of is None else str(rule.of)
    percent = 100 * load / maximum.value
    if item.percent_of != name or item.percent is None or abs(item.percent - percent) > _POINT:
        what = (
            f"told as {item.percent} % of {item.percent_of}; {load:g} kg are {percent:.1f} % "
            f"of {name}."
        )
        yield Breach("loads", placed.where, what)
    if phase is None or phase.use_of(exercise) is None:
        return
    yield from _within(case, placed, phase, maximum, load)


def _within(
    case: Case, placed: Placed, phase: Phase, maximum: Estimate, load: float
) -> Iterator[Breach]:
    use = phase.use_of(placed.exercise)
    rule = placed.exercise.load
    assert use is not None
    assert rule is not None
    allowed = rule.within(use.percent)
    if allowed is None:
        yield Breach(use.rule, placed.where, "no load suits both the exercise and the phase.")
        return
    number = case.plan.week_number(placed.session.date)
    careful_weeks, ease = case.method.careful.weeks, case.method.careful.ease_weeks
    careful = number < careful_weeks + ease
    side = maximum.value
    if careful:
        steps = max(number + 1 - careful_weeks, 0)
        side = maximum.low + (maximum.value - maximum.low) * steps / (ease + 1)
    limits = [(allowed.high, use.rule, "the top of the range")]
    crept = _crept(case, placed, allowed)
    if crept is not None:
        limits.append((*crept, "what the loads have crept up to by now"))
    if rule.of is not None:
        to_failure = placed.item.reps + case.method.careful.reserve_reps
        most = 100.0 if to_failure <= 1 else 100 / (1 + to_failure / _EPLEY_REPS)
        limits.append((most, case.method.careful.rule, "what leaves repetitions in reserve"))
    for percent, source, what in limits:
        if load > percent / 100 * side + _GRAM:
            of = "the careful side of the estimate" if careful else "the estimate"
            text = f"{load:g} kg is above {percent:.1f} % of {of} ({side:.1f} kg): {what}."
            yield Breach(
                source
                if load > percent / 100 * maximum.value + _GRAM
                else case.method.careful.rule,
                placed.where,
                text,
            )
    eased = case.eased(placed.week)
    if eased is not None:
        ordinary = min(percent for percent, _, _ in limits) / 100 * side
        last = eased.lifted.get(placed.exercise.id, ordinary)
        first = eased.first_share * min(last, ordinary)
        most = (1 - eased.passed) * first + eased.passed * ordinary
        if load > most + _GRAM:
            text = (
                f"{load:g} kg after {eased.days} days without training; at most {most:.1f} kg in "
                "this week."
            )
            yield Breach(case.method.easing.rule, placed.where, text)
        return
    least = LIGHTEST_SHARE * allowed.low / 100 * min(side, maximum.low)
    if load < least - _GRAM:
        text = f"{load:g} kg is too light to be the exercise: at least {least:.1f} kg."
        yield Breach(use.rule, placed.where, text)


def _crept(case: Case, placed: Placed, allowed: Span) -> tuple[float, str] | None:
    exercise = placed.exercise
    assert exercise.load is not None
    for step in case.method.progressions:
        if step.family not in exercise.families:
            continue
        first = next(
            (use for p in case.method.phases for use in p.uses if use.family == step.family), None
        )
        whole = exercise.load.percent
        span = whole if first is None else (exercise.load.within(first.percent) or whole)
        begin = span.low + step.start_share * (span.high - span.low)
        run = 0
        for week in (*case.earlier, *case.plan.weeks):
            phase = case.phase(week)
            used = phase is not None and any(use.family == step.family for use in phase.uses)
            run = run + 1 if used else 0
            if week is placed.week:
                break
        rise = step.step_points * (max(run - 1, 0) // step.every_weeks)
        return max(allowed.low, begin + rise), step.rule
    return None


# --- Heights, equipment, gates -----------------------------------------------------------------


def check_heights(case: Case) -> Iterator[Breach]:
    """Boxes are at hand, within the range, and no higher than is safe for this body."""
    for placed in case.placed:
        item, height = placed.item, placed.exercise.height
        drop = height is not None and height.kind is HeightKind.DROP
        told = item.drop_m if drop else item.box_m
        other = item.box_m if drop else item.drop_m
        if height is None:
            if told is not None or other is not None:
                yield Breach("heights", placed.where, "it has a height and needs none.")
            continue
        if told is None or other is not None:
            yield Breach("heights", placed.where, f"it needs the height of its {height.kind}.")
            continue
        boxes = case.situation.gym.boxes_m
        if height.kind is not HeightKind.HURDLE and not any(
            abs(told - box) < _MILLIMETRE for box in boxes
        ):
            yield Breach("heights", placed.where, f"there is no box of {100 * told:.0f} cm.")
        if not height.range_m.low - _MILLIMETRE <= told <= height.range_m.high + _MILLIMETRE:
            what = f"{100 * told:.0f} cm is out of its range."
            yield Breach("heights", placed.where, what)
        for limit in height.limits:
            if _limited(case, limit) and told > limit.max_m + _MILLIMETRE:
                what = f"{100 * told:.0f} cm is above the {100 * limit.max_m:.0f} cm for this body."
                yield Breach("heights", placed.where, what)
        ceiling = height_ceiling(
            placed.exercise, case.method, case.assessment, case.person, placed.session.date
        )
        if told > ceiling + _MILLIMETRE:
            what = f"{100 * told:.0f} cm is above what this jump clears ({100 * ceiling:.0f} cm)."
            yield Breach("heights", placed.where, what)


def _limited(case: Case, limit: BodyLimit) -> bool:
    heavy = limit.over_kg is not None and case.assessment.mass_kg > limit.over_kg
    return heavy or (limit.minors and case.minor)


def check_equipment(case: Case) -> Iterator[Breach]:
    """Everything an exercise needs is there."""
    gym = case.situation.gym
    shown = {
        "dumbbells": bool(gym.dumbbells_kg),
        "kettlebell": bool(gym.kettlebells_kg),
        "boxes": bool(gym.boxes_m),
    }
    for placed in case.placed:
        for name in sorted(placed.exercise.equipment):
            if not shown.get(name, name in gym.equipment):
                yield Breach("equipment", placed.where, f"there is no {name.replace('_', ' ')}.")


def check_gated(case: Case) -> Iterator[Breach]:
    """Nothing stands in the plan whose gate is closed on its day.

    Weeks of landing practice count only where the plan, or the weeks before it, really hold
    landings in them.
    """
    practised = [
        week.start
        for week in case.plan.weeks
        if any(placed.exercise.lands for placed in case.in_week(week))
    ]
    for placed in case.placed:
        weeks = case.situation.landing_practice_weeks + sum(
            start < placed.week.start for start in practised
        )
        closed = check_gates(
            placed.exercise,
            case.assessment,
            case.person,
            case.situation,
            placed.session.date,
            practised_weeks=weeks,
        )
        for gate in closed:
            yield Breach(f"gates: {gate.gate}", placed.where, str(gate))
