"""The push-off model from inside: what must hold whatever the athlete."""

import math
import os
import signal
from concurrent.futures import ThreadPoolExecutor

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from saltus.athlete import pushoff_kernels as kernels
from saltus.athlete.pushoff import (
    Start,
    simulate,
    why_infeasible,
)
from saltus.errors import ModelError

G = 9.80665

ATHLETE = {
    "mass_kg": 78.0,
    "segment_m": 0.505,
    "torque_nm": 900.0,
    "speed_rad_s": 18.0,
    "rfd_nm_s": 6000.0,
    "distance_m": 0.42,
    "stretch_gain": 0.1,
    "load_kg": 0.0,
    "drop_m": 0.3,
}
NUMBERS = ("height_m", "take_off_velocity_m_s", "push_off_s", "time_to_take_off_s", "depth_m",
           "peak_power_w", "mean_force_n", "peak_force_n")  # fmt: skip


@st.composite
def athletes(draw):
    """Anybody at all, and some bodies that nobody has."""

    def between(low, high):
        return draw(st.floats(low, high))

    mass = between(30, 150)
    return {
        "mass_kg": mass,
        "segment_m": between(0.35, 0.6),
        "torque_nm": mass * between(4, 30),
        "speed_rad_s": between(8, 35),
        "rfd_nm_s": mass * between(10, 400),
        "distance_m": between(0.2, 0.6),
        "stretch_gain": between(0, 0.6),
        "load_kg": mass * between(0, 2),
        "drop_m": between(0, 1.2),
    }


starts = pytest.mark.parametrize("start", list(Start))


@starts
@settings(max_examples=150, deadline=None)
@given(who=athletes())
def test_every_push_keeps_to_mechanics(start, who):
    p = simulate(start, **who)
    if not p.feasible[0]:
        assert all(math.isnan(getattr(p, name)[0]) for name in NUMBERS)
        assert why_infeasible(
            start, **{k: who[k] for k in ("mass_kg", "segment_m", "torque_nm", "distance_m",
                                          "load_kg", "drop_m")}
        )  # fmt: skip
        return
    v, weight = p.take_off_velocity_m_s[0], (who["mass_kg"] + who["load_kg"]) * G
    assert v > 0
    assert p.height_m[0] == pytest.approx(v**2 / (2 * G))
    # Impulse: (mean force - weight) times time is momentum.
    assert (p.mean_force_n[0] - weight) * p.push_off_s[0] == pytest.approx(weight / G * v, rel=1e-9)
    assert weight < p.mean_force_n[0] <= p.peak_force_n[0]
    assert 0 < p.push_off_s[0] <= p.time_to_take_off_s[0]
    assert p.peak_power_w[0] >= p.mean_force_n[0] * v / 4
    if start is Start.DROP:
        assert p.contact_s[0] == p.time_to_take_off_s[0]
        assert 0 <= p.depth_m[0] < 2 * who["segment_m"]
    else:
        assert math.isnan(p.contact_s[0])
        assert p.depth_m[0] == who["distance_m"]


@settings(max_examples=100, deadline=None)
@given(who=athletes())
def test_squat_and_countermovement_are_feasible_exactly_when_the_bottom_can_be_held(who):
    leg = 2 * who["segment_m"]
    lever = who["segment_m"] * math.sqrt(1 - (1 - who["distance_m"] / leg) ** 2)
    spare = who["torque_nm"] / ((who["mass_kg"] + who["load_kg"]) * G * lever)
    if abs(spare - 1) < 1e-3:
        return
    for start in (Start.SQUAT, Start.COUNTERMOVEMENT):
        assert simulate(start, **who).feasible[0] == (spare > 1)


# A stronger, quicker or lighter drop jumper also turns sooner, with less of a push left:
# there either can happen, and only speed and gain are sure to help.
SURE_TO_HELP = [
    *((s, name) for s in (Start.SQUAT, Start.COUNTERMOVEMENT)
      for name in ("torque_nm", "speed_rad_s", "rfd_nm_s", "distance_m")),
    (Start.COUNTERMOVEMENT, "stretch_gain"),
    (Start.DROP, "speed_rad_s"),
    (Start.DROP, "stretch_gain"),
]  # fmt: skip
SURE_TO_HINDER = [
    (s, name) for s in (Start.SQUAT, Start.COUNTERMOVEMENT) for name in ("mass_kg", "load_kg")
]


