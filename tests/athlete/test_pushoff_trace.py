"""The simulated ground force over time: its truth must be the truth."""

import numpy as np
import pytest

from saltus.athlete.pushoff import Start, simulate
from saltus.athlete.pushoff_trace import trace
from saltus.errors import ModelError

G = 9.80665
ATHLETE = {
    "mass_kg": 70.0,
    "segment_m": 0.49,
    "torque_nm": 850.0,
    "speed_rad_s": 17.0,
    "rfd_nm_s": 5500.0,
    "distance_m": 0.40,
    "stretch_gain": 0.1,
    "load_kg": 10.0,
    "drop_m": 0.3,
}
starts = pytest.mark.parametrize("start", list(Start))


@starts
def test_height_and_times_are_those_of_the_simulation(start):
    t, p = trace(start, **ATHLETE), simulate(start, **ATHLETE)
    assert t.height_m == pytest.approx(p.height_m[0], abs=3e-6)
    assert t.take_off_s - t.start_s == pytest.approx(p.time_to_take_off_s[0], abs=3e-6)
    assert t.take_off_s - t.turn_s == pytest.approx(p.push_off_s[0], abs=3e-6)
    assert t.landing_s - t.take_off_s == pytest.approx(2 * t.take_off_velocity_m_s / G)


@starts
def test_force_integrates_to_the_velocity_and_that_to_the_displacement(start):
    t = trace(start, **ATHLETE, rate_hz=20_000)
    # A drop jump begins on a box, whose force is not recorded.
    on = t.time_s >= (t.start_s if start is Start.DROP else 0)
    time, force, v, y = (x[on] for x in (t.time_s, t.force_n, t.velocity_m_s, t.displacement_m))
    acceleration = (force - t.weight_n) / (t.weight_n / G)
    h = 1 / t.rate_hz

    def integral(x):
        return np.concatenate([[0], np.cumsum((x[1:] + x[:-1]) / 2)]) * h

    # The trapezium rule is wrong by up to half a step of the jumps in force: at the turn.
    assert np.max(np.abs(integral(acceleration) + v[0] - v)) < 2e-4
    assert np.max(np.abs(integral(v) + y[0] - y)) < 1e-5
    assert v[-1] == pytest.approx(0, abs=1e-4)
    assert y[-1] == pytest.approx(0, abs=1e-4)
    assert time.size > 0


@starts
def test_flight_is_empty_and_standing_is_still(start):
    t = trace(start, **ATHLETE)
    flying = (t.time_s > t.take_off_s) & (t.time_s < t.landing_s)
    assert np.all(t.force_n[flying] == 0)
    before = t.time_s < 1.5
    expected = 0 if start is Start.DROP else t.weight_n
    assert np.all(t.force_n[before] == expected)
    assert np.all(t.force_n >= 0)
    last = t.time_s > t.time_s[-1] - 1
    assert np.max(np.abs(t.force_n[last] - t.weight_n)) < 0.02 * t.weight_n


def test_countermovement_turns_at_the_push_off_distance():
    t = trace(Start.COUNTERMOVEMENT, **ATHLETE, rate_hz=5000)
    push = t.time_s < t.take_off_s
    # Standing is 0.3 of the distance below the outstretched leg.
    assert t.displacement_m[push].min() == pytest.approx(-0.7 * 0.40, abs=1e-6)
    at = np.argmin(t.displacement_m[push])
    assert t.time_s[at] == pytest.approx(t.turn_s, abs=2e-4)


def test_the_squat_is_held_before_a_squat_jump():
    t = trace(Start.SQUAT, **ATHLETE)
    held = (t.time_s > t.start_s - 0.9) & (t.time_s < t.start_s)
    assert np.allclose(t.force_n[held], t.weight_n)
    assert np.allclose(t.displacement_m[held], -0.7 * 0.40)


def test_landing_with_bent_knees_lengthens_the_flight():
    straight = trace(Start.SQUAT, **ATHLETE)
    bent = trace(Start.SQUAT, **ATHLETE, landing_bend_m=0.08)
    assert bent.height_m == straight.height_m
    v = straight.take_off_velocity_m_s
    expected = (v + np.sqrt(v**2 + 2 * G * 0.08)) / G
    assert bent.landing_s - bent.take_off_s == pytest.approx(expected)
    assert bent.velocity_m_s[-1] == pytest.approx(0, abs=1e-4)


def test_the_landing_never_pulls_over_many_bodies():
    rng = np.random.default_rng(8)
    for _ in range(15):
        mass = rng.uniform(45, 110)
        who = {
            "mass_kg": mass,
            "segment_m": rng.uniform(0.4, 0.56),
            "torque_nm": mass * rng.uniform(8, 18),
            "speed_rad_s": rng.uniform(13, 25),
            "rfd_nm_s": mass * rng.uniform(30, 200),
            "distance_m": rng.uniform(0.3, 0.55),
        }
        t = trace(Start.SQUAT, **who, rate_hz=500)
        assert t.force_n.min() >= 0
        assert t.velocity_m_s[-1] == pytest.approx(0, abs=1e-3)


@pytest.mark.parametrize(
    "change",
    [{"rate_hz": 0}, {"after_s": -1}, {"landing_bend_m": 0.5}, {"mass_kg": 0}, {"load_kg": 500}],
)
def test_refuses_what_cannot_be_traced(change):
    with pytest.raises(ModelError):
        trace(Start.SQUAT, **{**ATHLETE, **change})
