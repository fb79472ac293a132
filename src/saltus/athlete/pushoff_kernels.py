"""The push-off model's equations of motion, integrated: compiled, for many pushes at once.

The model is written down in :mod:`saltus.athlete.pushoff`, which is the module to use.
Here a push is cut where the right-hand side has a kink (end of the letting-go, turning
point) and each smooth piece is integrated by the fifth-order formula of Dormand and
Prince (1980, J Comput Appl Math 6:19-26). The step length is a smooth function of the
state, not the outcome of accepting and rejecting, so that results are smooth in every
parameter; the last step of a piece ends at its event, found by Newton's method on the
length of that step.
"""

import math

import numpy as np
from numba import njit

__all__ = [
    "COUNTERMOVEMENT",
    "DROP",
    "N_PATH",
    "N_RESULTS",
    "SQUAT",
    "push_many",
    "relative_torque",
]

SQUAT, COUNTERMOVEMENT, DROP = 0, 1, 2

G = 9.80665
"""Standard gravity, m/s²."""

HILL = 0.3
"""Curvature of the torque-speed relation while pushing."""
YIELD_GAIN, YIELD_SPEED = 0.4, 0.08
"""While yielding: added torque at high speed, and the speed (of w0) of half of it."""
RELEASE_TIME, RELEASE_LEVEL = 0.06, 0.3
"""Letting go: time constant, s, and the level aimed at, of that in standing."""
STANDING, TOUCH_DOWN = 0.3, 0.1
"""Bend of the leg in standing and at touch-down, of the push-off distance."""
TOUCH_DOWN_ACTIVATION = 0.4
STRETCH_TIME = 0.2
"""Time constant of the stretch's gain, s."""

STEP = 0.25
"""Length of a step times the sum of the rates at which things change."""
MAX_STEPS = 2000
"""Per piece of a push; one that needs more never leaves the ground in earnest."""
MAX_TIME = 20.0
"""s; a push that takes longer is none."""

# Columns of a result.
(
    HEIGHT,
    VELOCITY,
    PUSH_OFF,
    TIME_TO_TAKE_OFF,
    DEPTH,
    PEAK_POWER,
    MEAN_FORCE,
    PEAK_FORCE,
    LETTING_GO,
) = range(9)
N_RESULTS = 9

# Columns of a path.
P_TIME, P_LENGTH, P_VELOCITY, P_ACTIVATION, P_POTENTIATION, P_FORCE = range(6)
N_PATH = 6

# Dormand and Prince's fifth-order formula.
_C2, _C3, _C4, _C5 = 1 / 5, 3 / 10, 4 / 5, 8 / 9
_A21 = 1 / 5
_A31, _A32 = 3 / 40, 9 / 40
_A41, _A42, _A43 = 44 / 45, -56 / 15, 32 / 9
_A51, _A52, _A53, _A54 = 19372 / 6561, -25360 / 2187, 64448 / 6561, -212 / 729
_A61, _A62, _A63, _A64, _A65 = 9017 / 3168, -355 / 33, 46732 / 5247, 49 / 176, -5103 / 18656
_B1, _B3, _B4, _B5, _B6 = 35 / 384, 500 / 1113, 125 / 192, -2187 / 6784, 11 / 84


@njit(cache=True, nogil=True, inline="always")
def _lever(L, a):
    """Lever dL/dtheta (m) of a leg of length L; kept off zero, where the leg is straight."""
    return math.sqrt(max(a * a - 0.25 * L * L, 1e-12 * a * a))


@njit(cache=True, nogil=True, inline="always")
def _phi(x, up):
    """Torque (of the isometric one) at the speed x = w/w0, of the branch `up` or yielding.

    Neither branch is cut off at its end, so that the last step of a piece, which ends
    there, sees a smooth function.
    """
    if up:
        return (1.0 - x) / (1.0 + HILL * x)
    u = max(-x, -0.5 * YIELD_SPEED)
    return 1.0 + YIELD_GAIN * u / (u + YIELD_SPEED)


@njit(cache=True, nogil=True)
def relative_torque(x):
    """Torque at the speed x = w/w0 as a share of the isometric torque at the same activation."""
    if x >= 1.0:
        return 0.0
    return _phi(x, x >= 0.0)


