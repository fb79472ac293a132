"""Maximal strength from repetitions and bar speed against published tables."""

import datetime as dt

import pytest

from saltus.athlete.load_velocity import (
    SPEED_AT_MAXIMUM,
    maximum_from_bar_speed,
    percent_of_maximum,
    percent_of_maximum_propulsive,
)
from saltus.athlete.observations import BarSpeedSet, Lift, RepSet
from saltus.athlete.strength import REPETITION_FORMULAS, maximum_from_reps

DAY = dt.date(2026, 1, 5)
NAMES = ["epley", "brzycki", "lander", "lombardi", "mayhew", "oconner", "wathan"]

# 100 kg lifted r times; computed from the formulas as a secondary list prints them (read), whose
# original sources are from memory.
TABLE = [
    (1, [103.3, 100.0, 101.4, 100.0, 108.9, 102.5, 101.3]),
    (3, [110.0, 105.9, 107.2, 111.6, 114.0, 107.5, 109.0]),
    (5, [116.7, 112.5, 113.7, 117.5, 119.0, 112.5, 116.6]),
    (8, [126.7, 124.1, 125.1, 123.1, 126.3, 120.0, 127.7]),
    (10, [133.3, 133.3, 134.1, 125.9, 130.9, 125.0, 134.7]),
    (12, [140.0, 144.0, 144.4, 128.2, 135.4, 130.0, 141.5]),
]


@pytest.mark.parametrize(("reps", "maxima"), TABLE)
def test_seven_formulas_give_the_published_table(reps, maxima):
    found = [REPETITION_FORMULAS[name].maximum_kg(100, reps) for name in NAMES]
    assert found == pytest.approx(maxima, abs=0.051)


def test_epley_and_brzycki_agree_exactly_at_ten():
    epley, brzycki = (REPETITION_FORMULAS[name].maximum_kg(90, 10) for name in NAMES[:2])
    assert epley == pytest.approx(brzycki, rel=1e-12)


@pytest.mark.parametrize(
    ("reps", "percent"),
    list(zip(range(2, 11), [94, 91, 88, 86, 83, 81, 79, 77, 75], strict=True)),
)
def test_percentages_of_the_epley_table(reps, percent):
    # The published table of percentages for 2 to 10 repetitions (read).
    assert round(100 / REPETITION_FORMULAS["epley"].factor(reps)) == percent


@pytest.mark.parametrize(("reps", "maxima"), TABLE[1:5])
def test_our_maximum_lies_among_the_formulas_with_their_spread_inside_the_interval(reps, maxima):
    one_rm, sd_log = maximum_from_reps(
        RepSet(date=DAY, lift=Lift.BACK_SQUAT, load_kg=100, reps=reps)
    )
    assert min(maxima) < one_rm < max(maxima)
    assert 2 * sd_log * one_rm > max(maxima) - one_rm
    assert 2 * sd_log * one_rm > one_rm - min(maxima)


@pytest.mark.parametrize(("velocity", "percent"), [(0.50, 90.2), (0.70, 78.6), (1.00, 60.3)])
def test_share_of_the_maximum_from_mean_propulsive_velocity(velocity, percent):
    # Sánchez-Medina et al. 2017, Sports Med Int Open 1:E80-E88; coefficients from memory,
    # examples computed.
    assert percent_of_maximum_propulsive(velocity) == pytest.approx(percent, abs=0.06)


@pytest.mark.parametrize(("velocity", "percent"), [(0.50, 89.9), (0.70, 77.6), (1.00, 57.1)])
def test_share_of_the_maximum_from_mean_velocity(velocity, percent):
    # Sánchez-Medina et al. 2017; coefficients from memory, examples computed by hand.
    assert percent_of_maximum(velocity) == pytest.approx(percent, abs=0.06)


def test_both_equations_give_the_maximum_at_the_velocity_of_the_maximum():
    # Velocity at the maximum 0.32 m/s (read, Sánchez-Medina et al. 2017).
    assert percent_of_maximum(0.32) == pytest.approx(100.2, abs=0.06)
    assert percent_of_maximum_propulsive(0.32) == pytest.approx(100.2, abs=0.06)


@pytest.mark.parametrize(
    ("lift", "mean", "sd"),
    [
        (Lift.BACK_SQUAT, 0.32, 0.03),  # Sánchez-Medina et al. 2017 (read)
        (Lift.BACK_SQUAT, 0.29, 0.05),  # Conceição et al. 2016, J Sports Sci (read)
        (Lift.LEG_PRESS, 0.21, 0.06),  # Conceição et al. 2016 (read)
    ],
)
def test_speed_at_the_maximum_agrees_with_published_means(lift, mean, sd):
    ours, spread = SPEED_AT_MAXIMUM[lift]
    assert abs(ours - mean) < sd
    assert spread >= 0.05


def test_own_line_agrees_with_the_general_equation_on_an_average_lifter():
    # An athlete whose speeds follow the published curve of the group must get the same maximum
    # from the straight line as from the curve, within the straight line's misfit.
    one_rm = 140.0
    speeds = (0.95, 0.75, 0.55, 0.42)
    loads = tuple(one_rm * float(percent_of_maximum(v)) / 100 for v in speeds)
    line, sd_log = maximum_from_bar_speed(
        BarSpeedSet(date=DAY, lift=Lift.BACK_SQUAT, loads_kg=loads, speeds_m_s=speeds)
    )
    assert line == pytest.approx(one_rm, rel=0.03)
    assert sd_log < 0.08
