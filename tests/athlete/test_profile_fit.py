import datetime as dt

import numpy as np
import pytest

from saltus.athlete.measurement_error import METHODS, jump_error
from saltus.athlete.observations import Jump, JumpMethod, JumpStyle
from saltus.athlete.person import BodyMass, Person
from saltus.athlete.profile_equations import highest_jump_m, optimal_slope
from saltus.athlete.profile_fit import force_velocity_profile
from saltus.quantities import Estimate

DAY = dt.date(2026, 1, 5)
ATHLETE = Person("Example", (BodyMass(DAY, 80.0),))
DISTANCE = Estimate.normal(0.40, 0.005)
F0, V0 = 35.0, 3.2


def true_height(load: float, force=F0, speed=V0) -> float:
    moved = 1 + load / 80
    return float(highest_jump_m(force / moved, -force / speed / moved, 0.40))


def session(
    loads=(0, 20, 40, 60),
    style=JumpStyle.SQUAT,
    method=JumpMethod.PLATE_IMPULSE,
    day=DAY,
    noise=None,
    **more,
):
    shift = METHODS[method].bias_m
    return [
        Jump(
            date=day,
            style=style,
            method=method,
            heights_m=(true_height(load) + shift + (0 if noise is None else noise[i]),) * 3,
            load_kg=load,
            **more,
        )
        for i, load in enumerate(loads)
    ]


def fit(jumps, on=DAY, distance=DISTANCE):
    return force_velocity_profile(ATHLETE, jumps, on, push_off_distance=distance)


@pytest.mark.parametrize("method", list(JumpMethod))
def test_exact_heights_by_any_method_give_back_the_profile(method):
    profile, _ = fit(session(method=method))
    assert profile is not None
    assert profile.F0_n_kg.value == pytest.approx(F0, rel=1e-9)
    assert profile.v0_m_s.value == pytest.approx(V0, rel=1e-9)
    assert profile.Pmax_w_kg.value == pytest.approx(F0 * V0 / 4, rel=1e-9)
    assert profile.slope.value == pytest.approx(-F0 / V0, rel=1e-9)
    optimal = float(optimal_slope(F0 * V0 / 4, 0.40))
    assert profile.optimal_slope.value == pytest.approx(optimal)
    assert profile.balance.value == pytest.approx(-F0 / V0 / optimal)
    assert [point.load_kg for point in profile.points] == [0, 20, 40, 60]


def test_intervals_hold_the_truth_as_often_as_they_say():
    rng = np.random.default_rng(11)
    loads = (0, 20, 40, 60)
    jumps = session(loads, method=JumpMethod.MAT)
    errors = [jump_error(jump) for jump in jumps]
    truth = {
        "F0_n_kg": F0,
        "v0_m_s": V0,
        "Pmax_w_kg": F0 * V0 / 4,
        "slope": -F0 / V0,
    }
    held = dict.fromkeys(truth, 0)
    trials = 150
    for _ in range(trials):
        shared = rng.normal(0, errors[0].bias_sd_m)
        noise = [shared + rng.normal(0, e.sd_m) for e in errors]
        distance = Estimate.normal(rng.normal(0.40, 0.01), 0.01)
        profile, _ = fit(session(loads, method=JumpMethod.MAT, noise=noise), distance=distance)
        assert profile is not None
        for name, value in truth.items():
            estimate = getattr(profile, name)
            held[name] += estimate.low <= value <= estimate.high
    # 80 % of 150, give or take three standard errors of 3.3 points, and some points for the
    # draws being taken round the noisy heights.
    for name, count in held.items():
        assert 0.68 < count / trials < 0.90, name


def test_an_error_in_the_push_off_distance_widens_the_power():
    sharp, _ = fit(session())
    rough, _ = fit(session(), distance=Estimate.normal(0.40, 0.04))
    assert sharp is not None
    assert rough is not None
    assert rough.Pmax_w_kg.sd > 1.3 * sharp.Pmax_w_kg.sd
    assert any("push-off distance" in doubt for doubt in rough.doubts)
    assert not any("push-off distance" in doubt for doubt in sharp.doubts)


