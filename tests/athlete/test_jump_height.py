import pytest

from saltus.athlete.jump_height import (
    flight_time_from_height,
    flight_time_with_lower_landing,
    frame_error_m,
    height_from_flight_time,
    reach_height,
    summary_of_attempts,
    velocity_from_height,
)
from saltus.errors import TestError


def test_flight_time_and_height_are_inverses():
    assert height_from_flight_time(flight_time_from_height(0.37)) == pytest.approx(0.37)


def test_an_even_landing_gives_the_plain_flight_time():
    velocity = velocity_from_height(0.37)
    assert flight_time_with_lower_landing(velocity, 0) == pytest.approx(
        flight_time_from_height(0.37)
    )


@pytest.mark.parametrize("flight_s", [0.0, -0.4, 3.0, 500.0])
def test_an_impossible_flight_time_is_refused_with_the_limit(flight_s):
    with pytest.raises(TestError, match=r"in seconds.*1\.2"):
        height_from_flight_time(flight_s)


def test_reach_is_the_touch_less_the_standing_reach():
    assert reach_height(2.95, 2.40) == pytest.approx(0.55)


def test_a_touch_below_the_standing_reach_is_refused():
    with pytest.raises(TestError, match="standing reach"):
        reach_height(2.30, 2.40)


@pytest.mark.parametrize("rate", [0, -30])
def test_an_impossible_frame_rate_is_refused(rate):
    with pytest.raises(TestError, match="frames a second"):
        frame_error_m(0.3, rate)


def test_attempts_are_averaged():
    assert summary_of_attempts([0.30, 0.32, 0.34]) == (pytest.approx(0.32), 3)


def test_a_missed_attempt_is_left_out():
    assert summary_of_attempts([0.40, 0.42, 0.20]) == (pytest.approx(0.41), 2)


@pytest.mark.parametrize("attempts", [[], [0.3, 0.0], [0.3, float("nan")], [-0.2]])
def test_attempts_that_are_no_heights_are_refused(attempts):
    with pytest.raises(TestError):
        summary_of_attempts(attempts)
