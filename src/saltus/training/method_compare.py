"""What one method says otherwise than another, and which plans that touches.

A plan is touched where it uses, from a day on, an exercise or a phase that is said otherwise,
where it stands on such a rule, or where a limit that is said otherwise holds for it.
"""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields

from saltus.training.exercises import Exercise
from saltus.training.method import (
    Budget,
    Day,
    Easing,
    MatchGap,
    Method,
    Phase,
    Progression,
    Spacing,
)
from saltus.training.plan import Plan

__all__ = ["Differences", "Touched", "differences", "looser", "looser_parts", "touched"]

_Limit = Spacing | MatchGap | Progression
_LANDING = "landing"
_BY_FAMILY = ("spacings", "match_gaps", "progressions")
_FOR_LANDINGS = ("budgets", "landing_steps")
_ON_THE_DAY = ("day",)
_FOR_EVERY_PLAN = ("emphases", "week", "back_off", "careful", "easing", "unloading")


@dataclass(frozen=True, slots=True)
class Differences:
    """What differs between two methods, by identifier.

    Parameters
    ----------
    exercises, phases, rules : frozenset of str
        Identifiers of those that are said otherwise, are new, or are gone.
    families : frozenset of str
        Families whose spacing, days round matches or progression are said otherwise.
    sections : frozenset of str
        Names of the other parts of :class:`~saltus.training.method.Method` that differ.
    name : bool
        Whether the name differs, which touches no plan.
    """

    exercises: frozenset[str] = frozenset()
    phases: frozenset[str] = frozenset()
    rules: frozenset[str] = frozenset()
    families: frozenset[str] = frozenset()
    sections: frozenset[str] = frozenset()
    name: bool = False

    def __bool__(self) -> bool:
        return any(getattr(self, part.name) for part in fields(self))


@dataclass(frozen=True, slots=True)
class Touched:
    """What of the differences a plan uses.

    Parameters
    ----------
    exercises, phases, rules, sections : frozenset of str
        As in :class:`Differences`; exercises are also those whose family is under another
        limit now.
    """

    exercises: frozenset[str]
    phases: frozenset[str]
    rules: frozenset[str]
    sections: frozenset[str]

    def __bool__(self) -> bool:
        return any(getattr(self, part.name) for part in fields(self))


def differences(before: Method, after: Method) -> Differences:
    """What differs between two methods."""
    old, new = ({phase.id: phase for phase in method.phases} for method in (before, after))
    return Differences(
        exercises=_changed(before.exercises, after.exercises),
        phases=_changed(old, new) | _moved(before.phases, after.phases),
        rules=_changed(before.rules, after.rules),
        families=frozenset().union(
            *(_families(getattr(before, part), getattr(after, part)) for part in _BY_FAMILY)
        ),
        sections=frozenset(
            part
            for part in (*_FOR_EVERY_PLAN, *_FOR_LANDINGS, *_ON_THE_DAY)
            if getattr(before, part) != getattr(after, part)
        ),
        name=before.name != after.name,
    )


def touched(plan: Plan, found: Differences, method: Method, *, since: dt.date) -> Touched:
    """What of the differences a plan uses from a day on.

    Parameters
    ----------
    plan : Plan
        The plan.
    found : Differences
        Between the method that it follows and another.
    method : Method
        The one that it follows: says which families its exercises belong to.
    since : date
        Sessions before it have been; they are not looked at.
    """
    weeks = [week for week in plan.weeks if week.end >= since]
    items = [
        item
        for week in weeks
        for session in week.sessions
        if session.date >= since
        for item in session.items
    ]
    used = {item.exercise for item in items}
    limited = {
        name
        for name in used
        if name in method.exercises and _limited(method.exercises[name], found.families)
    }
    lands = any(item.landings > 0 for item in items)
    sections = found.sections & (
        set(_FOR_EVERY_PLAN if items else ()) | set(_FOR_LANDINGS if lands else ())
    )
    return Touched(
        exercises=frozenset(used & found.exercises | limited),
        phases=frozenset({week.phase for week in weeks} & found.phases),
        rules=frozenset({item.why.rule for item in items} & found.rules),
        sections=frozenset(sections),
    )


def looser(exercise: Exercise, than: Exercise) -> tuple[str, ...]:
    """Names of the fields of ``needs``, ``height`` and ``landing`` that ask for less caution.

    Parameters
    ----------
    exercise : Exercise
        As a coach's method says it.
    than : Exercise
        As it ships.
    """
    needs, shipped = exercise.needs, than.needs
    names = [
        name
        for name in (
            "squat_per_mass",
            "landing_practice_weeks",
            "training_age_years",
            "age_years",
            "soft_surface",
            "adult_supervision",
        )
        if getattr(needs, name) < getattr(shipped, name)
    ]
    if needs.pain > shipped.pain:
        names.append("pain")
    if exercise.height is not None and than.height is not None:
        limits = _highest(exercise), _highest(than)
        if any(limits[0][whom] > limits[1][whom] for whom in limits[1]):
            names.append("height")
    if exercise.landings_per_rep < than.landings_per_rep or (
        (exercise.landing_cost, exercise.landing_cost_per_drop_m)
        < (than.landing_cost, than.landing_cost_per_drop_m)
    ):
        names.append("landing")
    return tuple(names)


