"""The push-off model: what an athlete of given qualities jumps.

A body on a leg of two equal segments, the classic two-segment jumper (Alexander 1990,
Phil Trans R Soc B 329:3-10; 1995, Phil Trans R Soc B 347:235-248), driven by one torque
at the knee. With the length of the leg L, the angle of the knee theta, up positive::

    L     = 2 a sin(theta/2)                 a: half of the outstretched leg, foot pointed
    r(L)  = dL/dtheta = a sqrt(1 - (L/2a)^2)
    dL/dt = v
    dv/dt = F/M - g                          M = body mass + external load
    F     = A T0 phi(w) pot / r              w = v/r
    phi(w)= max(1 - w/w0, 0) / (1 + 0.3 w/w0)           pushing
    phi(w)= 1 + 0.4 u/(u + 0.08), u = -w/w0             yielding
    dA/dt = (R/T0) (1 - A)                   driving
    dA/dt = -(A - 0.3 A_stand)/0.06 s        letting go
    pot   = 1, and after the turning point 1 + p exp(-(t - t_turn)/0.2 s); 1 in a squat jump

The feet leave when F reaches 0 (w = w0), and the rise after that is v^2/2g.

- A **squat jump** starts at L = 2a - d at rest, with A = M g r/T0, driving from the start.
- A **countermovement jump** starts from standing, L = 2a - 0.3 d with A_stand = M g r/T0,
  and lets go for just so long that, driving from then on, the lowest point is L = 2a - d.
- A **drop jump** touches down at L = 2a - 0.1 d with v = -sqrt(2 g H) and A = 0.4,
  driving from touch-down; its depth and contact time are what comes of it.

The kernels are imported where they are needed: their compiler takes a while to load, and
much that knows of pushes never makes one.
"""

import os
from collections.abc import Callable, Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import cache
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from saltus.athlete.pushoff_terms import ARGUMENTS, Start, check, why_infeasible
from saltus.errors import ModelError

__all__ = [
    "Pushes",
    "Start",
    "simulate",
    "simulate_later",
    "why_infeasible",
]

Floats = NDArray[np.float64]

_CHUNK: Final = 2000
"""Pushes that are worth a thread of their own."""


@dataclass(frozen=True, slots=True, eq=False)
class Pushes:
    """What came of the pushes: arrays of shape (n,), NaN where there was no take-off.

    Parameters
    ----------
    height_m : ndarray
        Rise of the centre of mass after take-off, m.
    take_off_velocity_m_s : ndarray
        m/s.
    push_off_s : ndarray
        Upward part of the push, s.
    time_to_take_off_s : ndarray
        From the start of the movement (of contact, in a drop jump) to take-off, s.
    contact_s : ndarray
        Time on the ground in a drop jump, s; NaN in the others.
    depth_m : ndarray
        Countermovement and squat: the push-off distance, from the lowest point to the
        outstretched leg, m. Drop jump: from touch-down to the lowest point, m.
    peak_power_w : ndarray
        Largest product of ground force and velocity on the way up, W.
    mean_force_n : ndarray
        Mean over time of the ground force on the way up, N.
    peak_force_n : ndarray
        Largest ground force from the start of the movement to take-off, N.
    feasible : ndarray of bool
        False where the load cannot be stood up with, or the feet never leave.
    """

    height_m: Floats
    take_off_velocity_m_s: Floats
    push_off_s: Floats
    time_to_take_off_s: Floats
    contact_s: Floats
    depth_m: Floats
    peak_power_w: Floats
    mean_force_n: Floats
    peak_force_n: Floats
    feasible: NDArray[np.bool_]


@cache
def _pool() -> ThreadPoolExecutor:
    return ThreadPoolExecutor(max_workers=_threads(), thread_name_prefix="pushes")


def _threads() -> int:
    return os.cpu_count() or 1


if hasattr(os, "register_at_fork"):  # a fork keeps the pool, but none of its threads
    os.register_at_fork(after_in_child=_pool.cache_clear)


def _codes(start: Start | ArrayLike) -> NDArray[np.int64]:
    if isinstance(start, Start):
        return np.array([start.code])
    codes = np.atleast_1d(np.asarray(start))
    if codes.dtype.kind not in "iu" or np.any((codes < 0) | (codes >= len(Start))):
        raise ModelError("A start is a Start, or an array of the codes of several.")
    return codes.astype(np.int64)


def _broadcast(
    start: Start | ArrayLike, values: Mapping[str, ArrayLike]
) -> tuple[NDArray[np.int64], dict[str, Floats]]:
    """Every argument as a contiguous array of one common shape (n,), checked."""
    codes = _codes(start)
    arrays = {name: np.atleast_1d(np.asarray(x, dtype=float)) for name, x in values.items()}
    shape = np.broadcast_shapes(codes.shape, *(x.shape for x in arrays.values()))
    if len(shape) != 1:
        raise ModelError(f"Pushes come in a row: shape (n,), not {shape}.")
    scalar = isinstance(start, Start) and all(np.ndim(x) == 0 for x in values.values())
    check(arrays, nan_passes=not scalar)
    return (
        np.ascontiguousarray(np.broadcast_to(codes, shape)),
        {name: np.ascontiguousarray(np.broadcast_to(x, shape)) for name, x in arrays.items()},
    )


