"""What one ordinary block on each quality would bring, and which quality is limiting."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from saltus.athlete.assessment import Limiting, Worth
from saltus.athlete.posterior import Posterior
from saltus.athlete.prediction import jump_height_m
from saltus.athlete.prior import RESPONSE, State
from saltus.athlete.pushoff import Start
from saltus.athlete.qualities import TRAINABLE, Quality
from saltus.athlete.response import block_effect
from saltus.quantities import Estimate

__all__ = [
    "DECIDED",
    "Gains",
    "expected_gains",
    "limiting",
    "mean_responses",
    "what_if",
    "what_if_draws",
    "worths",
]

DECIDED = 0.7
"""Probability from which a limiting quality is named."""


@dataclass(frozen=True, slots=True, eq=False)
class Gains:
    """Gains of a countermovement jump from one ordinary block, draw by draw.

    Parameters
    ----------
    expected_m : ndarray, shape (n, 4)
        With this athlete's mean response: what a coach can bet on. In the order of
        :data:`saltus.athlete.qualities.TRAINABLE`.
    possible_m : ndarray, shape (n, 4)
        With the response of each draw: what may come of it.
    jump_m : ndarray, shape (n,)
        The jump now.
    weights : ndarray, shape (n,)
        Adding up to one.
    """

    expected_m: NDArray[np.float64]
    possible_m: NDArray[np.float64]
    jump_m: NDArray[np.float64]
    weights: NDArray[np.float64]

    @property
    def largest(self) -> NDArray[np.int64]:
        """Place of the quality with the largest expected gain in each draw, shape (n,)."""
        return np.asarray(np.argmax(self.expected_m, axis=1), dtype=np.int64)

    @property
    def probabilities(self) -> NDArray[np.float64]:
        """Probability that each quality's expected gain is the largest, shape (4,)."""
        counted = np.bincount(self.largest, weights=self.weights, minlength=len(TRAINABLE))
        return np.asarray(counted, dtype=np.float64)


def mean_responses(posterior: Posterior) -> NDArray[np.float64]:
    """Mean multiplier of the ordinary response of this athlete, by trainable quality, (4,)."""
    responses = np.exp(posterior.constants[:, [RESPONSE[q] for q in TRAINABLE]])
    return np.asarray(np.average(responses, axis=0, weights=posterior.weights))


def expected_gains(posterior: Posterior, bet: NDArray[np.float64] | None = None) -> Gains:
    """Push one ordinary block on each quality through the model.

    Parameters
    ----------
    posterior : Posterior
        Of one athlete; the block follows its last date.
    bet : ndarray, shape (4,), optional
        Multipliers to expect in place of this posterior's :func:`mean_responses`.

    Returns
    -------
    Gains
    """
    state, segment = posterior.now, posterior.segment_m
    on = posterior.dates[-1]
    mass = posterior.problem.person.mass_kg(on)
    years = posterior.problem.prior.training_years
    responses = np.exp(posterior.constants[:, [RESPONSE[q] for q in TRAINABLE]])
    bet = mean_responses(posterior) if bet is None else bet
    after = [state]
    for column, quality in enumerate(TRAINABLE):
        for response in (np.full(len(state), bet[column]), responses[:, column]):
            effect = block_effect(state, segment, quality, response=response, training_years=years)
            after.append(state + effect)
    heights = jump_height_m(Start.COUNTERMOVEMENT, np.stack(after), segment, mass)
    gains = heights[1:] - heights[0]
    return Gains(gains[0::2].T, gains[1::2].T, heights[0], posterior.weights)


def worths(gains: Gains) -> tuple[Worth, ...]:
    """Worth of each quality, largest first.

    The interval holds both what is not known of the athlete and how differently people
    respond; the probability of being the largest speaks of the expected gain.
    """
    found = [
        Worth(
            quality=quality,
            gain_m=Estimate.of_sample(gains.possible_m[:, i], gains.weights),
            probability_largest=float(gains.probabilities[i]),
        )
        for i, quality in enumerate(TRAINABLE)
    ]
    return tuple(sorted(found, key=lambda worth: -worth.gain_m.value))


def limiting(gains: Gains, *, decided: float = DECIDED) -> Limiting:
    """The limiting quality, named only where its probability is at least `decided`."""
    probabilities = gains.probabilities
    best = int(np.argmax(probabilities))
    probability = float(probabilities[best])
    leading = TRAINABLE[best]
    return Limiting(leading if probability >= decided else None, probability, leading)


_WHAT_IF_STATE = {
    Quality.MAX_STRENGTH: State.TORQUE,
    Quality.RATE_OF_FORCE_DEVELOPMENT: State.RATE,
    Quality.PUSH_OFF_SPEED: State.SPEED,
    Quality.STRETCH_SHORTENING_GAIN: State.STRETCH,
    Quality.PUSH_OFF_DISTANCE: State.DISTANCE,
}


def what_if(
    posterior: Posterior,
    factors: Mapping[Quality, float],
    *,
    mass_change_kg: float = 0.0,
) -> tuple[Estimate, Estimate]:
    """The countermovement jump if qualities were so many times what they are.

    Parameters
    ----------
    posterior : Posterior
        Of one athlete.
    factors : mapping of Quality to float
        Such as ``{Quality.MAX_STRENGTH: 1.1}``.
    mass_change_kg : float
        Body mass added (negative: lost) with strength and rate of force development in
        newtons held.

    Returns
    -------
    jump_m, change_m : Estimate
        The jump then, and its change, m.
    """
    return what_if_draws(
        posterior.now,
        posterior.segment_m,
        posterior.problem.person.mass_kg(posterior.dates[-1]),
        factors,
        weights=posterior.weights,
        mass_change_kg=mass_change_kg,
    )


def what_if_draws(
    state: NDArray[np.float64],
    segment_m: NDArray[np.float64],
    mass_kg: float,
    factors: Mapping[Quality, float],
    *,
    weights: NDArray[np.float64] | None = None,
    mass_change_kg: float = 0.0,
) -> tuple[Estimate, Estimate]:
    """Answer the same question from draws that were kept.

    Parameters
    ----------
    state : ndarray, shape (n, 5)
        Log-qualities.
    segment_m : ndarray, shape (n,)
        Half the outstretched leg, m.
    mass_kg : float
        Body mass now.
    factors, mass_change_kg
        As in :func:`what_if`.
    weights : ndarray, shape (n,), optional
        Of the draws; alike if not given.
    """
    changed = state.copy()
    for quality, factor in factors.items():
        changed[:, _WHAT_IF_STATE[quality]] += np.log(factor)
    heavier = mass_kg + mass_change_kg
    for part in (State.TORQUE, State.RATE):
        changed[:, part] -= np.log(heavier / mass_kg)
    now = jump_height_m(Start.COUNTERMOVEMENT, state, segment_m, mass_kg)
    then = jump_height_m(Start.COUNTERMOVEMENT, changed, segment_m, heavier)
    return Estimate.of_sample(then, weights), Estimate.of_sample(then - now, weights)
