"""Clipping is told from coarse digits; signs, rates and persons are checked."""

import numpy as np
import pytest

from saltus.recordings.checks import check_rate, clipping, is_upside_down

TIME = np.arange(3000) / 1000
PEAK = 780 + 1200 * np.exp(-(((TIME - 1.5) / 0.12) ** 2))


@pytest.mark.parametrize("grain", [0.0, 0.5, 1.0, 10.0, 25.0])
def test_a_coarse_peak_is_not_clipped_and_a_clipped_one_is(grain):
    force = PEAK + np.random.default_rng(0).normal(0, 0.5, TIME.size)
    if grain:
        force = np.round(force / grain) * grain

    assert clipping(force, 1000.0) is None
    level, when = clipping(np.minimum(force, 1800.0), 1000.0)
    assert level == 1800
    assert when == pytest.approx(1.452, abs=0.003)


def test_a_smooth_simulated_signal_is_not_clipped():
    assert clipping(PEAK, 1000.0) is None
    assert clipping(np.full(2000, 780.0), 1000.0) is None


def test_only_a_force_that_points_down_is_upside_down(jump):
    force = jump()
    assert is_upside_down(-force)
    assert not is_upside_down(force)
    assert not is_upside_down(force - 780)  # zeroed under the person
    assert not is_upside_down(np.zeros(100) - 8.0)  # an offset


def test_the_limits_of_the_rate_themselves_are_allowed():
    assert check_rate(500.0, "x") is None
    assert "only 200 Hz" in check_rate(200.0, "x")