def looser_parts(method: Method, than: Method) -> tuple[str, ...]:
    """Names of the parts of a method that ask for less caution than those of another.

    Parameters
    ----------
    method : Method
        A coach's.
    than : Method
        The one that ships.

    Returns
    -------
    tuple of str
        Among "budgets" and "landing_steps" (more landings), "careful" (heavier or higher at
        the start, or nearer to the last repetition), "spacings" (fewer days between),
        "easing" (sooner back to full work after a break) and "day"
        (loads or boxes that rise sooner, or an exercise that ends later).
    """
    names = []
    years = {budget.from_years for budget in (*method.budgets, *than.budgets)}
    if any(
        _exceeds(_budget(method, minors, age), _budget(than, minors, age))
        for minors in (False, True)
        for age in years
    ):
        names.append("budgets")
    steps, shipped = method.landing_steps, than.landing_steps
    if (
        steps.step > shipped.step
        or steps.allowance > shipped.allowance
        or steps.look_back > shipped.look_back
        or steps.over_kg > shipped.over_kg
        or steps.heavy_share > shipped.heavy_share
        or steps.practice_cost < shipped.practice_cost
        or steps.match_cost < shipped.match_cost
    ):
        names.append("landing_steps")
    if (
        method.careful.weeks < than.careful.weeks
        or method.careful.reserve_reps < than.careful.reserve_reps
        or method.careful.height_share > than.careful.height_share
    ):
        names.append("careful")
    if _less_eased(method.easing, than.easing):
        names.append("easing")
    days = {spacing.family: (spacing.days, spacing.days_minors) for spacing in method.spacings}
    if any(
        days.get(spacing.family, (0, 0))[0] < spacing.days
        or days.get(spacing.family, (0, 0))[1] < spacing.days_minors
        for spacing in than.spacings
    ):
        names.append("spacings")
    if _bolder(method.day, than.day):
        names.append("day")
    return tuple(names)


def _less_eased(easing: Easing, than: Easing) -> bool:
    """Whether training is taken up again later seen as a break, sooner, heavier or fuller."""
    up = (
        "from_days",
        "load_share",
        "volume_share",
        "long_days",
        "long_load_share",
        "long_volume_share",
    )
    return any(getattr(easing, name) > getattr(than, name) for name in up) or any(
        getattr(easing, name) < getattr(than, name) for name in ("weeks", "long_weeks")
    )


def _bolder(day: Day, than: Day) -> bool:
    """Whether a day's rules let loads and boxes rise sooner, or exercises go on for longer."""
    up = (
        "most_rise",
        "missed_sets",
        "speed_loss",
        "height_loss",
        "well_below_sets",
        "held_loss",
        "box_step_m",
    )
    down = (
        "beginner_years",
        "missed_lighter",
        "below",
        "well_below",
        "below_lighter",
        "well_below_lighter",
        "held_probability",
        "box_sessions",
        "drop_probability",
        "end_gain",
        "end_probability",
    )
    return any(getattr(day, name) > getattr(than, name) for name in up) or any(
        getattr(day, name) < getattr(than, name) for name in down
    )


def _budget(method: Method, minors: bool, years: float) -> Budget:
    held = [b for b in method.budgets if b.minors is minors and b.from_years <= years]
    return max(held, key=lambda budget: budget.from_years)


def _exceeds(budget: Budget, other: Budget) -> bool:
    return (
        budget.per_session > other.per_session
        or budget.per_week > other.per_week
        or budget.first_week > other.first_week
    )


def _highest(exercise: Exercise) -> dict[object, float]:
    """Highest for everybody, for minors, for heavy bodies, and to begin with, m."""
    assert exercise.height is not None
    height = exercise.height
    top = height.range_m.high
    minors = [limit.max_m for limit in height.limits if limit.minors]
    heavy = [limit.max_m for limit in height.limits if limit.over_kg is not None]
    return {
        "all": top,
        "minors": min([*minors, top]),
        "heavy": min([*heavy, top]),
        "start": top if height.start_m is None else height.start_m,
    }


def _changed(before: Mapping[str, object], after: Mapping[str, object]) -> frozenset[str]:
    return frozenset(
        name for name in before.keys() | after.keys() if before.get(name) != after.get(name)
    )


def _moved(before: tuple[Phase, ...], after: tuple[Phase, ...]) -> frozenset[str]:
    """Phases that stand in another order among those that both have."""
    ids = [
        [p.id for p in one if any(p.id == q.id for q in other)]
        for one, other in ((before, after), (after, before))
    ]
    return frozenset(one for one, other in zip(*ids, strict=True) if one != other)


def _families(before: Iterable[_Limit], after: Iterable[_Limit]) -> frozenset[str]:
    return frozenset(entry.family for entry in set(before) ^ set(after))


def _limited(exercise: Exercise, families: frozenset[str]) -> bool:
    return bool(exercise.families & families) or (_LANDING in families and exercise.lands)
