"""Equations that turn what was read off a jump into a height, and several attempts into one.

Height means the rise of the centre of mass after take-off throughout.
"""

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from saltus.errors import TestError
from saltus.quantities import STANDARD_GRAVITY

__all__ = [
    "flight_time_from_height",
    "flight_time_with_lower_landing",
    "frame_error_m",
    "height_from_flight_time",
    "height_from_velocity",
    "kept_attempts",
    "reach_height",
    "summary_of_attempts",
    "velocity_from_height",
]

LONGEST_FLIGHT_S = 1.2
"""s; a flight this long would be a jump of 1.77 m: a slip of the pen or of the clock."""

_MISSED_BELOW = 0.85
"""Attempts below this share of the best are missed attempts: five times the usual 3 % between
attempts (CV 2.4 to 4.6 % within a session: Markovic et al. 2004, JSCR 18:551-555)."""


def height_from_flight_time(flight_s: float, gravity: float = STANDARD_GRAVITY) -> float:
    """Height from flight time: ``g t² / 8``, posture alike at take-off and landing.

    Parameters
    ----------
    flight_s : float
        Time off the ground, s.
    gravity : float
        m/s².

    Returns
    -------
    float
        Height, m.

    Raises
    ------
    TestError
        If nobody flies for so long, or the time is not positive.

    Notes
    -----
    Linthorne 2001, Am J Phys 69:1198-1204, doi 10.1119/1.1397460.
    """
    if not 0 < flight_s <= LONGEST_FLIGHT_S:
        raise TestError(
            f"A flight time of {flight_s:g} s is impossible: give it in seconds, "
            f"more than 0 and at most {LONGEST_FLIGHT_S:g}."
        )
    return gravity * flight_s**2 / 8


def flight_time_from_height(height_m: float, gravity: float = STANDARD_GRAVITY) -> float:
    """Flight time of a jump of `height_m`, s: ``sqrt(8 h / g)``, with `gravity` in m/s²."""
    return math.sqrt(8 * height_m / gravity)


def height_from_velocity(velocity_m_s: float, gravity: float = STANDARD_GRAVITY) -> float:
    """Height from take-off velocity, m: ``v² / 2g`` with `gravity` in m/s² (Linthorne 2001)."""
    return velocity_m_s**2 / (2 * gravity)


def velocity_from_height(height_m: float, gravity: float = STANDARD_GRAVITY) -> float:
    """Take-off velocity of a jump of `height_m`, m/s: ``sqrt(2 g h)``, with `gravity` in m/s²."""
    return math.sqrt(2 * gravity * height_m)


def flight_time_with_lower_landing(
    velocity_m_s: float, drop_m: float, gravity: float = STANDARD_GRAVITY
) -> float:
    """Flight time when the body lands `drop_m` lower than it took off, s.

    Bent knees or pulled-up feet at landing lengthen the flight: about half of the drop in
    posture appears as height that was never jumped. `gravity` is in m/s².
    """
    fall = math.sqrt(velocity_m_s**2 + 2 * gravity * drop_m)
    return (velocity_m_s + fall) / gravity


def frame_error_m(
    height_m: float, frame_rate_hz: float, gravity: float = STANDARD_GRAVITY
) -> float:
    """Error in height from one frame too many in the flight, m.

    Parameters
    ----------
    height_m : float
        Height of the jump, m.
    frame_rate_hz : float
        Of the film, Hz.
    gravity : float
        m/s².

    Returns
    -------
    float
        ``g ((t + 1/rate)² - t²) / 8``.

    Raises
    ------
    TestError
        If the rate is not positive.
    """
    if not frame_rate_hz > 0:
        raise TestError(
            f"A film with {frame_rate_hz:g} frames a second is impossible: give the rate at "
            "which it was taken, such as 240."
        )
    flight, frame = flight_time_from_height(height_m, gravity), 1 / frame_rate_hz
    return gravity * ((flight + frame) ** 2 - flight**2) / 8


def reach_height(touched_m: float, standing_reach_m: float) -> float:
    """Jump-and-reach height, m: height touched less the flat-footed standing reach.

    Raises
    ------
    TestError
        If the height touched is not above the standing reach.
    """
    if not touched_m > standing_reach_m:
        raise TestError(
            f"A touch at {touched_m:g} m is not above the standing reach of "
            f"{standing_reach_m:g} m: check both, and that both are in the same unit."
        )
    return touched_m - standing_reach_m


def summary_of_attempts(attempts: Sequence[float]) -> tuple[float, int]:
    """One figure for several attempts at the same test, and how many it rests on.

    Parameters
    ----------
    attempts : sequence of float
        Heights or distances, m; all positive.

    Returns
    -------
    float
        Their mean, missed attempts (more than 15 % below the best) left out.
    int
        Number of attempts averaged.

    Raises
    ------
    TestError
        If there is none, or one is not a positive number.

    Notes
    -----
    The mean, not the best: the best of five beats the best of two without anybody having
    become better, while the error of a mean is known and shrinks with their number. The mean
    also shows changes better than the best does (Claudino et al. 2017, J Sci Med Sport
    20:397-402; from memory).
    """
    if not attempts:
        raise TestError("A test without an attempt says nothing: give at least one figure.")
    values = np.asarray(attempts, dtype=float)
    if not np.all(np.isfinite(values) & (values > 0)):
        raise TestError(f"An attempt must be a positive number, got {list(attempts)}.")
    kept = kept_attempts(values)
    return float(kept.mean()), int(kept.size)


def kept_attempts(attempts: ArrayLike) -> NDArray[np.float64]:
    """Attempts that were not missed, in their unit: none is more than 15 % below the best.

    Parameters
    ----------
    attempts : array_like, shape (n,)
        Results, the higher the better; at least one.
    """
    values = np.asarray(attempts, dtype=float)
    return np.asarray(values[values >= _MISSED_BELOW * values.max()])
