"""Force-plate analysis against published definitions and worked examples.

The examples use g = 9.81 m/s²; ours is standard gravity, so heights are scaled by their ratio.
Forces are synthetic: half-sine pushes on a body of known mass.
"""

import math

import numpy as np
import pytest

from saltus.jumps.analyse import analyse
from saltus.jumps.jump import JumpKind
from saltus.jumps.plate import LEAST_THRESHOLD_N, THRESHOLD_SD, prepare
from saltus.jumps.propagation import State
from saltus.jumps.push import ONSET_BACK_S, ONSET_SD, flight_figures
from saltus.jumps.rebound import rebound_figures
from saltus.quantities import STANDARD_GRAVITY as G
from saltus.recordings.recording import Recording

RATE = 1000.0
MASS = 75.0
RATIO = G / 9.81


def jump(*, velocity=2.5, lower=0.0, onset_s=1.5, noise=1.0, seed=0):
    """Stand, sink, push off at a velocity, land so much lower, stand; with the landing."""
    rng = np.random.default_rng(seed)
    drop = math.sqrt(velocity**2 + 2 * G * lower)
    lengths = [onset_s, 0.3, 0.42, 0.04, (velocity + drop) / G, 0.3, 2.0]
    edges = np.cumsum(lengths)
    t = np.arange(round(edges[-1] * RATE)) / RATE
    a = np.zeros_like(t)

    def half_sine(i, gain):
        at = (t >= edges[i - 1]) & (t < edges[i])
        s = (t[at] - edges[i - 1]) / lengths[i]
        a[at] = gain * np.pi / (2 * lengths[i]) * np.sin(np.pi * s)

    half_sine(1, -1.1)
    half_sine(2, 1.1 + velocity + G * 0.02)
    at = (t >= edges[2]) & (t < edges[3])
    a[at] = -G * (t[at] - edges[2]) / 0.04
    a[(t >= edges[3]) & (t < edges[4])] = -G
    half_sine(5, drop)
    force = MASS * (G + a) + noise * rng.standard_normal(t.size)
    return Recording(RATE, force, source="half-sines")


@pytest.mark.parametrize(
    ("flight_s", "height_cm", "velocity"),
    [
        (0.300, 11.04, 1.472),
        (0.400, 19.62, 1.962),
        (0.450, 24.83, 2.207),
        (0.500, 30.66, 2.453),
        (0.550, 37.09, 2.698),
        (0.600, 44.15, 2.943),
        (0.700, 60.09, 3.433),
    ],
)
def test_flight_time_to_height_and_velocity(flight_s, height_cm, velocity):
    """h = g t²/8 and v = g t/2: the formula as printed in the jump literature (9.81/8)."""
    state = State(MASS * G, 0.0, 0.0, 0.0, 100.0, 100.0 + flight_s * RATE)
    height = flight_figures(state, RATE)["height_flight"].value
    (found,) = analyse(jump(velocity=velocity * RATIO)).jumps

    assert height * 100 / RATIO == pytest.approx(height_cm, abs=0.006)
    assert found.flight_time_s == pytest.approx(flight_s, abs=0.001)
    assert found.take_off_velocity_m_s / RATIO == pytest.approx(velocity, abs=0.012)


@pytest.mark.parametrize(("velocity", "height_cm"), [(2.75, 38.5), (2.44, 30.3)])
def test_take_off_velocity_to_height(velocity, height_cm):
    """With and without arms: Feltner, Fraschetti & Crisp 1999, J Sports Sci 17:449-466."""
    (found,) = analyse(jump(velocity=velocity)).jumps

    # 0.15 cm is what one standard error of the take-off velocity does.
    assert found.height_impulse_m * 100 * RATIO == pytest.approx(height_cm, abs=0.2)


@pytest.mark.parametrize(("lower_cm", "height_cm"), [(0.0, 31.86), (1.0, 32.35), (2.0, 32.85)])
def test_a_lower_landing_inflates_flight_time_height(lower_cm, height_cm):
    """About half of the difference in posture appears as bias (computed from the equations)."""
    (found,) = analyse(jump(velocity=2.5, lower=lower_cm / 100)).jumps

    assert found.height_flight_m * 100 == pytest.approx(height_cm, abs=0.15)
    assert found.height_impulse_m * 100 == pytest.approx(31.86, abs=0.25)


def published_onset(force, rate, quiet_until):
    """Time of the onset, s: the mean and standard deviation of a second of quiet standing, the
    first sample beyond five of them, and 30 ms back.

    Owen et al. 2014, J Strength Cond Res 28:1552-1558.
    """
    quiet = force[max(0, quiet_until - round(rate)) : quiet_until]
    outside = np.abs(force[quiet_until:] - quiet.mean()) > 5 * quiet.std(ddof=1)
    return (quiet_until + int(np.argmax(outside))) / rate - 0.030


