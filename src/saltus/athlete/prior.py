"""What is believed of an athlete before the first test, and between tests.

The unknowns are five log-qualities at each date and a set of constants of the person
and of the methods. All priors are normal on these scales; each stands here once, with
where it comes from.
"""

from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from saltus.athlete.observations import JumpMethod
from saltus.athlete.person import Person, Sex
from saltus.athlete.postures import SEGMENT_PER_STATURE
from saltus.athlete.qualities import TRAINABLE

__all__ = [
    "CONSTANTS",
    "N_STATE",
    "Constant",
    "Normal",
    "Prior",
    "State",
    "prior_for",
]


class State(IntEnum):
    """Place of each log-quality in a state vector."""

    TORQUE = 0
    """log of T0 per kg of body mass, N m/kg."""
    SPEED = 1
    """log of w0, rad/s."""
    RATE = 2
    """log of R per kg of body mass, N m/s/kg."""
    STRETCH = 3
    """log of p."""
    DISTANCE = 4
    """log of d, m."""


N_STATE = len(State)


class Constant(IntEnum):
    """Place of each constant of the person or of a method."""

    SEGMENT = 0
    ARMS = 1
    APPROACH = 2
    SQUAT_START = 3
    REBOUND_HEIGHT = 4
    REBOUND_CONTACT = 5
    SQUAT_SKILL = 6
    PULL_EFFICIENCY = 7
    PULL_EARLY = 8
    BIAS_BROAD = 9
    BIAS_REACH = 10
    BIAS_MAT = 11
    BIAS_FILM = 12
    BIAS_PLATE_FLIGHT = 13
    BIAS_PLATE_IMPULSE = 14
    RESPONSE_STRENGTH = 15
    RESPONSE_RATE = 16
    RESPONSE_SPEED = 17
    RESPONSE_STRETCH = 18


BIAS = {
    JumpMethod.REACH: Constant.BIAS_REACH,
    JumpMethod.MAT: Constant.BIAS_MAT,
    JumpMethod.FILM: Constant.BIAS_FILM,
    JumpMethod.PLATE_FLIGHT: Constant.BIAS_PLATE_FLIGHT,
    JumpMethod.PLATE_IMPULSE: Constant.BIAS_PLATE_IMPULSE,
}
"""Which constant holds a method's bias for this athlete."""

RESPONSE = dict(
    zip(
        TRAINABLE,
        (
            Constant.RESPONSE_STRENGTH,
            Constant.RESPONSE_RATE,
            Constant.RESPONSE_SPEED,
            Constant.RESPONSE_STRETCH,
        ),
        strict=True,
    )
)
"""Which constant holds this athlete's response to training aimed at a quality."""


@dataclass(frozen=True, slots=True)
class Normal:
    """Mean and standard deviation of a normal prior."""

    mean: float
    sd: float


_RESPONSE_SD = 0.5
# Spread of gains between people is about half the gain: 14.2 ± 7.3 % and 12.7 ± 5.7 %
# (Jiménez-Reyes et al. 2017, Front Physiol 7:677), noise of the tests included. The mean of
# the multiplier is one.
_RESPONSE = Normal(-0.5 * _RESPONSE_SD**2, _RESPONSE_SD)

CONSTANTS: dict[Constant, Normal] = {
    # log of half the leg over its share of stature; tape and proportions.
    Constant.SEGMENT: Normal(0.0, 0.02),
    # log of height with arms over without; plausible 15 to 40 % (Lees et al. 2004, J Biomech
    # 37:1929-1940; Vaverka et al. 2016, J Hum Kinet 53:41-50; Feltner et al. 1999).
    Constant.ARMS: Normal(np.log(1.25), 0.07),
    # log of height with a run-up over the standing jump with arms: +15 % in volleyball
    # (IJSSC 2010, 5:373-380); wide, since some gain several times that.
    Constant.APPROACH: Normal(np.log(1.15), 0.15),
    # What the squat start costs or spares beyond the model (skill at starting without a dip).
    Constant.SQUAT_START: Normal(0.0, 0.03),
    # How far this athlete's rebound differs from the model's. The model has no ankle, which does
    # much of a short contact: it rebounds 14 to 21 cm from 20 to 40 cm where people reach 31 ± 3 cm
    # (Kannas et al. 2015, J Sports Med Phys Fitness 55:1150-1156). So wide, a drop jump says little
    # by its level, and what it has to say by its change.
    Constant.REBOUND_HEIGHT: Normal(np.log(1.35), 0.30),
    Constant.REBOUND_CONTACT: Normal(0.0, 0.15),
    # Skill and build in the squat: 1RM over what the leg's torque says.
    Constant.SQUAT_SKILL: Normal(0.0, 0.07),
    # An isometric pull gives about 0.65 of the leg's own force there, wide (design figure).
    Constant.PULL_EFFICIENCY: Normal(0.0, 0.15),
    # Early force of a pull against the model's rise: onset, slack, intent (CV 5 to 24 % at 30 to
    # 250 ms, Moeskops et al. 2018, JSCR 32:1892-1901).
    Constant.PULL_EARLY: Normal(0.0, 0.10),
    # The methods' biases are set from saltus.athlete.measurement_error by the readings.
    Constant.BIAS_BROAD: Normal(0.0, 0.0),
    Constant.BIAS_REACH: Normal(0.0, 0.0),
    Constant.BIAS_MAT: Normal(0.0, 0.0),
    Constant.BIAS_FILM: Normal(0.0, 0.0),
    Constant.BIAS_PLATE_FLIGHT: Normal(0.0, 0.0),
    Constant.BIAS_PLATE_IMPULSE: Normal(0.0, 0.0),
    Constant.RESPONSE_STRENGTH: _RESPONSE,
    Constant.RESPONSE_RATE: _RESPONSE,
    Constant.RESPONSE_SPEED: _RESPONSE,
    Constant.RESPONSE_STRETCH: _RESPONSE,
}
"""Prior of every constant."""

