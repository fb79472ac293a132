import datetime as dt

import pytest

from saltus.athlete.broad_jump import broad_jump_distance_m, broad_jump_height
from saltus.athlete.observations import BroadJump
from saltus.errors import TestError

DAY = dt.date(2026, 1, 5)


@pytest.mark.parametrize("arms", [True, False])
@pytest.mark.parametrize("height", [0.15, 0.30, 0.45, 0.70])
def test_distance_and_height_are_inverses(height, arms):
    distance = broad_jump_distance_m(height, stature_m=1.82, arms=arms)
    found, _ = broad_jump_height(BroadJump(date=DAY, distances_m=(distance,), arms=arms), 1.82)
    assert found == pytest.approx(height, abs=1e-12)


def test_a_taller_athlete_jumps_less_high_for_the_same_distance():
    test = BroadJump(date=DAY, distances_m=(2.2,))
    assert broad_jump_height(test, 1.95)[0] < broad_jump_height(test, 1.65)[0]


def test_an_unknown_stature_widens_the_error():
    test = BroadJump(date=DAY, distances_m=(2.2,))
    assert broad_jump_height(test)[1].bias_sd_m > broad_jump_height(test, 1.75)[1].bias_sd_m


def test_the_error_is_wider_than_that_of_any_vertical_test():
    _, error = broad_jump_height(BroadJump(date=DAY, distances_m=(2.2, 2.25, 2.2)), 1.75)
    assert error.bias_sd_m > 0.03


@pytest.mark.parametrize("distance", [0.3, 210.0])
def test_a_distance_nobody_jumps_is_refused(distance):
    with pytest.raises(TestError, match="in metres"):
        broad_jump_height(BroadJump(date=DAY, distances_m=(distance,)), 1.75)
