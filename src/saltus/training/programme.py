"""The constraint program: which exercise on which weekday, with how many sets.

An ordinary week is free in all of this. A week that differs from it (a blocked day, a match,
a lighter week, fewer landings) follows it: it may drop items and sets, and it may move an
item only off a day that is lost; both cost a little. Every constraint is linear, so that the
same program can be given to any solver of mixed-integer programs.

Units inside the program: minutes and landing loads in tenths, doses in thousandths, gain in
tenths of a micrometre; what is used up is rounded up, what there is rounded down.
"""

import math
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from saltus.athlete.qualities import TRAINABLE, Quality
from saltus.training.dose import segments
from saltus.training.exercises import Exercise, Place
from saltus.training.frame import OUTSIDE, FrameWeek, belongs
from saltus.training.landings import day_ceiling
from saltus.training.method import Budget, Method, Use
from saltus.training.options import Option
from saltus.training.plan import Item

__all__ = ["Key", "Programme", "Relax", "Rules", "WeekCase", "WeekPlan"]

_TENTHS = 10
_DOSE = 1000
_GAIN = 10_000_000
_FINE = 100
WARM_UP = "warm_up"
"""The family that opens every session."""

# Costs as shares of the gain of a week with an ordinary dose on every quality (judgement):
# large enough to decide between plans of equal gain, small enough not to rule over it.
_MISSED = 0.6
_SHORT_WEEK = 0.25
_SESSION = 0.002
_VARIETY = 0.004
_DROPPED = 0.004
_MOVED = 0.012
_UPKEEP = 0.006
_CHANGED = 0.01
_UNPINNED = 5.0
_CHANGED_SET = 0.0015

Linear = cp_model.LinearExpr | int
"""An expression of the program, or what is already known of it."""

