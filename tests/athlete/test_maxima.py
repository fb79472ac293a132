import datetime as dt

import pytest

from saltus.athlete.maxima import maxima_kg
from saltus.athlete.observations import Lift, Maximum, RepSet
from saltus.athlete.posterior import Problem, fit

ON = dt.date(2026, 11, 1)


def maxima(person, tests):
    return maxima_kg(fit(Problem(person, tests, [], ON), draws=1000), tests, ON)


def test_the_squat_comes_from_everything_that_was_tested(person, tests):
    found = maxima(person, tests)

    assert found[Lift.BACK_SQUAT].value == pytest.approx(130.0, rel=0.03)
    assert found[Lift.BACK_SQUAT].low < 130.0 < found[Lift.BACK_SQUAT].high


def test_a_lift_never_tested_is_a_wide_share_of_the_squat(person, tests):
    clean = maxima(person, tests)[Lift.POWER_CLEAN]

    assert clean.value == pytest.approx(0.64 * 130, rel=0.05)
    assert clean.sd / clean.value > 0.1


def test_a_tested_lift_speaks_for_itself(person, tests):
    clean = Maximum(date=ON, lift=Lift.POWER_CLEAN, load_kg=95.0)
    found = maxima(person, (*tests, clean))[Lift.POWER_CLEAN]

    assert found.value == pytest.approx(95.0)
    assert found.sd / found.value < 0.06


def test_an_older_test_is_less_sure_and_two_are_surer(person, tests):
    def spread(*cleans):
        found = maxima(person, (*tests, *cleans))[Lift.POWER_CLEAN]
        return found.sd / found.value

    fresh = Maximum(date=ON, lift=Lift.POWER_CLEAN, load_kg=95.0)
    old = Maximum(date=ON - dt.timedelta(weeks=30), lift=Lift.POWER_CLEAN, load_kg=95.0)
    reps = RepSet(date=ON, lift=Lift.POWER_CLEAN, load_kg=85.0, reps=3)

    assert spread(old) > spread(fresh) > spread(fresh, reps)


def test_every_lift_has_an_estimate(person):
    assert set(maxima(person, ())) == set(Lift)
