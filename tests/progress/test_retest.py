"""When to test again."""

import datetime as dt
from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from saltus.athlete.history import TrainingBlock
from saltus.athlete.observations import Jump, JumpMethod, JumpStyle, Lift, Maximum
from saltus.athlete.person import BodyMass, Person, Sex, TestingTool
from saltus.athlete.posterior import Problem, fit
from saltus.athlete.qualities import Quality
from saltus.progress.retest import LATEST_WEEKS, expected_value, next_retest

TODAY = dt.date(2026, 9, 7)
PERSON = Person(
    name="Runa Holt",
    sex=Sex.FEMALE,
    born=dt.date(2003, 4, 1),
    body_masses=(BodyMass(TODAY, 64.0),),
    stature_m=1.74,
    training_age_years=3.0,
    testing_tools=frozenset({TestingTool.MAT}),
)
TESTS = (
    Jump(
        date=TODAY,
        style=JumpStyle.COUNTERMOVEMENT,
        method=JumpMethod.MAT,
        heights_m=(0.31, 0.315, 0.32),
    ),
    Maximum(date=TODAY, lift=Lift.BACK_SQUAT, load_kg=75.0),
)
STRENGTH = (TrainingBlock(TODAY, TODAY + dt.timedelta(weeks=14), {Quality.MAX_STRENGTH: 1.0}),)
DAYS = [TODAY + dt.timedelta(days=i) for i in range(1, 100)]
GOAL = TODAY + dt.timedelta(weeks=14)


@pytest.fixture(scope="module")
def posterior():
    return fit(Problem(PERSON, TESTS, (), TODAY))


@pytest.mark.parametrize(("mean", "spread"), [(0.0, 1.0), (0.7, 0.4), (-1.3, 0.9), (0.2, 2.0)])
def test_the_value_is_what_an_expectation_says(mean, spread):
    """Going on or turning, whichever is better once the result is known, against the better of
    the two without it; integrated by SciPy."""
    told = stats.norm(mean, spread)
    better = told.expect(lambda x: np.maximum(x, 0.0), lb=-12, ub=12)
    assert expected_value(mean, spread) == pytest.approx(better - max(mean, 0.0), abs=1e-6)


def test_a_test_is_proposed_in_between(posterior):
    retest = next_retest(posterior, STRENGTH, DAYS, until=GOAL)
    weeks = (retest.date - TODAY).days / 7
    assert not retest.due
    assert 2 <= weeks <= LATEST_WEEKS + 1
    assert retest.test == "countermovement_jump_mat"
    values = {each.date: each.value_m for each in retest.asked}
    assert values[retest.date] == max(values.values())
    assert retest.worth.value_m > retest.worth.cost_m
    assert values[retest.asked[0].date] < 0.3 * values[retest.date], "a week on it is noise"


def test_nothing_within_a_week_and_nothing_on_the_day_that_counts(posterior):
    retest = next_retest(posterior, STRENGTH, DAYS, until=GOAL)
    assert retest.asked[0].date >= TODAY + dt.timedelta(weeks=1)
    soon = [TODAY + dt.timedelta(days=i) for i in range(1, 7)]
    assert next_retest(posterior, STRENGTH, soon, until=GOAL) is None
    assert next_retest(posterior, STRENGTH, [GOAL], until=GOAL) is None


def test_only_days_that_are_open(posterior):
    saturdays = [day for day in DAYS if day.weekday() == 5]
    assert next_retest(posterior, STRENGTH, saturdays, until=GOAL).date.weekday() == 5


def test_a_test_that_takes_long_is_only_done_when_it_is_due(posterior):
    retest = next_retest(posterior, STRENGTH, DAYS, until=GOAL, weekly_minutes=0.5)
    assert retest.due
    assert (retest.date - TODAY).days >= 7 * LATEST_WEEKS
    assert "due after" in retest.text


def test_without_a_tool_there_is_no_test():
    barbell = replace(PERSON, testing_tools=frozenset({TestingTool.BARBELL}))
    assert next_retest(fit(Problem(barbell, TESTS, (), TODAY)), STRENGTH, DAYS, until=GOAL) is None


def test_the_same_every_time(posterior):
    a = next_retest(posterior, STRENGTH, DAYS, until=GOAL)
    assert a == next_retest(posterior, STRENGTH, DAYS, until=GOAL)