Key = tuple[int, int]
"""Weekday from 0 for Monday, and place of the option in its phase."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rules:
    """What holds in every week.

    Parameters
    ----------
    method : Method
        The rules.
    exercises : mapping of str to Exercise
        All exercises, for what already stands in a week.
    budget : Budget
        Landing loads that this athlete can bear.
    minor : bool
        Whether the spacings of minors hold.
    worth : mapping of Quality to float
        Gain of an ordinary week on each quality, m.
    """

    method: Method
    exercises: Mapping[str, Exercise]
    budget: Budget
    minor: bool
    worth: Mapping[Quality, float]


@dataclass(frozen=True, slots=True)
class Relax:
    """Rules lifted, to find out which of them leaves no room."""

    minutes: bool = False
    landings: bool = False
    spacing: bool = False
    lighter: bool = False
    session: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekCase:
    """A week to fill, or several that are alike.

    Parameters
    ----------
    frame : FrameWeek
        Its days.
    options : tuple of Option
        Options of its phase, in the same order for every week of it.
    allowed : frozenset of Key
        What may stand where.
    count : int
        Weeks like it.
    landing_room : float
        Landing load that the plan may add.
    sets_room : float or None
        Working sets at most; None without a limit of its own.
    before : mapping of str to frozenset of int, or None
        Weekdays of the week before on which each family stood; None if the week follows
        itself.
    after : mapping of str to frozenset of int
        The same of the week after, where it is to be kept clear of.
    current : tuple of mapping of Key to int
        For each week, sets in the plan to stay close to; empty without one.
    pinned : mapping of Key to bool
        What the coach settled: whether it stands.
    """

    frame: FrameWeek
    options: tuple[Option, ...]
    allowed: frozenset[Key]
    count: int = 1
    landing_room: float = math.inf
    sets_room: float | None = None
    before: Mapping[str, frozenset[int]] | None = None
    after: Mapping[str, frozenset[int]] = field(default_factory=dict)
    current: tuple[Mapping[Key, int], ...] = ()
    pinned: Mapping[Key, bool] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class WeekPlan:
    """What stands in a week.

    Parameters
    ----------
    sets : mapping of Key to int
        Sets of what stands, nothing else.
    missed : tuple of (Use or None, int)
        Uses that stand less often than asked for, and by how much; None for the sessions
        of the week as such.
    """

    sets: Mapping[Key, int]
    missed: tuple[tuple[Use | None, int], ...] = ()


@dataclass(slots=True)
class _Week:
    """Variables of a case."""

    case: WeekCase
    stands: dict[Key, Linear] = field(default_factory=dict)
    sets: dict[Key, Linear] = field(default_factory=dict)
    open: dict[int, cp_model.IntVar] = field(default_factory=dict)
    missed: list[tuple[Use | None, cp_model.IntVar]] = field(default_factory=list)
    family: dict[tuple[str, int], Linear] = field(default_factory=dict)

    @property
    def options(self) -> tuple[Option, ...]:
        return self.case.options

    def of(self, option: int) -> list[Key]:
        return [key for key in self.stands if key[1] == option]

    def on(self, day: int) -> list[Key]:
        return [key for key in self.stands if key[0] == day]


class Programme:
    """The program of an ordinary week and of weeks that follow it.

    Parameters
    ----------
    cases : sequence of WeekCase
        All of one phase. The first is the ordinary week unless `shape` is given.
    rules : Rules
        What holds in every week.
    shape : mapping of Key to int, optional
        Sets of the ordinary week where it is already settled.
    ordinary : WeekCase, optional
        The ordinary week's case, with `shape`.
    relax : Relax, optional
        Rules lifted.
    only : Use, optional
        Look for the most sessions of this use and nothing else.

    Attributes
    ----------
    model : cp_model.CpModel
        The program, ready to be solved.
    ordinary : bool
        Whether it looks for an ordinary week rather than follows one.
    """

    def __init__(
        self,
        cases: Sequence[WeekCase],
        rules: Rules,
        *,
        shape: Mapping[Key, int] | None = None,
        ordinary: WeekCase | None = None,
        relax: Relax | None = None,
        only: Use | None = None,
    ) -> None:
        self.model = cp_model.CpModel()
        self.ordinary = shape is None
        self._rules = rules
        self._relax = relax or Relax()
        self._objective: list[Linear] = []
        self._gain: list[Linear] = []
        self._week_gain = max(1, round(sum(rules.worth.values()) * _GAIN))
        self._weeks = [_Week(case) for case in cases]
        if shape is None:
            self._main = self._weeks[0]
        else:
            self._main = _Week(ordinary or cases[0], dict.fromkeys(shape, 1), dict(shape))
        for week in self._weeks:
            self._build(week)
        if shape is None:
            self._cost_variety()
        if only is not None:
            self._objective = [
                -missed for week in self._weeks for use, missed in week.missed if use is only
            ]
        self.model.maximize(sum(self._objective))

    def kept(self) -> cp_model.CpModel | None:
        """Return the same program with the plan that the athlete has; None without one."""
        if not all(week.case.current for week in self._weeks):
            return None
        model = self.model.clone()
        for week in self._weeks:
            weekly = [tuple(sorted(one.items())) for one in week.case.current]
            usual = dict(Counter(weekly).most_common(1)[0][0])
            if not usual.keys() <= week.stands.keys():
                return None
            for key, stands in week.stands.items():
                model.add(stands == int(key in usual))
                model.add(week.sets[key] == usual.get(key, 0))
        return model

    # --- one week ---------------------------------------------------------------------------

    def _build(self, week: _Week) -> None:
        self._items(week)
        self._sessions(week)
        self._uses(week)
        self._landings(week)
        self._space(week)
        self._gains(week)
        self._stay_close(week)

    def _items(self, week: _Week) -> None:
        model = self.model
        for key in sorted(week.case.allowed):
            option = week.options[key[1]]
            low, high = option.sets.low, option.sets.high
            stands = model.new_bool_var(f"{option.id} on {key[0]}")
            week.stands[key] = stands
            if low == high:
                week.sets[key] = stands if low == 1 else low * stands
            else:
                sets = model.new_int_var(0, high, f"sets of {option.id} on {key[0]}")
                model.add(sets >= low * stands)
                model.add(sets <= high * stands)
                week.sets[key] = sets
        for key, wished in week.stands.items():
            if week.case.pinned.get(key):
                # Rules come before the coach's wish, and that before everything else.
                let_go = model.new_bool_var(f"{key} let go")
                model.add(wished + let_go >= 1)
                self._cost(_UNPINNED, week.case.count, let_go)
        if week is not self._main:
            self._follow(week)
        room = week.case.sets_room
        working = [n for key, n in week.sets.items() if week.options[key[1]].working]
        if room is not None and working and not self._relax.lighter:
            done = _done_sets(week.case.frame, self._rules.exercises)
            model.add(sum(working) <= max(0, math.floor(room + 1e-9) - done))

    def _follow(self, week: _Week) -> None:
        """Keep a week to the ordinary one, but for items moved off lost days."""
        model, main, n = self.model, self._main, week.case.count
        days, ordinary = week.case.frame.days, main.case.frame.days
        # What the coach moves in a week may move on its other days too.
        loose = {key[1] for key in week.case.pinned}
        lost = [
            key
            for key in main.stands
            if key not in week.stands
            or key[1] in loose
            or days[key[0]].minutes < ordinary[key[0]].minutes
        ]
        moved_by_option: dict[int, list[cp_model.IntVar]] = defaultdict(list)
        for key, stands in week.stands.items():
            high = week.options[key[1]].sets.high
            moved: Linear = 0
            if any(other[1] == key[1] and other != key for other in lost):
                moved = model.new_bool_var(f"{key} moved")
                moved_by_option[key[1]].append(moved)
                self._cost(_MOVED, n, moved)
            model.add(stands <= main.stands.get(key, 0) + moved)
            model.add(week.sets[key] <= main.sets.get(key, 0) + high * moved)
        for j, moved_vars in moved_by_option.items():
            model.add(sum(moved_vars) <= sum(main.stands[key] for key in lost if key[1] == j))
        for j in range(len(week.options)):
            shaped = [main.stands[key] for key in main.of(j)]
            here = [week.stands[key] for key in week.of(j)]
            if shaped and here:
                # No more often than in the ordinary week; each item fewer costs a little.
                model.add(sum(here) <= sum(shaped))
                self._cost(_DROPPED, n, sum(shaped) - sum(here))

    def _sessions(self, week: _Week) -> None:
        model, rule = self.model, self._rules.method.week
        for d, day in enumerate(week.case.frame.days):
            keys = week.on(d)
            if not keys:
                continue
            is_open = model.new_bool_var(f"session on {d}")
            week.open[d] = is_open
            for key in keys:
                if WARM_UP in week.options[key[1]].exercise.families:
                    model.add(week.stands[key] == is_open)
                else:
                    model.add(week.stands[key] <= is_open)
            count = sum(week.stands[key] for key in keys)
            model.add(count >= rule.items.low * is_open)
            working = [week.sets[key] for key in keys if week.options[key[1]].working]
            if not self._relax.session:
                model.add(count <= rule.items.high * is_open)
                model.add(sum(working) <= rule.sets * is_open)
            minutes = sum(
                _up(week.options[key[1]].set_up_min) * week.stands[key]
                + _up(week.options[key[1]].set_min) * week.sets[key]
                for key in keys
            )
            if not self._relax.minutes:
                model.add(minutes <= day.minutes * _TENTHS * is_open)
            # Each item's time was rounded up twice: that much is added on the long side.
            shortest = math.ceil(rule.shortest_min * _TENTHS) + 2 * rule.items.high
            model.add(minutes >= shortest * is_open)
            self._cost(_SESSION, week.case.count, is_open)
        done = sum(1 for day in week.case.frame.days if day.done)
        total = sum(week.open.values()) + done
        if week.open:
            model.add(total <= max(rule.sessions.high, done))
        self._ask(week, None, total, rule.sessions.low, _SHORT_WEEK)

    def _ask(self, week: _Week, use: Use | None, total: Linear, low: int, cost: float) -> None:
        """Ask for a minimum, not where the plan begins or ends within the week."""
        if low <= 0 or any(day.why == OUTSIDE for day in week.case.frame.days):
            return
        missed = self.model.new_int_var(0, low, "missed")
        self.model.add(total + missed >= low)
        week.missed.append((use, missed))
        self._cost(cost, week.case.count, missed)

    def _uses(self, week: _Week) -> None:
        """Sessions and sets of each family, and of each exercise."""
        model, laid = self.model, week.case.frame.laid
        for use in laid.phase.uses:
            asked = laid.asked(use)
            mine = [key for key in week.stands if week.options[key[1]].use is use]
            done = _done_days(week.case.frame, self._rules.exercises, use)
            used = []
            for d in sorted({key[0] for key in mine}):
                here = [key for key in mine if key[0] == d]
                has = self._any([week.stands[key] for key in here], f"{use.family} on {d}")
                sets = sum(week.sets[key] for key in here)
                model.add(sets <= asked.sets.high * has)
                model.add(sets >= asked.sets.low * has)
                used.append(has)
            total = sum(used) + done
            if used:
                model.add(total <= max(use.per_week.high, done))
            self._ask(week, use, total, asked.per_week.low, _MISSED)
            if used and not done and _supports(week, mine):
                kept = model.new_bool_var(f"{use.family} kept up")
                model.add(kept <= sum(used))
                self._cost(-_UPKEEP, week.case.count, kept)
        for j, option in enumerate(week.options):
            every = [week.stands[key] for key in week.of(j)]
            done = _done_days(week.case.frame, self._rules.exercises, option.id)
            if every and len(every) + done > option.exercise.per_week.high:
                model.add(sum(every) <= max(0, option.exercise.per_week.high - done))

    def _any(self, variables: Sequence[Linear], name: str) -> Linear:
        """Whether any of some variables is 1."""
        if len(variables) <= 1:
            return variables[0] if variables else 0
        has = self.model.new_bool_var(name)
        for variable in variables:
            self.model.add(variable <= has)
        self.model.add(has <= sum(variables))
        return has

    def _landings(self, week: _Week) -> None:
        if self._relax.landings:
            return
        budget, model = self._rules.budget, self.model
        total: list[Linear] = []
        for d, day in enumerate(week.case.frame.days):
            landing = [
                _up(week.options[key[1]].landing_load) * week.sets[key]
                for key in week.on(d)
                if week.options[key[1]].landing_load > 0
            ]
            if landing:
                room = math.floor(day_ceiling(budget, day.sport_load) * _TENTHS)
                model.add(sum(landing) <= room)
                total += landing
        done = sum(i.landing_load for day in week.case.frame.days for i in day.done)
        if total and math.isfinite(week.case.landing_room):
            room = math.floor((week.case.landing_room - done) * _TENTHS + 1e-6)
            model.add(sum(total) <= max(0, room))

    def _space(self, week: _Week) -> None:
        """Keep the days between two sessions with the same family, also over the weekend."""
        if self._relax.spacing:
            return
        for spacing in self._rules.method.spacings:
            days = spacing.days_minors if self._rules.minor else spacing.days
            if days < 2:
                continue
            here = [self._has(week, spacing.family, d) for d in range(7)]
            if week.case.before is None:
                line = [*here, *here]
            else:
                on = week.case.before.get(spacing.family, frozenset())
                after = week.case.after.get(spacing.family, frozenset())
                line = [int(d in on) for d in range(7)] + here + [int(d in after) for d in range(7)]
            for first in range(8 - days, min(14, len(line) - days + 1)):
                window = line[first : first + days]
                fixed = sum(x for x in window if isinstance(x, int))
                free = [x for x in window if not isinstance(x, int)]
                if free and len(free) + fixed > 1:
                    self.model.add(sum(free) <= max(0, 1 - fixed))
            # Follows from the windows for whole numbers, and spares the solver finding it out.
            fits = 7 // days if week.case.before is None else -(-7 // days)
            if sum(not isinstance(x, int) for x in here) > fits:
                self.model.add(sum(here) <= fits)

    def _has(self, week: _Week, family: str, d: int) -> Linear:
        """Whether a family stands on a day."""
        known = _known(week.case.frame.days[d].done, self._rules.exercises)
        if any(belongs(exercise, family) for _, exercise in known):
            return 1
        mine = [
            week.stands[key] for key in week.on(d) if belongs(week.options[key[1]].exercise, family)
        ]
        return self._any(mine, f"{family} on {d}")

    def _gains(self, week: _Week) -> None:
        worth_of, n = self._rules.worth, week.case.count
        for quality in TRAINABLE:
            worth = worth_of.get(quality, 0.0)
            adds = {
                key: round(_DOSE * week.options[key[1]].exercise.adds.get(quality, 0.0))
                for key in week.sets
            }
            pieces = segments()
            top = round(worth * pieces[-1][1] * _GAIN)
            if not any(adds.values()) or top <= 0:
                continue
            done = _done_dose(week.case.frame, self._rules.exercises, quality)
            dose = sum(adds[key] * sets for key, sets in week.sets.items() if adds[key]) + done
            gain = self.model.new_int_var(0, top, f"gain from {quality}")
            for slope, base in pieces[:-1]:
                steep = round(_FINE * worth * slope * _GAIN / _DOSE)
                flat = round(_FINE * worth * base * _GAIN)
                self.model.add(_FINE * gain <= steep * dose + flat)
            self._objective.append(n * gain)
            self._gain.append(n * gain)

    def _stay_close(self, week: _Week) -> None:
        """Pay for every item that differs from the plan the athlete already has."""
        current = week.case.current
        for key, stands in week.stands.items() if current else ():
            there = [sets for weekly in current if (sets := weekly.get(key, 0))]
            self._cost(_CHANGED, len(current) - len(there), stands)
            self._cost(_CHANGED, len(there), 1 - stands)
            if there:
                usual = Counter(there).most_common(1)[0][0]
                off = self.model.new_int_var(0, 99, f"{key} off")
                self.model.add(off >= week.sets[key] - usual)
                self.model.add(off >= usual * stands - week.sets[key])
                self._cost(_CHANGED_SET, len(there), off)

    def _cost_variety(self) -> None:
        """A phase with fewer different exercises is easier to learn, all else equal."""
        main, n = self._main, sum(week.case.count for week in self._weeks)
        for j, option in enumerate(main.options):
            keys = main.of(j)
            if keys:
                used = self.model.new_bool_var(f"{option.id} used")
                for key in keys:
                    self.model.add(main.stands[key] <= used)
                self._cost(_VARIETY, n, used)

    def _cost(self, share: float, times: int, expression: Linear) -> None:
        if times and not isinstance(expression, int):
            weight = round(share * self._week_gain) or int(math.copysign(1, share))
            self._objective.append(-weight * times * expression)

    # --- reading the answer ------------------------------------------------------------------

    def week_plan(self, place: int, value: Callable[[Linear], int]) -> WeekPlan:
        """Read off what stands in a week, given the value of each expression."""
        week = self._weeks[place]
        return WeekPlan(
            {key: value(week.sets[key]) for key, stands in week.stands.items() if value(stands)},
            tuple((use, value(by)) for use, by in week.missed if value(by)),
        )

    def gain(self, value: Callable[[Linear], int]) -> int:
        """Sum up the expected gain, in tenths of a micrometre."""
        return sum(value(gain) for gain in self._gain)


def _up(number: float) -> int:
    return math.ceil(number * _TENTHS - 1e-9)


def _supports(week: _Week, keys: Iterable[Key]) -> bool:
    return any(week.options[key[1]].exercise.place is Place.SUPPORT for key in keys)


def _known(items: Iterable[Item], exercises: Mapping[str, Exercise]) -> list[tuple[Item, Exercise]]:
    return [(i, exercises[i.exercise]) for i in items if i.exercise in exercises]


def _done_sets(frame: FrameWeek, exercises: Mapping[str, Exercise]) -> int:
    return sum(
        item.sets
        for day in frame.days
        for item, exercise in _known(day.done, exercises)
        if exercise.place is not Place.PREPARATION
    )


def _done_days(frame: FrameWeek, exercises: Mapping[str, Exercise], what: Use | str) -> int:
    """Days already done that hold a use's family, or an exercise."""
    phase = frame.laid.phase
    return sum(
        any(
            exercise.id == what if isinstance(what, str) else phase.use_of(exercise) is what
            for _, exercise in _known(day.done, exercises)
        )
        for day in frame.days
    )


def _done_dose(frame: FrameWeek, exercises: Mapping[str, Exercise], quality: Quality) -> int:
    return sum(
        round(_DOSE * exercise.adds.get(quality, 0.0)) * item.sets
        for day in frame.days
        for item, exercise in _known(day.done, exercises)
    )