@pytest.mark.parametrize("noise", [1.0, 3.0, 6.0])
def test_onset_is_the_published_one(noise):
    assert (ONSET_SD, ONSET_BACK_S) == (5.0, 0.03)
    for seed in range(10):
        recording = jump(noise=noise, onset_s=2.0, seed=seed)
        (found,) = analyse(recording).jumps

        # Seconds of standing that are not the same ones differ by a tenth in their deviation.
        expected = published_onset(recording.total_n, RATE, 1950)
        assert found.onset_s == pytest.approx(expected, abs=0.002)


def test_phases_end_where_published():
    """Braking starts where force is back at body weight, the fastest sinking; it ends at zero
    velocity, the lowest point: McMahon et al. 2018, Strength Cond J 40(4):96-106.
    """
    recording = jump()
    (found,) = analyse(recording).jumps
    at = {phase.name: phase for phase in found.phases}
    force = recording.total_n - MASS * G
    since = round(at["unweighting"].start_s * RATE) + 60
    back = since + int(np.flatnonzero(force[since:] > 5.0)[0])

    assert list(at) == ["weighing", "unweighting", "braking", "propulsion", "flight", "landing"]
    assert at["braking"].start_s == pytest.approx(back / RATE, abs=0.004)
    gained = np.trapezoid(force[: round(at["propulsion"].start_s * RATE) + 1]) / RATE / MASS
    assert gained == pytest.approx(0.0, abs=0.02)


def test_the_threshold_of_contact_is_one_in_published_use():
    """Five standard deviations of the unloaded plate, or a fixed 10 N (PMC9750644, table 1)."""
    assert (THRESHOLD_SD, LEAST_THRESHOLD_N) == (5.0, 10.0)
    rng = np.random.default_rng(0)
    force = np.concatenate([np.zeros(2000), np.full(2000, 700.0)]) + 4 * rng.standard_normal(4000)
    plate = prepare(Recording(RATE, force)).plate

    assert plate.threshold_n == pytest.approx(20.0, rel=0.1)


def test_rsimod_and_flight_to_contraction_time():
    """Height, and flight time, over the time from onset to take-off: McMahon et al. 2018,
    Sports 6(3):81.
    """
    (found,) = analyse(jump()).jumps
    seconds = found.take_off_s - found.onset_s

    assert found.value("rsi_mod") == pytest.approx(found.height_impulse_m / seconds)
    assert found.value("flight_time_to_contraction_time") == pytest.approx(
        found.flight_time_s / seconds
    )


def test_both_reactive_strength_indices():
    """Flight 0.500 s after a contact of 0.200 s: 1.533 m/s, and 2.50 (computed; both definitions
    are in print and never to be mixed).
    """
    push = 1500.0 * np.sin(np.pi * np.arange(200) / 200)
    trace = prepare(Recording(RATE, np.concatenate([np.zeros(500), push, np.zeros(800)])))
    state = State(math.nan, math.nan, math.nan, 500.0, 700.0, 1200.0)
    found = rebound_figures(trace, state, noise_n=0.0, weighed=False, drop=True)

    assert found["rsi"].value / RATIO == pytest.approx(1.533, abs=0.001)
    assert found["rsi_flight_to_contact"].value == pytest.approx(2.50)


@pytest.mark.parametrize(("drop_m", "velocity"), [(0.270, 2.302), (0.344, 2.598)])
def test_true_drop_height_on_one_plate(drop_m, velocity):
    """Boxes of 0.30 and 0.40 m give drops that are 10 and 14 % lower; one plate and the landing
    are enough to see it: McMahon et al. 2021, Biomechanics 1(2):178-189. Velocities computed.
    """
    touch = math.sqrt(2 * G * drop_m)
    rebound = 1.9
    n = 220
    s = np.arange(n) / n
    contact = MASS * (G + (touch + rebound) * np.pi / (2 * n / RATE) * np.sin(np.pi * s))
    s = np.arange(300) / 300
    land = MASS * (G + rebound * np.pi / 0.6 * np.sin(np.pi * s))
    force = np.concatenate(
        [
            np.zeros(1000),
            contact,
            np.zeros(round(2 * rebound / G * RATE)),
            land,
            np.full(2000, MASS * G),
        ]
    )
    force += np.random.default_rng(1).standard_normal(force.size)
    (found,) = analyse(Recording(RATE, force)).jumps
    height, speed = found.measures["drop_height"], found.measures["touch_down_velocity"]

    assert found.kind is JumpKind.DJ
    assert height.value == pytest.approx(drop_m, abs=3 * height.se)
    assert height.se < 0.01
    assert -speed.value / math.sqrt(RATIO) == pytest.approx(velocity, abs=3 * speed.se)
