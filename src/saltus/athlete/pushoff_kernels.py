"""The push-off model's equations of motion, integrated: compiled, for many pushes at once.

The model is written down in :mod:`saltus.athlete.pushoff`, which is the module to use.
Here a push is cut where the right-hand side has a kink (end of the letting-go, turning
point), and each smooth piece is integrated by Butcher's six-stage method of order five
(Butcher 1964, J Austral Math Soc 4:179-194), whose stages lie at quarters of the step, so
that one exponential a step gives the activation at all of them. The length of a step is a
smooth function of the state, not the outcome of accepting and rejecting, so that results
are smooth in every parameter; the last step of a piece ends at its event, found by
Newton's method on the length of that step.

The kernels stay together in one file, because the compiled code that is kept on disk is
renewed when its own file changes, not when another does.

All forces are per kg of the moved mass; tau = T0/M. Activation is ``goal + E`` with E
decaying at `rate`, potentiation is ``1 + Q`` with Q decaying at 1/0.2 s.
"""

import math

import numpy as np
from numba import njit

__all__ = [
    "COUNTERMOVEMENT",
    "DEPTH",
    "DROP",
    "HEIGHT",
    "LETTING_GO",
    "MEAN_FORCE",
    "N_PATH",
    "N_RESULTS",
    "PEAK_FORCE",
    "PEAK_POWER",
    "PUSH_OFF",
    "SQUAT",
    "STANDING",
    "TIME_TO_TAKE_OFF",
    "TOUCH_DOWN",
    "VELOCITY",
    "push_many",
    "push_path",
    "sample_path",
]

SQUAT, COUNTERMOVEMENT, DROP = 0, 1, 2

G = 9.80665
"""Standard gravity, m/s²."""

HILL = 0.3
"""Curvature of the torque-speed relation while pushing."""
YIELD_GAIN, YIELD_SPEED = 0.4, 0.08
"""While yielding: added torque at high speed, and the speed (of w0) of half of it."""
RELEASE_RATE, RELEASE_LEVEL = 1 / 0.06, 0.3
"""Letting go: rate, 1/s, and the level aimed at, of that in standing."""
STANDING, TOUCH_DOWN = 0.3, 0.1
"""Bend of the leg in standing and at touch-down, of the push-off distance."""
TOUCH_DOWN_ACTIVATION = 0.4
STRETCH_RATE = 1 / 0.2
"""Rate at which the stretch's gain fades, 1/s."""

STEP = 0.62
"""Length of a step times the weighted sum of the rates at which things change.

The weights were chosen by trial: least error in height for the number of steps over
qualities spread twice as wide as among athletes.
"""
ROUGH_STEP = 1.2
"""The same, for the first search of the letting-go."""
MAX_STEPS = 2000
"""Per piece of a push; one that needs more never leaves the ground in earnest."""
MAX_TIME = 20.0
"""s; a push that takes longer is none."""
MAX_SEARCH = 200
"""Trials of the letting-go."""
FLOOR = 0.02
"""Share of the outstretched leg below which nobody is caught in a drop jump."""

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

# Columns of a path: the state at the start of each step, and what it takes to go on.
P_TIME, P_LENGTH, P_VELOCITY, P_GOAL, P_E, P_RATE, P_Q, P_UP = range(8)
N_PATH = 8


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def _lever(L, a):
    """Lever dL/dtheta (m) of a leg of length L; kept off zero, where the leg is straight."""
    return math.sqrt(max(a * a - 0.25 * L * L, 1e-12 * a * a))


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def _force(L, v, drive, a, w0, up):
    """Force per kg at `drive` = activation times potentiation times tau.

    Neither branch of the torque-speed relation is cut off where it ends, so that the last
    step of a piece, which ends there, sees a smooth function.
    """
    r = _lever(L, a)
    rw = r * w0
    if up:
        return drive * (rw - v) / (r * (rw + HILL * v))
    u = max(-v, -0.5 * YIELD_SPEED * rw)
    top = (1.0 + YIELD_GAIN) * u + YIELD_SPEED * rw
    return drive * top / (r * (u + YIELD_SPEED * rw))


