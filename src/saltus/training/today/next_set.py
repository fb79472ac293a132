"""The next set of an item, from what happened in those before it.

Whatever the order of events: never heavier, higher or more sets than before after a missed
repetition or an unsound landing, never above the cap, and nothing at all where pain or a
restriction closes the exercise.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import floor

from saltus.quantities import CENTIMETRE
from saltus.training.exercises import DEPTH_JUMP, JUMP, Exercise, HeightKind, Place
from saltus.training.gym_loads import Loading
from saltus.training.heights import HURDLE_STEP_M
from saltus.training.loads import rep_ceiling
from saltus.training.log import LoggedSet
from saltus.training.method import Method
from saltus.training.plan import Item
from saltus.training.situation import Gym
from saltus.training.today.caps import as_loaded, below, load_cap
from saltus.training.today.facts import Advice, Facts, Form, FormState
from saltus.training.today.form import form_of_day
from saltus.training.today.maximum import day_maximum, lift_of
from saltus.training.today.pain import closed_today
from saltus.training.today.planned import planned_today

__all__ = ["after_set", "lower_box", "next_set", "stopped"]

_SAME_LOAD = 0.01
# Plates are not weighed any finer.
_MOST_FALL = 0.10
"""A load falls by no more than this from one set to the next (common practice)."""
_POINTS = "Today's sets point to less."
"""What is said where no reason of a set's own is; told with the load where there is one."""


def next_set(
    item: Item,
    done: Sequence[LoggedSet],
    facts: Facts,
    method: Method,
    *,
    form: Form | None = None,
) -> Advice:
    """What to do in the next set of an item.

    Parameters
    ----------
    item : Item
        As the plan has it.
    done : sequence of LoggedSet
        Sets of it done today, in order.
    facts, method : Facts, Method
        The athlete, the gym, the log; and by which rules.
    form : Form, optional
        Of the day; left out, it is read from the log.

    Raises
    ------
    KeyError
        If the method does not know the exercise.
    """
    exercise = method.exercises[item.exercise]
    now = planned_today(item, facts, method)
    sets = [one for one in done if not one.skipped]
    closed = closed_today(exercise, facts)
    if closed is not None:
        return stopped(now.item, method.day.pain_rule, closed)
    if now.ended:
        return stopped(now.item, now.rule, now.why)
    form = form or form_of_day(facts, method)
    if exercise.place is Place.PREPARATION:
        form = None
    planned = item.sets
    if form is not None and form.state is FormState.WELL_BELOW:
        if DEPTH_JUMP in exercise.families:
            return stopped(now.item, form.rule, f"{form.why} No depth jumps today.")
        planned = max(floor(item.sets * method.day.well_below_sets), 1)
    day = _Day(now.item, exercise, sets, facts, method, form)
    left = max(planned - sum(one.sets for one in sets), 0)
    if left == 0 and planned == item.sets:
        return replace(day.stop("", "All sets done."), stop=False)
    if left == 0:
        assert form is not None
        return day.stop(form.rule, f"{form.why} Half the sets are enough today.")
    if not sets:
        return day.first(left, now.rule, now.why)
    return day.following(left)


def after_set(item: Item, done: Sequence[LoggedSet], facts: Facts, method: Method) -> Advice:
    """What follows these sets of an item, more being planned and nothing closing it.

    Parameters
    ----------
    item : Item
        As it stands today (:func:`saltus.training.today.planned.planned_today`).
    done : sequence of LoggedSet
        At least one.
    facts, method : Facts, Method
        As for :func:`next_set`; the form of the day is left aside.
    """
    day = _Day(item, method.exercises[item.exercise], done, facts, method, None)
    return day.following(max(item.sets - sum(one.sets for one in done), 1))


def stopped(item: Item, rule: str, why: str) -> Advice:
    """The item ends, by a rule of the method and for a reason in words."""
    return Advice(
        load_kg=item.load_kg,
        box_m=item.box_m,
        drop_m=item.drop_m,
        sets_left=0,
        stop=True,
        rule=rule,
        why=why,
    )


