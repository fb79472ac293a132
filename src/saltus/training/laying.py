"""Laying out the weeks: first the ordinary week of each phase, then each week after it.

The ordinary week of a phase is the best that the program finds, and is proven to lie within
the gap of the best there is. Each week of the phase is that week again, or, where it differs
(a blocked day, a match, a lighter week, landings that still have to climb), its best repair,
proven in the same way. That is how coaches plan, and it keeps the proofs quick.
"""

import datetime as dt
import math
import time
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field, replace

from ortools.sat.python import cp_model

from saltus.training.eligibility import Eligibility
from saltus.training.exercises import Exercise, Place
from saltus.training.frame import LANDING, FrameWeek, belongs
from saltus.training.landings import week_ceiling
from saltus.training.method import PhaseKind, Use
from saltus.training.options import (
    Option,
    best_of_each_use,
    without_dominated,
    without_stand_ins,
)
from saltus.training.plan import Pin, SolverReport, Week
from saltus.training.programme import Key, Programme, Relax, Rules, WeekCase, WeekPlan

__all__ = ["GAP", "FilledWeek", "Layer"]

GAP = 0.01
"""Proven distance from the best possible gain at which a search may end."""

_AIM = 0.008
_SEED = 20
_WORK = 0.7
# Units of the solver's own count of work to a second of the time limit: fewer than an ordinary
# machine does in it, so that the search ends by that count, which is the same every time.
_THREADS = 2
_SHAPE_SHARE = 1.0
_REPAIR_SHARE = 0.1
_PATIENCE = 5.0
# A machine that is busy gets so many times the time before the clock ends a search: a late plan
# is better than a poor one.


@dataclass(frozen=True, slots=True)
class FilledWeek:
    """A week with what stands in it.

    Parameters
    ----------
    frame : FrameWeek
        Its days.
    number : int
        Weeks from the first that is counted from.
    options : tuple of Option
        Options of the week.
    plan : WeekPlan
        What stands in it.
    case : WeekCase
        What it was filled from.
    practised : float
        Weeks of landing practice before it.
    """

    frame: FrameWeek
    number: int
    options: tuple[Option, ...]
    plan: WeekPlan
    case: WeekCase
    practised: float


@dataclass(slots=True)
class _Past:
    """What rules look back on, week by week, the latest last."""

    loads: list[float] = field(default_factory=list)
    sets: list[int] = field(default_factory=list)
    back_off: list[bool] = field(default_factory=list)
    unloads: list[bool] = field(default_factory=list)
    days: list[Mapping[str, frozenset[int]]] = field(default_factory=list)
    practised: float = 0.0


@dataclass(frozen=True, slots=True)
class _Solved:
    """An answer of the solver: its week, gain, proven distance from the best, and a proof."""

    plan: WeekPlan
    gain: int
    distance: float
    proven: bool = True


@dataclass(frozen=True, slots=True)
class _Shape:
    """The ordinary week of a phase."""

    case: WeekCase
    solved: _Solved
    exercises: tuple[Exercise, ...]


class _UntilProven(cp_model.CpSolverSolutionCallback):
    """Ends a search once its best answer is proven to lie close enough to the best there is.

    The solver's own limit is a share of the whole objective, costs included; this one is a
    share of the gain alone.
    """

    def __init__(self, programme: Programme, solver: cp_model.CpSolver) -> None:
        super().__init__()
        self._programme = programme
        self._solver = solver
        self._best: float | None = None
        self._enough = 0.0
        solver.best_bound_callback = self.on_bound

    def on_solution_callback(self) -> None:
        """Take note of a better answer."""
        self._best = self.objective_value
        self._enough = _AIM * self._programme.gain(self.value)
        if self.best_objective_bound - self.objective_value <= self._enough:
            self.stop_search()

    def on_bound(self, bound: float) -> None:
        """Take note of a better bound."""
        if self._best is not None and bound - self._best <= self._enough:
            self._solver.stop_search()


def _untold(_share: float) -> None:
    """Tell nobody how far it is."""


