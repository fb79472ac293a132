"""One-repetition maxima from the speed of the bar.

The faster a load moves, the further it is from the maximum. With two loads or more the
athlete's own line is drawn and carried on to the speed at which a maximum moves; with a
single load a general equation stands in, with its wide error.
"""

import math
from collections.abc import Mapping

import numpy as np
from numpy.typing import ArrayLike, NDArray

from saltus.athlete.observations import BarSpeedSet, Lift
from saltus.athlete.strength import MAXIMUM_CV
from saltus.errors import TestError

__all__ = [
    "SPEED_AT_MAXIMUM",
    "SPEED_SD_M_S",
    "checked_speeds",
    "maximum_from_bar_speed",
    "percent_of_maximum",
    "percent_of_maximum_propulsive",
]

SPEED_AT_MAXIMUM: Mapping[Lift, tuple[float, float]] = {
    Lift.BACK_SQUAT: (0.31, 0.05),
    Lift.FRONT_SQUAT: (0.31, 0.06),
    Lift.LEG_PRESS: (0.21, 0.06),
    Lift.DEADLIFT: (0.16, 0.05),
    Lift.TRAP_BAR_DEADLIFT: (0.22, 0.06),
}
"""Mean velocity at the maximum and its spread between people, m/s.

Full squat 0.32 ± 0.03 in strength-trained men (Sánchez-Medina et al. 2017, Sports Med Int Open
1:E80-E88, doi 10.1055/s-0043-102933) and 0.29 ± 0.05, half squat 0.33 ± 0.05, leg press
0.21 ± 0.06 (Conceição et al. 2016, J Sports Sci); front squat and deadlifts common practice.
Lifts that are thrown rather than ground out have no such speed."""

SPEED_SD_M_S = 0.03
"""Of the fastest repetition at one load, from set to set (a judgement; the fit to one
person's points is usually closer)."""

GENERAL_SPEED_SD_M_S = 0.08
"""How far people differ in speed at the same share of the maximum: 0.06 in 80 trained men
(Sánchez-Medina et al. 2017), 9 to 25 % in the untrained (IJERPH 2022,
doi 10.3390/ijerph19116756)."""

FURTHEST_SD_LOG = 0.30
"""A maximum less certain than this is not given."""

_SLOWEST_M_S, _FASTEST_M_S = 0.1, 1.5


def percent_of_maximum(mean_velocity_m_s: ArrayLike) -> NDArray[np.float64]:
    """Share of the full-squat maximum at a mean velocity, %.

    Notes
    -----
    ``-12.87 v² - 46.31 v + 116.3`` (Sánchez-Medina et al. 2017; coefficients from memory,
    checked at the maximum: 100 % at 0.32 m/s).
    """
    v = np.asarray(mean_velocity_m_s, dtype=float)
    return np.asarray(-12.87 * v**2 - 46.31 * v + 116.3)


def percent_of_maximum_propulsive(mean_propulsive_velocity_m_s: ArrayLike) -> NDArray[np.float64]:
    """Share of the full-squat maximum at a mean propulsive velocity, %.

    Notes
    -----
    ``-5.961 v² - 50.71 v + 117.0`` (Sánchez-Medina et al. 2017; coefficients from memory,
    checked at the maximum: 100 % at 0.32 m/s).
    """
    v = np.asarray(mean_propulsive_velocity_m_s, dtype=float)
    return np.asarray(-5.961 * v**2 - 50.71 * v + 117.0)


def maximum_from_bar_speed(test: BarSpeedSet) -> tuple[float, float]:
    """Maximum from bar speeds, and its error.

    Parameters
    ----------
    test : BarSpeedSet
        Mean velocity of the fastest repetition at each load.

    Returns
    -------
    one_rm_kg : float
        kg on the bar.
    sd_log : float
        From the day (:data:`saltus.athlete.strength.MAXIMUM_CV`), the speeds' own scatter,
        how far the line is carried on, and the spread of the speed at the maximum.

    Raises
    ------
    TestError
        If the lift has no speed at its maximum, the speeds do not fall with the load, they are
        too close to tell, or a single load was given for a lift without a general equation.

    Notes
    -----
    Speed is regressed on load and the line is read backwards at the speed of a maximum
    (classical calibration); the error by the delta method.
    """
    loads, speeds = checked_speeds(test)
    if np.unique(loads).size == 1:
        one_rm, sd = _general(test, float(loads[0]), float(speeds.mean()))
    else:
        one_rm, sd = _own_line(test, loads, speeds)
    sd_log = math.hypot(sd, MAXIMUM_CV)
    if sd_log > FURTHEST_SD_LOG:
        raise TestError(
            f"These bar speeds tell the maximum of the {_words(test.lift)} no better than within "
            f"{100 * sd_log:.0f} %: add a heavier load, moved at 0.5 m/s or slower."
        )
    return one_rm, sd_log


