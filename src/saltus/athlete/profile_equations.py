"""The published equations of the force-velocity profile of a vertical push-off.

Forces and slopes are per kg of body mass unless a mass is given: F0 in N/kg, v0 in m/s,
Pmax in W/kg, slope in N s/m/kg (negative). Everything is vectorised over its arguments.

References
----------
Samozino et al. 2008, J Biomech 41:2940-2945; 2010, J Theor Biol 264:11-18; 2012, Med Sci Sports
Exerc 44:313-322. The optimal slope's closed form is from memory and agrees with maximising
:func:`highest_jump_m` directly.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from saltus.quantities import STANDARD_GRAVITY

__all__ = [
    "force_velocity_line",
    "highest_jump_m",
    "intercept_force",
    "maximal_power",
    "mean_force",
    "mean_velocity",
    "optimal_slope",
]

Floats = NDArray[np.float64]


def mean_force(
    moved_kg: ArrayLike,
    height_m: ArrayLike,
    push_off_m: ArrayLike,
    gravity: float = STANDARD_GRAVITY,
) -> Floats:
    """Mean vertical force of the push, N: ``m g (h / hPO + 1)``.

    Parameters
    ----------
    moved_kg : array_like
        Body and load, kg.
    height_m : array_like
        Rise of the centre of mass after take-off, m.
    push_off_m : array_like
        Push-off distance, m.
    gravity : float
        m/s².

    Returns
    -------
    ndarray
        N; per kg of body mass where `moved_kg` is given per kg of body mass.
    """
    ratio = np.asarray(height_m, dtype=float) / np.asarray(push_off_m, dtype=float)
    return np.asarray(np.asarray(moved_kg, dtype=float) * gravity * (ratio + 1))


def mean_velocity(height_m: ArrayLike, gravity: float = STANDARD_GRAVITY) -> Floats:
    """Mean velocity of the push, m/s: half the take-off velocity, ``sqrt(g h / 2)``.

    `gravity` is in m/s².
    """
    return np.asarray(np.sqrt(gravity * np.asarray(height_m, dtype=float) / 2))


def force_velocity_line(velocity: ArrayLike, force: ArrayLike) -> tuple[Floats, Floats]:
    """Fit ``F = F0 + S v`` by least squares.

    Parameters
    ----------
    velocity, force : array_like, shape (..., n)
        Points along the last axis, at least two of them, m/s and N (or N/kg).

    Returns
    -------
    F0, slope : ndarray, shape (...)
        Intercept, N, and slope, N s/m (or both per kg); v0 is ``-F0 / slope``.
    """
    v = np.asarray(velocity, dtype=float)
    f = np.asarray(force, dtype=float)
    dv = v - v.mean(axis=-1, keepdims=True)
    slope = (dv * f).sum(axis=-1) / (dv**2).sum(axis=-1)
    return np.asarray(f.mean(axis=-1) - slope * v.mean(axis=-1)), np.asarray(slope)


def maximal_power(F0: ArrayLike, v0: ArrayLike) -> Floats:
    """Maximal power, W/kg (W from a force in N): ``F0 v0 / 4``."""
    return np.asarray(np.asarray(F0, dtype=float) * np.asarray(v0, dtype=float) / 4)


def intercept_force(Pmax: ArrayLike, slope: ArrayLike) -> Floats:
    """F0, N/kg, of a profile with that maximal power and slope: ``2 sqrt(-Pmax S)``."""
    return np.asarray(2 * np.sqrt(-np.asarray(Pmax, dtype=float) * np.asarray(slope, dtype=float)))


def highest_jump_m(
    F0: ArrayLike, slope: ArrayLike, push_off_m: ArrayLike, gravity: float = STANDARD_GRAVITY
) -> Floats:
    """Highest unloaded jump of a profile, m.

    Parameters
    ----------
    F0, slope : array_like
        N/kg and N s/m/kg.
    push_off_m : array_like
        m.
    gravity : float
        m/s².

    Returns
    -------
    ndarray
        ``v² / 2g`` with ``v = hPO (sqrt(S²/4 + (2/hPO) (F0 - g)) + S/2)``; 0 for a profile
        that cannot lift the body.
    """
    h, s = np.asarray(push_off_m, dtype=float), np.asarray(slope, dtype=float)
    under = s**2 / 4 + 2 / h * (np.asarray(F0, dtype=float) - gravity)
    velocity = h * (np.sqrt(np.maximum(under, 0)) + s / 2)
    return np.asarray(np.maximum(velocity, 0) ** 2 / (2 * gravity))


def optimal_slope(
    Pmax: ArrayLike, push_off_m: ArrayLike, gravity: float = STANDARD_GRAVITY
) -> Floats:
    """Slope with which a given maximal power jumps highest, N s/m/kg.

    Parameters
    ----------
    Pmax : array_like
        W/kg.
    push_off_m : array_like
        m.
    gravity : float
        m/s².

    Returns
    -------
    ndarray
        The closed form of Samozino et al. 2012 with the real (negative) cube root.
    """
    p, h, g = np.asarray(Pmax, dtype=float), np.asarray(push_off_m, dtype=float), gravity
    z = (
        -(g**6) * h**6
        - 18 * g**3 * h**5 * p**2
        - 54 * h**4 * p**4
        + 6 * np.sqrt(3) * np.sqrt(2 * g**3 * h**9 * p**6 + 27 * h**8 * p**8)
    )
    root = np.cbrt(z)
    return np.asarray(
        -(g**2) / (3 * p)
        - (-(g**4) * h**4 - 12 * g * h**3 * p**2) / (3 * h**2 * p * root)
        + root / (3 * h**2 * p)
    )
