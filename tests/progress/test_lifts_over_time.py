import datetime as dt
from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.stats import t

from saltus.athlete.observations import BarSpeedSet, Lift, RepSet
from saltus.athlete.posterior import FREEDOM
from saltus.progress.lifts_over_time import INFORMATION, LiftsOverTime, weighed_variance

START = dt.date(2026, 8, 3)
WEEKS = 10
STOPPED_AFTER = 4
GAIN = 0.02
"""Of log torque a week."""


def sets(lift=Lift.BACK_SQUAT, *, level=90.0, seed=1, noise=0.02):
    """Three sets a week of somebody whose gain stopped after four weeks."""
    days = np.arange(0, 7 * WEEKS + 1, 7 / 3).round()
    gained = GAIN * np.minimum(days / 7, STOPPED_AFTER)
    loads = level * np.exp(gained + noise * np.random.default_rng(seed).standard_normal(len(days)))
    return [
        RepSet(
            date=START + dt.timedelta(days=int(day)),
            lift=lift,
            load_kg=float(load),
            reps=5,
            reserve=2,
        )
        for day, load in zip(days, loads, strict=True)
    ]


@pytest.fixture
def over_time(person):
    def make(tests):
        dates = [START + dt.timedelta(weeks=i) for i in range(WEEKS + 1)]
        return LiftsOverTime(
            tests,
            person,
            torque=np.full(len(dates), np.log(9.9)),
            speed=np.full(len(dates), np.log(17.0)),
            dates=dates,
            segment_m=0.45,
            walk_sd=0.003,
        )

    return make


def histories(lifts):
    """Predictions of a gain that stopped, of one that went on, and of none."""
    weeks = (lifts.days - START.toordinal()) / 7
    gained = np.array([np.minimum(weeks, STOPPED_AFTER), weeks, 0 * weeks])
    return lifts.predicted(GAIN * gained)


def evidence(lifts):
    stopped, went_on, none = lifts.log_evidence(histories(lifts))
    return stopped - went_on, stopped - none


def speeds(tests, *, loads=(60.0, 75.0, 90.0), seed=3, noise=0.03):
    """Bar speeds of the same days and the same maxima, under the same loads on each."""
    rng = np.random.default_rng(seed)
    found = []
    for test in tests:
        maximum = 1.2 * test.load_kg
        read = 1.85 - 1.54 * np.array(loads) / maximum
        read += noise * rng.standard_normal(len(loads))
        found.append(
            BarSpeedSet(
                date=test.date,
                lift=test.lift,
                loads_kg=loads,
                speeds_m_s=tuple(map(float, read)),
            )
        )
    return found


def informs(lifts):
    stopped, went_on, _ = histories(lifts)
    return lifts.products((went_on - stopped)[None])[0, 0]


def test_the_true_history_has_the_most_evidence(over_time):
    over_one_going_on, over_none = evidence(over_time(sets()))
    assert over_one_going_on > 3
    assert over_none > 1


def test_how_heavy_the_lift_is_tells_nothing_of_its_change(over_time):
    assert evidence(over_time(sets(level=90))) == pytest.approx(
        evidence(over_time(sets(level=160))), abs=0.1
    )


def test_a_second_lift_says_more_but_not_twice_as_much(over_time):
    one = informs(over_time(sets()))
    two = informs(over_time([*sets(), *sets(Lift.TRAP_BAR_DEADLIFT, level=120, seed=2)]))
    # Half of the form of the day is common to both.
    assert 1.05 * one < two < 2 * one


def test_one_set_that_lies_far_off_turns_nothing_round(over_time):
    tests = sets()
    tests[-1] = replace(tests[-1], load_kg=1.4 * tests[-1].load_kg)  # the plates were counted wrong
    over_one_going_on, _ = evidence(over_time(tests))
    assert over_one_going_on > 2


def test_sets_that_vary_less_than_is_usual_say_more(over_time):
    steady, wild = (informs(over_time(sets(noise=noise))) for noise in (0.01, 0.06))
    assert steady > 1.3 * wild


def test_bar_speeds_tell_the_true_history(over_time):
    over_one_going_on, over_none = evidence(over_time(speeds(sets())))
    assert over_one_going_on > 2
    assert over_none > 1


def test_bar_speeds_beside_sets_say_more_but_the_form_of_the_day_is_in_both(over_time):
    # Of sets that vary as is published, so that the error of both is the published one.
    done = sets(noise=0.055)
    alone, with_speeds = informs(over_time(done)), informs(over_time([*done, *speeds(done)]))
    assert 1.1 * alone < with_speeds < 2 * alone


def test_a_bar_speed_a_session_at_one_load_tells_the_true_history(over_time):
    # The line rests on what is usual then, and all readings share its error.
    over_one_going_on, _ = evidence(over_time(speeds(sets(), loads=(80.0,))))
    assert over_one_going_on > 3


def test_a_speed_read_wrong_turns_nothing_round(over_time):
    done = sets()
    read = speeds(done)
    read[-1] = replace(read[-1], speeds_m_s=tuple(v + 0.4 for v in read[-1].speeds_m_s))
    over_one_going_on, _ = evidence(over_time([*done, *read]))
    assert over_one_going_on > 2


def test_without_a_set_nothing_is_told(over_time):
    lifts = over_time([])
    assert lifts.days.size == 0
    assert lifts.predicted(np.zeros((3, 0))).shape == (3, 0)
    assert np.array_equal(lifts.log_evidence(np.zeros((3, 0))), np.zeros(3))
    assert np.array_equal(lifts.products(np.zeros((2, 0))), np.zeros((2, 2)))


def test_information_of_a_t_error_as_scipy_integrates_it():
    """SciPy's density: the squared slope of its logarithm, in mean."""
    error = t(FREEDOM, scale=np.sqrt((FREEDOM - 2) / FREEDOM))

    def slope(x, step=1e-4):
        return (error.logpdf(x + step) - error.logpdf(x - step)) / (2 * step)

    found, _ = quad(lambda x: error.pdf(x) * slope(x) ** 2, -30, 30)
    assert pytest.approx(found, rel=1e-4) == INFORMATION


def test_a_reading_far_off_loses_weight():
    variance = weighed_variance(np.full(3, 0.04), np.array([0.0, 1.0, 5.0]))
    assert variance[0] < 0.04 < variance[2]
    assert np.all(np.diff(variance) > 0)
