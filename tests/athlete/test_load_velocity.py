import datetime as dt

import numpy as np
import pytest

from saltus.athlete.load_velocity import SPEED_AT_MAXIMUM, maximum_from_bar_speed
from saltus.athlete.observations import BarSpeedSet, Lift
from saltus.errors import TestError


def a_set(loads, speeds, lift=Lift.BACK_SQUAT) -> BarSpeedSet:
    return BarSpeedSet(
        date=dt.date(2026, 1, 5), lift=lift, loads_kg=tuple(loads), speeds_m_s=tuple(speeds)
    )


@pytest.mark.parametrize("lift", list(SPEED_AT_MAXIMUM))
def test_points_on_a_line_give_the_load_at_the_speed_of_the_maximum(lift):
    at_maximum = SPEED_AT_MAXIMUM[lift][0]
    loads = np.array([60.0, 80.0, 100.0])
    speeds = at_maximum + 0.005 * (140 - loads)
    assert maximum_from_bar_speed(a_set(loads, speeds, lift))[0] == pytest.approx(140)


def test_the_error_covers_what_scatter_and_people_do():
    # Athletes with their own speed at the maximum and scattered speeds: the truth must lie
    # within one standard deviation about two times in three (the day's form left out).
    rng = np.random.default_rng(7)
    loads = np.array([60.0, 80.0, 100.0, 115.0])
    z = []
    for _ in range(2000):
        own = rng.normal(0.31, 0.05)
        truth = 140 * np.exp(rng.normal(0, 0.042))
        speeds = own + 0.0055 * (truth - loads) + rng.normal(0, 0.03, loads.size)
        one_rm, sd_log = maximum_from_bar_speed(a_set(loads, np.round(speeds, 2)))
        z.append((np.log(one_rm) - np.log(140)) / sd_log)
    assert abs(np.mean(z)) < 0.15
    assert 0.85 < np.std(z) < 1.15


def test_carrying_the_line_further_costs_certainty():
    near = maximum_from_bar_speed(a_set([80, 100, 120], [0.75, 0.60, 0.45]))[1]
    far = maximum_from_bar_speed(a_set([40, 60, 80], [1.05, 0.90, 0.75]))[1]
    assert far > 1.2 * near


def test_one_load_is_less_certain_than_a_line():
    one = maximum_from_bar_speed(a_set([100], [0.62]))
    line = maximum_from_bar_speed(a_set([60, 80, 100, 120], [0.95, 0.80, 0.62, 0.45]))
    assert one[1] > line[1]
    assert 100 < one[0] < 150


@pytest.mark.parametrize(
    ("loads", "speeds", "lift", "says"),
    [
        ([], [], Lift.BACK_SQUAT, "one speed for each load"),
        ([60, 80], [0.9], Lift.BACK_SQUAT, "one speed for each load"),
        ([60, 80], [0.8, 0.9], Lift.BACK_SQUAT, "no slower under the heavier"),
        ([60, 80], [0.8, 0.9], Lift.POWER_CLEAN, "set of repetitions"),
        ([60], [0.9], Lift.LEG_PRESS, "second load"),
        ([60, 80], [90, 80], Lift.BACK_SQUAT, "in m/s"),
        ([0, 80], [0.9, 0.8], Lift.BACK_SQUAT, "positive"),
        ([60, 62], [0.90, 0.899], Lift.BACK_SQUAT, "heavier load"),
    ],
)
def test_sets_that_tell_nothing_are_refused_with_the_way_out(loads, speeds, lift, says):
    with pytest.raises(TestError, match=says):
        maximum_from_bar_speed(a_set(loads, speeds, lift))