@dataclass(frozen=True, slots=True)
class _Day:
    """One item on one day."""

    item: Item
    exercise: Exercise
    sets: Sequence[LoggedSet]
    facts: Facts
    method: Method
    form: Form | None

    @property
    def gym(self) -> Gym:
        """Where it is done."""
        return self.facts.situation.gym

    @property
    def _tells(self) -> bool:
        """Whether sets of it say something of the maximum that its load refers to."""
        return lift_of(self.exercise) is not None and JUMP not in self.exercise.families

    def stop(self, rule: str, why: str) -> Advice:
        """The item ends."""
        return stopped(self.item, rule, why)

    def first(self, left: int, rule: str, why: str) -> Advice:
        """Before the first set: the plan, as the last sessions and the form of the day leave it."""
        load, lighter = self._wanted(), ""
        turned = self._turned(load)
        if turned:
            rule, why = self.method.day.rule, f"{turned} {why}"
        if self.form is not None and self.form.state is not FormState.AS_USUAL:
            rule, lighter = self.form.rule, f"{self.form.why} Lighter today."
            if load is None:
                lighter = f"{self.form.why} Do what feels crisp, and no more."
        return self._go(load, self.item.box_m, self.item.drop_m, left, rule, lighter or why)

    def _turned(self, load: float | None) -> str:
        """Why the first load is not the planned one, where it is not."""
        planned = self.item.load_kg
        if load is None or planned is None or abs(load - planned) <= _SAME_LOAD * planned:
            return ""
        if as_loaded(self.exercise, planned, self.gym) == as_loaded(self.exercise, load, self.gym):
            return ""  # only what the gym's plates make of it
        way = "less" if load < planned else "a little more"
        return f"Your last sets and tests point to {way} than the planned {self.gym.told(planned)}."

    def following(self, left: int) -> Advice:
        """After a set."""
        last = self.sets[-1]
        ended = self._ended()
        if ended is not None:
            return ended
        day = self.method.day
        box = last.box_m if last.box_m is not None else self.item.box_m
        drop = last.drop_m if last.drop_m is not None else self.item.drop_m
        if last.missed or last.soft_landings is False:
            if box is not None or drop is not None:
                return self._lower(box, drop, left, missed=bool(last.missed))
            if not last.missed:
                why = "A landing was not soft: land quietly on bent legs, or stop here."
                return self._go(self._kept(last), None, None, left, day.box_rule, why)
        if last.load_kg is None:
            return self._go(None, box, drop, left, "", "As planned.")
        return self._loaded(last, last.load_kg, box, drop, left)

    def _ended(self) -> Advice | None:
        day, last = self.method.day, self.sets[-1]
        failed = sum(one.sets for one in self.sets if one.missed)
        if failed >= day.missed_sets:
            return self.stop(
                day.missed_rule, f"Repetitions missed in {failed} sets: that is all for today."
            )
        unsound = sum(one.sets for one in self.sets if one.soft_landings is False)
        if unsound >= day.missed_sets:
            return self.stop(
                day.box_rule, f"Landings not soft in {unsound} sets: that is all for today."
            )
        alike = [one for one in self.sets if _same_load(one, last)]
        fastest = next((one.speed_m_s for one in alike if one.speed_m_s is not None), None)
        if (
            fastest is not None
            and last.speed_m_s is not None
            and last.speed_m_s <= (1 - day.speed_loss) * fastest
        ):
            share = 100 * (1 - last.speed_m_s / fastest)
            return self.stop(
                day.loss_rule, f"The bar was {share:.0f} % slower than at first: the work is done."
            )
        best = max((one.jump_m for one in alike if one.jump_m is not None), default=None)
        if (
            best is not None
            and last.jump_m is not None
            and last.jump_m <= (1 - day.height_loss) * best
        ):
            share = 100 * (1 - last.jump_m / best)
            if last.load_kg:
                lighter = below(self.exercise, last.load_kg, self.gym)
                why = f"The jump was {share:.0f} % lower than the best with this weight: lighter."
                left = max(self.item.sets - sum(one.sets for one in self.sets), 1)
                return self._as_made(
                    lighter, last.load_kg, last.box_m, last.drop_m, left, day.loss_rule, why
                )
            return self.stop(
                day.loss_rule, f"The jump was {share:.0f} % lower than the best: the work is done."
            )
        return None

    def _lower(self, box: float | None, drop: float | None, left: int, *, missed: bool) -> Advice:
        """A lower box after a missed jump or a landing that was not soft."""
        rule = self.method.day.box_rule
        what = "A jump was missed" if missed else "A landing was not soft"
        height = box if box is not None else drop
        assert height is not None
        lower = lower_box(self.exercise, height, self.gym)
        if lower is None:
            return self.stop(
                rule, f"{what}, and there is no lower box here: that is all for today."
            )
        why = f"{what}: go down to {round(lower / CENTIMETRE, 1):g} cm."
        load = self._kept(self.sets[-1])
        if box is not None:
            return self._go(load, lower, drop, left, rule, why)
        return self._go(load, box, lower, left, rule, why)

    def _kept(self, last: LoggedSet) -> float | None:
        cap = load_cap(self.item, self.facts, self.method)
        if last.load_kg is None or cap is None:
            return last.load_kg
        return min(last.load_kg, cap)

    def _loaded(
        self, last: LoggedSet, load: float, box: float | None, drop: float | None, left: int
    ) -> Advice:
        day, method = self.method.day, self.method
        wanted = self._wanted()
        target = load if wanted is None else max(wanted, load * (1 - _MOST_FALL))
        rule, why = day.rule, _POINTS
        if not self._tells or any((one.load_kg or 0.0) > load for one in self.sets):
            # Lighter by choice or for a reason: no set since says that it should rise again.
            target = min(target, load)
        if last.missed:
            target = min(target, load * (1 - day.missed_lighter))
            rule, why = day.missed_rule, f"{_repetitions(last.missed)} missed: lighter."
        elif any(one.missed for one in self.sets):
            target = min(target, load)
            rule, why = day.missed_rule, "No heavier after a missed repetition."
        if last.reserve is not None and last.reserve < method.careful.reserve_reps:
            # What would have left the method's repetitions undone, by the same table.
            share = rep_ceiling(last.reps, method.careful.reserve_reps) / rep_ceiling(
                last.reps, max(round(last.reserve), 0)
            )
            lighter = load * max(min(share, 1.0), 1 - _MOST_FALL)
            if lighter < target:
                target, rule = lighter, method.careful.rule
            if lighter <= target or (why == _POINTS and target < load):
                left_over = f"Only {last.reserve:g}" if last.reserve else "Nothing"
                why = (
                    f"{left_over} left in reserve, and {method.careful.reserve_reps} are to stay: "
                    "lighter."
                )
        small = abs(target / load - 1) < day.least_change
        if small and not last.missed:
            target, rule, why = load, "", "As it is."
        cap = load_cap(self.item, self.facts, method)
        if cap is not None:
            target = min(target, cap)
        loading = as_loaded(self.exercise, target, self.gym)
        must_fall = last.missed or target <= load * (1 - day.least_change)
        if must_fall and loading is not None and loading.total_kg >= load:
            loading = below(self.exercise, load, self.gym)
        return self._as_made(loading, load, box, drop, left, rule, why)

    def _as_made(
        self,
        loading: Loading | None,
        load: float,
        box: float | None,
        drop: float | None,
        left: int,
        rule: str,
        why: str,
    ) -> Advice:
        if loading is None:
            if self.exercise.load is not None and self.exercise.load.may_be_none:
                return self._go(None, box, drop, left, rule, f"{why} Without weight.")
            return self.stop(rule, f"{why} There is nothing lighter here: that is all for today.")
        if abs(loading.total_kg - load) <= _SAME_LOAD * load:
            why = "Today's sets say: as it is." if why == _POINTS else why
            why = "As it is." if not rule else why
        elif why == _POINTS:
            way = "less" if loading.total_kg < load else "a little more"
            why = f"Today's sets point to {way}: {self.gym.told(loading.total_kg)}."
        elif loading.total_kg > load:
            why = f"{why} {self.gym.told(loading.total_kg)}, a little more."
        else:
            why = f"{why} {self.gym.told(loading.total_kg)}."
        return self._go(loading.total_kg, box, drop, left, rule, why)

    def _wanted(self) -> float | None:
        """Load that keeps the plan's per cent of today's maximum, within its bounds, kg."""
        item, method = self.item, self.method
        if item.load_kg is None:
            return None
        wanted = item.load_kg
        load = self.exercise.load
        lift = None if load is None else load.of
        if self._tells and lift is not None and item.percent:
            before = self.facts.assessment.maxima_kg.get(lift)
            maximum = day_maximum(lift, self.facts, method, self.sets)
            if before is not None and maximum is not None and before.value > 0:
                # Against what the assessment said, so that a plan laid from the careful side
                # keeps to it.
                wanted = item.load_kg * maximum.value / before.value
                ceiling = rep_ceiling(item.reps, method.careful.reserve_reps)
                wanted = min(wanted, ceiling / 100 * maximum.value)
        cap = load_cap(item, self.facts, method)
        assert cap is not None
        wanted = min(wanted, cap)
        if self.form is not None:
            lighter = {
                FormState.AS_USUAL: 0.0,
                FormState.BELOW: method.day.below_lighter,
                FormState.WELL_BELOW: method.day.well_below_lighter,
            }[self.form.state]
            if lighter:
                wanted = min(wanted, item.load_kg * (1 - lighter))
        if abs(wanted / item.load_kg - 1) < method.day.least_change:
            wanted = min(item.load_kg, cap)
        made = as_loaded(self.exercise, wanted, self.gym)
        return None if made is None else made.total_kg

    def _go(
        self,
        load: float | None,
        box: float | None,
        drop: float | None,
        left: int,
        rule: str,
        why: str,
    ) -> Advice:
        return Advice(
            load_kg=load, box_m=box, drop_m=drop, sets_left=left, stop=False, rule=rule, why=why
        )


def lower_box(exercise: Exercise, height_m: float, gym: Gym) -> float | None:
    """The next lower box at hand (or hurdle, by a step) that the exercise may use, m."""
    height = exercise.height
    if height is None:
        return None
    if height.kind is HeightKind.HURDLE:
        lower = [round(height_m - HURDLE_STEP_M, 3)]
    else:
        lower = [box for box in gym.boxes_m if box < height_m - CENTIMETRE / 2]
    return max((box for box in lower if box >= height.range_m.low), default=None)


def _same_load(one: LoggedSet, other: LoggedSet) -> bool:
    return abs((one.load_kg or 0.0) - (other.load_kg or 0.0)) <= _SAME_LOAD * (other.load_kg or 1.0)


def _repetitions(missed: int) -> str:
    return "A repetition was" if missed == 1 else f"{missed} repetitions were"