@njit(cache=True, nogil=True, error_model="numpy")
def _step(L, v, k1, h, goal, E, rate, Q, a, tau, w0, up):
    """One step of length h from L, v, where the acceleration is k1; returns L, v, E, Q."""
    q = math.exp(-0.25 * h * rate)
    g0 = tau * goal
    e1 = tau * E * q
    e2 = e1 * q
    e3 = e2 * q
    e4 = e3 * q
    d1, d2, d3, d4 = g0 + e1, g0 + e2, g0 + e3, g0 + e4
    Q4 = 0.0
    if Q != 0.0:
        s = math.exp(-0.25 * h * STRETCH_RATE)
        Q1 = Q * s
        Q2 = Q1 * s
        Q3 = Q2 * s
        Q4 = Q3 * s
        d1 *= 1.0 + Q1
        d2 *= 1.0 + Q2
        d3 *= 1.0 + Q3
        d4 *= 1.0 + Q4
    v2 = v + 0.25 * h * k1
    k2 = _force(L + 0.25 * h * v, v2, d1, a, w0, up) - G
    v3 = v + 0.125 * h * (k1 + k2)
    k3 = _force(L + 0.125 * h * (v + v2), v3, d1, a, w0, up) - G
    v4 = v + h * (k3 - 0.5 * k2)
    k4 = _force(L + h * (v3 - 0.5 * v2), v4, d2, a, w0, up) - G
    v5 = v + h * (0.1875 * k1 + 0.5625 * k4)
    k5 = _force(L + h * (0.1875 * v + 0.5625 * v4), v5, d3, a, w0, up) - G
    z = h / 7.0
    v6 = v + z * (2.0 * k2 + 12.0 * (k3 - k4) + 8.0 * k5 - 3.0 * k1)
    L6 = L + z * (2.0 * v2 + 12.0 * (v3 - v4) + 8.0 * v5 - 3.0 * v)
    k6 = _force(L6, v6, d4, a, w0, up) - G
    z = h / 90.0
    return (
        L + z * (7.0 * (v + v6) + 32.0 * (v3 + v5) + 12.0 * v4),
        v + z * (7.0 * (k1 + k6) + 32.0 * (k3 + k5) + 12.0 * k4),
        e4 / tau,
        Q4,
    )


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def _still_building(E, rate):
    """Rate that counts for the step: none once the activation is as good as full."""
    return rate * abs(E) / (abs(E) + 0.002)


@njit(cache=True, nogil=True, error_model="numpy")
def _slopes_up(L, v, goal, E, rate, Q, a, tau, w0):
    """While pushing: force per kg, its slope in time, and a weighted sum of the rates (1/s)."""
    r = _lever(L, a)
    ir = 1.0 / r
    x = v * ir / w0
    hill = 1.0 / (1.0 + HILL * x)
    A = goal + E
    full = A * (1.0 + Q) * tau * ir
    force = full * (1.0 - x) * hill
    lever = 0.25 * L * v * ir * ir
    steep = full * (1.0 + HILL) * hill * hill
    damping = steep * ir / w0
    dx = (force - G) * ir / w0 + x * lever
    dforce = force * (lever - rate * E / A - STRETCH_RATE * Q / (1.0 + Q)) - steep * dx
    rates = _still_building(E, rate) + 2.0 * lever + 1.5 * damping + 2.0
    return force, dforce, rates


@njit(cache=True, nogil=True, error_model="numpy")
def _slopes_down(L, v, goal, E, rate, a, tau, w0):
    """While yielding: force per kg, its slope in time, and a weighted sum of the rates (1/s)."""
    r = _lever(L, a)
    ir = 1.0 / r
    u = max(-v * ir / w0, 0.0)
    yielding = 1.0 / (u + YIELD_SPEED)
    A = goal + E
    full = A * tau * ir
    force = full * (1.0 + YIELD_GAIN * u * yielding)
    lever = 0.25 * L * v * ir * ir
    steep = full * YIELD_GAIN * YIELD_SPEED * yielding * yielding
    du = -(force - G) * ir / w0 + u * lever
    dforce = force * (lever - rate * E / A) + steep * du
    rates = _still_building(E, rate) - lever + steep * ir / w0 + abs(du) * yielding + 2.0
    return force, dforce, rates