@njit(cache=True, nogil=True, inline="always")
def _acceleration(L, v, drive, a, tau, w0, up):
    """dv/dt (m/s²); drive = activation times potentiation, tau = T0/M."""
    r = _lever(L, a)
    return drive * tau * _phi(v / (r * w0), up) / r - G


@njit(cache=True, nogil=True, inline="always")
def _drive(t, goal, rest, rate, p, t_turn):
    """Activation goal + rest exp(-rate t), times the stretch's gain since the turn."""
    A = goal + rest * math.exp(-rate * t)
    if p != 0.0:
        A *= 1.0 + p * math.exp(-(t - t_turn) / STRETCH_TIME)
    return A


@njit(cache=True, nogil=True)
def _step(t, L, v, h, goal, rest, rate, p, t_turn, a, tau, w0, up):
    """One step of length h; time counts from the start of the piece."""
    k1 = _acceleration(L, v, _drive(t, goal, rest, rate, p, t_turn), a, tau, w0, up)
    v1 = v
    v2 = v + h * _A21 * k1
    L2 = L + h * _A21 * v1
    k2 = _acceleration(L2, v2, _drive(t + _C2 * h, goal, rest, rate, p, t_turn), a, tau, w0, up)
    v3 = v + h * (_A31 * k1 + _A32 * k2)
    L3 = L + h * (_A31 * v1 + _A32 * v2)
    k3 = _acceleration(L3, v3, _drive(t + _C3 * h, goal, rest, rate, p, t_turn), a, tau, w0, up)
    v4 = v + h * (_A41 * k1 + _A42 * k2 + _A43 * k3)
    L4 = L + h * (_A41 * v1 + _A42 * v2 + _A43 * v3)
    k4 = _acceleration(L4, v4, _drive(t + _C4 * h, goal, rest, rate, p, t_turn), a, tau, w0, up)
    v5 = v + h * (_A51 * k1 + _A52 * k2 + _A53 * k3 + _A54 * k4)
    L5 = L + h * (_A51 * v1 + _A52 * v2 + _A53 * v3 + _A54 * v4)
    k5 = _acceleration(L5, v5, _drive(t + _C5 * h, goal, rest, rate, p, t_turn), a, tau, w0, up)
    v6 = v + h * (_A61 * k1 + _A62 * k2 + _A63 * k3 + _A64 * k4 + _A65 * k5)
    L6 = L + h * (_A61 * v1 + _A62 * v2 + _A63 * v3 + _A64 * v4 + _A65 * v5)
    k6 = _acceleration(L6, v6, _drive(t + h, goal, rest, rate, p, t_turn), a, tau, w0, up)
    return (
        L + h * (_B1 * v1 + _B3 * v3 + _B4 * v4 + _B5 * v5 + _B6 * v6),
        v + h * (_B1 * k1 + _B3 * k3 + _B4 * k4 + _B5 * k5 + _B6 * k6),
    )


@njit(cache=True, nogil=True)
def _step_length(L, v, drive, rate, a, tau, w0, up, step):
    """Step length (s) from the rates (1/s) at which activation, lever and force change."""
    r = _lever(L, a)
    x = v / (r * w0)
    lever = 0.25 * L * abs(v) / (r * r)
    if up:
        steep = (1.0 + HILL) / (1.0 + HILL * x) ** 2
        speed = 0.0
    else:
        u = max(-x, 0.0)
        steep = YIELD_GAIN * YIELD_SPEED / (u + YIELD_SPEED) ** 2
        slowing = drive * tau * _phi(x, up) / r - G
        speed = abs(slowing) / (r * w0 * (u + YIELD_SPEED))
    damping = drive * tau * steep / (r * r * w0)
    return step / (rate + lever + damping + speed + 2.0)


@njit(cache=True, nogil=True)
def _note(path, n, t, L, v, A, pot, a, T0, w0, up):
    """Write a row of the path, where one is wanted; returns the number of rows."""
    if path.shape[0] > n:
        r = _lever(L, a)
        path[n, P_TIME] = t
        path[n, P_LENGTH] = L
        path[n, P_VELOCITY] = v
        path[n, P_ACTIVATION] = A
        path[n, P_POTENTIATION] = pot
        path[n, P_FORCE] = A * pot * T0 * _phi(v / (r * w0), up) / r
        return n + 1
    return n


