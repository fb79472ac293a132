"""Many chains of Hamiltonian Monte Carlo side by side, for a density close to a normal one.

The normal part of the motion is a rotation and is made exactly; only the pull of what is
not normal is added in steps, so that a quarter turn, after which a state has all but
forgotten where it came from, takes few of them.

References
----------
Neal 2011, in Handbook of Markov Chain Monte Carlo, ch. 5 (Hamiltonian Monte Carlo);
Shahbaba, Lan, Johnson & Neal 2014, Stat Comput 24:339-349 (splitting off the normal part).
"""

from collections.abc import Callable, Iterator

import numpy as np
from numpy.typing import NDArray

__all__ = ["hamiltonian_turns"]

Floats = NDArray[np.float64]

_TURN = np.pi / 2
_FEWEST_KICKS, _MOST_KICKS = 3, 12
_ACCEPTED = 0.6
_STAGES = (3, 6)
# Eighths of the settling after which the scale is set.
_WIDE = 2.0


def hamiltonian_turns(
    log_density: Callable[[Floats], tuple[Floats, Floats]],
    start: Floats,
    rng: np.random.Generator,
    *,
    settling: int,
    kept: int,
) -> Iterator[tuple[Floats, Floats]]:
    """Sample a density whose bulk is near the standard normal one.

    Parameters
    ----------
    log_density : callable
        Takes points of shape (chains, d) and returns the log density, shape (chains,), up
        to a constant, and its slope, shape (chains, d).
    start : ndarray, shape (chains, d)
        Where each chain begins.
    rng : Generator
        Of the momenta.
    settling : int
        Turns before the first point is kept; the number of kicks of a turn is settled
        here, and the few directions that turn out wider than normal are drawn together.
    kept : int
        Turns, each of which gives a point of every chain.

    Yields
    ------
    points : ndarray, shape (chains, d)
        After each turn that is kept.
    log_densities : ndarray, shape (chains,)
    """
    centre, scale = np.zeros(start.shape[1]), np.eye(start.shape[1])

    def seen(points: Floats) -> tuple[Floats, Floats]:
        density, slope = log_density(centre + points @ scale)
        return density, slope @ scale  # the scale is symmetric

    kicks = _FEWEST_KICKS
    here = start
    density, slope = seen(here)
    points = np.empty((settling, *start.shape))
    stages = [settling * share // 8 for share in _STAGES]
    for turn in range(settling + kept):
        if turn in stages:
            recent = points[turn // 2 : turn].reshape(-1, start.shape[1])
            centre, scale, unscale = _drawn_together(recent)
            here = (points[turn - 1] - centre) @ unscale
            density, slope = seen(here)
        angle = _TURN / kicks
        cos, sin = np.cos(angle), np.sin(angle)
        momentum = rng.standard_normal(here.shape)
        energy = 0.5 * np.sum(momentum**2, axis=1) - density
        there, new_slope = here, slope
        momentum = momentum + 0.5 * angle * (new_slope + there)
        # A path may run off to where nothing can be computed: not a number is never accepted.
        with np.errstate(over="ignore", invalid="ignore", divide="ignore"):
            for kick in range(kicks):
                there, momentum = cos * there + sin * momentum, cos * momentum - sin * there
                new_density, new_slope = seen(there)
                share = angle if kick < kicks - 1 else 0.5 * angle
                momentum = momentum + share * (new_slope + there)
            gained = energy - (0.5 * np.sum(momentum**2, axis=1) - new_density)
        accepted = np.log(rng.random(here.shape[0])) < gained
        here = np.where(accepted[:, None], there, here)
        slope = np.where(accepted[:, None], new_slope, slope)
        density = np.where(accepted, new_density, density)
        if turn >= settling:
            yield centre + here @ scale, density
            continue
        points[turn] = centre + here @ scale
        if accepted.mean() < _ACCEPTED:
            kicks = min(kicks + 1, _MOST_KICKS)


def _drawn_together(points: Floats) -> tuple[Floats, Floats, Floats]:
    """Centre, scale and its inverse that make points of shape (n, d) nearly standard.

    Only directions that are wide beyond the noise of their estimate are scaled.
    """
    centre = points.mean(axis=0)
    variance, directions = np.linalg.eigh(np.cov(points.T))
    wide = variance > _WIDE
    sd = np.sqrt(variance[wide])
    along = directions[:, wide]
    one = np.eye(centre.size)
    return centre, one + (along * (sd - 1)) @ along.T, one + (along * (1 / sd - 1)) @ along.T
