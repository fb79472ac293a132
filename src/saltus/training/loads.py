"""The load that an exercise gets in a week.

A load is always rounded down to what the bar and the plates, the dumbbells or the
kettlebells at hand can make. While the maxima are uncertain it is taken from the careful
end of their interval, and it never rises faster than the method's progression.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from saltus.athlete.assessment import Assessment
from saltus.quantities import Estimate
from saltus.training.breaks import Eased
from saltus.training.exercises import Carrier, Exercise
from saltus.training.gym_loads import Loading, load_below, loadable
from saltus.training.method import Method, Phase, Progression
from saltus.training.situation import Gym
from saltus.training.spans import Span

__all__ = [
    "BODY_MASS",
    "LIGHTEST_SHARE",
    "ChosenLoad",
    "Unloadable",
    "choose_load",
    "family_week",
    "percent_ceiling",
    "percent_range",
    "reference",
    "rep_ceiling",
]

BODY_MASS = "body_mass"
"""What `percent_of` says where the load refers to body mass."""

LIGHTEST_SHARE = 0.85
"""A load lighter than this share of the lightest wanted is no longer the same exercise."""

_NEAR = 0.9
"""A preferred carrier is taken if it comes within this share of the target."""
_SUBSTITUTE_SPREAD = 0.10
"""Spread of the ratio between two lifts' maxima, as a share (judgement)."""
_EPLEY_REPS = 30.0
"""1RM = load (1 + reps / 30): Epley 1985."""


@dataclass(frozen=True, slots=True)
class ChosenLoad:
    """The load that an exercise gets.

    Parameters
    ----------
    loading : Loading or None
        None where the body alone is the load.
    percent_of : str or None
        The lift, or "body_mass"; None without a load.
    percent : float or None
        Of the estimated maximum (or of body mass), per cent.
    target_kg : float
        What was wanted before rounding down, kg.
    """

    loading: Loading | None
    percent_of: str | None
    percent: float | None
    target_kg: float = 0.0

    @property
    def load_kg(self) -> float | None:
        """Whole load, kg; None where the body alone is the load."""
        return None if self.loading is None else self.loading.total_kg


@dataclass(frozen=True, slots=True)
class Unloadable:
    """Why an exercise cannot be loaded, in words, with what would help."""

    reason: str


def reference(exercise: Exercise, assessment: Assessment) -> Estimate | None:
    """Maximum that an exercise's load refers to, kg; None where nothing is known.

    Taken from a substitute lift, it gets the wider interval that the ratio between two
    lifts deserves. Where the load refers to body mass, that is it.
    """
    rule = exercise.load
    if rule is None:
        return None
    if rule.of is None:
        mass = assessment.mass_kg
        return Estimate(mass, mass, mass, 0.0)
    if rule.of in assessment.maxima_kg:
        return assessment.maxima_kg[rule.of]
    for other in rule.else_of:
        found = assessment.maxima_kg.get(other.lift)
        if found is not None:
            value = found.value * other.ratio
            spread = ((found.sd * other.ratio) ** 2 + (_SUBSTITUTE_SPREAD * value) ** 2) ** 0.5
            half = Estimate.normal(0.0, spread).high
            return Estimate(value, max(value - half, 0.0), value + half, spread)
    return None


def percent_range(exercise: Exercise, phase: Phase) -> Span | None:
    """Range of load in a phase, per cent; None without a load or a use of the exercise."""
    use = phase.use_of(exercise)
    if exercise.load is None or use is None:
        return None
    return exercise.load.within(use.percent)


def rep_ceiling(reps: int, reserve: int) -> float:
    """Per cent of the maximum that leaves `reserve` repetitions undone after `reps`.

    After Epley 1985, 1RM = load (1 + reps / 30); a single is a maximum.
    """
    to_failure = reps + reserve
    return 100.0 if to_failure <= 1 else 100.0 / (1.0 + to_failure / _EPLEY_REPS)


def family_week(family: str, phases: Sequence[Phase]) -> int:
    """Count the weeks since a family came into use.

    Parameters
    ----------
    family : str
        The family.
    phases : sequence of Phase
        Phases of all weeks from the first that is counted up to this one, the latest last.

    Returns
    -------
    int
        0 in the first week of the unbroken run of weeks whose phases use the family (and in
        a week that does not): after a pause the loads begin anew.
    """
    run = 0
    for phase in reversed(phases):
        if all(use.family != family for use in phase.uses):
            break
        run += 1
    return max(run - 1, 0)


def percent_ceiling(
    exercise: Exercise, method: Method, phases: Sequence[Phase], reps: int
) -> float | None:
    """Find the heaviest load that the method allows in a week, per cent of the maximum.

    The least of: the top of the range of the phase and exercise; the method's progression,
    which starts in the range of the first phase that uses the family and rises with the
    weeks of its use (but never stands below the range of the phase); and what leaves
    repetitions in reserve.

    Parameters
    ----------
    exercise : Exercise
        What is loaded.
    method : Method
        The rules.
    phases : sequence of Phase
        Phases of all weeks from the first that is counted up to this one, the latest last.
    reps : int
        Repetitions in a set.

    Returns
    -------
    float or None
        None where the exercise has no load or no use in the phase.
    """
    allowed = percent_range(exercise, phases[-1])
    if allowed is None or exercise.load is None:
        return None
    ceiling = allowed.high
    progression = _progression(exercise, method)
    if progression is not None:
        first = _first_range(exercise, progression, method)
        start = first.low + progression.start_share * (first.high - first.low)
        steps = family_week(progression.family, phases) // progression.every_weeks
        ceiling = min(ceiling, max(allowed.low, start + progression.step_points * steps))
    if exercise.load.of is not None:
        ceiling = min(ceiling, rep_ceiling(reps, method.careful.reserve_reps))
    return ceiling


