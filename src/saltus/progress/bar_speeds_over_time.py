"""Bar speeds of many days, read together as readings of how the maximum of a lift changes.

Speed at the same share of the maximum stays where it is when the maximum grows
(González-Badillo & Sánchez-Medina 2010, Int J Sports Med 31:347-352: within 0.01 m/s after a gain
of 9 %). So all days of an athlete share one speed at no load, and each day has its own slope: the
steeper the line, the smaller the maximum. Read alone, a day has to be carried on from its own few
loads to the speed of a maximum; read together, what is wrong with that is wrong on every day and
leaves the change, and a day with a single load says as much as any.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from saltus.athlete.load_velocity import SPEED_AT_MAXIMUM, SPEED_SD_M_S, checked_speeds
from saltus.athlete.observations import BarSpeedSet
from saltus.errors import TestError

__all__ = ["SpeedsTogether", "speeds_together"]

_FALL_M_S, _FALL_SD_M_S = 1.5, 0.35
# From the speed at no load to that at the maximum: the line through 0.5 and 1 of the maximum in
# the full squat (Sánchez-Medina et al. 2017) falls by 1.55 m/s; people differ by 9 to 25 % (IJERPH
# 2022, doi 10.3390/ijerph19116756).
_LEAST_FALL_M_S = 0.5
# Of lifts that were all slow: a line that does not fall has no maximum.
_USUAL_SETS = 2
# How many sets the usual scatter of speeds counts for beside the athlete's own.


@dataclass(frozen=True, slots=True)
class SpeedsTogether:
    """Maxima that bar speeds of one lift point to, read by one line.

    Parameters
    ----------
    tests : tuple of BarSpeedSet, length k
        Those that could be read.
    log_maximum : ndarray, shape (k,)
        Of kg on the bar. Their level is poorly known, since the speed at the maximum differs
        between people; it is the same on all days.
    own_variance : ndarray, shape (k,)
        Of the error that each has for itself, beside the form of the day.
    common : ndarray, shape (k,)
        What the error of the one line does to each, in its standard deviation: days of heavier
        and of lighter loads are moved against each other.
    """

    tests: tuple[BarSpeedSet, ...]
    log_maximum: NDArray[np.float64]
    own_variance: NDArray[np.float64]
    common: NDArray[np.float64]


def speeds_together(tests: Sequence[BarSpeedSet]) -> SpeedsTogether:
    """Read the bar speeds of one lift together.

    Parameters
    ----------
    tests : sequence of BarSpeedSet
        Of one athlete and lift. What cannot be right is left out, as
        :func:`saltus.athlete.load_velocity.checked_speeds` does, and so are days on which the bar
        was no slower than it would be unloaded.

    Returns
    -------
    SpeedsTogether
        Least squares for ``speed = at_no_load - slope[day] * load``, with the usual fall of speed
        as a prior of ``at_no_load``. Errors by the delta method.
    """
    kept, speeds = [], []
    for test in tests:
        try:
            speeds.append(checked_speeds(test))
        except TestError:
            continue
        kept.append(test)
    while kept:
        read = _read(kept, speeds)
        rising = [slope > 0 for slope in read.slope]
        if all(rising):
            return SpeedsTogether(tuple(kept), *_maxima(read))
        kept = [test for test, good in zip(kept, rising, strict=True) if good]
        speeds = [each for each, good in zip(speeds, rising, strict=True) if good]
    return SpeedsTogether((), np.zeros(0), np.zeros(0), np.zeros(0))


@dataclass(frozen=True, slots=True)
class _Lines:
    at_no_load: float
    at_no_load_variance: float
    at_maximum: float
    slope: NDArray[np.float64]
    per_slope: NDArray[np.float64]
    squares: NDArray[np.float64]
    variance: float


def _read(
    tests: Sequence[BarSpeedSet],
    speeds: Sequence[tuple[NDArray[np.float64], NDArray[np.float64]]],
) -> _Lines:
    at_maximum = SPEED_AT_MAXIMUM[tests[0].lift][0]
    usual = at_maximum + _FALL_M_S
    load = np.array([each.sum() for each, _ in speeds])
    speed = np.array([each.sum() for _, each in speeds])
    squares = np.array([each @ each for each, _ in speeds])
    product = np.array([loads @ of for loads, of in speeds])
    # Each day's slope is taken out of the normal equations; what is left tells the one intercept.
    told = float(sum(each.size for each, _ in speeds) - np.sum(load**2 / squares))
    asked = float(np.sum(speed - load * product / squares))
    variance = SPEED_SD_M_S**2
    for _ in range(2):
        precision = told / variance + 1 / _FALL_SD_M_S**2
        at_no_load = (asked / variance + usual / _FALL_SD_M_S**2) / precision
        slope = (at_no_load * load - product) / squares
        left = np.concatenate(
            [of - at_no_load + b * loads for (loads, of), b in zip(speeds, slope, strict=True)]
        )
        spare = max(left.size - len(tests) - 1, 0)
        variance = (float(left @ left) + _USUAL_SETS * SPEED_SD_M_S**2) / (spare + _USUAL_SETS)
    return _Lines(at_no_load, 1 / precision, at_maximum, slope, load / squares, squares, variance)


def _maxima(
    lines: _Lines,
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    fall = max(lines.at_no_load - lines.at_maximum, _LEAST_FALL_M_S)
    moved = 1 / fall - lines.per_slope / lines.slope
    own = lines.variance / (lines.slope**2 * lines.squares)
    return np.log(fall / lines.slope), own, np.sqrt(lines.at_no_load_variance) * moved
