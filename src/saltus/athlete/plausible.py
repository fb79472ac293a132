"""Is a result plausible for this athlete: what the model expected, and how far off it is.

A slip of the pen, of the unit or of the row is found while the athlete is still there. The
interval is that of a new result: what is known of the athlete, what may have changed since,
the method's bias and the error of one attempt. A result outside it is asked about, never
refused: records are made, and injuries happen.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import exp, hypot, log

import numpy as np
from numpy.typing import NDArray

from saltus.athlete.broad_jump import USUAL_STATURE_M, broad_jump_distance_m
from saltus.athlete.history import TrainingBlock
from saltus.athlete.observations import (
    BarSpeedSet,
    BroadJump,
    DropJump,
    IsometricPull,
    Jump,
    Lift,
    Maximum,
    Observation,
    RepSet,
)
from saltus.athlete.person import Person
from saltus.athlete.posterior import Problem, fit
from saltus.athlete.prediction import Predictor
from saltus.athlete.prior import Constant, State, prior_for
from saltus.athlete.readings import READING_UNITS, Reading, ReadingKind, readings_of
from saltus.athlete.strength import LIFT_RATIO
from saltus.athlete.usable import usable_tests

__all__ = [
    "PROBABILITY",
    "Expectation",
    "Knowledge",
    "expectations",
    "is_strange_mass",
    "is_strange_reach",
    "knowledge_before",
    "last_mass_kg",
]

PROBABILITY = 0.99
"""Of the interval: of sixty athletes with three attempts each, one or two are asked about."""

_STRANGE_MASS_SHARE = 0.08
_STRANGE_REACH_M = 0.04
# Nobody gains or loses a twelfth between weighings, or a hand's breadth of reach, without the
# coach knowing why; pounds taken for kilograms and shoes taken off show (a judgement).

_NORMAL = 2.5758293035489004  # the standard normal's quantile of (1 + PROBABILITY) / 2
_DRAWS = 400
_SEED = 20040229


@dataclass(frozen=True, slots=True, eq=False)
class Knowledge:
    """What is known of an athlete on a day, as draws of equal weight.

    Parameters
    ----------
    states : ndarray, shape (n, 5)
        Log-qualities.
    constants : ndarray, shape (n, 19)
        Constants of the person and of the methods.
    on : date
        The day that the states speak of.
    """

    states: NDArray[np.float64]
    constants: NDArray[np.float64]
    on: dt.date


@dataclass(frozen=True, slots=True)
class Expectation:
    """What one result was expected to be.

    Parameters
    ----------
    kind : ReadingKind
        What was read off.
    attempt : int
        Which attempt, from 1.
    value : float
        The result, in `unit`; of a set of several repetitions, the maximum it points to.
    low, middle, high : float
        Ends and median of the interval of :data:`PROBABILITY`, in `unit`.
    unit : str
        "m", "s", "kg" or "N".
    """

    kind: ReadingKind
    attempt: int
    value: float
    low: float
    middle: float
    high: float
    unit: str

    @property
    def excess(self) -> float:
        """How far the result lies above (or, negative, below) the interval; 0 inside it."""
        return max(self.value - self.high, 0.0) + min(self.value - self.low, 0.0)


def knowledge_before(
    person: Person,
    on: dt.date,
    observations: Sequence[Observation] = (),
    blocks: Sequence[TrainingBlock] = (),
) -> Knowledge:
    """What is known of an athlete before a day; what is usual where nothing was tested yet.

    Parameters
    ----------
    person : Person
        Who.
    on : date
        The day; tests of that day itself are left out.
    observations : sequence of Observation
        Tests; those that no equation can use are left out.
    blocks : sequence of TrainingBlock
        Training done.
    """
    tests, _ = usable_tests([test for test in observations if test.date < on])
    posterior = fit(Problem(person, tests, blocks, on), draws=_DRAWS)
    index = posterior.resampled(_DRAWS)
    return Knowledge(posterior.now[index], posterior.constants[index], on)


def expectations(
    person: Person, knowledge: Knowledge, test: Observation
) -> tuple[Expectation, ...]:
    """Expected results beside those of a test, attempt by attempt.

    Parameters
    ----------
    person : Person
        Who.
    knowledge : Knowledge
        Without this test, or before it was one of many.
    test : Observation
        With its results.

    Returns
    -------
    tuple of Expectation
        Empty for what the model says nothing of.

    Raises
    ------
    TestError
        If no equation can use the test; the sentence says why.
    """
    states = _moved(person, knowledge, test.date)
    return tuple(
        expectation
        for attempt, single in enumerate(_attempts(test), start=1)
        for expectation in _of_attempt(person, states, knowledge.constants, single, attempt)
    )


def _moved(person: Person, knowledge: Knowledge, to: dt.date) -> NDArray[np.float64]:
    """States on another day: the random walk of the model, without knowing the training."""
    weeks = abs((to - knowledge.on).days) / 7
    states = np.asarray(knowledge.states, dtype=float)
    walk = np.random.default_rng(_SEED).standard_normal(states.shape)
    moved = states + prior_for(person).walk_sd * np.sqrt(weeks) * walk
    change = log(person.mass_kg(to) / person.mass_kg(knowledge.on))
    moved[:, State.TORQUE] -= change
    moved[:, State.RATE] -= change
    return np.asarray(moved)


def _attempts(test: Observation) -> Sequence[Observation]:
    """The attempts of a test as tests of their own; what hangs together stays together."""
    match test:
        case Jump():
            return [replace(test, heights_m=(height,)) for height in test.heights_m]
        case DropJump():
            none: list[tuple[float, ...]] = [()] * len(test.heights_m)
            contacts = [(contact,) for contact in test.contacts_s] or none
            return [
                replace(test, heights_m=(height,), contacts_s=contact)
                for height, contact in zip(test.heights_m, contacts, strict=True)
            ]
        case BroadJump():
            return [replace(test, distances_m=(distance,)) for distance in test.distances_m]
        case _:
            return [test]


def _readings(test: Observation, person: Person) -> tuple[Reading, ...]:
    if isinstance(test, Maximum | RepSet | BarSpeedSet) and test.lift in LIFT_RATIO:
        # Also for lifts that the assessment does not use: a slip of the pen shows in them too.
        ratio = LIFT_RATIO[test.lift]
        return tuple(
            replace(reading, shift=log(ratio.mean), sd=hypot(reading.sd, ratio.sd_log))
            for reading in readings_of([replace(test, lift=Lift.BACK_SQUAT)], person)
        )
    if isinstance(test, IsometricPull) and test.force_at_n:
        pulls = [replace(test, force_at_n={ms: n}) for ms, n in test.force_at_n.items()]
        peak = readings_of([replace(test, force_at_n={})], person)
        return (*peak, *(r for pull in pulls for r in readings_of([pull], person)[1:]))
    return readings_of([test], person)


def _of_attempt(
    person: Person,
    states: NDArray[np.float64],
    constants: NDArray[np.float64],
    test: Observation,
    attempt: int,
) -> list[Expectation]:
    readings = _readings(test, person)
    if not readings:
        return []
    predictor = Predictor(readings, [test.date], person)
    state = np.repeat(states[:, None, :], len(readings), axis=1)
    raw = predictor.raw(state, np.exp(constants[:, Constant.SEGMENT]))
    drawn = predictor.finish(raw, constants)
    return [
        _expectation(person, drawn[:, i], constants, test, reading, attempt)
        for i, reading in enumerate(readings)
    ]


def _expectation(
    person: Person,
    drawn: NDArray[np.float64],
    constants: NDArray[np.float64],
    test: Observation,
    reading: Reading,
    attempt: int,
) -> Expectation:
    middle = float(np.median(drawn))
    error = _error_at(middle, test, reading, person)
    # A method that was not used yet has no bias of this athlete among the draws.
    new = [c for c in reading.add_terms if np.ptp(constants[:, c]) == 0]
    bias = reading.bias_sd if new else 0.0
    half = _NORMAL * hypot(float(drawn.std()), error, bias)
    ends = [middle - half, middle, middle + half]
    value = reading.value
    if reading.is_log:
        ends = [exp(end) for end in ends]
    if isinstance(test, BroadJump):
        stature = USUAL_STATURE_M if person.stature_m is None else person.stature_m
        ends = [
            broad_jump_distance_m(max(end, 0.0), stature_m=stature, arms=test.arms) for end in ends
        ]
        value = test.distances_m[0]
    low, centre, high = (max(end, 0.0) for end in ends)
    return Expectation(reading.kind, attempt, value, low, centre, high, READING_UNITS[reading.kind])


def _error_at(middle: float, test: Observation, reading: Reading, person: Person) -> float:
    """Error of one attempt of the expected height: a slip of the pen must not excuse itself."""
    if reading.is_log or not isinstance(test, Jump | DropJump):
        return reading.sd
    usual = replace(test, heights_m=(max(middle, 0.02),))
    return readings_of([usual], person)[0].sd


def last_mass_kg(person: Person, on: dt.date) -> float | None:
    """The weighing nearest to a day, that of the day itself left out; None without any."""
    others = [mass for mass in person.body_masses if mass.date != on]
    if not others:
        return None
    return min(others, key=lambda mass: abs((mass.date - on).days)).mass_kg


def is_strange_mass(new_kg: float, before_kg: float) -> bool:
    """Whether a weighing is so far from the one before that it is asked about."""
    return abs(new_kg / before_kg - 1) > _STRANGE_MASS_SHARE


def is_strange_reach(new_m: float, before_m: float) -> bool:
    """Whether a standing reach is so far from the one before that it is asked about."""
    return abs(new_m - before_m) > _STRANGE_REACH_M