@njit(cache=True, nogil=True, error_model="numpy")
def _hermite_root(y0, s0, y1, s1, h):
    """Where the cubic through two values of opposite sign, with their slopes, is zero."""
    z = y0 / (y0 - y1)
    c0, c1, d = s0 * h, s1 * h, y1 - y0
    c2 = 3.0 * d - 2.0 * c0 - c1
    c3 = c0 + c1 - 2.0 * d
    for _ in range(4):
        slope = c0 + z * (2.0 * c2 + 3.0 * z * c3)
        if slope * d <= 0.0:
            break
        z = min(max(z - (y0 + z * (c0 + z * (c2 + z * c3))) / slope, 0.0), 1.0)
    return z * h


@njit(cache=True, nogil=True, error_model="numpy")
def _hermite_peak(y0, s0, y1, s1, h):
    """Place and size of the largest value of the cubic through two values with their slopes."""
    if not (s0 > 0.0 and s1 < 0.0):
        return (0.0, y0) if y0 > y1 else (h, y1)
    d = y1 - y0
    c0, c1 = s0 * h, s1 * h
    c2 = 3.0 * d - 2.0 * c0 - c1
    c3 = c0 + c1 - 2.0 * d
    # The root of the slope at which it falls, in the form that does not cancel.
    root = math.sqrt(max(c2 * c2 - 3.0 * c3 * c0, 0.0))
    z = c0 / (root - c2) if root > c2 else 1.0
    z = min(max(z, 0.0), 1.0)
    return z * h, y0 + z * (c0 + z * (c2 + z * c3))


@njit(cache=True, nogil=True, error_model="numpy")
def _peak_inside(power, L, v, E, rate, Q, a, tau, w0, y0, s0, y1, s1, h):
    """Largest force (or power) per kg within a step upwards, where it rises, then falls.

    The peak of the cubic over the whole step is only where to look: the state there, and
    the cubic on the side where the peak lies, give its size.
    """
    z, _ = _hermite_peak(y0, s0, y1, s1, h)
    f0, _, _ = _slopes_up(L, v, 1.0, E, rate, Q, a, tau, w0)
    L, v, E, Q = _step(L, v, f0 - G, z, 1.0, E, rate, Q, a, tau, w0, True)
    y, s, _ = _slopes_up(L, v, 1.0, E, rate, Q, a, tau, w0)
    if power:
        y, s = y * v, s * v + y * (y - G)
    if s > 0.0:
        _, y = _hermite_peak(y, s, y1, s1, h - z)
    else:
        _, y = _hermite_peak(y0, s0, y, s, z)
    return y


@njit(cache=True, nogil=True, error_model="numpy")
def _note(path, n, t, L, v, goal, E, rate, Q, up):
    """Write a row of the path, where there is room for one; returns the number of rows."""
    if n < path.shape[0]:
        path[n, P_TIME] = t
        path[n, P_LENGTH] = L
        path[n, P_VELOCITY] = v
        path[n, P_GOAL] = goal
        path[n, P_E] = E
        path[n, P_RATE] = rate
        path[n, P_Q] = Q
        path[n, P_UP] = 1.0 if up else 0.0
        return n + 1
    return n


@njit(cache=True, nogil=True, error_model="numpy")
def _let_go(L, bottom, A_stand, a, tau, w0, step, nodes):
    """Let go until the bottom is passed, noting the state at every step.

    Returns
    -------
    n : int
        Nodes noted; 0 where the bottom is never passed.
    t : float
        Time at the last, which lies below the bottom.
    """
    goal, E = RELEASE_LEVEL * A_stand, (1.0 - RELEASE_LEVEL) * A_stand
    t, v = 0.0, 0.0
    n = _note(nodes, 0, t, L, v, goal, E, RELEASE_RATE, 0.0, False)
    while n < nodes.shape[0] and t < MAX_TIME:
        force, _, rates = _slopes_down(L, v, goal, E, RELEASE_RATE, a, tau, w0)
        h = step / rates
        L, v, E, _ = _step(L, v, force - G, h, goal, E, RELEASE_RATE, 0.0, a, tau, w0, False)
        t += h
        n = _note(nodes, n, t, L, v, goal, E, RELEASE_RATE, 0.0, False)
        if not bottom < L:
            return n, t
    return 0, t