@njit(cache=True, nogil=True)
def _sink(L, v, t_end, goal, rest, rate, a, tau, w0, floor, step, path, n_path, t_path):
    """Go down until the time `t_end`, the turning point, or the floor.

    Returns
    -------
    outcome : int
        0 the time is up, 1 turned, 2 at the floor (or no end in sight).
    t, L, v : float
        Where it ended, with time from the start of this piece.
    n_path : int
        Rows of the path written so far.
    """
    t = 0.0
    for _ in range(MAX_STEPS):
        A = goal + rest * math.exp(-rate * t)
        h = _step_length(L, v, A, rate, a, tau, w0, False, step)
        last = t + h >= t_end
        if last:
            h = t_end - t
        L1, v1 = _step(t, L, v, h, goal, rest, rate, 0.0, 0.0, a, tau, w0, False)
        if v1 >= 0.0 and t + h > 0.0 and (v < 0.0 or t > 0.0):
            # The turning point lies in this step.
            length = h
            for _ in range(20):
                A1 = goal + rest * math.exp(-rate * (t + length))
                slope = _acceleration(L1, v1, A1, a, tau, w0, False)
                if slope <= 0.0:
                    break
                change = v1 / slope
                length = min(max(length - change, 0.0), h)
                L1, v1 = _step(t, L, v, length, goal, rest, rate, 0.0, 0.0, a, tau, w0, False)
                if abs(change) < 1e-13:
                    break
            return 1, t + length, L1, 0.0, n_path
        t += h
        L, v = L1, v1
        if not floor < L or t > MAX_TIME:
            return 2, t, L, v, n_path
        if path.shape[0] > 0:
            A = goal + rest * math.exp(-rate * t)
            n_path = _note(path, n_path, t_path + t, L, v, A, 1.0, a, tau, w0, False)
        if last:
            return 0, t, L, v, n_path
    return 2, t, L, v, n_path


@njit(cache=True, nogil=True, inline="always")
def _force_and_slopes(t, L, v, goal, rest, rate, p, a, tau, w0):
    """Force per kg and its slope, power per kg and its slope, while pushing."""
    r = _lever(L, a)
    E = rest * math.exp(-rate * t)
    A = goal + E
    pot = 1.0
    dpot = 0.0
    if p != 0.0:
        q = p * math.exp(-t / STRETCH_TIME)
        pot += q
        dpot = -q / STRETCH_TIME
    x = v / (r * w0)
    dr = -0.25 * L * v / r
    full = A * pot * tau / r
    force = full * (1.0 - x) / (1.0 + HILL * x)
    acceleration = force - G
    dx = acceleration / (r * w0) - x * dr / r
    dforce = (
        force * (-rate * E / A + dpot / pot - dr / r)
        - full * dx * (1.0 + HILL) / (1.0 + HILL * x) ** 2
    )
    return force, dforce, force * v, dforce * v + force * acceleration


@njit(cache=True, nogil=True)
def _hermite_peak(y0, s0, y1, s1, h):
    """Largest value of the cubic through two values with their slopes."""
    best = max(y0, y1)
    if s0 > 0.0 and s1 < 0.0:
        # Slope over the interval, as a quadratic in 0..1.
        d = y1 - y0
        c0, c1 = s0 * h, s1 * h
        qa = 3.0 * (c0 + c1 - 2.0 * d)
        qb = 2.0 * (3.0 * d - 2.0 * c0 - c1)
        root = math.sqrt(max(qb * qb - 4.0 * qa * c0, 0.0))
        # The root at which the slope falls through zero, in the form that does not cancel.
        z = 2.0 * c0 / (root - qb) if root > qb else 1.0
        z = min(max(z, 0.0), 1.0)
        y = y0 + z * (c0 + z * (0.5 * qb + z * qa / 3.0))
        best = max(best, y)
    return best


