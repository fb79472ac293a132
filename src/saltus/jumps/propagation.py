"""Standard errors by propagation: weighing, noise, thresholds and sampling.

A set of measures is a function of a `State`: weight, momentum at take-off, and the times of
the events. Each of these has a standard error (weight and momentum together a covariance),
and moving each by its own standard error shows what it does to every measure. White noise
that enters a measure directly is said by the measure itself (`Figure.per_noise`).
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from saltus.jumps.catalogue import measure
from saltus.jumps.integrate import Basis
from saltus.jumps.jump import Measure

__all__ = ["Figure", "State", "propagate"]


@dataclass(frozen=True, slots=True)
class State:
    """What measures are computed from; positions in samples.

    Parameters
    ----------
    weight_n, momentum_n_s : float
        Body weight, and momentum at the position `at`.
    at : float
        Where `momentum_n_s` holds; not an event, so never moved.
    start : float
        Onset of the movement, or touch-down.
    take_off, landing : float
        NaN where the recording does not hold it.
    """

    weight_n: float
    momentum_n_s: float
    at: float
    start: float
    take_off: float
    landing: float


@dataclass(frozen=True, slots=True)
class Figure:
    """A value, and the standard errors that moving the state does not show.

    Parameters
    ----------
    value : float
    per_noise : float
        Standard error per newton of white noise in the force.
    own_se : float
        Any other, in the unit of `value`.
    """

    value: float
    per_noise: float = 0.0
    own_se: float = 0.0

    def times(self, factor: float) -> "Figure":
        """Return the figure in another unit, `factor` > 0."""
        return Figure(self.value * factor, self.per_noise * factor, self.own_se * factor)


def propagate(
    figures: Callable[[State], Mapping[str, Figure]],
    state: State,
    *,
    basis: Basis | None,
    noise_n: float,
    event_se: Mapping[str, float],
) -> dict[str, Measure]:
    """Measures with their standard errors.

    Parameters
    ----------
    figures : callable
        From a state to its figures, by name in the catalogue.
    state : State
        The best estimate.
    basis : Basis or None
        Where weight and momentum come from; None where they are not known (and then no
        figure may depend on them).
    noise_n : float
        White noise of the force, N.
    event_se : mapping
        Standard error, in samples, of each event by its name in `State`.

    Returns
    -------
    dict of str to Measure
        Without what is not finite.
    """
    best = figures(state)

    def shifts(name: str, step: float) -> dict[str, float]:
        if not step > 0 or not math.isfinite(getattr(state, name)):
            return {}
        moved = figures(replace(state, **{name: getattr(state, name) + step}))
        return {
            key: (figure.value - best[key].value) / step
            for key, figure in moved.items()
            if key in best
        }

    by_event = {name: shifts(name, se) for name, se in event_se.items()}
    by_weight: dict[str, float] = {}
    by_momentum: dict[str, float] = {}
    if basis is not None:
        ww, _, pp = basis.line.covariance
        by_weight = shifts("weight_n", math.sqrt(ww))
        by_momentum = shifts("momentum_n_s", math.sqrt(pp))

    found: dict[str, Measure] = {}
    for key, figure in best.items():
        if not math.isfinite(figure.value):
            continue
        variance = (figure.per_noise * noise_n) ** 2 + figure.own_se**2
        if basis is not None:
            variance += (
                basis.line.propagated(by_weight.get(key, 0.0), by_momentum.get(key, 0.0)) ** 2
            )
        variance += sum((by_event[name].get(key, 0.0) * se) ** 2 for name, se in event_se.items())
        if math.isfinite(variance):
            found[key] = measure(key, figure.value, math.sqrt(variance))
    return found