@njit(cache=True, nogil=True, error_model="numpy")
def _brake(L, v, E, floor, rate, a, tau, w0, step, path, n, t_path):
    """Drive, going down, until the turning point or the floor.

    Returns
    -------
    turned : bool
    t, L, E : float
        Where it turned; time from the start of this piece.
    peak_force : float
    n : int
        Rows of the path written so far.
    """
    t = 0.0
    n = _note(path, n, t_path, L, v, 1.0, E, rate, 0.0, False)
    f0, df0, rates = _slopes_down(L, v, 1.0, E, rate, a, tau, w0)
    peak = f0
    for _ in range(MAX_STEPS):
        h = step / rates
        L1, v1, E1, _ = _step(L, v, f0 - G, h, 1.0, E, rate, 0.0, a, tau, w0, False)
        turned = v1 >= 0.0
        if turned:
            f1 = _force(L1, v1, tau * (1.0 + E1), a, w0, False)
            h = _hermite_root(v, f0 - G, v1, f1 - G, h)
            for _ in range(10):
                L1, v1, E1, _ = _step(L, v, f0 - G, h, 1.0, E, rate, 0.0, a, tau, w0, False)
                f1 = _force(L1, v1, tau * (1.0 + E1), a, w0, False)
                if not f1 > G:
                    break
                change = -v1 / (f1 - G)
                h += change
                if abs(change) < 1e-7:
                    # What is left is of second order.
                    L1 += 0.5 * v1 * change
                    E1 -= change * rate * E1
                    v1 = 0.0
                    break
        t += h
        L, v, E = L1, v1, E1
        if not floor < L or t > MAX_TIME:
            return False, t, L, E, peak, n
        f1, df1, rates = _slopes_down(L, v, 1.0, E, rate, a, tau, w0)
        peak = max(peak, _hermite_peak(f0, df0, f1, df1, h)[1])
        f0, df0 = f1, df1
        if turned:
            return True, t, L, E, peak, n
        n = _note(path, n, t_path + t, L, v, 1.0, E, rate, 0.0, False)
    return False, t, L, E, peak, n


@njit(cache=True, nogil=True, error_model="numpy")
def _rise(L, E, rate, Q, a, tau, w0, step, path, n, t_path):
    """Push up from rest until the feet leave.

    Returns
    -------
    left : bool
    t, v : float
        At take-off, time from the start of this piece.
    peak_force, peak_power : float
        Per kg.
    n : int
        Rows of the path written so far.
    """
    t, v = 0.0, 0.0
    n = _note(path, n, t_path, L, v, 1.0, E, rate, Q, True)
    f0, df0, rates = _slopes_up(L, v, 1.0, E, rate, Q, a, tau, w0)
    p0, dp0 = 0.0, f0 * (f0 - G)
    peak_force, peak_power = f0, 0.0
    for _ in range(MAX_STEPS):
        h = step / rates
        L1, v1, E1, Q1 = _step(L, v, f0 - G, h, 1.0, E, rate, Q, a, tau, w0, True)
        short = v1 - w0 * _lever(L1, a)
        left = short >= 0.0
        if left:
            f1, _, _ = _slopes_up(L1, v1, 1.0, E1, rate, Q1, a, tau, w0)
            r0, r1 = _lever(L, a), _lever(L1, a)
            h = _hermite_root(
                v - w0 * r0,
                f0 - G + 0.25 * w0 * L * v / r0,
                short,
                f1 - G + 0.25 * w0 * L1 * v1 / r1,
                h,
            )
            for _ in range(10):
                L1, v1, E1, Q1 = _step(L, v, f0 - G, h, 1.0, E, rate, Q, a, tau, w0, True)
                r1 = _lever(L1, a)
                slope = 0.25 * w0 * L1 * v1 / r1 - G
                if not slope > 0.0:
                    break
                change = -(v1 - w0 * r1) / slope
                h += change
                if abs(change) < 1e-7:
                    v1 -= G * change
                    L1 += v1 * change
                    break
        if not v1 >= 0.0 or t > MAX_TIME:
            return False, t, v, peak_force, peak_power, n
        f1, df1, rates = _slopes_up(L1, v1, 1.0, E1, rate, Q1, a, tau, w0)
        p1, dp1 = f1 * v1, df1 * v1 + f1 * (f1 - G)
        if df0 > 0.0 and df1 < 0.0:
            peak = _peak_inside(False, L, v, E, rate, Q, a, tau, w0, f0, df0, f1, df1, h)
            peak_force = max(peak_force, peak)
        if dp0 > 0.0 and dp1 < 0.0:
            peak = _peak_inside(True, L, v, E, rate, Q, a, tau, w0, p0, dp0, p1, dp1, h)
            peak_power = max(peak_power, peak)
        peak_force = max(peak_force, f1)
        peak_power = max(peak_power, p1)
        t += h
        L, v, E, Q = L1, v1, E1, Q1
        f0, df0, p0, dp0 = f1, df1, p1, dp1
        if left:
            return True, t, v, peak_force, peak_power, n
        n = _note(path, n, t_path + t, L, v, 1.0, E, rate, Q, True)
    return False, t, v, peak_force, peak_power, n