# Ordinary spreads of trained adults (design figures: 60 000 virtual athletes with these jumped
# 31 ± 6 cm and squatted as people do); p is positive and skewed.
_SPREAD = np.array([0.18, 0.10, 0.35, np.sqrt(np.log(1 + 0.6**2)), 0.07])
_CENTRE = np.log(np.array([11.5, 17.5, 75.0, 0.10 / np.sqrt(1 + 0.6**2), 0.41]))

_MALE_STATURE_M = Normal(1.80, 0.07)
_FEMALE_STATURE_M = Normal(1.68, 0.065)
_UNSTATED_STATURE_M = Normal(1.74, 0.09)
_REFERENCE_STATURE_M = 1.80

_FEMALE_SHIFT = np.array([-0.14, -0.07, -0.10, 0.0, 0.0])
# Women jump about a quarter to a third less high at the same training (41 against 30 cm is usual;
# RSImod ranges 0.208-0.704 and 0.135-0.553 with equal times to take-off: Sole et al. 2018, Sports
# 6(4):133; college wall-jump means 49.8 and 30.0 cm: Larkin et al. 2024), of which body height
# explains a part.
_REFERENCE_TRAINING_YEARS = 3.0
_PER_TRAINING_YEAR = np.array([0.05, 0.005, 0.03, 0.03, 0.0])
_MOST_TRAINING_YEARS = 7.0
# Relative squats rise from about 1.2 in beginners to 2 x body mass in well-trained people
# (common practice); five per cent of torque a year within that span.
_JUMPING_SPORTS = (
    "volleyball",
    "basketball",
    "high jump",
    "long jump",
    "triple jump",
    "netball",
    "handball",
    "gymnastics",
    "dunk",
)
_JUMPING_SPORT_SHIFT = np.array([0.03, 0.04, 0.12, 0.15, 0.0])
# Volleyball men: squat jump 0.39 ± 0.06 m (Kozinc et al. 2021, IJERPH 18:11754).
_UNSTATED_EXTRA_SPREAD = np.array([0.07, 0.035, 0.05, 0.0, 0.0])
_TAPE_DISTANCE_SD = 0.04
# A push-off distance measured with a tape repeats within about 1.5 cm of 40.

_WALK_PER_ROOT_WEEK = np.array([0.014, 0.005, 0.035, 0.06, 0.004])
# What the qualities do without any training on record: about 10 % of strength, 4 % of speed, 25 %
# of rate in a year, and 4 % of the jump in two months; a judgement, wide enough to hold the
# gains and losses of a season that nobody wrote down.


@dataclass(frozen=True, slots=True)
class Prior:
    """Priors for one athlete.

    Parameters
    ----------
    state_mean, state_sd : ndarray, shape (5,)
        Of the log-qualities at the first date.
    walk_sd : ndarray, shape (5,)
        Of their random walk, per square root of a week.
    constant_mean, constant_sd : ndarray, shape (19,)
        Of the constants, in the order of :class:`Constant`.
    training_years : float
        For the size of the ordinary response.
    """

    state_mean: NDArray[np.float64]
    state_sd: NDArray[np.float64]
    walk_sd: NDArray[np.float64]
    constant_mean: NDArray[np.float64]
    constant_sd: NDArray[np.float64]
    training_years: float


def prior_for(person: Person) -> Prior:
    """Prior of an athlete from sex, stature, training age, sport and the tape.

    Parameters
    ----------
    person : Person
        Only what is not a test is read.

    Returns
    -------
    Prior
        A measured push-off distance or stature narrows it; an unstated sex widens it.
    """
    mean, sd = _CENTRE.copy(), _SPREAD.copy()
    if person.sex is Sex.FEMALE:
        mean += _FEMALE_SHIFT
        typical = _FEMALE_STATURE_M
    elif person.sex is Sex.MALE:
        typical = _MALE_STATURE_M
    else:
        mean += _FEMALE_SHIFT / 2
        sd = np.hypot(sd, _UNSTATED_EXTRA_SPREAD)
        typical = _UNSTATED_STATURE_M
    years = min(person.training_age_years, _MOST_TRAINING_YEARS) - _REFERENCE_TRAINING_YEARS
    mean += years * _PER_TRAINING_YEAR
    if any(sport in person.sport.casefold() for sport in _JUMPING_SPORTS):
        mean += _JUMPING_SPORT_SHIFT

    stature = typical.mean if person.stature_m is None else person.stature_m
    if person.push_off_distance_m is None:
        mean[State.DISTANCE] += np.log(stature / _REFERENCE_STATURE_M)
    else:
        mean[State.DISTANCE] = np.log(person.push_off_distance_m)
        sd[State.DISTANCE] = _TAPE_DISTANCE_SD

    constants = [CONSTANTS[constant] for constant in Constant]
    constant_mean = np.array([c.mean for c in constants])
    constant_sd = np.array([c.sd for c in constants])
    constant_mean[Constant.SEGMENT] = np.log(SEGMENT_PER_STATURE * stature)
    if person.stature_m is None:
        constant_sd[Constant.SEGMENT] = np.hypot(
            constant_sd[Constant.SEGMENT], typical.sd / typical.mean
        )
    return Prior(
        state_mean=mean,
        state_sd=sd,
        walk_sd=_WALK_PER_ROOT_WEEK.copy(),
        constant_mean=constant_mean,
        constant_sd=constant_sd,
        training_years=person.training_age_years,
    )
