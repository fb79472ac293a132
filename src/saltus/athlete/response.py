"""What an ordinary training block does to each quality.

The published spread of responses is a multiplier of the person (see
:data:`saltus.athlete.prior.CONSTANTS`); here are the ordinary effects themselves.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import ArrayLike, NDArray

from saltus.athlete.history import BLOCK_WEEKS
from saltus.athlete.postures import squat_push_per_m, squat_ratio
from saltus.athlete.prior import N_STATE, RESPONSE, State
from saltus.athlete.qualities import Quality

__all__ = [
    "TRAINED",
    "DriftSlopes",
    "block_effect",
    "drift",
    "drift_slopes",
    "gained_in_turn",
    "novelty",
    "strength_gain",
    "trained_gain",
]

_GAIN_ANYWHERE = {Quality.RATE_OF_FORCE_DEVELOPMENT: 0.15, Quality.PUSH_OFF_SPEED: 0.02}
_STRETCH_GAIN = 0.04
# Per ordinary block of six weeks (design figures; pushed through the model they raise the jump
# by 0.3 to 1.2 % a week, which is what trained and untrained people gain: check-values, section 8).

_STRENGTH_GAIN_AT_BODY_MASS = 0.12
_STRENGTH_HALVED_PER_RATIO = 0.5
_MOST_STRENGTH_GAIN = 0.18
# 12 % at a squat of 1.0 x body mass, 6 % at 1.5, 3 % at 2.0 (design figures): strength gains
# shrink with the strength already there (common practice).


TRAINED = {
    Quality.MAX_STRENGTH: State.TORQUE,
    Quality.RATE_OF_FORCE_DEVELOPMENT: State.RATE,
    Quality.PUSH_OFF_SPEED: State.SPEED,
    Quality.STRETCH_SHORTENING_GAIN: State.STRETCH,
}
"""The log-quality that training aimed at a quality moves."""
_SLOPE_STEP = 1e-5


@dataclass(frozen=True, slots=True, eq=False)
class DriftSlopes:
    """How the drift over k stretches changes.

    Parameters
    ----------
    by_state : ndarray, shape (n, k, 5, 5)
        Drift of the first of two log-qualities with the second.
    by_segment : ndarray, shape (n, k)
        Drift of the log torque with the log of half the leg.
    by_response : dict of Quality to ndarray, shape (n, k)
        Drift of what a quality's training moves with the log of the response to it.
    """

    by_state: NDArray[np.float64]
    by_segment: NDArray[np.float64]
    by_response: dict[Quality, NDArray[np.float64]]


def strength_gain(squat_ratio: ArrayLike) -> NDArray[np.float64]:
    """Gain in strength from an ordinary block, as a share, by `squat_ratio`: 1RM over body mass."""
    ratio = np.asarray(squat_ratio, dtype=float)
    gain = _STRENGTH_GAIN_AT_BODY_MASS * 0.5 ** ((ratio - 1.0) / _STRENGTH_HALVED_PER_RATIO)
    return np.asarray(np.minimum(gain, _MOST_STRENGTH_GAIN))


def novelty(training_years: float) -> float:
    """How much more a newcomer gains, and a veteran less, than someone of three years.

    1.25 for a beginner, 1.0 after three years, 0.8 after eight. Untrained people gain about
    1.0 % a week, trained ones about 0.5 % (judgement on published blocks, check-values,
    section 8); strength has its own rule on top.
    """
    return float(0.7 + 0.55 * np.exp(-max(training_years, 0.0) / 5.0))


def block_effect(
    state: NDArray[np.float64],
    segment_m: NDArray[np.float64],
    quality: Quality,
    *,
    response: ArrayLike,
    training_years: float,
    dose: ArrayLike = 1.0,
) -> NDArray[np.float64]:
    """Change of the log-qualities from one ordinary block aimed at a quality.

    Parameters
    ----------
    state : ndarray, shape (..., 5)
        Log-qualities before.
    segment_m : ndarray, shape (...)
        Half the outstretched leg, m.
    quality : Quality
        What the block is aimed at.
    response : array_like, shape (...)
        This athlete's multiplier of the ordinary response.
    training_years : float
        Training age.
    dose : array_like, shape (...)
        Share of an ordinary block.

    Returns
    -------
    ndarray, shape (..., 5)
        To be added to `state`. A trained rate of force development is absolute: strength
        gained without it leaves it where it was.
    """
    effect = np.zeros(np.shape(state))
    if quality in TRAINED:
        effect[..., TRAINED[quality]] = trained_gain(
            state, segment_m, quality, response=response, training_years=training_years, dose=dose
        )
    return effect


def trained_gain(
    state: NDArray[np.float64],
    segment_m: NDArray[np.float64],
    quality: Quality,
    *,
    response: ArrayLike,
    training_years: float,
    dose: ArrayLike = 1.0,
) -> NDArray[np.float64]:
    """What :func:`block_effect` adds to the one log-quality that it moves (:data:`TRAINED`).

    The gain in strength depends on torque and speed, that in stretch on itself; those of rate
    and speed on no state, whatever `state` is. Arguments as for :func:`block_effect`.

    Returns
    -------
    ndarray, shape (...)
        Change of the natural logarithm.

    Raises
    ------
    ValueError
        If no block trains the quality.
    """
    scale = _scale(quality, response, training_years, dose)
    if quality is Quality.MAX_STRENGTH:
        push = squat_push_per_m(np.exp(state[..., State.SPEED]), segment_m)
        squat = squat_ratio(np.exp(state[..., State.TORQUE]), push)
        return np.asarray(np.log1p(strength_gain(squat) * scale))
    if quality is Quality.STRETCH_SHORTENING_GAIN:
        return np.asarray(np.log1p(_STRETCH_GAIN * scale / np.exp(state[..., State.STRETCH])))
    return np.asarray(np.log1p(_GAIN_ANYWHERE[quality] * scale))


def gained_in_turn(
    states: NDArray[np.float64],
    segment_m: NDArray[np.float64],
    quality: Quality,
    *,
    response: NDArray[np.float64],
    training_years: float,
    doses: NDArray[np.float64],
) -> NDArray[np.float64]:
    """What :func:`trained_gain` brings in stretch after stretch, each from where the last led.

    Parameters
    ----------
    states : ndarray, shape (n, k, 5)
        Log-qualities before each of k stretches, without what training brought to this one
        since the first.
    segment_m, response : ndarray, shape (n,)
        Half the outstretched leg, m, and this athlete's multiplier.
    quality, training_years
        As for :func:`trained_gain`.
    doses : ndarray, shape (k,)
        Share of an ordinary block in each stretch.

    Returns
    -------
    ndarray, shape (n, k)
        All that was gained by the end of each stretch, to be added to the log-quality.

    Raises
    ------
    ValueError
        If no block trains the quality.
    """
    scale = _scale(quality, response[:, None], training_years, doses)
    own = np.exp(states[..., TRAINED[quality]])
    if quality is Quality.STRETCH_SHORTENING_GAIN:
        # What is added does not depend on what is there: no turn has to wait for the last.
        return np.asarray(np.log1p(np.cumsum(_STRETCH_GAIN * scale / own, axis=1)))
    if quality is Quality.MAX_STRENGTH:
        push = squat_push_per_m(np.exp(states[..., State.SPEED]), segment_m[:, None])
        factors = np.empty(scale.shape)
        factor = np.ones(len(scale))
        for i, dose in enumerate(doses):
            if dose > 0:
                squat = squat_ratio(own[:, i] * factor, push[:, i])
                factor = factor * (1 + strength_gain(squat) * scale[:, i])
            factors[:, i] = factor
        return np.asarray(np.log(factors))
    return np.asarray(np.cumsum(np.log1p(_GAIN_ANYWHERE[quality] * scale), axis=1))


def _scale(
    quality: Quality, response: ArrayLike, training_years: float, dose: ArrayLike
) -> NDArray[np.float64]:
    """Multiplier of the ordinary effect; ValueError for a quality that is not trained."""
    if quality not in TRAINED:
        raise ValueError(f"{quality} is not trained")
    # Strength's gain shrinks by the squat ratio itself, not again by training age.
    age = 1.0 if quality is Quality.MAX_STRENGTH else novelty(training_years)
    return np.asarray(np.asarray(response) * age * np.asarray(dose))


def drift(
    state: NDArray[np.float64],
    constants: NDArray[np.float64],
    weeks: Mapping[Quality, float],
    training_years: float,
) -> NDArray[np.float64]:
    """Change expected from the training done between two dates.

    Parameters
    ----------
    state : ndarray, shape (n, 5)
        Log-qualities at the earlier date.
    constants : ndarray, shape (n, 19)
        The athlete's constants.
    weeks : mapping of Quality to float
        Weeks of an ordinary dose that each quality got.
    training_years : float
        Training age.

    Returns
    -------
    ndarray, shape (n, 5)
    """
    change = np.zeros((state.shape[0], N_STATE))
    segment = np.exp(constants[:, 0])
    for quality, dose_weeks in weeks.items():
        if dose_weeks > 0 and quality in RESPONSE:
            change += block_effect(
                state,
                segment,
                quality,
                response=np.exp(constants[:, RESPONSE[quality]]),
                training_years=training_years,
                dose=dose_weeks / BLOCK_WEEKS,
            )
    return change


def drift_slopes(
    state: NDArray[np.float64],
    constants: NDArray[np.float64],
    weeks: Mapping[Quality, NDArray[np.float64]],
    training_years: float,
) -> DriftSlopes:
    """How the drift changes with the state and the constants, for all stretches at once.

    Parameters
    ----------
    state : ndarray, shape (n, k, 5)
        Log-qualities before each of k stretches.
    constants : ndarray, shape (n, 19)
        The athlete's constants.
    weeks : mapping of Quality to ndarray, shape (k,)
        Weeks of an ordinary dose that each quality got in each stretch.
    training_years : float
        Training age.

    Returns
    -------
    DriftSlopes
    """
    n, k, _ = state.shape
    by_state = np.zeros((n, k, N_STATE, N_STATE))
    by_segment = np.zeros((n, k))
    by_response = {}
    segment = np.broadcast_to(np.exp(constants[:, :1]), (n, k))
    for quality, place in TRAINED.items():
        if quality not in weeks or not np.any(weeks[quality] > 0):
            continue

        effect = partial(
            trained_gain,
            quality=quality,
            response=np.exp(constants[:, RESPONSE[quality], None]),
            training_years=training_years,
            dose=weeks[quality] / BLOCK_WEEKS,
        )
        base = effect(state, segment)
        gained = -np.expm1(-base)  # log(1 + x) changes by x/(1 + x) as log x does
        by_response[quality] = gained
        if quality is Quality.STRETCH_SHORTENING_GAIN:
            by_state[..., place, place] = -gained
        elif quality is Quality.MAX_STRENGTH:
            moved = state.copy()
            moved[..., State.TORQUE] += _SLOPE_STEP
            by_push = (effect(moved, segment) - base) / _SLOPE_STEP
            # Torque, speed and leg count through the push alone, torque in proportion.
            speed = np.exp(state[..., State.SPEED])
            push = squat_push_per_m(speed, segment)
            faster = squat_push_per_m(speed * np.exp(_SLOPE_STEP), segment)
            push_by_speed = np.log(faster / push) / _SLOPE_STEP
            by_state[..., place, State.TORQUE] = by_push
            by_state[..., place, State.SPEED] = by_push * push_by_speed
            # A longer leg is faster by as much at the knee, and its arm longer by as much.
            by_segment = by_push * (push_by_speed - 1)
    return DriftSlopes(by_state, by_segment, by_response)
