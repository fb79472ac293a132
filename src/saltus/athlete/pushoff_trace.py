"""The ground force of a simulated jump over time, from quiet standing to quiet standing."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.integrate import solve_ivp

from saltus.athlete import pushoff_kernels as kernels
from saltus.athlete.pushoff_terms import ARGUMENTS, Start, check, why_infeasible
from saltus.errors import ModelError
from saltus.quantities import STANDARD_GRAVITY

__all__ = ["Trace", "trace"]

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Trace:
    """One jump over time, with the truth known.

    Parameters
    ----------
    rate_hz : float
        Sampling rate, Hz.
    time_s : ndarray, shape (n,)
        Time of each sample, s, from 0.
    force_n : ndarray, shape (n,)
        Vertical ground force of body and load, N.
    velocity_m_s, displacement_m : ndarray, shape (n,)
        Of the centre of mass; the displacement counts from standing with flat feet.
    weight_n : float
        Of body and load, N.
    start_s : float
        Letting go (countermovement), the start of the push (squat) or touch-down (drop), s.
    turn_s : float
        Start of the way up, s.
    take_off_s, landing_s : float
        s.
    take_off_velocity_m_s : float
        m/s.
    height_m : float
        Rise of the centre of mass after take-off, m.
    """

    rate_hz: float
    time_s: Floats
    force_n: Floats
    velocity_m_s: Floats
    displacement_m: Floats
    weight_n: float
    start_s: float
    turn_s: float
    take_off_s: float
    landing_s: float
    take_off_velocity_m_s: float
    height_m: float


_TRACE_STEP: Final = 0.06
"""Of the kernels: fine, so that a force sampled anywhere is good to six digits."""

_SINK_S: Final = 1.2
"""Time taken to bend into the squat that is held before a squat jump, s."""
_HOLD_S: Final = 1.0
"""Time for which that squat is held, s."""
_GRASP_S: Final = 0.05
"""Time in which the legs take hold at landing, s: a measured landing peaks about then."""
_LANDING_RATE: Final = 7.0
"""Rate of the critically damped settling after landing, 1/s: at rest within a second."""


def trace(
    start: Start,
    *,
    mass_kg: float,
    segment_m: float,
    torque_nm: float,
    speed_rad_s: float,
    rfd_nm_s: float,
    distance_m: float,
    stretch_gain: float = 0.0,
    load_kg: float = 0.0,
    drop_m: float = 0.0,
    rate_hz: float = 1000.0,
    quiet_before_s: float = 1.5,
    after_s: float = 2.0,
    landing_bend_m: float = 0.0,
) -> Trace:
    """Ground force of one jump from quiet standing to quiet standing.

    Parameters
    ----------
    start : Start
        How the jump is begun. A squat jump is preceded by bending slowly into the squat and
        holding it for a second; a drop jump begins with nobody on the plate.
    mass_kg, segment_m, torque_nm, speed_rad_s, rfd_nm_s, distance_m, stretch_gain, load_kg, drop_m
        As in :func:`saltus.athlete.pushoff.simulate`.
    rate_hz : float
        Sampling rate, Hz.
    quiet_before_s, after_s : float
        Standing still at first, and the time recorded from landing on, s.
    landing_bend_m : float
        How much lower than at take-off the centre of mass is at landing, m: what bent knees
        do to a flight time.

    Returns
    -------
    Trace

    Raises
    ------
    ModelError
        If the jump is not feasible, or a parameter is impossible.

    Notes
    -----
    The landing is no part of the model. It is a critically damped settling to the standing
    height, F = M s (g - k y - c v) with k = 49/s², c = 14/s, taken up smoothly (s from 0 to
    1) within 50 ms, and never pulling. Being a force on the same body, it gives back
    exactly the momentum that the body brought.
    """
    for name, x in {
        "rate_hz": rate_hz,
        "quiet_before_s": quiet_before_s,
        "after_s": after_s,
    }.items():
        if not 0 < x < math.inf:
            raise ModelError(f"{name} must be greater than 0, not {x:g}.")
    if not 0 <= landing_bend_m < distance_m:
        raise ModelError("landing_bend_m must be at least 0 and less than the push-off distance.")
    scalars = (mass_kg, segment_m, torque_nm, speed_rad_s, rfd_nm_s, distance_m, stretch_gain,
               load_kg, drop_m)  # fmt: skip
    check({k: np.array([x], dtype=float) for k, x in zip(ARGUMENTS, scalars, strict=True)})
    leg, M = 2 * segment_m, mass_kg + load_kg
    push_path: Callable[..., tuple[bool, Floats, Floats]] = kernels.push_path
    feasible, out, path = push_path(
        start.code, float(mass_kg), leg, *(float(x) for x in scalars[2:]), _TRACE_STEP
    )
    if not feasible:
        raise ModelError(
            why_infeasible(
                start, mass_kg=mass_kg, segment_m=segment_m, torque_nm=torque_nm,
                distance_m=distance_m, load_kg=load_kg, drop_m=drop_m,
            )
        )  # fmt: skip
    g = STANDARD_GRAVITY
    standing = leg - kernels.STANDING * distance_m
    v_off = float(out[kernels.VELOCITY])
    v_land = -math.sqrt(v_off**2 + 2 * g * landing_bend_m)
    lead = {
        Start.COUNTERMOVEMENT: 0.0,
        Start.SQUAT: _SINK_S + _HOLD_S,
        Start.DROP: math.sqrt(2 * drop_m / g),
    }[start]
    start_s = quiet_before_s + lead
    turn_s = start_s + float(out[kernels.TIME_TO_TAKE_OFF] - out[kernels.PUSH_OFF])
    take_off_s = start_s + float(out[kernels.TIME_TO_TAKE_OFF])
    landing_s = take_off_s + (v_off - v_land) / g
    time = np.arange(math.floor((landing_s + after_s) * rate_hz) + 1) / rate_hz

    def during(begin: float, end: float) -> NDArray[np.bool_]:
        return np.asarray((time >= begin) & (time < end))

    y, v, force = np.zeros_like(time), np.zeros_like(time), np.full_like(time, M * g)
    if start is Start.DROP:
        at = time < start_s
        fall = np.maximum(time[at] - quiet_before_s, 0.0)
        touch = (kernels.STANDING - kernels.TOUCH_DOWN) * distance_m
        y[at], v[at], force[at] = touch + drop_m - g * fall**2 / 2, -g * fall, 0.0
    if start is Start.SQUAT:
        # The straightest way from rest to rest: a polynomial of the fifth degree.
        at = during(quiet_before_s, start_s)
        s = np.minimum((time[at] - quiet_before_s) / _SINK_S, 1.0)
        deep = leg - distance_m - standing
        y[at] = deep * s**3 * (10 - 15 * s + 6 * s**2)
        v[at] = deep * 30 * s**2 * (1 - s) ** 2 / _SINK_S
        force[at] += M * deep * 60 * s * (1 - s) * (1 - 2 * s) / _SINK_S**2
    at = during(start_s, take_off_s)
    state = kernels.sample_path(path, time[at] - start_s, M, leg, torque_nm, speed_rad_s)
    y[at], v[at], force[at] = state[:, 0] - standing, state[:, 1], state[:, 2]
    end = kernels.sample_path(
        path, np.array([take_off_s - start_s]), M, leg, torque_nm, speed_rad_s
    )
    y_off = float(end[0, 0]) - standing
    at = during(take_off_s, landing_s)
    t = time[at] - take_off_s
    y[at], v[at], force[at] = y_off + v_off * t - g * t**2 / 2, v_off - g * t, 0.0
    at = time >= landing_s
    y[at], v[at], force[at] = _land(time[at] - landing_s, y_off - landing_bend_m, v_land, M)
    return Trace(
        rate_hz=rate_hz,
        time_s=time,
        force_n=force,
        velocity_m_s=v,
        displacement_m=y,
        weight_n=M * g,
        start_s=start_s,
        turn_s=turn_s,
        take_off_s=take_off_s,
        landing_s=landing_s,
        take_off_velocity_m_s=v_off,
        height_m=float(out[kernels.HEIGHT]),
    )


def _land(t: Floats, y0: float, v0: float, mass: float) -> tuple[Floats, Floats, Floats]:
    """Displacement, velocity and force at times `t` after landing; see :func:`trace`."""
    k, c, g = _LANDING_RATE**2, 2 * _LANDING_RATE, STANDARD_GRAVITY

    def force(t: ArrayLike, y: Floats, v: Floats) -> Floats:
        s = np.clip(np.asarray(t) / _GRASP_S, 0, 1)
        return np.asarray(s**2 * (3 - 2 * s) * np.maximum(g - k * y - c * v, 0.0))

    found = solve_ivp(
        lambda t, z: [z[1], float(force(t, z[0], z[1])) - g],
        (0.0, float(t[-1]) if t.size else 0.0),
        [y0, v0],
        method="DOP853",
        t_eval=t,
        rtol=1e-9,
        atol=1e-12,
        max_step=0.02,
    )
    y, v = found.y
    return y, v, mass * force(t, y, v)
