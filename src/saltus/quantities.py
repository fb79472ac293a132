"""Units, standard gravity and estimates.

Inside Saltus everything is SI: metres, kilograms, seconds, newtons, radians.
Units of the trade live at the edges only: what a person types is turned into SI
as it comes in, and back again as it is shown. Time runs along axis 0.
Up is positive. Missing values are ``None`` or NaN, never zero.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

__all__ = [
    "CENTIMETRE",
    "INCH",
    "INTERVAL",
    "KILOGRAM_FORCE",
    "POUND",
    "STANDARD_GRAVITY",
    "Estimate",
]

STANDARD_GRAVITY = 9.80665
"""m/s², by definition (3rd General Conference on Weights and Measures, 1901)."""

CENTIMETRE = 0.01
"""m."""

INCH = 0.0254
"""m, exact (international yard and pound agreement, 1959)."""

POUND = 0.45359237
"""kg, exact (international yard and pound agreement, 1959)."""

KILOGRAM_FORCE = STANDARD_GRAVITY
"""N."""

INTERVAL = 0.80
"""Probability inside every interval that Saltus shows."""

_TAIL = 100 * (1 - INTERVAL) / 2
_NORMAL_HALF_WIDTH = 1.2815515655446004
"""Standard deviations on each side of the mean that hold 80 % of a normal distribution."""


@dataclass(frozen=True, slots=True)
class Estimate:
    """A number with its 80 % interval.

    Parameters
    ----------
    value : float
        The best single figure (the median, where it comes from a sample).
    low, high : float
        Ends of the 80 % interval, in the unit of `value`.
    sd : float
        Standard deviation, in the unit of `value`.

    Raises
    ------
    ValueError
        If the ends do not enclose the value, or the standard deviation is negative.
    """

    value: float
    low: float
    high: float
    sd: float

    def __post_init__(self) -> None:
        if not self.low <= self.value <= self.high:
            raise ValueError(f"{self.value} does not lie within [{self.low}, {self.high}]")
        if not self.sd >= 0:
            raise ValueError(f"a standard deviation is never negative, got {self.sd}")

    @classmethod
    def normal(cls, value: float, sd: float) -> "Estimate":
        """Estimate of a normally distributed quantity with mean `value` and deviation `sd`."""
        half = _NORMAL_HALF_WIDTH * sd
        return cls(float(value), float(value - half), float(value + half), float(sd))

    @classmethod
    def of_sample(cls, sample: ArrayLike, weights: ArrayLike | None = None) -> "Estimate":
        """Estimate from a sample of shape (n,), optionally weighted.

        Parameters
        ----------
        sample : array_like, shape (n,)
            Draws of the quantity.
        weights : array_like, shape (n,), optional
            Importance weights; they need not add up to one.

        Returns
        -------
        Estimate
            Median, 10th and 90th percentile, standard deviation.

        Raises
        ------
        ValueError
            If the sample is empty or holds a value that is not finite.
        """
        x = np.asarray(sample, dtype=float)
        if x.size == 0 or not np.all(np.isfinite(x)):
            raise ValueError("a sample must hold at least one value, all of them finite")
        w = None if weights is None else np.asarray(weights, dtype=float)
        low, value, high = np.percentile(
            x,
            [_TAIL, 50.0, 100 - _TAIL],
            weights=w,
            method="linear" if w is None else "inverted_cdf",
        )
        mean = np.average(x, weights=w)
        sd = math.sqrt(max(float(np.average((x - mean) ** 2, weights=w)), 0.0))
        return cls(float(value), float(low), float(high), sd)

    def scaled(self, factor: float) -> "Estimate":
        """Return the same estimate in another unit: every part times `factor` (> 0)."""
        if not factor > 0:
            raise ValueError(f"a unit factor must be positive, got {factor}")
        return Estimate(
            self.value * factor, self.low * factor, self.high * factor, self.sd * factor
        )