def _changes(start, name):
    grid = np.linspace(0.8, 1.4, 40) * (ATHLETE[name] or 20.0)
    return np.diff(simulate(start, **{**ATHLETE, name: grid}).height_m)


@pytest.mark.parametrize(("start", "name"), SURE_TO_HELP)
def test_more_of_a_quality_jumps_higher(start, name):
    assert np.all(_changes(start, name) > 0)


@pytest.mark.parametrize(("start", "name"), SURE_TO_HINDER)
def test_more_to_lift_jumps_lower(start, name):
    assert np.all(_changes(start, name) < 0)


def test_a_squat_jump_has_no_stretch():
    assert np.all(_changes(Start.SQUAT, "stretch_gain") == 0)


@starts
@pytest.mark.parametrize("name", list(ATHLETE))
def test_finite_differences_are_clean(start, name):
    # Neighbours a ten-thousandth apart: steps coming and going must not show. The smooth
    # curve is a polynomial through all of them.
    middle = ATHLETE[name] or 20.0
    log_ratio = np.linspace(-0.1, 0.1, 2001)
    heights = simulate(start, **{**ATHLETE, name: middle * np.exp(log_ratio)}).height_m
    smooth = np.polynomial.Chebyshev.fit(log_ratio, heights, 12)
    slope = np.gradient(heights, log_ratio)[1:-1]
    assert np.max(np.abs(slope - smooth.deriv()(log_ratio)[1:-1])) < 5e-5  # m per 100 %


def test_times_power_and_depth_are_smooth_as_well():
    torque = ATHLETE["torque_nm"] * np.exp(np.linspace(-0.1, 0.1, 401))
    p = simulate(Start.DROP, **{**ATHLETE, "torque_nm": torque})
    for name, limit in {
        "contact_s": 1e-6,
        "depth_m": 1e-6,
        "peak_power_w": 0.05,
        "peak_force_n": 0.5,
        "mean_force_n": 0.01,
    }.items():
        y = getattr(p, name)
        rest = y - np.polynomial.Chebyshev.fit(torque, y, 10)(torque)
        assert np.max(np.abs(rest)) < limit, name


@starts
def test_a_batch_equals_its_pushes_one_by_one(start):
    rng = np.random.default_rng(5)
    n = 5000  # more than one thread's share
    many = {k: v * rng.uniform(0.8, 1.2, n) for k, v in ATHLETE.items()}
    batch = simulate(start, **many)
    for i in (0, 1, 1999, 2000, 4999):
        one = simulate(start, **{k: float(v[i]) for k, v in many.items()})
        for name in NUMBERS:
            assert getattr(batch, name)[i] == getattr(one, name)[0]


def test_starts_can_be_mixed_and_everything_broadcasts():
    codes = [s.code for s in Start]
    assert codes == [kernels.SQUAT, kernels.COUNTERMOVEMENT, kernels.DROP]
    mixed = simulate(codes, **ATHLETE)
    assert mixed.height_m.shape == (3,)
    assert np.array_equal(mixed.height_m, [simulate(s, **ATHLETE).height_m[0] for s in Start])
    assert simulate(Start.SQUAT, **{**ATHLETE, "load_kg": np.empty(0)}).height_m.shape == (0,)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot fork")
@pytest.mark.filterwarnings("ignore:.*fork:DeprecationWarning")
def test_a_forked_process_simulates_with_threads_of_its_own():
    drops = np.linspace(0.1, 0.4, 5000)  # more than one thread's share
    before = simulate(Start.DROP, **{**ATHLETE, "drop_m": drops}).height_m
    child = os.fork()
    if child == 0:
        signal.alarm(60)  # one that waits for threads that it has not got is ended
        after = simulate(Start.DROP, **{**ATHLETE, "drop_m": drops}).height_m
        os._exit(0 if np.array_equal(before, after) else 1)
    _, status = os.waitpid(child, 0)
    assert status == 0


def test_several_threads_may_simulate_at_once():
    load = np.linspace(0, 30, 6000)
    expected = simulate(Start.COUNTERMOVEMENT, **{**ATHLETE, "load_kg": load}).height_m
    with ThreadPoolExecutor(4) as pool:
        runs = [
            pool.submit(simulate, Start.COUNTERMOVEMENT, **{**ATHLETE, "load_kg": load})
            for _ in range(8)
        ]
        for run in runs:
            assert np.array_equal(run.result().height_m, expected)


