"""One-repetition maxima from sets of several repetitions, and from one lift to another."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from saltus.athlete.observations import Lift, RepSet
from saltus.errors import TestError

__all__ = [
    "LIFT_RATIO",
    "MAXIMUM_CV",
    "MOST_REPS",
    "REPETITION_FORMULAS",
    "LiftRatio",
    "RepetitionFormula",
    "maximum_from_reps",
]

MAXIMUM_CV = 0.042
"""A tested maximum from day to day: median CV 4.2 % over 32 studies (Grgic et al. 2020,
Sports Med Open 6:31, doi 10.1186/s40798-020-00260-z)."""

MOST_REPS = 10
"""Beyond ten repetitions the formulas part and endurance tells (common practice)."""

_BETWEEN_PEOPLE_PER_REP = 0.006
# People differ by about two repetitions at 80 % of the maximum, where nine are usual and
# each is worth 2.5 % (from memory): 5 % after eight repetitions beyond the first.

_RESERVE_SD_REPS = 1.0
_RESERVE_SD_PER_REP = 0.25
# What an athlete feels to be left is off by about one repetition near failure (Halperin et
# al. 2022, Sports Med 52:377-390; from memory) and by more the further away it is (a judgement).


@dataclass(frozen=True, slots=True)
class RepetitionFormula:
    """A published formula from repetitions to failure to the maximum.

    Parameters
    ----------
    name : str
        Author and year.
    factor : callable
        Maximum over load, given the repetitions.
    """

    name: str
    factor: Callable[[float], float]

    def maximum_kg(self, load_kg: float, reps: float) -> float:
        """Maximum, kg, by this formula as published, from `reps` to failure with `load_kg`."""
        return load_kg * self.factor(reps)


REPETITION_FORMULAS: Mapping[str, RepetitionFormula] = {
    "epley": RepetitionFormula("Epley 1985", lambda r: 1 + r / 30),
    "brzycki": RepetitionFormula("Brzycki 1993", lambda r: 36 / (37 - r)),
    "lander": RepetitionFormula("Lander 1985", lambda r: 100 / (101.3 - 2.67123 * r)),
    "lombardi": RepetitionFormula("Lombardi 1989", lambda r: r**0.10),
    "mayhew": RepetitionFormula(
        "Mayhew et al. 1992", lambda r: 100 / (52.2 + 41.9 * math.exp(-0.055 * r))
    ),
    "oconner": RepetitionFormula("O'Conner et al. 1989", lambda r: 1 + 0.025 * r),
    "wathan": RepetitionFormula(
        "Wathan 1994", lambda r: 100 / (48.8 + 53.8 * math.exp(-0.075 * r))
    ),
}
"""Seven formulas as a secondary list prints them; the original sources from memory."""


def _log_factors(reps: float) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Log of every formula's factor; a single repetition is the load itself."""
    if reps <= 1:
        return np.zeros(len(REPETITION_FORMULAS))
    return np.log([formula.factor(reps) for formula in REPETITION_FORMULAS.values()])


def maximum_from_reps(test: RepSet) -> tuple[float, float]:
    """Maximum from a set to failure or with repetitions in reserve, and its error.

    Parameters
    ----------
    test : RepSet
        Repetitions done and left together at most 10.

    Returns
    -------
    one_rm_kg : float
        Mean over the seven formulas (geometric), kg; the load itself for a single.
    sd_log : float
        From the day (:data:`MAXIMUM_CV`), the spread between formulas, the spread between
        people, and the error in what is felt to be left.

    Raises
    ------
    TestError
        If the set is empty, or too long to tell the maximum.
    """
    if test.reps < 1 or test.reserve < 0 or not test.load_kg > 0:
        raise TestError(
            f"A set of {test.reps} repetitions at {test.load_kg:g} kg with {test.reserve:g} left "
            "is no set: load and repetitions must be positive, what is left not negative."
        )
    reps = test.reps + test.reserve
    if reps > MOST_REPS:
        left = f" and {test.reserve:g} left" if test.reserve else ""
        raise TestError(
            f"{test.reps} repetitions{left} are too many to tell a maximum from: use a load that "
            f"allows at most {MOST_REPS}, better 3 to 6."
        )
    factor, sd_log = _told_by(reps, test.reserve)
    return test.load_kg * factor, sd_log


@lru_cache(maxsize=1024)
def _told_by(reps: float, reserve: float) -> tuple[float, float]:
    """Factor on the load and error of its logarithm; a log holds the same few over and over."""
    factors = _log_factors(reps)
    spread = float(factors.std(ddof=1))
    people = _BETWEEN_PEOPLE_PER_REP * (reps - 1)
    felt = 0.0
    if reserve:
        sd_reps = math.hypot(_RESERVE_SD_REPS, _RESERVE_SD_PER_REP * reserve)
        per_rep = float(_log_factors(reps + 0.5).mean() - _log_factors(reps - 0.5).mean())
        felt = sd_reps * per_rep
    sd_log = math.sqrt(MAXIMUM_CV**2 + spread**2 + people**2 + felt**2)
    return math.exp(float(factors.mean())), sd_log


@dataclass(frozen=True, slots=True)
class LiftRatio:
    """Maximum of a lift over that of the back squat.

    Parameters
    ----------
    mean : float
        Median ratio.
    sd_log : float
        Standard deviation of its logarithm between people.
    """

    mean: float
    sd_log: float


LIFT_RATIO: Mapping[Lift, LiftRatio] = {
    Lift.BACK_SQUAT: LiftRatio(1.0, 0.0),
    Lift.FRONT_SQUAT: LiftRatio(0.82, 0.07),
    Lift.LEG_PRESS: LiftRatio(1.9, 0.25),
    Lift.DEADLIFT: LiftRatio(1.12, 0.12),
    Lift.TRAP_BAR_DEADLIFT: LiftRatio(1.18, 0.13),
    Lift.ROMANIAN_DEADLIFT: LiftRatio(0.80, 0.16),
    Lift.POWER_CLEAN: LiftRatio(0.64, 0.13),
    Lift.POWER_SNATCH: LiftRatio(0.48, 0.15),
    Lift.JERK: LiftRatio(0.70, 0.15),
}
"""Common practice: no single source; the spread is wide because build, skill and machines
differ. Good enough for a careful first load, never instead of a test."""