def simulate(
    start: Start | ArrayLike,
    *,
    mass_kg: ArrayLike,
    segment_m: ArrayLike,
    torque_nm: ArrayLike,
    speed_rad_s: ArrayLike,
    rfd_nm_s: ArrayLike,
    distance_m: ArrayLike,
    stretch_gain: ArrayLike = 0.0,
    load_kg: ArrayLike = 0.0,
    drop_m: ArrayLike = 0.0,
) -> Pushes:
    """Simulate one push or many; the arguments are broadcast together to shape (n,).

    Parameters
    ----------
    start : Start or array_like of int
        How each jump is begun; an array holds the codes (:attr:`Start.code`).
    mass_kg : array_like
        Body mass, kg.
    segment_m : array_like
        Half of the outstretched leg, foot pointed, m (about 0.28 of stature).
    torque_nm : array_like
        Isometric knee torque T0 at full activation, N m.
    speed_rad_s : array_like
        Knee speed w0 at which no torque is left, rad/s.
    rfd_nm_s : array_like
        Rate R at which torque develops from rest, N m/s.
    distance_m : array_like
        Push-off distance d, m.
    stretch_gain : array_like
        Share p that the stretch adds to the force at the turning point.
    load_kg : array_like
        External load, kg.
    drop_m : array_like
        Fall before touch-down in a drop jump, m; ignored in the others.

    Returns
    -------
    Pushes
        Arrays of shape (n,). A load that cannot be stood up with, and whatever never
        leaves the ground, is not feasible, and its figures are NaN; so are those of a
        push with a NaN in one of its arrays.

    Raises
    ------
    ModelError
        If a mass, length, torque, speed, rate or distance is not positive, or a gain,
        load or drop is negative, or a single push is asked for with a NaN.

    Notes
    -----
    The height is within a micrometre of a solution to twelve digits for ordinary athletes,
    within 0.03 mm for any, and smooth in every parameter, so that finite differences are
    clean. Many pushes are shared out among threads.
    """
    return simulate_later(
        start,
        {
            "mass_kg": mass_kg,
            "segment_m": segment_m,
            "torque_nm": torque_nm,
            "speed_rad_s": speed_rad_s,
            "rfd_nm_s": rfd_nm_s,
            "distance_m": distance_m,
            "stretch_gain": stretch_gain,
            "load_kg": load_kg,
            "drop_m": drop_m,
        },
    )()


def simulate_later(
    start: Start | ArrayLike, figures: Mapping[str, ArrayLike]
) -> Callable[[], Pushes]:
    """Begin what :func:`simulate` does, and go on meanwhile.

    Parameters
    ----------
    start : Start or array_like of int
        As there.
    figures : mapping of str to array_like
        Everything else, by the names that it has there.

    Returns
    -------
    callable
        Waits for the threads, and gives the pushes.

    Raises
    ------
    ModelError
        As there, at once.
    """
    from saltus.athlete import pushoff_kernels as kernels

    codes, x = _broadcast(start, figures)
    n = codes.size
    out = np.empty((n, kernels.N_RESULTS))
    feasible = np.zeros(n, dtype=np.bool_)
    push_many: Callable[..., None] = kernels.push_many
    mass, segment, *others = (x[name] for name in ARGUMENTS)
    columns = (codes, mass, 2 * segment, *others)

    def run(part: slice) -> None:
        push_many(*(c[part] for c in columns), out[part], feasible[part])

    size = max(_CHUNK, -(-n // (2 * _threads())))
    parts = [slice(i, i + size) for i in range(0, n, size)]
    if len(parts) == 1:  # not worth a thread
        run(parts[0])
        running = []
    else:
        running = [_pool().submit(run, part) for part in parts]

    def done() -> Pushes:
        for part in running:
            part.result()
        return _pushes(codes, out, feasible)

    return done


def _pushes(codes: NDArray[np.int64], out: Floats, feasible: NDArray[np.bool_]) -> Pushes:
    from saltus.athlete import pushoff_kernels as kernels

    return Pushes(
        height_m=out[:, kernels.HEIGHT],
        take_off_velocity_m_s=out[:, kernels.VELOCITY],
        push_off_s=out[:, kernels.PUSH_OFF],
        time_to_take_off_s=out[:, kernels.TIME_TO_TAKE_OFF],
        contact_s=np.where(codes == Start.DROP.code, out[:, kernels.TIME_TO_TAKE_OFF], np.nan),
        depth_m=out[:, kernels.DEPTH],
        peak_power_w=out[:, kernels.PEAK_POWER],
        mean_force_n=out[:, kernels.MEAN_FORCE],
        peak_force_n=out[:, kernels.PEAK_FORCE],
        feasible=feasible,
    )
