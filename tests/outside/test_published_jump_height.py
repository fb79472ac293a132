"""Heights, flight times and take-off velocities against published worked examples.

Tables "computed" from the cited equations use g = 9.81 m/s².
"""

import pytest

from saltus.athlete.jump_height import (
    flight_time_with_lower_landing,
    frame_error_m,
    height_from_flight_time,
    height_from_velocity,
    velocity_from_height,
)

G = 9.81

# h = g t²/8, v = g t/2: Linthorne 2001, Am J Phys 69:1198-1204 (formula read, values computed).
FLIGHTS = [
    (0.300, 11.04, 1.472),
    (0.400, 19.62, 1.962),
    (0.450, 24.83, 2.207),
    (0.500, 30.66, 2.453),
    (0.550, 37.09, 2.698),
    (0.600, 44.15, 2.943),
    (0.700, 60.09, 3.433),
]


@pytest.mark.parametrize(("flight_s", "height_cm", "velocity"), FLIGHTS)
def test_flight_time_gives_the_published_height_and_velocity(flight_s, height_cm, velocity):
    height = height_from_flight_time(flight_s, G)
    assert 100 * height == pytest.approx(height_cm, abs=0.006)
    assert velocity_from_height(height, G) == pytest.approx(velocity, abs=0.0006)


def test_arm_swing_of_volleyball_players():
    # Feltner, Fraschetti & Crisp 1999, J Sports Sci 17:449-466: 2.75 m/s with arms, 2.44 without
    # (read); heights computed.
    with_arms, without = height_from_velocity(2.75, G), height_from_velocity(2.44, G)
    assert 100 * with_arms == pytest.approx(38.5, abs=0.06)
    assert 100 * without == pytest.approx(30.3, abs=0.06)
    assert 100 * (with_arms - without) == pytest.approx(8.2, abs=0.06)


@pytest.mark.parametrize(("lower_m", "height_cm"), [(0.0, 31.86), (0.01, 32.35), (0.02, 32.85)])
def test_landing_lower_than_take_off_inflates_the_height(lower_m, height_cm):
    # Computed from the equation of free fall; direction: Nishioka et al. 2024 (read).
    flight = flight_time_with_lower_landing(2.50, lower_m, G)
    assert 100 * height_from_flight_time(flight, G) == pytest.approx(height_cm, abs=0.006)


@pytest.mark.parametrize(
    ("rate_hz", "error_cm", "digit"),
    [(30, 4.2, 0.1), (60, 2.1, 0.1), (120, 1.0, 0.1), (240, 0.51, 0.01), (1000, 0.12, 0.01)],
)
def test_one_frame_at_half_a_second_of_flight(rate_hz, error_cm, digit):
    # Computed: g/8 times the square of a flight one frame longer, less that of the true one.
    height = height_from_flight_time(0.5, G)
    assert 100 * frame_error_m(height, rate_hz, G) == pytest.approx(error_cm, abs=0.51 * digit)


def test_reactive_strength_index_of_the_worked_example():
    # Computed: flight 0.500 s, contact 0.200 s give 1.533 m/s.
    assert height_from_flight_time(0.5, G) / 0.2 == pytest.approx(1.533, abs=0.0006)
