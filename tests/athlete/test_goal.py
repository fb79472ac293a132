import datetime as dt
from dataclasses import replace

import pytest

from saltus.athlete.assessment import Goal
from saltus.athlete.goal import outlook, usual_method
from saltus.athlete.observations import Jump, JumpMethod, JumpStyle
from saltus.athlete.posterior import Problem, fit
from saltus.errors import TestError

ON = dt.date(2026, 11, 1)
MAY = dt.date(2027, 5, 1)


@pytest.fixture
def posterior(person, tests):
    return fit(Problem(person, tests, [], ON), draws=1000)


def test_a_height_to_touch_needs_it_less_the_standing_reach(posterior, tests):
    found = outlook(posterior, Goal(date=MAY, touch_m=3.05, hand_above_m=0.10), tests)

    assert found.needed_m == pytest.approx(3.05 + 0.10 - 2.33)
    assert found.missing_m.value == pytest.approx(found.needed_m - found.now_m.value)


def test_the_chance_falls_with_the_height_and_grows_with_time(posterior, tests):
    def chance(jump_m, day=MAY):
        goal = Goal(date=day, jump_m=jump_m, arms=False)
        return outlook(posterior, goal, tests).probability

    assert chance(0.30) > 0.99
    assert chance(0.38) > chance(0.42) > chance(0.55)
    assert chance(0.60) < 0.02
    assert chance(0.42) > chance(0.42, ON + dt.timedelta(weeks=4))


def test_arms_and_a_run_up_raise_the_jump(posterior, tests):
    plain, arms, run_up = (
        outlook(posterior, Goal(jump_m=0.5, arms=a, approach=r), tests).now_m.value
        for a, r in ((False, False), (True, False), (True, True))
    )

    assert plain < arms < run_up


def test_without_a_date_no_probability_is_made_up(posterior, tests):
    found = outlook(posterior, Goal(jump_m=0.45), tests)

    assert found.probability is None
    assert found.expected_m is None


def test_the_usual_method_is_that_of_this_kind_of_jump(tests):
    reach = Jump(
        date=ON,
        style=JumpStyle.COUNTERMOVEMENT,
        method=JumpMethod.REACH,
        heights_m=(0.5,),
        arms=True,
    )

    assert usual_method([*tests, reach], arms=False, approach=False) is JumpMethod.MAT
    assert usual_method([*tests, reach], arms=True, approach=False) is JumpMethod.REACH
    assert usual_method([], arms=True, approach=False) is JumpMethod.PLATE_IMPULSE


def test_a_height_to_touch_without_the_reach_says_what_to_measure(person, tests):
    unknown = replace(person, standing_reach_m=None)
    posterior = fit(Problem(unknown, tests, [], ON), draws=300)

    with pytest.raises(TestError, match="standing reach"):
        outlook(posterior, Goal(touch_m=3.05), tests)


def test_a_goal_without_a_height_is_refused(posterior, tests):
    with pytest.raises(TestError, match="needs a jump height"):
        outlook(posterior, Goal(date=MAY), tests)