@njit(cache=True, nogil=True, error_model="numpy")
def _drive_after(x, n_nodes, nodes, floor, rate, a, tau, w0, step, path, n):
    """Let go for `x` seconds, then drive to the turning point; returns as :func:`_brake`.

    The time counts from letting go.
    """
    i = np.searchsorted(nodes[: n_nodes - 1, P_TIME], x, side="right") - 1
    L, v, goal, E = nodes[i, P_LENGTH], nodes[i, P_VELOCITY], nodes[i, P_GOAL], nodes[i, P_E]
    force = _force(L, v, tau * (goal + E), a, w0, False)
    h = x - nodes[i, P_TIME]
    L, v, E, _ = _step(L, v, force - G, h, goal, E, RELEASE_RATE, 0.0, a, tau, w0, False)
    turned, t, L, E, peak, n = _brake(
        L, v, goal + E - 1.0, floor, rate, a, tau, w0, step, path, n, x
    )
    return turned, x + t, L, E, peak, n


@njit(cache=True, nogil=True, error_model="numpy")
def _countermovement(standing, bottom, rate, a, tau, w0, step, nodes, n_nodes, no_path):
    """Find how long to let go so that the body turns at `bottom`.

    The depth grows about as a power of that time: the search is a secant in logarithms,
    kept within the ends known to be too short and too long. It is made with rough steps
    until the depth is right to a hundredth, then with fine ones.

    Returns
    -------
    found : bool
    x : float
        How long, s.
    t, L, E : float
        Where it turned then; time from letting go.
    peak_force : float
    """
    wanted = standing - bottom
    floor = bottom - 0.5 * wanted
    end = nodes[n_nodes - 1, P_TIME]
    low, high = 0.0, end
    x = 0.6 * end
    power = 2.5
    x0, y0 = math.nan, math.nan
    length = max(ROUGH_STEP, step)
    for _ in range(MAX_SEARCH):
        turned, t, L, E, peak, _ = _drive_after(
            x, n_nodes, nodes, floor, rate, a, tau, w0, length, no_path, 0
        )
        y = math.log((standing - L) / wanted) if turned and standing > L else math.nan
        if abs(y) < 1e-10 and length == step:
            return True, x, t, L, E, peak
        if not turned or y > 0.0:
            high = x
        else:
            low = x
        if not math.isnan(x0) and not math.isnan(y):
            slope = (y - y0) / math.log(x / x0)
            if slope > 0.1:
                power = slope
        x0, y0 = x, y
        if (abs(y) < 1e-2 or high - low < 1e-9) and length != step:
            length = step
            low, high = 0.0, end
            x0 = math.nan
        elif high - low < 1e-15:
            return turned, x, t, L, E, peak
        guess = x * math.exp(-y / power)
        x = guess if low < guess < high else 0.5 * (low + high)
    return False, x, 0.0, bottom, 0.0, 0.0


