import datetime as dt

import numpy as np
import pytest
from scipy.optimize import least_squares

from saltus.athlete.load_velocity import SPEED_AT_MAXIMUM, SPEED_SD_M_S, percent_of_maximum
from saltus.athlete.observations import BarSpeedSet, Lift
from saltus.progress.bar_speeds_over_time import speeds_together

START = dt.date(2026, 8, 3)
LOADS = (50.0, 65.0, 80.0)


def a_day(after, loads, speeds, lift=Lift.BACK_SQUAT):
    return BarSpeedSet(
        date=START + dt.timedelta(days=after),
        lift=lift,
        loads_kg=tuple(loads),
        speeds_m_s=tuple(speeds),
    )


def published_speed(share):
    """Inverse of the full-squat curve of Sánchez-Medina et al. 2017 (check-values)."""
    speeds = np.linspace(2.0, 0.2, 500)
    return np.interp(share, percent_of_maximum(speeds) / 100, speeds)


def covariance_of(read):
    """Of all errors but the form of the day."""
    return np.diag(read.own_variance) + np.outer(read.common, read.common)


@pytest.mark.parametrize("gain", [-0.05, 0.0, 0.093, 0.2])
def test_a_gain_shows_in_speeds_at_the_same_share_of_the_maximum(gain):
    """Speed at a share of the maximum is where it was after a gain of 9.3 % (González-Badillo &
    Sánchez-Medina 2010, Int J Sports Med 31:347-352; from memory)."""
    before, after = 100.0, 100.0 * (1 + gain)
    days = [
        a_day(7 * i, share * maximum, published_speed(share))
        for i, maximum in enumerate([before, before, after, after])
        for share in [np.array([0.5, 0.65, 0.8])]
    ]
    read = speeds_together(days)
    assert read.log_maximum[3] - read.log_maximum[0] == pytest.approx(np.log1p(gain), abs=1e-9)


def test_a_gain_shows_in_speeds_at_the_same_loads():
    days = [
        a_day(7 * i, LOADS, published_speed(np.array(LOADS) / maximum))
        for i, maximum in enumerate([100.0, 110.0])
    ]
    read = speeds_together(days)
    # The curve is read by a line: a tenth of the gain at the most is lost to that.
    assert read.log_maximum[1] - read.log_maximum[0] == pytest.approx(np.log(1.1), rel=0.1)


def test_a_single_load_tells_a_change_where_other_days_tell_the_line():
    days = [
        a_day(0, LOADS, published_speed(np.array(LOADS) / 100)),
        a_day(7, [72.0], published_speed([0.72])),
        a_day(14, [72.0], published_speed([0.72 / 1.05])),
    ]
    read = speeds_together(days)
    assert read.log_maximum[1] == pytest.approx(read.log_maximum[0], abs=0.01)
    assert read.log_maximum[2] - read.log_maximum[1] == pytest.approx(np.log(1.05), rel=0.2)


def test_against_a_general_least_squares():
    """SciPy's solver, given all speeds, the prior of the intercept, and the scatter as found."""
    rng = np.random.default_rng(4)
    days = [
        a_day(
            3 * i,
            loads,
            published_speed(np.array(loads) / 120) + SPEED_SD_M_S * rng.standard_normal(len(loads)),
        )
        for i, loads in enumerate([LOADS, (60.0, 90.0), (95.0,), (70.0, 80.0, 90.0, 90.0)])
    ]
    read = speeds_together(days)
    at_maximum = SPEED_AT_MAXIMUM[Lift.BACK_SQUAT][0]

    def solved(scatter):
        def left(unknown):
            at_no_load, slopes = unknown[0], unknown[1:]
            found = [(at_no_load - (at_maximum + 1.5)) / 0.35]
            for slope, day in zip(slopes, days, strict=True):
                line = at_no_load - slope * np.array(day.loads_kg)
                found += list((np.array(day.speeds_m_s) - line) / scatter)
            return np.array(found)

        fit = least_squares(left, np.array([1.5, *[0.01] * len(days)]), x_scale="jac", xtol=1e-14)
        return fit.x, np.linalg.inv(fit.jac.T @ fit.jac), left(fit.x)[1:] * scatter

    unknown, _, residual = solved(SPEED_SD_M_S)
    spare = residual.size - 1 - len(days)
    scatter = np.sqrt((residual @ residual + 2 * SPEED_SD_M_S**2) / (spare + 2))
    unknown, covariance, _ = solved(scatter)
    fall = unknown[0] - at_maximum
    assert read.log_maximum == pytest.approx(np.log(fall / unknown[1:]), abs=1e-6)
    by_unknown = np.hstack([np.full((len(days), 1), 1 / fall), -np.diag(1 / unknown[1:])])
    assert covariance_of(read) == pytest.approx(by_unknown @ covariance @ by_unknown.T, rel=1e-4)


def test_errors_are_as_large_as_they_are_said_to_be():
    rng = np.random.default_rng(7)
    squared = []
    for _ in range(150):
        maxima = 130 * np.exp(0.04 * rng.standard_normal(12))
        days = [
            a_day(
                3 * i,
                shares * maximum,
                1.85 - 1.54 * shares + SPEED_SD_M_S * rng.standard_normal(shares.size),
            )
            for i, maximum in enumerate(maxima)
            for shares in [rng.uniform(0.45, 0.85, size=rng.integers(2, 5))]
        ]
        read = speeds_together(days)
        centre = np.eye(12) - 1 / 12
        off = centre @ (read.log_maximum - np.log(maxima))
        squared.append(off @ np.linalg.pinv(centre @ covariance_of(read) @ centre) @ off / 11)
    assert np.mean(squared) == pytest.approx(1.0, abs=0.15)


def test_what_cannot_be_right_is_left_out():
    good = a_day(0, LOADS, published_speed(np.array(LOADS) / 100))
    read = speeds_together(
        [
            good,
            a_day(3, (60.0,), (9.0,)),  # typed wrong
            a_day(5, (20.0, 30.0), (1.5, 1.5)),
            a_day(7, (60.0, 80.0), (0.8,)),
        ]
    )
    assert good in read.tests
    assert all(day.date != START + dt.timedelta(days=n) for day in read.tests for n in (3, 7))
    assert read.log_maximum.shape == (len(read.tests),)
    assert np.isfinite(covariance_of(read)).all()


def test_a_lift_without_a_speed_at_its_maximum_tells_nothing():
    lift = next(lift for lift in Lift if lift not in SPEED_AT_MAXIMUM)
    read = speeds_together([a_day(0, (40.0, 60.0), (1.2, 1.0), lift)])
    assert read.tests == ()
    assert covariance_of(read).shape == (0, 0)