class Layer:
    """Lays out the weeks of one plan.

    Parameters
    ----------
    frame : sequence of FrameWeek
        Weeks to fill.
    rules : Rules
        What holds in every week.
    eligibility : Eligibility
        What may be given.
    first_number : int
        Number of the first week, counted as the method's steps are.
    earlier : sequence of Week
        Weeks before, the latest last.
    current : mapping of date to mapping of str to int
        Sets of each exercise in the plan to stay close to; empty without one.
    pins : sequence of Pin
        What the coach settled by hand.
    progress : callable, optional
        Is told the share of the work that is done; an exception of its ends the work.

    Attributes
    ----------
    rules : Rules
        As given.
    """

    def __init__(
        self,
        frame: Sequence[FrameWeek],
        rules: Rules,
        eligibility: Eligibility,
        *,
        first_number: int = 0,
        earlier: Sequence[Week] = (),
        current: Mapping[dt.date, Mapping[str, int]] | None = None,
        pins: Sequence[Pin] = (),
        progress: Callable[[float], None] | None = None,
    ) -> None:
        self._frame = tuple(frame)
        self.rules = rules
        self._eligible = eligibility
        self._first = first_number
        self._current = current or {}
        self._pins = {pin.date: pin for pin in pins}
        self._progress = progress or _untold
        self._past = self._look_back(earlier)
        self._begun_practised = self._past.practised
        self._begun_loads = tuple(self._past.loads)
        self._solved: dict[object, _Solved] = {}

    # --- the whole ----------------------------------------------------------------------------

    def lay(self, time_limit_s: float) -> tuple[tuple[FilledWeek, ...], SolverReport]:
        """Fill every week.

        Parameters
        ----------
        time_limit_s : float
            Time that an ordinary machine with two cores takes at most, s. Every search ends by
            its proof or by a fixed amount of work, so that the same input gives the same plan;
            the clock ends it only on a machine several times slower.

        Returns
        -------
        tuple of FilledWeek
            In order.
        SolverReport
            Status, proven gap and time.
        """
        began = time.perf_counter()
        runs = self._runs()
        shapes: list[_Shape | None] = [None] * len(runs)
        free = [r for r, run in enumerate(runs) if not self._unloads(run[0])]
        share = _SHAPE_SHARE * time_limit_s * _THREADS / max(len(free), _THREADS)
        with ThreadPoolExecutor(_THREADS) as pool:
            for r, shape in zip(
                free, pool.map(lambda r: self._shape(runs[r], share), free), strict=True
            ):
                shapes[r] = shape
                self._progress(0.5 * (r + 1) / len(runs))
        filled: list[FilledWeek] = []
        solved: list[_Solved] = []
        for r, run in enumerate(runs):
            shape = shapes[r] or self._shape(run, share)
            solved.append(shape.solved)
            for w in run:
                week, repair = self._fill(w, run, shape, _REPAIR_SHARE * time_limit_s)
                filled.append(week)
                self._progress(0.5 + 0.5 * (w + 1) / len(self._frame))
                if repair is not None:
                    solved.append(repair)
        gap = sum(s.distance for s in solved) / max(sum(s.gain for s in solved), 1)
        status = "optimal" if all(s.proven for s in solved) and gap <= GAP else "feasible"
        report = SolverReport(status, gap, time.perf_counter() - began)
        return tuple(filled), report

    def _runs(self) -> list[list[int]]:
        """Weeks in a row of the same phase."""
        runs: list[list[int]] = []
        for w, week in enumerate(self._frame):
            if runs and self._frame[runs[-1][-1]].laid.phase is week.laid.phase:
                runs[-1].append(w)
            else:
                runs.append([w])
        return runs

    def _unloads(self, w: int) -> bool:
        return self._frame[w].laid.phase.kind is PhaseKind.UNLOADING

    # --- the ordinary week --------------------------------------------------------------------

    def _shape(self, run: Sequence[int], time_limit_s: float) -> _Shape:
        """Find the ordinary week of a run of weeks."""
        exercises = self._candidates(run)
        cases: dict[object, WeekCase] = {}
        for w in run:
            days = self._frame[w].days
            laid = self._frame[w].laid
            pinned = any(d.done or d.date in self._pins for d in days)
            if pinned or laid.back_off or laid.eased is not None:
                continue
            case = self._ordinary_case(w, run, exercises)
            key = (case.allowed, tuple((d.minutes, d.sport_load) for d in case.frame.days))
            known = cases.get(key)
            if known is None:
                cases[key] = case
            else:
                cases[key] = replace(
                    known, count=known.count + 1, current=known.current + case.current
                )
        if not cases:
            fullest = max(run, key=lambda w: (self._frame[w].minutes, -w))
            cases[0] = self._ordinary_case(fullest, run, exercises)
        ordinary = max(cases.values(), key=lambda c: (c.count, len(c.allowed)))
        solved = self._solve(Programme([ordinary], self.rules), time_limit_s)
        return _Shape(ordinary, solved, exercises)

    def _candidates(self, run: Sequence[int]) -> tuple[Exercise, ...]:
        """Exercises worth considering in a run of weeks, in the order of the method."""
        phase = self._frame[run[0]].laid.phase
        seen: dict[str, Option] = {}
        open_on: dict[str, set[dt.date]] = {}
        for w in run:
            for exercise in self._eligible.equipped:
                if phase.use_of(exercise) is None:
                    continue
                days = self._open_days(exercise, w, self._practised(w))
                option = self._option(exercise, w)
                if days and not isinstance(option, str):
                    seen[exercise.id] = option
                    open_on.setdefault(exercise.id, set()).update(days)
        keep = frozenset(
            name
            for w in run
            for day in self._frame[w].days
            for name in (
                *self._current.get(day.date, {}),
                *(self._pins[day.date].stands if day.date in self._pins else ()),
            )
        )
        options = without_dominated(
            without_stand_ins([o for e in self._eligible.equipped if (o := seen.get(e.id))]),
            {name: frozenset(days) for name, days in open_on.items()},
            self.rules.method,
            keep,
        )
        best = best_of_each_use(options, self.rules.worth, keep)
        kept = {o.id for o in best} | (keep & seen.keys())
        return tuple(e for e in self._eligible.equipped if e.id in kept)

    def _practised(self, w: int) -> float:
        """Weeks of landing practice before a week if every week before it holds some."""
        return self._begun_practised + w

    def _option(self, exercise: Exercise, w: int) -> Option | str:
        week = self._frame[w]
        return self._eligible.option(
            exercise, self._first + w, week.start, lighter=week.laid.back_off
        )

    def _open_days(self, exercise: Exercise, w: int, practised: float) -> list[dt.date]:
        return [
            day.date
            for day in self._frame[w].days
            if day.minutes > 0
            and not day.done
            and not any(belongs(exercise, family) for family in day.closed)
            and not self._eligible.gates(exercise, day.date, practised)
        ]

    def _ordinary_case(self, w: int, run: Sequence[int], exercises: Sequence[Exercise]) -> WeekCase:
        """Case of a week as if nothing held it back but its days."""
        case = self._case(w, run, exercises, self._practised(w), pinned=False)
        slowest = tuple(
            self._slowest(run, exercise) or case.options[j] for j, exercise in enumerate(exercises)
        )
        room = self._sets_room(w) if self._unloads(w) else None
        return replace(
            case,
            options=slowest,
            landing_room=self._landing_outlook(run),
            sets_room=room,
            before=None,
        )

    def _slowest(self, run: Sequence[int], exercise: Exercise) -> Option | None:
        """Option with the most repetitions in a run: what fits with it fits in each week."""
        options = [
            (self._frame[w].laid.eased is None, o)
            for w in run
            if not isinstance(o := self._option(exercise, w), str)
        ]
        # Weeks that are eased in allow fewer sets than the ordinary one.
        return max(options, key=lambda each: (each[0], each[1].reps))[1] if options else None

    def _landing_outlook(self, run: Sequence[int]) -> float:
        """Landing load that the middle of a run can have climbed to."""
        steps, budget = self.rules.method.landing_steps, self.rules.budget
        before = list(self._begun_loads)
        room = budget.first_week
        for w in range((run[0] + run[-1]) // 2 + 1):
            sport = self._frame[w].sport_load
            room = week_ceiling(budget, steps, before, sport)
            before.append(room + sport)
        usual = sorted(self._frame[w].sport_load for w in run)[len(run) // 2]
        return min(room, max(budget.per_week - usual, 0.0))

    def _case(
        self,
        w: int,
        run: Sequence[int],
        exercises: Sequence[Exercise],
        practised: float,
        *,
        pinned: bool = True,
    ) -> WeekCase:
        week = self._frame[w]
        options: list[Option] = []
        allowed: set[Key] = set()
        for j, exercise in enumerate(exercises):
            option = self._option(exercise, w)
            if isinstance(option, str):
                known = self._slowest(run, exercise)
                assert known is not None
                options.append(known)
                continue
            options.append(option)
            for date in self._open_days(exercise, w, practised):
                allowed.add((date.weekday(), j))
        current: tuple[Mapping[Key, int], ...] = ()
        place = {exercise.id: j for j, exercise in enumerate(exercises)}
        settled = self._settled(week, place) if pinned else {}
        allowed -= {key for key, stands in settled.items() if not stands}
        if self._current:
            current = (
                {
                    (day.weekday, place[name]): sets
                    for day in week.days
                    for name, sets in self._current.get(day.date, {}).items()
                    if name in place
                },
            )
        return WeekCase(
            frame=week,
            options=tuple(options),
            allowed=frozenset(allowed),
            current=current,
            pinned=settled,
        )

    def _settled(self, week: FrameWeek, place: Mapping[str, int]) -> dict[Key, bool]:
        """What the coach settled in a week."""
        return {
            (day.weekday, place[name]): name in pin.stands
            for day in week.days
            if (pin := self._pins.get(day.date)) is not None
            for name in sorted(pin.stands | pin.absent)
            if name in place
        }

    # --- each week ----------------------------------------------------------------------------

    def _fill(
        self, w: int, run: Sequence[int], shape: _Shape, time_limit_s: float
    ) -> tuple[FilledWeek, _Solved | None]:
        """Fill a week: the ordinary one again where it fits, its best repair otherwise."""
        week, past = self._frame[w], self._past
        practised = past.practised
        steps, budget = self.rules.method.landing_steps, self.rules.budget
        after: Mapping[str, frozenset[int]] = {}
        if w + 1 in run:
            after = self._days_of(shape.case.options, shape.solved.plan.sets)
        case = replace(
            self._case(w, run, shape.exercises, practised),
            landing_room=week_ceiling(
                budget,
                steps,
                past.loads,
                week.sport_load,
                share=1.0 if week.laid.eased is None else week.laid.eased.volume,
            ),
            sets_room=self._with_easing(w, shape),
            before=past.days[-1] if past.days else {},
            after=after,
        )
        plan = self._again(case, shape)
        repair: _Solved | None = None
        if plan is None:
            key = self._signature(case, shape)
            if key not in self._solved:
                # The week may also keep what the athlete already knows of it.
                known = dict(case.current[0]) if case.current else {}
                ordinary = shape.solved.plan.sets
                follows = {
                    key: max(known.get(key, 0), ordinary.get(key, 0)) for key in {*known, *ordinary}
                }
                follows |= {
                    key: case.options[key[1]].sets.high
                    for key, stands in case.pinned.items()
                    if stands
                }
                programme = Programme([case], self.rules, shape=follows, ordinary=shape.case)
                self._solved[key] = self._solve(programme, time_limit_s)
            repair = self._solved[key]
            plan = repair.plan
        filled = FilledWeek(week, self._first + w, case.options, plan, case, practised)
        self._remember(filled)
        return filled, repair

    @staticmethod
    def _signature(case: WeekCase, shape: _Shape) -> object:
        return (
            id(shape),
            case.frame.laid.back_off,
            case.frame.laid.eased is not None and case.frame.laid.eased.volume,
            tuple((o.id, o.reps, o.sets, o.landing_load) for o in case.options),
            case.allowed,
            tuple((d.minutes, d.sport_load, d.done, d.why) for d in case.frame.days),
            case.landing_room,
            case.sets_room,
            tuple(sorted((f, tuple(sorted(d))) for f, d in (case.before or {}).items())),
            bool(case.after),
            tuple(tuple(sorted(weekly.items())) for weekly in case.current),
            tuple(sorted(case.pinned.items())),
        )

    def _again(self, case: WeekCase, shape: _Shape) -> WeekPlan | None:
        """Give the ordinary week as it is, if the week has room for all of it."""
        sets = shape.solved.plan.sets
        same_days = [(d.minutes, d.sport_load) for d in case.frame.days] == [
            (d.minutes, d.sport_load) for d in shape.case.frame.days
        ]
        if not same_days or case.pinned or any(day.done for day in case.frame.days):
            return None
        if case.allowed != shape.case.allowed or (
            case.current and dict(case.current[0]) != dict(sets)
        ):
            return None
        load = sum(n * case.options[key[1]].landing_load for key, n in sets.items())
        working = sum(n for key, n in sets.items() if case.options[key[1]].working)
        if load > case.landing_room or (case.sets_room is not None and working > case.sets_room):
            return None
        if not self._long_enough(case, sets) or not self._spaced(case, sets):
            return None
        if case.sets_room is not None:
            return None
        return shape.solved.plan

    def _long_enough(self, case: WeekCase, sets: Mapping[Key, int]) -> bool:
        minutes: dict[int, float] = {}
        for (day, j), n in sets.items():
            option = case.options[j]
            minutes[day] = minutes.get(day, 0.0) + option.exercise.minutes(n, option.reps)
        shortest = self.rules.method.week.shortest_min
        return all(shortest <= m <= case.frame.days[d].minutes for d, m in minutes.items())

    def _spaced(self, case: WeekCase, sets: Mapping[Key, int]) -> bool:
        """Whether the first days of a week stay clear of the last days of the one before."""
        here = self._days_of(case.options, sets)
        for spacing in self.rules.method.spacings:
            days = spacing.days_minors if self.rules.minor else spacing.days
            before = (case.before or {}).get(spacing.family, frozenset())
            on = here.get(spacing.family, frozenset())
            if before and on and min(on) + 7 - max(before) < days:
                return False
        return True

    def _sets_room(self, w: int) -> float | None:
        """Working sets that a lighter week may hold; None where it is no lighter one."""
        method, past = self.rules.method, self._past
        if self._frame[w].laid.back_off:
            fullest = 0
            for sets, light, unloads in zip(
                reversed(past.sets), reversed(past.back_off), reversed(past.unloads), strict=True
            ):
                if light:
                    break
                if not unloads:
                    fullest = max(fullest, sets)
            return method.back_off.sets_share * fullest if fullest else None
        if self._unloads(w):
            full = next(
                (
                    sets
                    for sets, light, unloads in zip(
                        reversed(past.sets),
                        reversed(past.back_off),
                        reversed(past.unloads),
                        strict=True,
                    )
                    if not light and not unloads
                ),
                0,
            )
            return method.unloading.sets_share.high * full if full else None
        return None

    def _with_easing(self, w: int, shape: _Shape) -> float | None:
        """Working sets that a week may hold, a share of the ordinary week where it is eased."""
        room, eased = self._sets_room(w), self._frame[w].laid.eased
        if eased is None:
            return room
        usual = sum(
            n for key, n in shape.solved.plan.sets.items() if shape.case.options[key[1]].working
        )
        return min(eased.volume * usual, math.inf if room is None else room)

    # --- looking back -------------------------------------------------------------------------

    def _look_back(self, earlier: Sequence[Week]) -> _Past:
        method, exercises = self.rules.method, self.rules.exercises
        past = _Past(practised=self._eligible.situation.landing_practice_weeks)
        kinds = {phase.id: phase.kind for phase in method.phases}
        families = self._families()
        for week in earlier:
            known = [
                (session.date.weekday(), item, exercises[item.exercise])
                for session in week.sessions
                for item in session.items
                if item.exercise in exercises
            ]
            sport = sum(self._sport(week.start + dt.timedelta(days=d)) for d in range(7))
            past.loads.append(sum(item.landing_load for _, item, _ in known) + sport)
            past.sets.append(
                sum(item.sets for _, item, e in known if e.place is not Place.PREPARATION)
            )
            past.back_off.append(week.back_off)
            past.unloads.append(kinds.get(week.phase) is PhaseKind.UNLOADING)
            past.days.append(
                {
                    family: frozenset(d for d, _, e in known if belongs(e, family))
                    for family in families
                }
            )
        # Weeks of landing practice before the start stand in the situation already.
        return past

    def _sport(self, date: dt.date) -> float:
        steps = self.rules.method.landing_steps
        costs = {"practice": steps.practice_cost, "match": steps.match_cost}
        events = self._eligible.situation.events
        return sum(e.landings * costs[e.kind] for e in events if e.date == date)

    def _families(self) -> frozenset[str]:
        return frozenset(s.family for s in self.rules.method.spacings) | {LANDING}

    def _days_of(
        self, options: Sequence[Option], sets: Mapping[Key, int]
    ) -> Mapping[str, frozenset[int]]:
        return {
            family: frozenset(d for d, j in sets if belongs(options[j].exercise, family))
            for family in self._families()
        }

    def _remember(self, filled: FilledWeek) -> None:
        past, exercises, sets = self._past, self.rules.exercises, filled.plan.sets
        options = filled.options
        done = [
            (day.weekday, item, exercises[item.exercise])
            for day in filled.frame.days
            for item in day.done
            if item.exercise in exercises
        ]
        load = sum(item.landing_load for _, item, _ in done)
        load += sum(n * options[key[1]].landing_load for key, n in sets.items())
        working = sum(item.sets for _, item, e in done if e.place is not Place.PREPARATION)
        working += sum(n for key, n in sets.items() if options[key[1]].working)
        days = {
            family: on | frozenset(d for d, _, e in done if belongs(e, family))
            for family, on in self._days_of(options, sets).items()
        }
        past.loads.append(load + filled.frame.sport_load)
        past.sets.append(working)
        past.back_off.append(filled.frame.laid.back_off)
        past.unloads.append(filled.frame.laid.phase.kind is PhaseKind.UNLOADING)
        past.days.append(days)
        past.practised += any(e.lands for _, _, e in done) or any(
            options[key[1]].exercise.lands for key in sets
        )

    # --- the solver ---------------------------------------------------------------------------

    @staticmethod
    def _solve(programme: Programme, time_limit_s: float) -> _Solved:
        solver = cp_model.CpSolver()
        parameters = solver.parameters
        parameters.random_seed = _SEED
        # One search alone, by linear programs with all cuts: the same answer each time. Searches
        # near a known answer would be quicker at times, but begin from hints, on which this
        # solver's presolve can fail (absl::btree_map::at, seen with OR-Tools 9.15).
        parameters.num_workers = 1
        parameters.linearization_level = 2
        parameters.max_deterministic_time = _WORK * time_limit_s
        parameters.max_time_in_seconds = _PATIENCE * time_limit_s
        until = _UntilProven(programme, solver)
        status = solver.solve(programme.model, until)
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return _Solved(WeekPlan({}), 0, 0.0, proven=False)
        best, bound = solver, solver.best_objective_bound
        kept = programme.kept()
        if kept is not None:
            # What the athlete already knows stays where it is as good as makes no difference.
            keeper = cp_model.CpSolver()
            keeper.parameters.num_workers = 1
            if keeper.solve(kept) == cp_model.OPTIMAL:
                enough = GAP * programme.gain(keeper.value)
                if (
                    keeper.objective_value >= solver.objective_value
                    or bound - keeper.objective_value <= enough
                ):
                    best = keeper
        distance = max(0.0, bound - best.objective_value)
        return _Solved(programme.week_plan(0, best.value), programme.gain(best.value), distance)

    def room_for(self, week: FilledWeek, use: Use, relax: Relax) -> bool:
        """Whether a use finds all the room it asks for in a week once some rules are lifted."""
        case = replace(
            week.case,
            landing_room=math.inf if relax.landings else week.case.landing_room,
            after={},
        )
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = _SEED
        solver.parameters.max_deterministic_time = 0.5
        solver.parameters.max_time_in_seconds = 0.5
        anything = {(d, j): 99 for d in range(7) for j in range(len(case.options))}
        programme = Programme(
            [case], self.rules, shape=anything, ordinary=case, relax=relax, only=use
        )
        status = solver.solve(programme.model)
        return status in (cp_model.OPTIMAL, cp_model.FEASIBLE) and solver.objective_value == 0
