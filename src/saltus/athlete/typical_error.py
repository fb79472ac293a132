"""The typical error of an athlete's own tests, from their repeats, drawn towards the published one.

Two kinds of repeats tell it: the attempts of one day, and the same test on days that lie at most
ten apart. Each is counted in units of the published error, so that jumps of any height, and maxima,
can be pooled. The published error stands as the prior, a scaled inverse chi-square of
:data:`PRIOR_FREEDOM` degrees of freedom: so many repeats weigh as much as all that was published.

References
----------
Hopkins 2000, Sports Med 30:1-15 (typical error: standard deviation of differences over the root of
two); von Neumann, Kent, Bellinson & Hart 1941, Ann Math Stat 12:153-162 (mean square successive
difference); Gelman et al. 2013, Bayesian Data Analysis, section 2.6 (the conjugate prior).
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import chdtri

from saltus.athlete.jump_height import kept_attempts
from saltus.quantities import INTERVAL, Estimate

__all__ = [
    "ENOUGH",
    "PRIOR_FREEDOM",
    "OwnError",
    "own_attempts",
    "own_error",
    "successive_freedom",
    "typical_error",
]

PRIOR_FREEDOM = 8.0
"""Typical errors of jumps lie between 2.4 and 5.8 % (check: Markovic et al. 2004, JSCR 18:551-555;
PMC7039490), a quarter around their middle: a scaled inverse chi-square of eight degrees."""

ENOUGH = 5.0
"""Degrees of freedom of an athlete's own repeats, below which the published error stands."""

_TAILS = 0.5
# A test that is now and then far off (t errors of five degrees) tells its spread less well than a
# normal one: found by simulation, so that the intervals hold.
_FURTHEST = 3.0
# Published errors; a difference beyond is an outlying test, not the usual error.


@dataclass(frozen=True, slots=True)
class OwnError:
    """How large an athlete's error is against the published one.

    Parameters
    ----------
    ratio : Estimate
        Own over published.
    freedom : float
        Degrees of freedom of the athlete's own repeats.
    """

    ratio: Estimate
    freedom: float

    @property
    def text(self) -> str:
        """Where it comes from, in words."""
        if self.freedom < ENOUGH:
            return "Published error: there are too few repeats of this athlete's own."
        own = self.freedom / (self.freedom + PRIOR_FREEDOM)
        return (
            f"This athlete's own repeats make the error {self.ratio.value:.2f} times the published "
            f"one ({self.ratio.low:.2f} to {self.ratio.high:.2f}); they count {100 * own:.0f} %, "
            "what is published the rest."
        )


def typical_error(differences: ArrayLike) -> Estimate:
    """Typical error from test-retest differences, with the chi-square interval.

    Parameters
    ----------
    differences : array_like, shape (n,)
        Second test less first, one for each pair; at least two. A shift common to all is no error.

    Returns
    -------
    Estimate
        Standard deviation of the differences over the root of two (Hopkins 2000), 80 % interval.

    Raises
    ------
    ValueError
        If there are fewer than two.
    """
    x = np.asarray(differences, dtype=float)
    if x.size < 2:
        raise ValueError("a typical error needs at least two differences")
    return _spread(float(np.var(x, ddof=1)) / 2, x.size - 1)


def successive_freedom(chains: Iterable[int]) -> float:
    """Degrees of freedom of a mean square successive difference.

    Parameters
    ----------
    chains : iterable of int
        How many tests follow each other in each unbroken chain.

    Returns
    -------
    float
        ``2 (n - 1)² / (3 n - 4)`` for each chain, one less for the trend that is taken out.
    """
    return max(sum(2 * (n - 1) ** 2 / (3 * n - 4) for n in chains if n > 1) - 1, 0.0)


def own_error(chains: Sequence[Sequence[tuple[float, float]]]) -> OwnError:
    """Day-to-day error against the published one.

    Parameters
    ----------
    chains : sequence of sequence of (float, float)
        For each unbroken chain of the same test: days since any day, and the reading in units of
        its published error.

    Returns
    -------
    OwnError
        A steady trend is taken out; differences beyond three published errors are held there.
    """
    gaps, steps = [], []
    for chain in chains:
        for (day, value), (later, next_value) in pairwise(chain):
            gaps.append(later - day)
            steps.append((next_value - value) / math.sqrt(2))
    freedom = _TAILS * successive_freedom(len(chain) for chain in chains)
    if freedom <= 0:
        return _shrunk(0.0, 0.0)
    gap, step = np.array(gaps), np.clip(steps, -_FURTHEST, _FURTHEST)
    left = step - gap * (gap @ step) / (gap @ gap)
    return _shrunk(float(left @ left) / (left.size - 1), freedom)


def own_attempts(days: Iterable[tuple[Sequence[float], float]]) -> OwnError:
    """Spread of an athlete's attempts within a day against the published one.

    Parameters
    ----------
    days : iterable of (sequence of float, float)
        The attempts of each test, and the published standard deviation of one attempt, in the
        same unit. Missed attempts are left out, and so are days of which all attempts are alike:
        they were written down as one figure.
    """
    squares, freedom = 0.0, 0
    for attempts, published in days:
        x = kept_attempts(attempts) / published
        if x.size > 1 and np.ptp(x) > 0:
            squares += float(np.sum((x - x.mean()) ** 2))
            freedom += x.size - 1
    return _shrunk(squares / freedom if freedom else 0.0, float(freedom))


def _shrunk(own_variance: float, freedom: float) -> OwnError:
    if freedom < ENOUGH:
        own_variance, counted = 1.0, 0.0
    else:
        counted = freedom
    total = PRIOR_FREEDOM + counted
    return OwnError(_spread((PRIOR_FREEDOM + counted * own_variance) / total, total), freedom)


def _spread(variance: float, freedom: float) -> Estimate:
    """Standard deviation whose square is `variance` with so many degrees of freedom."""
    tail = (1 - INTERVAL) / 2
    value = math.sqrt(variance)
    low, high = (
        value * math.sqrt(freedom / float(chdtri(freedom, above))) for above in (tail, 1 - tail)
    )
    return Estimate(value, low, high, (high - low) / 2.563)
