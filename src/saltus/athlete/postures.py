"""Where on the leg's curve each strength test stands, and what the model reads there.

The leg is the two-segment leg of :mod:`saltus.athlete.pushoff`: at knee angle theta its
length is ``2 a sin(theta/2)`` and the moment arm of the ground force ``a cos(theta/2)``.
Everything here is closed form, vectorised, and free of simulation.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from saltus.quantities import STANDARD_GRAVITY

__all__ = [
    "SEGMENT_PER_STATURE",
    "bottom_force_n_kg",
    "bottom_force_rate_n_s_kg",
    "extension_speed_m_s",
    "isometric_pull_n",
    "parallel_squat_kg",
    "squat_push_per_m",
    "squat_ratio",
    "torque_capacity",
]

SEGMENT_PER_STATURE = 0.28
"""Half the outstretched leg, foot pointed, as a share of stature (Alexander's two-segment
jumper scaled to a person; segment proportions from memory: Drillis & Contini 1966)."""

PARALLEL_SQUAT_ANGLE_RAD = np.radians(65.0)
"""Knee angle at the sticking region of a parallel squat: about 115° of flexion (common
practice; range of 100° to 125° for thighs parallel to the floor)."""

SQUAT_BAR_SPEED_M_S = 0.3
"""Mean velocity at the one-repetition maximum, full squat 0.32 ± 0.03 m/s
(Sánchez-Medina et al. 2017, Sports Med Int Open 1:E80-E88)."""

NOT_LIFTED = 0.12
"""Share of the body that a squat does not lift: shanks and feet (segment tables)."""

PULL_ANGLE_RAD = np.radians(130.0)
"""Knee angle of the isometric mid-thigh pull (common practice: 125° to 145°)."""


def torque_capacity(speed_ratio: ArrayLike) -> NDArray[np.float64]:
    """Share of the isometric torque at knee speed w, given `speed_ratio`, w/w0 >= 0.

    ``max(1 - u, 0) / (1 + 0.3 u)``: Hill's hyperbola, as flat as a multi-joint push.
    """
    u = np.asarray(speed_ratio, dtype=float)
    return np.asarray(np.maximum(1 - u, 0.0) / (1 + 0.3 * u))


def _bottom_arm(segment_m: ArrayLike, distance_m: ArrayLike) -> NDArray[np.float64]:
    a = np.asarray(segment_m, dtype=float)
    length = 2 * a - np.asarray(distance_m, dtype=float)
    return np.asarray(a * np.sqrt(np.maximum(1 - (length / (2 * a)) ** 2, 1e-12)))


def bottom_force_n_kg(
    torque_nm_kg: ArrayLike, segment_m: ArrayLike, distance_m: ArrayLike
) -> NDArray[np.float64]:
    """Isometric force at the bottom of the push, N/kg: how max strength is told."""
    return np.asarray(np.asarray(torque_nm_kg) / _bottom_arm(segment_m, distance_m))


def bottom_force_rate_n_s_kg(
    rate_nm_s_kg: ArrayLike, segment_m: ArrayLike, distance_m: ArrayLike
) -> NDArray[np.float64]:
    """Initial rate of force development at the bottom of the push, N/s/kg."""
    return np.asarray(np.asarray(rate_nm_s_kg) / _bottom_arm(segment_m, distance_m))


def extension_speed_m_s(
    speed_rad_s: ArrayLike, segment_m: ArrayLike, distance_m: ArrayLike
) -> NDArray[np.float64]:
    """Unloaded extension speed of the leg at mid-push, m/s: ``w0 r`` half-way up."""
    half = np.asarray(distance_m, dtype=float) / 2
    return np.asarray(np.asarray(speed_rad_s) * _bottom_arm(segment_m, half))


def parallel_squat_kg(
    torque_nm_kg: ArrayLike, speed_rad_s: ArrayLike, segment_m: ArrayLike, mass_kg: ArrayLike
) -> NDArray[np.float64]:
    """Heaviest load on the bar that creeps through a parallel squat, kg.

    The push at full activation and bar speed :data:`SQUAT_BAR_SPEED_M_S` carries the bar
    and :data:`NOT_LIFTED` less than the whole body. Never below 1 kg.
    """
    ratio = squat_ratio(torque_nm_kg, squat_push_per_m(speed_rad_s, segment_m))
    return np.asarray(np.maximum(np.asarray(mass_kg, dtype=float) * ratio, 1.0))


def squat_push_per_m(speed_rad_s: ArrayLike, segment_m: ArrayLike) -> NDArray[np.float64]:
    """Push on the ground over the isometric torque where the squat sticks, 1/m."""
    arm = np.asarray(segment_m, dtype=float) * np.cos(PARALLEL_SQUAT_ANGLE_RAD / 2)
    ratio = SQUAT_BAR_SPEED_M_S / (arm * np.asarray(speed_rad_s, dtype=float))
    return np.asarray(torque_capacity(ratio) / arm)


def squat_ratio(torque_nm_kg: ArrayLike, push_per_m: ArrayLike) -> NDArray[np.float64]:
    """Load on the bar over body mass, from torque and :func:`squat_push_per_m`; may be negative."""
    force_n_kg = np.asarray(torque_nm_kg) * np.asarray(push_per_m)
    return np.asarray(force_n_kg / STANDARD_GRAVITY - (1 - NOT_LIFTED))


def isometric_pull_n(
    torque_nm_kg: ArrayLike,
    rate_nm_s_kg: ArrayLike,
    segment_m: ArrayLike,
    mass_kg: ArrayLike,
    *,
    efficiency: float,
    after_s: ArrayLike = np.inf,
) -> NDArray[np.float64]:
    """Vertical force of an isometric pull so long after its onset, N.

    Activation starts where it carries the body and drives towards full:
    ``A = 1 - (1 - A0) exp(-(R/T0) t)``; an infinite time gives the peak. `efficiency` is the
    share of the leg's force that a pull brings to the ground.
    """
    mass = np.asarray(mass_kg, dtype=float)
    arm = np.asarray(segment_m, dtype=float) * np.cos(PULL_ANGLE_RAD / 2)
    peak = efficiency * mass * np.asarray(torque_nm_kg) / arm
    rested = np.minimum(mass * STANDARD_GRAVITY / peak, 0.95)
    decay = np.exp(-np.asarray(rate_nm_s_kg) / np.asarray(torque_nm_kg) * np.asarray(after_s))
    return np.asarray(peak * (1 - (1 - rested) * decay))
