"""Which exercise may stand on which day, with how many repetitions and what load, and why not."""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from saltus.athlete.assessment import Assessment
from saltus.athlete.person import Person
from saltus.training.breaks import Eased
from saltus.training.exercises import Exercise, HeightKind
from saltus.training.gates import Closed, check_gates
from saltus.training.gym_loads import missing_equipment
from saltus.training.heights import choose_height
from saltus.training.loads import (
    ChosenLoad,
    Unloadable,
    choose_load,
    percent_ceiling,
    percent_range,
    rep_ceiling,
)
from saltus.training.method import Method, Phase, PhaseKind
from saltus.training.options import Option
from saltus.training.situation import Situation
from saltus.training.spans import Count

__all__ = ["Eligibility"]


@dataclass(frozen=True)
class Eligibility:
    """What this athlete may be given, in this gym and by this method.

    Parameters
    ----------
    person, assessment, situation, method
        Who, in which state, in which circumstances, by which rules.
    timeline : tuple of Phase
        Phase of each week from the first that is counted; a week's number is its place.
    eased : mapping of int to Eased
        Weeks that are eased after days without training, by number.
    """

    person: Person
    assessment: Assessment
    situation: Situation
    method: Method
    timeline: tuple[Phase, ...]
    eased: Mapping[int, Eased] = field(default_factory=dict)

    @cached_property
    def _options(self) -> dict[tuple[str, int, bool], Option | str]:
        return {}

    @cached_property
    def _loads(self) -> dict[tuple[str, int, int], ChosenLoad | Unloadable]:
        return {}

    @cached_property
    def _gates(self) -> dict[tuple[str, dt.date, float], tuple[Closed, ...]]:
        return {}

    @cached_property
    def equipped(self) -> tuple[Exercise, ...]:
        """Exercises for which everything is here."""
        gym = self.situation.gym
        return tuple(e for e in self.method.exercises.values() if not missing_equipment(e, gym))

    def load(self, exercise: Exercise, number: int, reps: int) -> ChosenLoad | Unloadable:
        """Load that an exercise gets in a week, or why there is none."""
        key = (exercise.id, number, reps)
        if key not in self._loads:
            self._loads[key] = choose_load(
                exercise,
                self.method,
                self.timeline[: number + 1],
                self.assessment,
                self.situation.gym,
                reps=reps,
                eased=self.eased.get(number),
            )
        return self._loads[key]

    def height(self, exercise: Exercise, on: dt.date) -> float | Unloadable | None:
        """Height of the box, drop or hurdle on a day; None where none has to be chosen."""
        if exercise.height is None:
            return None
        return choose_height(
            exercise, self.method, self.assessment, self.person, self.situation.gym, on
        )

    def gates(self, exercise: Exercise, on: dt.date, practised: float) -> tuple[Closed, ...]:
        """Gates closed on a day, after `practised` weeks of landing practice."""
        key = (exercise.id, on, practised)
        if key not in self._gates:
            self._gates[key] = check_gates(
                exercise,
                self.assessment,
                self.person,
                self.situation,
                on,
                practised_weeks=practised,
            )
        return self._gates[key]

    def option(
        self, exercise: Exercise, number: int, on: dt.date, *, lighter: bool = False
    ) -> Option | str:
        """Give an exercise as the phase of a week uses it, or say why it cannot be given.

        Repetitions fall as loads climb: as many as leave the method's reserve at the week's
        load. An unloading week takes as few as its ranges allow.

        Parameters
        ----------
        exercise : Exercise
            What is to be given.
        number : int
            Number of the week.
        on : date
            Its first day.
        lighter : bool
            Whether it is a planned lighter week.
        """
        key = (exercise.id, number, lighter)
        if key not in self._options:
            self._options[key] = self._option(exercise, number, on, lighter)
        return self._options[key]

    def _option(self, exercise: Exercise, number: int, on: dt.date, lighter: bool) -> Option | str:
        phase = self.timeline[number]
        use = phase.use_of(exercise)
        if use is None:
            return f"{exercise.name}: not used in the phase {phase.name}."
        eased = self.eased.get(number)
        asked = use.lighter if lighter else use
        if eased is not None:
            asked = use.eased(eased.volume)
        reps = exercise.reps.meet(use.reps)
        sets = exercise.sets.meet(asked.sets)
        if sets is None and exercise.sets.high < asked.sets.low:
            # The use counts the sets of the whole family: several exercises may add up to it.
            sets = exercise.sets
        if reps is None or sets is None:
            return (
                f"{exercise.name}: its own ranges ({exercise.sets} sets of {exercise.reps}) and "
                f"those of the phase ({use.sets} of {use.reps}) do not meet."
            )
        each = self._reps(exercise, number, reps)
        load = self.load(exercise, number, each)
        if isinstance(load, Unloadable):
            return load.reason
        height = self.height(exercise, on)
        if isinstance(height, Unloadable):
            return height.reason
        drop = exercise.height is not None and exercise.height.kind is HeightKind.DROP
        cost = exercise.landing_load(1, each, height if drop else None)
        return Option(exercise, use, sets, each, cost)

    def _reps(self, exercise: Exercise, number: int, reps: Count) -> int:
        phases = self.timeline[: number + 1]
        if phases[-1].kind is PhaseKind.UNLOADING:
            return reps.low
        allowed = percent_range(exercise, phases[-1])
        if exercise.lands or allowed is None or exercise.load is None or exercise.load.of is None:
            return (reps.low + reps.high) // 2
        target = percent_ceiling(exercise, self.method, phases, 1) or 0.0
        reserve = self.method.careful.reserve_reps
        fit = [r for r in range(reps.low, reps.high + 1) if rep_ceiling(r, reserve) >= target]
        return max(fit, default=reps.low)

    def why_not(
        self, exercises: Iterable[Exercise], number: int, on: dt.date, practised: float
    ) -> tuple[str, ...]:
        """Say why none of some exercises may be given on a day; empty if one may.

        Equipment, then gates (after `practised` weeks of landing practice), then loads and
        heights; the nearest to being possible first.
        """
        reasons: list[tuple[int, str]] = []
        for exercise in exercises:
            missing = missing_equipment(exercise, self.situation.gym)
            closed = self.gates(exercise, on, practised)
            option = "" if missing else self.option(exercise, number, on)
            if missing:
                needed = ", ".join(name.replace("_", " ") for name in missing)
                reasons.append((2 + len(closed), f"{exercise.name} needs: {needed}."))
            elif closed:
                reasons.append((len(closed), " ".join(str(gate) for gate in closed)))
            elif isinstance(option, str):
                reasons.append((1, option))
            else:
                return ()
        return tuple(text for _, text in sorted(reasons, key=lambda r: r[0]))