def _progression(exercise: Exercise, method: Method) -> Progression | None:
    return next((p for p in method.progressions if p.family in exercise.families), None)


def _first_range(exercise: Exercise, progression: Progression, method: Method) -> Span:
    assert exercise.load is not None
    for phase in method.phases:
        for use in phase.uses:
            if use.family == progression.family:
                return exercise.load.within(use.percent) or exercise.load.percent
    return exercise.load.percent


def choose_load(
    exercise: Exercise,
    method: Method,
    phases: Sequence[Phase],
    assessment: Assessment,
    gym: Gym,
    *,
    reps: int,
    eased: Eased | None = None,
) -> ChosenLoad | Unloadable:
    """Choose the load that an exercise gets in a week.

    The heaviest allowed (:func:`percent_ceiling`) of the estimated maximum, rounded down to
    what the gym can make. In the method's first, careful weeks the low end of the interval
    stands for the estimate, and the weeks after pass evenly from one to the other.

    Parameters
    ----------
    exercise, method : Exercise, Method
        What is loaded, and by which rules.
    phases : sequence of Phase
        Phases of all weeks from the first that is counted up to this one, the latest last.
    assessment, gym : Assessment, Gym
        For whom, and with what.
    reps : int
        Repetitions in a set.
    eased : Eased or None
        How the week is eased after days without training: then it may be lighter than the
        range of the phase.

    Returns
    -------
    ChosenLoad or Unloadable
        The load, or why there is none.
    """
    rule = exercise.load
    if rule is None:
        return ChosenLoad(None, None, None)
    phase = phases[-1]
    allowed = percent_range(exercise, phase)
    ceiling = percent_ceiling(exercise, method, phases, reps)
    if allowed is None or ceiling is None:
        return Unloadable(f"{exercise.name}: not used in the phase {phase.name}.")
    if ceiling < allowed.low:
        return Unloadable(
            f"{exercise.name}: sets of {reps} leave no {method.careful.reserve_reps} repetitions "
            f"in reserve at {allowed.low:g} %: take fewer repetitions."
        )
    maximum = reference(exercise, assessment)
    if maximum is None:
        if rule.may_be_none:
            return ChosenLoad(None, None, None)
        return Unloadable(
            f"{exercise.name}: nothing is known of the maximum in the {_words(str(rule.of))}: "
            "test it, or a lift that it can be estimated from."
        )
    trust = method.careful.trust(len(phases) - 1)
    side = maximum.low + trust * (maximum.value - maximum.low)
    target = ceiling / 100 * side
    lightest = LIGHTEST_SHARE * allowed.low / 100 * min(side, maximum.low)
    if eased is not None:
        target, lightest = eased.load_kg(exercise.id, target), 0.0
    name = BODY_MASS if rule.of is None else str(rule.of)
    loading = _nearest(gym, rule.on, target)
    if loading is not None and loading.total_kg >= lightest:
        return ChosenLoad(loading, name, 100 * loading.total_kg / maximum.value, target)
    if rule.may_be_none:
        return ChosenLoad(None, None, None, target)
    return Unloadable(_why_not(exercise, gym, lightest, target))


def _nearest(gym: Gym, carriers: tuple[Carrier, ...], target_kg: float) -> Loading | None:
    """Load on the first carrier that comes near the target from below, else the heaviest."""
    found = [load for c in carriers if (load := load_below(gym, c, target_kg)) is not None]
    near = [load for load in found if load.total_kg >= _NEAR * target_kg]
    return near[0] if near else max(found, key=lambda load: load.total_kg, default=None)


def _why_not(exercise: Exercise, gym: Gym, lightest: float, target: float) -> str:
    assert exercise.load is not None
    per = gym.unit_kg
    wanted = f"{lightest / per:.3g} to {target / per:.3g} {gym.unit}"
    loads = {carrier: loadable(gym, carrier) for carrier in exercise.load.on}
    if not any(loads.values()):
        needed = " or ".join(_words(str(carrier)) for carrier in exercise.load.on)
        return f"{exercise.name}: needs a {needed}."
    every = sorted({load for some in loads.values() for load in some})
    if every[0] > target:
        least = f"{every[0] / per:.3g} {gym.unit}"
        return f"{exercise.name}: wants {wanted}, and the lightest here is {least}: a lighter bar."
    for below, above in pairwise(every):
        if below <= target < above:
            gap = f"{below / per:.3g} to {above / per:.3g} {gym.unit}"
            return f"{exercise.name}: wants {wanted}, and loads go from {gap}: smaller plates."
    most = f"{every[-1] / per:.3g} {gym.unit}"
    return f"{exercise.name}: wants {wanted}, and the heaviest here is {most}: more plates."


def _words(identifier: str) -> str:
    return identifier.replace("_", " ")
