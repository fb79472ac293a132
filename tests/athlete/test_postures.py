import numpy as np
import pytest

from saltus.athlete import postures
from saltus.quantities import STANDARD_GRAVITY

A, T0, W0, D = 0.505, 900 / 78, 18.0, 0.42


def test_bottom_force_is_torque_over_the_arm_of_the_two_segment_leg():
    """At knee angle theta, L = 2a sin(theta/2) and r = a cos(theta/2) (design, Alexander 1990)."""
    theta = 2 * np.arcsin((2 * A - D) / (2 * A))

    expected = T0 / (A * np.cos(theta / 2))
    assert postures.bottom_force_n_kg(T0, A, D) == pytest.approx(expected)
    assert postures.bottom_force_rate_n_s_kg(6000 / 78, A, D) == pytest.approx(
        6000 / 78 / T0 * expected
    )


def test_a_stronger_leg_squats_more_in_proportion_to_the_whole_that_is_lifted():
    weak = postures.parallel_squat_kg(T0, W0, A, 78.0)
    strong = postures.parallel_squat_kg(1.1 * T0, W0, A, 78.0)

    lifted = 0.88 * 78.0
    assert (strong + lifted) / (weak + lifted) == pytest.approx(1.1)


def test_the_reference_athlete_squats_what_a_trained_person_squats():
    """Common practice: 1.5 to 2 x body mass is trained."""
    assert 1.5 < postures.parallel_squat_kg(T0, W0, A, 78.0) / 78.0 < 2.0


def test_a_leg_too_weak_to_stand_up_squats_next_to_nothing():
    assert postures.parallel_squat_kg(2.0, W0, A, 78.0) == pytest.approx(1.0)


def test_a_pull_rises_from_body_weight_to_its_peak():
    times = np.array([0.0, 0.05, 0.1, 0.2, np.inf])

    force = postures.isometric_pull_n(T0, 75.0, A, 78.0, efficiency=0.65, after_s=times)

    assert force[0] == pytest.approx(78.0 * STANDARD_GRAVITY)
    assert np.all(np.diff(force) > 0)


def test_peak_pull_lies_in_the_plausible_range():
    """25 to 45 N/kg (check-values, section 6, from memory)."""
    peak = postures.isometric_pull_n(T0, 75.0, A, 78.0, efficiency=0.65)

    assert 25 < peak / 78.0 < 45


def test_torque_capacity_ends_at_the_unloaded_speed():
    assert postures.torque_capacity(0.0) == 1.0
    assert postures.torque_capacity(1.0) == 0.0
    assert postures.torque_capacity(1.5) == 0.0