@njit(cache=True, nogil=True, error_model="numpy")
def _push(start, m, two_a, T0, w0, R, d, p, load, drop, out, step, nodes, path):
    """One push, its results into `out`, its states into `path`; see :func:`push_many`.

    Returns
    -------
    feasible : bool
    n : int
        Rows of the path written.
    """
    out[:] = math.nan
    M = m + load
    a = 0.5 * two_a
    tau = T0 / M
    rate = R / T0
    n = 0
    t_down, letting_go, peak_down, Q = 0.0, 0.0, 0.0, p
    bottom = two_a - d
    if not (bottom > 0.0 and tau > 0.0 and rate > 0.0 and w0 > 0.0 and drop >= 0.0):
        return False, n
    if start == DROP:
        top = two_a - TOUCH_DOWN * d
        L = top
        v = -math.sqrt(2.0 * G * drop)
        E = TOUCH_DOWN_ACTIVATION - 1.0
        if v < 0.0 or _force(L, 0.0, tau * TOUCH_DOWN_ACTIVATION, a, w0, True) < G:
            turned, t_down, L, E, peak_down, n = _brake(
                L, v, E, FLOOR * two_a, rate, a, tau, w0, step, path, n, 0.0
            )
            if not turned:
                return False, n
        depth = top - L
    else:
        # Whoever cannot hold the bottom of the push at full activation cannot leave it.
        A = G * _lever(bottom, a) / tau
        if not A < 1.0:
            return False, n
        L, E, depth = bottom, A - 1.0, d
        if start == SQUAT:
            Q = 0.0
        else:
            standing = two_a - STANDING * d
            A_stand = G * _lever(standing, a) / tau
            n_nodes, _ = _let_go(standing, bottom, A_stand, a, tau, w0, step, nodes)
            if n_nodes == 0:
                return False, n
            found, letting_go, t_down, L, E, peak_down = _countermovement(
                standing, bottom, rate, a, tau, w0, step, nodes, n_nodes, path[:0]
            )
            if not found:
                return False, n
            if path.shape[0] > 0:
                while n < n_nodes and nodes[n, P_TIME] < letting_go:
                    path[n] = nodes[n]
                    n += 1
                _, _, _, _, _, n = _drive_after(
                    letting_go, n_nodes, nodes, 0.0, rate, a, tau, w0, step, path, n
                )
    left, t_up, v, peak_force, peak_power, n = _rise(
        L, E, rate, Q, a, tau, w0, step, path, n, t_down
    )
    if not (left and v > 0.0):
        return False, n
    out[HEIGHT] = v * v / (2.0 * G)
    out[VELOCITY] = v
    out[PUSH_OFF] = t_up
    out[TIME_TO_TAKE_OFF] = t_down + t_up
    out[DEPTH] = depth
    out[PEAK_POWER] = M * peak_power
    out[MEAN_FORCE] = M * (G + v / t_up)
    out[PEAK_FORCE] = M * max(peak_force, peak_down)
    out[LETTING_GO] = letting_go
    return True, n


@njit(cache=True, nogil=True, error_model="numpy")
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
    nodes = np.empty((MAX_STEPS, N_PATH))
    path = np.empty((0, N_PATH))
    for i in range(start.size):
        feasible[i], _ = _push(
            start[i], m[i], two_a[i], T0[i], w0[i], R[i], d[i], p[i], load[i], drop[i],
            out[i], STEP, nodes, path,
        )  # fmt: skip


@njit(cache=True, nogil=True, error_model="numpy")
def push_path(start, m, two_a, T0, w0, R, d, p, load, drop, step):
    """Simulate one push and keep the state at the start of every step.

    Returns
    -------
    feasible : bool
    out : ndarray, shape (N_RESULTS,)
    path : ndarray, shape (n, N_PATH)
        Read by :func:`sample_path`.
    """
    out = np.empty(N_RESULTS)
    nodes = np.empty((4 * MAX_STEPS, N_PATH))
    path = np.empty((4 * MAX_STEPS, N_PATH))
    feasible, n = _push(start, m, two_a, T0, w0, R, d, p, load, drop, out, step, nodes, path)
    return feasible, out, path[:n].copy()


@njit(cache=True, nogil=True, error_model="numpy")
def sample_path(path, times, M, two_a, T0, w0):
    """State along a path at the given times: length, velocity and force, shape (n, 3).

    Each is reached by one step from the last row before it.
    """
    a = 0.5 * two_a
    tau = T0 / M
    out = np.empty((times.size, 3))
    for k in range(times.size):
        i = max(np.searchsorted(path[:, P_TIME], times[k], side="right") - 1, 0)
        t0, L, v, goal = path[i, P_TIME], path[i, P_LENGTH], path[i, P_VELOCITY], path[i, P_GOAL]
        E, rate, Q, up = path[i, P_E], path[i, P_RATE], path[i, P_Q], path[i, P_UP] == 1.0
        force = _force(L, v, tau * (goal + E) * (1.0 + Q), a, w0, up)
        L, v, E, Q = _step(L, v, force - G, times[k] - t0, goal, E, rate, Q, a, tau, w0, up)
        out[k, 0] = L
        out[k, 1] = v
        out[k, 2] = M * _force(L, v, tau * (goal + E) * (1.0 + Q), a, w0, up)
    return out
