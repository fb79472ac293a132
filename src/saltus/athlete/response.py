"""What an ordinary training block does to each quality.

The published spread of responses is a multiplier of the person (see
:data:`saltus.athlete.prior.CONSTANTS`); here are the ordinary effects themselves.
"""

from collections.abc import Mapping

import numpy as np
from numpy.typing import ArrayLike, NDArray

from saltus.athlete.history import BLOCK_WEEKS
from saltus.athlete.postures import parallel_squat_kg
from saltus.athlete.prior import N_STATE, RESPONSE, State
from saltus.athlete.qualities import Quality

__all__ = ["block_effect", "drift", "novelty", "strength_gain"]

_RATE_GAIN = 0.15
_SPEED_GAIN = 0.02
_STRETCH_GAIN = 0.04
# Per ordinary block of six weeks (design figures; pushed through the model they raise the jump
# by 0.3 to 1.2 % a week, which is what trained and untrained people gain: check-values, section 8).

_STRENGTH_GAIN_AT_BODY_MASS = 0.12
_STRENGTH_HALVED_PER_RATIO = 0.5
_MOST_STRENGTH_GAIN = 0.18
# 12 % at a squat of 1.0 x body mass, 6 % at 1.5, 3 % at 2.0 (design figures): strength gains
# shrink with the strength already there (common practice).


def strength_gain(squat_ratio: ArrayLike) -> NDArray[np.float64]:
    """Relative gain in strength from an ordinary block, given squat 1RM over body mass."""
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
    dose: float = 1.0,
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
    dose : float
        Share of an ordinary block.

    Returns
    -------
    ndarray, shape (..., 5)
        To be added to `state`. A trained rate of force development is absolute: strength
        gained without it leaves it where it was.
    """
    effect = np.zeros(np.shape(state))
    scale = np.asarray(response) * novelty(training_years) * dose
    if quality is Quality.MAX_STRENGTH:
        squat = parallel_squat_kg(
            np.exp(state[..., State.TORQUE]), np.exp(state[..., State.SPEED]), segment_m, 1.0
        )
        # Strength's gain shrinks by the squat ratio itself, not again by training age.
        gain = strength_gain(squat) * np.asarray(response) * dose
        effect[..., State.TORQUE] = np.log1p(gain)
    elif quality is Quality.RATE_OF_FORCE_DEVELOPMENT:
        effect[..., State.RATE] = np.log1p(_RATE_GAIN * scale)
    elif quality is Quality.PUSH_OFF_SPEED:
        effect[..., State.SPEED] = np.log1p(_SPEED_GAIN * scale)
    elif quality is Quality.STRETCH_SHORTENING_GAIN:
        effect[..., State.STRETCH] = np.log1p(
            _STRETCH_GAIN * scale / np.exp(state[..., State.STRETCH])
        )
    return effect


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