def checked_speeds(test: BarSpeedSet) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Loads (kg) and mean velocities (m/s) of a test that can be right.

    Parameters
    ----------
    test : BarSpeedSet
        Of any lift.

    Returns
    -------
    loads_kg, speeds_m_s : ndarray, shape (n,)

    Raises
    ------
    TestError
        If loads and speeds do not match, a load is not positive, a speed is outside
        0.1 to 1.5 m/s, or the lift has no speed at its maximum.
    """
    loads = np.asarray(test.loads_kg, dtype=float)
    speeds = np.asarray(test.speeds_m_s, dtype=float)
    if loads.size == 0 or loads.size != speeds.size:
        raise TestError(
            f"{loads.size} loads but {speeds.size} bar speeds: give one speed for each load."
        )
    if test.lift not in SPEED_AT_MAXIMUM:
        raise TestError(
            f"The bar's speed does not tell the maximum of the {_words(test.lift)}: give a set of "
            "repetitions or a maximum instead."
        )
    if not np.all((loads > 0) & np.isfinite(loads)):
        raise TestError(f"Loads must be positive, got {list(test.loads_kg)} kg.")
    if not np.all((speeds >= _SLOWEST_M_S) & (speeds <= _FASTEST_M_S)):
        raise TestError(
            f"Mean bar speeds of {list(test.speeds_m_s)} m/s cannot all be right: give them in "
            f"m/s, between {_SLOWEST_M_S:g} and {_FASTEST_M_S:g}."
        )
    return loads, speeds


def _words(lift: Lift) -> str:
    return lift.value.replace("_", " ")


def _own_line(
    test: BarSpeedSet, loads: NDArray[np.float64], speeds: NDArray[np.float64]
) -> tuple[float, float]:
    """Maximum (kg) from the athlete's own line, and the sd of its log."""
    n = loads.size
    centred = loads - loads.mean()
    sxx = float(centred @ centred)
    slope = float(centred @ speeds) / sxx
    if slope >= 0:
        raise TestError(
            f"The bar was no slower under the heavier loads of the {_words(test.lift)}: check that "
            "loads and speeds stand in the same order and that every lift was as fast as possible."
        )
    residual = speeds - speeds.mean() - slope * centred
    spare = n - 2
    # With few points the residual scatter is a poor guide, so the usual scatter counts as two.
    variance = (float(residual @ residual) + 2 * SPEED_SD_M_S**2) / (spare + 2)
    at_maximum, at_maximum_sd = SPEED_AT_MAXIMUM[test.lift]
    one_rm = float(loads.mean()) + (at_maximum - float(speeds.mean())) / slope
    if one_rm <= 0:
        raise TestError(
            f"These bar speeds of the {_words(test.lift)} point to no maximum at all: check the "
            "loads and that the speeds are mean velocities of the lift."
        )
    line = variance * (1 / n + (one_rm - float(loads.mean())) ** 2 / sxx)
    sd_kg = math.sqrt(line + at_maximum_sd**2) / -slope
    return one_rm, sd_kg / one_rm


def _general(test: BarSpeedSet, load_kg: float, speed_m_s: float) -> tuple[float, float]:
    """Maximum (kg) from one load by the general equation, and the sd of its log."""
    if test.lift not in {Lift.BACK_SQUAT, Lift.FRONT_SQUAT}:
        raise TestError(
            f"One load does not tell the maximum of the {_words(test.lift)}: give the bar's speed "
            "at a second load, at least a fifth heavier."
        )
    percent = float(percent_of_maximum(speed_m_s))
    per_speed = abs(-2 * 12.87 * speed_m_s - 46.31)
    return 100 * load_kg / percent, per_speed * GENERAL_SPEED_SD_M_S / percent
