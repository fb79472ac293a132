import numpy as np
import pytest

from saltus.jumps.plate import LEAST_THRESHOLD_N, prepare, runs_of


def test_level_and_noise_of_the_empty_plate_are_found(plate):
    found = prepare(plate.recording(plate.empty(3), plate.still(2), noise=4.0, level=-7.0)).plate

    assert found.level_n == pytest.approx(-7.0, abs=4 * found.level_se_n)
    assert found.level_se_n == pytest.approx(4.0 / np.sqrt(3000), rel=0.1)
    assert found.noise_n == pytest.approx(4.0, rel=0.1)
    assert found.threshold_n == pytest.approx(5 * found.noise_n)


def test_a_zeroed_plate_is_left_alone(plate):
    found = prepare(plate.recording(plate.empty(3), plate.still(2), noise=1.0)).plate

    assert found.level_n == 0.0
    assert found.level_se_n == 0.0
    assert found.threshold_n == LEAST_THRESHOLD_N


def test_a_plate_that_writes_zeros_hides_what_is_small(plate):
    assert prepare(plate.recording(plate.empty(1), plate.still(1), noise=0.0)).plate.hides
    assert not prepare(plate.recording(plate.empty(1), plate.still(1), noise=0.5)).plate.hides


def test_a_plate_never_seen_empty_gets_the_least_threshold(plate):
    found = prepare(plate.recording(plate.still(3), noise=2.0)).plate

    assert found.level_n == 0.0
    assert found.threshold_n == LEAST_THRESHOLD_N


def test_impulse_between_samples_follows_the_straight_line(plate):
    trace = prepare(plate.recording(np.linspace(100.0, 400.0, 1001), noise=0.0))

    # Force 100 + 300 t: impulse 100 t + 150 t^2.
    for t in (0.0, 0.2504, 0.7777, 1.0):
        assert trace.impulse(1000 * t) == pytest.approx(100 * t + 150 * t**2, abs=1e-4)


def test_noise_is_told_from_slow_movement(plate):
    slow = 20 * np.sin(2 * np.pi * plate.time(4))
    trace = prepare(plate.recording(plate.still(4) + slow, noise=3.0))

    assert trace.noise(0, 4000) == pytest.approx(3.0, rel=0.08)


def test_runs_of_finds_stretches_at_the_edges():
    runs = runs_of(np.array([True, True, False, True, False, True]))

    assert runs.first.tolist() == [0, 3, 5]
    assert runs.last.tolist() == [2, 4, 6]
    assert len(runs_of(np.zeros(3, dtype=bool))) == 0