@pytest.mark.parametrize(
    "jumps",
    [
        [],
        session(loads=(20,)),
        session(arms=True),
        session(style=JumpStyle.APPROACH),
        [*session(loads=(0,)), *session(loads=(40,), style=JumpStyle.COUNTERMOVEMENT)],
        [*session(loads=(0,)), *session(loads=(40,), day=DAY - dt.timedelta(15))],
        session(day=DAY + dt.timedelta(1)),
    ],
    ids=["none", "one load", "arms", "approach", "styles mixed", "far apart", "later"],
)
def test_no_profile_without_two_loads_of_one_style_from_near_dates(jumps):
    profile, why = fit(jumps)
    assert profile is None
    assert "at least two different loads" in why


def test_near_dates_are_put_together():
    jumps = [*session(loads=(0, 20)), *session(loads=(40, 60), day=DAY - dt.timedelta(14))]
    profile, _ = fit(jumps)
    assert profile is not None
    assert len(profile.points) == 4


def test_the_latest_session_counts_and_squat_jumps_go_before_countermovement_jumps():
    old, new = DAY - dt.timedelta(100), DAY
    jumps = [
        *session(loads=(0, 30, 60), day=old),
        *session(loads=(0, 20, 40, 60), style=JumpStyle.COUNTERMOVEMENT, day=new),
    ]
    profile, _ = fit(jumps)
    assert profile is not None
    assert len(profile.points) == 4
    assert any("countermovement" in doubt for doubt in profile.doubts)
    profile, _ = fit([*jumps, *session(loads=(0, 25, 50), day=new - dt.timedelta(5))])
    assert profile is not None
    assert [point.load_kg for point in profile.points] == [0, 25, 50]


def test_two_loads_are_fitted_with_a_warning():
    profile, why = fit(session(loads=(0, 50)))
    assert profile is not None
    assert "Two loads only" in why


def test_close_loads_are_called_close_or_refused():
    profile, why = fit(session(loads=(0, 5, 10)))
    assert profile is None
    assert "too close together" in why
    profile, why = fit(session(loads=(0, 10, 24)))
    assert profile is not None
    assert "The loads are close together" in why


def test_an_unreliable_slope_is_called_so():
    profile, why = fit(session(loads=(0, 20, 40)))
    assert profile is not None
    assert profile.slope.sd > 0.15 * abs(profile.slope.value)
    assert "The slope is uncertain by" in why


def test_a_jump_that_rises_with_the_load_gives_no_profile():
    jumps = session(loads=(0, 40), noise=(-0.2, 0.2))
    profile, why = fit(jumps)
    assert profile is None
    assert "cannot be read off" in why


def test_old_tests_are_said_to_be_old():
    _, why = fit(session(), on=DAY + dt.timedelta(90))
    assert "From tests of 2026-01-05, 90 days earlier." in why


def test_the_same_tests_give_the_same_intervals():
    assert fit(session()) == fit(session())


def test_the_line_runs_from_F0_to_v0_with_its_band():
    profile, _ = fit(session())
    assert profile is not None
    first, last = profile.line[0], profile.line[-1]

    assert first.velocity_m_s == 0
    assert first.force_n_kg == profile.F0_n_kg
    assert last.velocity_m_s == pytest.approx(V0)
    assert last.force_n_kg.value == pytest.approx(0, abs=1e-9)
    widths = [at.force_n_kg.high - at.force_n_kg.low for at in profile.line]
    among_the_points = min(range(len(widths)), key=widths.__getitem__)
    # A line is known best among its points, and worse towards either end.
    assert 0 < among_the_points < len(widths) - 1
    assert all(w > 0 for w in widths)