@njit(cache=True, nogil=True)
def _rise(L, A0, rate, p, a, tau, w0, step, path, n_path, t_path):
    """Push up from rest until the feet leave.

    Returns
    -------
    left : bool
    t, L, v : float
        At take-off, time from the start of this piece.
    peak_force, peak_power : float
        Per kg.
    n_path : int
    """
    goal, rest = 1.0, A0 - 1.0
    t, v = 0.0, 0.0
    f0, df0, p0, dp0 = _force_and_slopes(t, L, v, goal, rest, rate, p, a, tau, w0)
    peak_force, peak_power = f0, 0.0
    for _ in range(MAX_STEPS):
        drive = _drive(t, goal, rest, rate, p, 0.0)
        h = _step_length(L, v, drive, rate + (p > 0.0) / STRETCH_TIME, a, tau, w0, True, step)
        L1, v1 = _step(t, L, v, h, goal, rest, rate, p, 0.0, a, tau, w0, True)
        left = v1 >= w0 * _lever(L1, a)
        if left:
            length = h
            for _ in range(30):
                r = _lever(L1, a)
                drive = _drive(t + length, goal, rest, rate, p, 0.0)
                slope = _acceleration(L1, v1, drive, a, tau, w0, True) + 0.25 * w0 * L1 * v1 / r
                if slope <= 0.0:
                    break
                change = (v1 - w0 * r) / slope
                length = min(max(length - change, 0.0), h)
                L1, v1 = _step(t, L, v, length, goal, rest, rate, p, 0.0, a, tau, w0, True)
                if abs(change) < 1e-13:
                    break
            h = length
        t += h
        L, v = L1, v1
        if not v >= 0.0 or t > MAX_TIME:
            return False, t, L, v, peak_force, peak_power, n_path
        f1, df1, p1, dp1 = _force_and_slopes(t, L, v, goal, rest, rate, p, a, tau, w0)
        peak_force = max(peak_force, _hermite_peak(f0, df0, f1, df1, h))
        peak_power = max(peak_power, _hermite_peak(p0, dp0, p1, dp1, h))
        f0, df0, p0, dp0 = f1, df1, p1, dp1
        if path.shape[0] > 0:
            A = goal + rest * math.exp(-rate * t)
            pot = 1.0 + p * math.exp(-t / STRETCH_TIME)
            n_path = _note(path, n_path, t_path + t, L, v, A, pot, a, tau, w0, True)
        if left:
            return True, t, L, v, peak_force, peak_power, n_path
    return False, t, L, v, peak_force, peak_power, n_path


@njit(cache=True, nogil=True)
def _turn_after(letting_go, A_stand, start, floor, rate, a, tau, w0, step, no_path):
    """Where the body turns when driving begins after `letting_go` seconds.

    Returns
    -------
    turned : bool
    L, A, t : float
        Length and activation at the turn, and time from letting go to there.
    """
    level, rest = RELEASE_LEVEL * A_stand, (1.0 - RELEASE_LEVEL) * A_stand
    _, _, L, v, _ = _sink(
        start,
        0.0,
        letting_go,
        level,
        rest,
        1 / RELEASE_TIME,
        a,
        tau,
        w0,
        -1e9,
        step,
        no_path,
        0,
        0.0,
    )
    A = level + rest * math.exp(-letting_go / RELEASE_TIME)
    outcome, t, L, v, _ = _sink(
        L, v, 1e9, 1.0, A - 1.0, rate, a, tau, w0, floor, step, no_path, 0, 0.0
    )
    return outcome == 1, L, 1.0 + (A - 1.0) * math.exp(-rate * t), letting_go + t


@njit(cache=True, nogil=True)
def _letting_go(start, bottom, A_stand, rate, a, tau, w0, step, no_path):
    """How long to let go so that the lowest point is `bottom`; NaN where nothing does."""
    level, rest = RELEASE_LEVEL * A_stand, (1.0 - RELEASE_LEVEL) * A_stand
    # Whoever lets go until the bottom is passed turns below it: an upper end.
    outcome, high, _, _, _ = _sink(
        start, 0.0, 1e9, level, rest, 1 / RELEASE_TIME, a, tau, w0, bottom, step, no_path, 0, 0.0
    )
    if outcome != 2 or high > MAX_TIME:
        return math.nan
    low, f_low = 0.0, start - bottom
    f_high = math.nan
    # Half of the way down takes about the square root of half the time.
    x = 0.6 * high
    for _ in range(100):
        turned, L, _, _ = _turn_after(
            x, A_stand, start, 0.5 * bottom, rate, a, tau, w0, step, no_path
        )
        f = L - bottom if turned else -bottom
        if abs(f) < 1e-13 or high - low < 1e-15:
            return x
        if f > 0.0:
            low, f_low = x, f
        else:
            high, f_high = x, f
        x = (
            0.5 * (low + high)
            if math.isnan(f_high)
            else low + (high - low) * f_low / (f_low - f_high)
        )
        if not (low < x < high):
            x = 0.5 * (low + high)
    return x