def test_a_load_that_cannot_be_stood_up_with_is_an_answer():
    load = np.array([0.0, 140.0, 150.0, 300.0])
    for start in (Start.SQUAT, Start.COUNTERMOVEMENT):
        p = simulate(start, **{**ATHLETE, "load_kg": load})
        assert p.feasible.tolist() == [True, True, False, False]
        assert np.isnan(p.height_m).tolist() == [False, False, True, True]
    why = why_infeasible(
        Start.SQUAT, mass_kg=78, segment_m=0.505, torque_nm=900, distance_m=0.42, load_kg=300
    )
    assert "300 kg cannot be stood up with" in why


def test_just_below_the_heaviest_load_it_is_slow_and_low_but_a_jump():
    heaviest = 900 / (G * 0.505 * math.sqrt(1 - (0.59 / 1.01) ** 2)) - 78
    load = heaviest * (1 - 10.0 ** -np.arange(1.0, 7.0))
    for start in (Start.SQUAT, Start.COUNTERMOVEMENT):
        p = simulate(start, **{**ATHLETE, "load_kg": load})
        assert np.all(p.feasible)
        assert np.all(np.diff(p.height_m) < 0)
        assert np.all(np.diff(p.time_to_take_off_s) > 0)
        assert p.height_m[-1] > 0.01


@pytest.mark.parametrize(
    ("start", "change", "word"),
    [
        (Start.SQUAT, {"distance_m": 1.2}, "does not fit a leg"),
        (Start.DROP, {"drop_m": 4.0}, "give way"),
        (Start.SQUAT, {"speed_rad_s": 1.0}, "too slow"),
    ],
)
def test_says_why_there_is_no_jump(start, change, word):
    who = {**ATHLETE, **change}
    assert not simulate(start, **who).feasible[0]
    names = ("mass_kg", "segment_m", "torque_nm", "distance_m", "load_kg", "drop_m")
    assert word in why_infeasible(start, **{k: who[k] for k in names})


@pytest.mark.parametrize("name", list(ATHLETE))
@pytest.mark.parametrize("value", [-1.0, math.inf, math.nan])
def test_refuses_what_no_body_can_have(name, value):
    with pytest.raises(ModelError, match=name):
        simulate(Start.SQUAT, **{**ATHLETE, name: value})


def test_names_the_faulty_push_of_many():
    with pytest.raises(ModelError, match=r"push 1.*mass_kg"):
        simulate(Start.SQUAT, **{**ATHLETE, "mass_kg": [70.0, 0.0]})


def test_a_nan_among_many_comes_out_as_nan():
    for start in Start:
        for name, value in ATHLETE.items():
            if name == "stretch_gain" and start is Start.SQUAT:
                continue
            p = simulate(start, **{**ATHLETE, name: [value, math.nan]})
            assert p.feasible.tolist() == [True, False], (start, name)


def test_refuses_unknown_starts_and_tables():
    with pytest.raises(ModelError, match="Start"):
        simulate([3], **ATHLETE)
    with pytest.raises(ModelError, match="shape"):
        simulate(Start.SQUAT, **{**ATHLETE, "mass_kg": np.ones((2, 2))})


def test_no_fall_and_enough_torque_goes_straight_up():
    p = simulate(Start.DROP, **{**ATHLETE, "drop_m": 0.0})
    assert p.depth_m[0] == 0
    assert p.contact_s[0] == p.push_off_s[0]


@starts
@settings(max_examples=60, deadline=None)
@given(
    who=st.fixed_dictionaries(
        {k: st.floats(1e-6, 1e6) for k in ATHLETE if k not in {"stretch_gain", "load_kg", "drop_m"}}
    )
)
def test_nonsense_neither_hangs_nor_leaks(start, who):
    p = simulate(start, **who, stretch_gain=0.3, load_kg=1.0, drop_m=0.5)
    numbers = np.array([getattr(p, name)[0] for name in NUMBERS])
    assert np.all(np.isfinite(numbers)) if p.feasible[0] else np.all(np.isnan(numbers))
