"""What may stand in a phase for this athlete in this gym: the planner's choices."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from saltus.athlete.qualities import Quality
from saltus.training.exercises import Exercise, Place
from saltus.training.frame import LANDING, belongs
from saltus.training.method import Method, Use
from saltus.training.spans import Count

__all__ = ["Option", "best_of_each_use", "without_dominated", "without_stand_ins"]


@dataclass(frozen=True, slots=True)
class Option:
    """An exercise as a phase uses it.

    Parameters
    ----------
    exercise : Exercise
        The exercise.
    use : Use
        The phase's use of its family.
    sets : Count
        Sets in a session that both allow.
    reps : int
        Repetitions in a set.
    landing_load : float
        Landing load of one set.
    """

    exercise: Exercise
    use: Use
    sets: Count
    reps: int
    landing_load: float

    @property
    def id(self) -> str:
        """Identifier of the exercise."""
        return self.exercise.id

    @property
    def set_up_min(self) -> float:
        """Minutes whatever the number of sets."""
        return self.exercise.set_up_min

    @property
    def set_min(self) -> float:
        """Minutes of one set with its rest."""
        return self.exercise.minutes(1, self.reps) - self.exercise.set_up_min

    @property
    def working(self) -> bool:
        """Whether its sets count as working sets."""
        return self.exercise.place is not Place.PREPARATION

    def families(self, method: Method) -> frozenset[str]:
        """Families by which the method spaces it or keeps it from matches and tests."""
        spoken = {s.family for s in method.spacings} | {g.family for g in method.match_gaps}
        return frozenset(f for f in spoken | {LANDING} if belongs(self.exercise, f))


def without_dominated(
    options: Sequence[Option],
    open_on: Mapping[str, frozenset[dt.date]],
    method: Method,
    keep: frozenset[str],
) -> tuple[Option, ...]:
    """Leave out what another option does at least as well in every respect.

    One option dominates another of the same use when it adds at least as much to every
    quality in each set, costs no more minutes and landings, allows the same sets on the same
    days as often as the use wants them, and is bound by no more spacing rules. Nothing is
    lost by leaving the other out, and the proof of the gap becomes quick.

    Parameters
    ----------
    options : sequence of Option
        Options of one phase.
    open_on : mapping of str to frozenset of date
        Days on which each exercise may stand.
    method : Method
        Its spacings and gaps.
    keep : frozenset of str
        Exercises never left out: those of the plan to stay close to.
    """
    left: list[Option] = []
    for i, option in enumerate(options):
        beaten = any(
            _dominates(other, option, open_on, method)
            and not (_dominates(option, other, open_on, method) and j > i)
            for j, other in enumerate(options)
            if j != i
        )
        if not beaten or option.id in keep:
            left.append(option)
    return tuple(left)


def _dominates(
    a: Option, b: Option, open_on: Mapping[str, frozenset[dt.date]], method: Method
) -> bool:
    if a.use is not b.use:
        return False
    return (
        all(a.exercise.adds.get(q, 0.0) >= b.exercise.adds.get(q, 0.0) for q in Quality)
        and a.set_up_min <= b.set_up_min
        and a.set_min <= b.set_min
        and a.landing_load <= b.landing_load
        and a.sets.low <= b.sets.low
        and a.sets.high >= b.sets.high
        and a.exercise.per_week.high >= a.use.per_week.high
        and open_on[a.id] >= open_on[b.id]
        and a.families(method) <= b.families(method)
    )


def best_of_each_use(
    options: Sequence[Option],
    worth: Mapping[Quality, float],
    keep: frozenset[str],
    count: int = 2,
) -> tuple[Option, ...]:
    """Keep the options of each use that bring this athlete most in a set, a few of each.

    A phase that teaches one or two exercises of a kind is what coaches write; the solver
    chooses among these. Ties go to the order of the file.
    """
    left: set[str] = set(keep)
    for use in {id(o.use): o.use for o in options}.values():
        mine = [o for o in options if o.use is use]
        value = {
            o.id: sum(worth.get(q, 0.0) * add for q, add in o.exercise.adds.items()) for o in mine
        }
        left.update(o.id for o in sorted(mine, key=lambda o: -value[o.id])[:count])
    return tuple(o for o in options if o.id in left)


def without_stand_ins(options: Sequence[Option]) -> tuple[Option, ...]:
    """Leave out families that a phase uses only in place of another that can be had.

    A use stands in for another when both follow the same rule, nothing is asked of it, and
    each of its exercises is named as a stand-in by one of the other's.
    """
    left = []
    for option in options:
        names = {
            name
            for other in options
            if other.use is not option.use and other.use.rule == option.use.rule
            for name in other.exercise.stand_ins
        }
        mine = {o.id for o in options if o.use is option.use}
        if option.use.per_week.low or not mine <= names:
            left.append(option)
    return tuple(left)
