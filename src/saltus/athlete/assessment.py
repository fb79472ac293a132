"""What an assessment says: the result types, free of computation.

Every interval is an 80 % interval. The planner, the printed report and the pages all
read these types; :func:`saltus.athlete.assess.assess` makes them.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from saltus.athlete.observations import Lift
from saltus.athlete.profile import ForceVelocityProfile
from saltus.athlete.qualities import Quality
from saltus.quantities import Estimate

__all__ = [
    "Assessment",
    "BodyMassEffect",
    "FitReport",
    "Goal",
    "GoalOutlook",
    "Limiting",
    "NextTest",
    "Worth",
]


@dataclass(frozen=True, slots=True)
class Worth:
    """What one ordinary training block on a quality is expected to bring this athlete now.

    Parameters
    ----------
    quality : Quality
        What the block is aimed at.
    gain_m : Estimate
        Gain in jump height, m.
    probability_largest : float
        That this quality has the largest expected worth.
    """

    quality: Quality
    gain_m: Estimate
    probability_largest: float


@dataclass(frozen=True, slots=True)
class Limiting:
    """The quality with the largest worth, or None while that is undecided."""

    quality: Quality | None
    probability: float
    """Probability of the leading quality, named or not."""
    leading: Quality


@dataclass(frozen=True, slots=True)
class NextTest:
    """A test the coach could do next.

    Parameters
    ----------
    test : str
        Identifier, such as "isometric_pull".
    title : str
        In words, such as "isometric mid-thigh pull on the plate".
    information_bits : float
        Expected information about which quality is limiting, bits.
    minutes : float
        Time for one athlete, warm-up for it included, min.
    risk : str
        "low", "moderate" or "high".
    why : str
        A sentence for the coach.
    """

    test: str
    title: str
    information_bits: float
    minutes: float
    risk: str
    why: str


@dataclass(frozen=True, slots=True)
class Goal:
    """What the athlete wants, by when: a jump height, or a height to touch.

    Parameters
    ----------
    date : date or None
        The day that counts.
    jump_m : float or None
        Wanted jump height as the athlete's usual test measures it, m.
    touch_m : float or None
        Wanted height to touch, m, where the standing reach is known.
    hand_above_m : float
        How much of the hand must be above that height, m (0 to touch it).
    approach : bool
        Whether a run-up is allowed.
    arms : bool
        Whether the arms may swing.
    what : str
        In words, such as "the rim".
    """

    date: dt.date | None = None
    jump_m: float | None = None
    touch_m: float | None = None
    hand_above_m: float = 0.0
    approach: bool = False
    arms: bool = True
    what: str = ""


@dataclass(frozen=True, slots=True)
class GoalOutlook:
    """How far the goal is, and the probability of reaching it with the ordinary response."""

    goal: Goal
    needed_m: float
    """Jump height needed, m."""
    now_m: Estimate
    """The same kind of jump now, m."""
    missing_m: Estimate
    expected_m: Estimate | None
    """The same kind of jump on the day, m; None where no date is set."""
    probability: float | None
    """None where no date is set."""


@dataclass(frozen=True, slots=True)
class BodyMassEffect:
    """What a kilogram of body mass does to the jump, strength and everything else held."""

    per_kg_more_m: Estimate
    per_kg_less_m: Estimate


@dataclass(frozen=True, slots=True)
class FitReport:
    """How far the posterior can be trusted.

    Parameters
    ----------
    draws : int
        Importance samples taken.
    effective_sample_size : float
        Of them (Kish).
    outlying : tuple of str
        Tests that the fit gave little weight, each in words.
    """

    draws: int
    effective_sample_size: float
    outlying: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Assessment:
    """Everything that is known of an athlete on a day.

    Parameters
    ----------
    name : str
        The athlete.
    date : date
        The day it speaks of: that of the latest test or later.
    mass_kg : float
        Body mass on that day.
    jump_m : Estimate
        Countermovement jump without arms (rise of the centre of mass after take-off), m.
    squat_jump_m : Estimate
        Squat jump without arms, m.
    approach_jump_m : Estimate or None
        With a run-up and arms; None where none was tested.
    qualities : mapping of Quality to Estimate
        In the units of :data:`saltus.athlete.qualities.UNITS`.
    maxima_kg : mapping of Lift to Estimate
        One-repetition maxima that the tests or the model give, kg; the spread is wider
        where a lift was never tested.
    best_drop_m : Estimate or None
        Drop height with the highest rebound; None without drop jump tests.
    worth : tuple of Worth
        Largest first.
    limiting : Limiting
        The limiting quality or "undecided".
    next_tests : tuple of NextTest
        Best first.
    goal : GoalOutlook or None
        None where no goal is set.
    force_velocity : ForceVelocityProfile or None
        The published profile.
    force_velocity_why : str
        Why there is none, or what is doubtful about it; empty otherwise.
    body_mass : BodyMassEffect or None
        Withheld from minors.
    fit : FitReport
        How far the posterior can be trusted.
    cautions : tuple of str
        What matters for safety or for reading the figures.
    """

    name: str
    date: dt.date
    mass_kg: float
    jump_m: Estimate
    squat_jump_m: Estimate
    approach_jump_m: Estimate | None
    qualities: Mapping[Quality, Estimate]
    maxima_kg: Mapping[Lift, Estimate]
    best_drop_m: Estimate | None
    worth: tuple[Worth, ...]
    limiting: Limiting
    next_tests: tuple[NextTest, ...]
    goal: GoalOutlook | None
    force_velocity: ForceVelocityProfile | None
    force_velocity_why: str
    body_mass: BodyMassEffect | None
    fit: FitReport
    cautions: tuple[str, ...]