@njit(cache=True, nogil=True)
def _push(start, m, two_a, T0, w0, R, d, p, load, drop, out, step, path):
    """One push; see :func:`push_many`. Returns (feasible, rows of the path)."""
    out[:] = math.nan
    M = m + load
    a = 0.5 * two_a
    tau = T0 / M
    rate = R / T0
    no_path = path[:0]
    n = 0
    t_down = 0.0
    letting_go = 0.0
    peak_down = 0.0
    if start == DROP:
        L0 = two_a - TOUCH_DOWN * d
        v0 = -math.sqrt(2.0 * G * drop)
        A0 = TOUCH_DOWN_ACTIVATION
        n = _note(path, n, 0.0, L0, v0, A0, 1.0, a, tau, w0, False)
        if v0 == 0.0 and _acceleration(L0, 0.0, A0, a, tau, w0, False) >= 0.0:
            L, A = L0, A0
        else:
            outcome, t_down, L, _, n = _sink(
                L0, v0, 1e9, 1.0, A0 - 1.0, rate, a, tau, w0, 0.02 * two_a, step, path, n, 0.0
            )
            if outcome != 1:
                return False, n
            A = 1.0 + (A0 - 1.0) * math.exp(-rate * t_down)
    elif start == COUNTERMOVEMENT:
        L0 = two_a - STANDING * d
        bottom = two_a - d
        A_stand = G * _lever(L0, a) / tau
        if not (bottom > 0.0 and G * _lever(bottom, a) < tau):
            return False, n
        letting_go = _letting_go(L0, bottom, A_stand, rate, a, tau, w0, step, no_path)
        if math.isnan(letting_go):
            return False, n
        turned, L, A, t_down = _turn_after(
            letting_go, A_stand, L0, 0.5 * bottom, rate, a, tau, w0, step, no_path
        )
        if not turned:
            return False, n
    else:
        L0 = two_a - d
        L = L0
        A = G * _lever(L, a) / tau
        if not (L > 0.0 and A < 1.0):
            return False, n
    n = _note(path, n, t_down, L, 0.0, A, 1.0, a, tau, w0, True)
    gain = 0.0 if start == SQUAT else p
    left, t_up, _, v, peak_force, peak_power, n = _rise(
        L, A, rate, gain, a, tau, w0, step, path, n, t_down
    )
    if not left:
        return False, n
    out[HEIGHT] = v * v / (2.0 * G)
    out[VELOCITY] = v
    out[PUSH_OFF] = t_up
    out[TIME_TO_TAKE_OFF] = t_down + t_up
    out[DEPTH] = L0 - L if start == DROP else d
    out[PEAK_POWER] = M * peak_power
    out[MEAN_FORCE] = M * (G + v / t_up)
    out[PEAK_FORCE] = M * max(peak_force, peak_down)
    out[LETTING_GO] = letting_go
    return True, n


@njit(cache=True, nogil=True)
def push_many(start, m, two_a, T0, w0, R, d, p, load, drop, out, feasible):
    """Simulate pushes one after another into `out`.

    Parameters
    ----------
    start : ndarray of int64, shape (n,)
        SQUAT, COUNTERMOVEMENT or DROP.
    m, two_a, T0, w0, R, d, p, load, drop : ndarray, shape (n,)
        Body mass (kg), outstretched leg (m), isometric torque (N m), torqueless speed
        (rad/s), torque development (N m/s), push-off distance (m), stretch's gain,
        external load (kg), drop (m).
    out : ndarray, shape (n, N_RESULTS)
        Filled; NaN where there is no take-off.
    feasible : ndarray of bool, shape (n,)
        Filled.
    """
    no_path = np.empty((0, N_PATH))
    for i in range(start.size):
        feasible[i], _ = _push(
            start[i], m[i], two_a[i], T0[i], w0[i], R[i], d[i], p[i], load[i], drop[i],
            out[i], STEP, no_path,
        )  # fmt: skip
