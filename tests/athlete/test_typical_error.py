import datetime as dt
import math

import numpy as np
import pytest
from scipy import stats

from saltus.athlete.observations import Jump, JumpMethod, JumpStyle
from saltus.athlete.readings import own_errors, readings_of
from saltus.athlete.typical_error import (
    ENOUGH,
    PRIOR_FREEDOM,
    own_attempts,
    own_error,
    successive_freedom,
    typical_error,
)

START = dt.date(2026, 9, 1)


def jumps_on(heights, *, gap_days=3, attempts=None):
    return [
        Jump(
            date=START + dt.timedelta(days=gap_days * i),
            style=JumpStyle.COUNTERMOVEMENT,
            method=JumpMethod.MAT,
            heights_m=(height,) * 3 if attempts is None else tuple(height + np.array(attempts)),
        )
        for i, height in enumerate(heights)
    ]


def chain(values, gap=3.5):
    return [(gap * i, float(value)) for i, value in enumerate(values)]


def test_a_shift_common_to_all_is_no_error():
    differences = np.array([1.0, -0.4, 0.3, 2.2, 0.9])
    assert typical_error(differences + 5).value == pytest.approx(typical_error(differences).value)


def test_the_interval_is_that_of_chi_square():
    rng = np.random.default_rng(1)
    truth, inside = 1.5, []
    for _ in range(2000):
        found = typical_error(rng.normal(0, truth * math.sqrt(2), size=10))
        inside.append(found.low <= truth <= found.high)
    assert np.mean(inside) == pytest.approx(0.8, abs=0.025)


def test_one_difference_tells_no_error():
    with pytest.raises(ValueError, match="two"):
        typical_error([1.0])


def test_too_few_repeats_leave_the_published_error():
    few = own_error([chain([0.0, 3.0, -3.0, 2.0])])
    assert few.freedom < ENOUGH
    assert few.ratio.value == 1
    assert "published" in few.text.casefold()


@pytest.mark.parametrize("truth", [0.6, 1.0, 1.6])
def test_repeats_draw_the_error_from_the_published_towards_their_own(truth):
    rng = np.random.default_rng(4)
    found = [own_error([chain(truth * rng.standard_normal(30))]).ratio.value for _ in range(200)]
    assert abs(np.mean(found) - truth) < 0.65 * abs(1 - truth) + 0.03
    if truth != 1:
        assert abs(np.mean(found) - 1) > 0.3 * abs(truth - 1)


def test_a_steady_rise_is_no_error():
    noise = np.random.default_rng(5).standard_normal(30)
    still, rising = own_error([chain(noise)]), own_error([chain(noise + 0.5 * np.arange(30))])
    assert rising.ratio.value == pytest.approx(still.ratio.value, rel=0.05)


def test_the_interval_holds_errors_as_different_as_published_ones_with_outlying_tests():
    rng = np.random.default_rng(6)
    inside = []
    for _ in range(600):
        truth = math.sqrt(PRIOR_FREEDOM / rng.chisquare(PRIOR_FREEDOM))
        values = truth * rng.standard_t(5, size=24) * math.sqrt(0.6)
        found = own_error([chain(values)])
        inside.append(found.ratio.low <= truth <= found.ratio.high)
    assert 0.75 < np.mean(inside) < 0.87


def test_the_freedom_of_successive_differences_is_that_of_their_spread():
    rng = np.random.default_rng(7)
    values = rng.standard_normal((40_000, 12))
    squared = np.mean(np.diff(values, axis=1) ** 2, axis=1) / 2
    # A scaled chi-square of f degrees has a variance of 2/f about a mean of 1.
    assert successive_freedom([12]) + 1 == pytest.approx(2 / np.var(squared), rel=0.03)


def test_attempts_of_a_day_tell_their_own_spread_and_copied_ones_nothing():
    rng = np.random.default_rng(8)
    days = [(0.35 + 0.02 * rng.standard_normal(3), 0.01) for _ in range(20)]
    wide = own_attempts(days)
    copied = own_attempts([((0.35, 0.35, 0.35), 0.01)] * 20)

    assert wide.ratio.value > 1.3
    assert "own repeats" in wide.text
    assert copied.freedom == 0
    assert copied.ratio.value == 1


def test_readings_take_the_athlete_s_own_error_only_from_repeats_close_together(person):
    rng = np.random.default_rng(9)
    heights = 0.35 + 0.004 * rng.standard_normal(24)
    published = readings_of(jumps_on(heights), person, published=True)[0].sd
    close = readings_of(jumps_on(heights), person)[0].sd
    far = readings_of(jumps_on(heights, gap_days=14), person)[0].sd

    assert close < 0.85 * published
    assert far == published
    assert own_errors(jumps_on(heights, gap_days=14), person) == ()
    ((words, error),) = own_errors(jumps_on(heights), person)
    assert words == "countermovement jump"
    assert close == pytest.approx(published * error.ratio.value)


def test_attempts_of_a_steady_jumper_narrow_the_reading(person):
    days = jumps_on(np.full(6, 0.35), gap_days=30, attempts=(-0.002, 0.0, 0.002))
    published = readings_of(days, person, published=True)[0].sd
    assert readings_of(days, person)[0].sd < published


def test_a_typical_error_is_that_of_a_two_way_analysis_of_variance():
    # Typical error = SD of differences / sqrt(2) (Hopkins 2000, Sports Med 30:1-15): the residual
    # of persons by trials, here by least squares.
    rng = np.random.default_rng(10)
    first = rng.normal(38, 5, size=9)
    second = first + 0.8 + rng.normal(0, 1.5, size=9)
    y = np.concatenate([first, second])
    design = np.hstack([np.tile(np.eye(9), (2, 1)), np.repeat([[0.0], [1.0]], 9, axis=0)])
    _, squares, rank, _ = np.linalg.lstsq(design, y, rcond=None)
    residual = math.sqrt(squares[0] / (y.size - rank))
    found = typical_error(second - first)

    assert found.value == pytest.approx(residual)
    low = residual * math.sqrt(8 / stats.chi2.isf(0.1, 8))
    assert found.low == pytest.approx(low)
