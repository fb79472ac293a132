import datetime as dt
from dataclasses import replace

import pytest

from saltus.athlete.qualities import Quality
from saltus.training.options import (
    Option,
    best_of_each_use,
    without_dominated,
    without_stand_ins,
)
from saltus.training.spans import Count

DAYS = frozenset({dt.date(2026, 1, 5), dt.date(2026, 1, 7)})


@pytest.fixture
def phase(method):
    return method.phase("strength_speed")


@pytest.fixture
def option(method, phase):
    """Make an option out of an exercise, some of its fields changed."""

    def make(name, sets=(2, 5), reps=3, landing_load=0.0, **changes):
        exercise = replace(method.exercises[name], **changes)
        return Option(exercise, phase.use_of(exercise), Count(*sets), reps, landing_load)

    return make


def ids(options):
    return [o.id for o in options]


def test_an_option_that_adds_less_for_more_time_is_left_out(option, method):
    good = option("hang_power_clean")
    poor = option("power_clean", adds={Quality.RATE_OF_FORCE_DEVELOPMENT: 0.05}, set_up_min=9.0)
    open_on = {"hang_power_clean": DAYS, "power_clean": DAYS}

    assert ids(without_dominated([poor, good], open_on, method, frozenset())) == [good.id]
    assert ids(without_dominated([poor, good], open_on, method, frozenset({poor.id}))) == [
        poor.id,
        good.id,
    ]


def test_an_option_that_may_stand_on_other_days_is_kept(option, method):
    good = option("hang_power_clean")
    poor = option("power_clean", adds={Quality.RATE_OF_FORCE_DEVELOPMENT: 0.05})
    open_on = {"hang_power_clean": frozenset({dt.date(2026, 1, 5)}), "power_clean": DAYS}

    assert len(without_dominated([poor, good], open_on, method, frozenset())) == 2


def test_of_two_equal_options_the_first_stays(option, method):
    one = option("box_jump")
    two = replace(one, exercise=replace(one.exercise, id="other_box_jump"))
    open_on = {"box_jump": DAYS, "other_box_jump": DAYS}

    assert ids(without_dominated([one, two], open_on, method, frozenset())) == ["box_jump"]


def test_the_swing_stands_in_for_the_clean_and_goes_when_there_is_a_bar(option):
    swing, clean = option("kettlebell_swing"), option("hang_power_clean")

    assert ids(without_stand_ins([swing, clean])) == ["hang_power_clean"]
    assert ids(without_stand_ins([swing])) == ["kettlebell_swing"]


def test_the_best_two_of_each_use_are_kept_by_what_they_bring(option):
    cleans = [
        option(name, adds={Quality.RATE_OF_FORCE_DEVELOPMENT: share})
        for name, share in (
            ("power_clean", 0.05),
            ("hang_power_clean", 0.08),
            ("block_power_clean", 0.07),
        )
    ]
    jump = option("box_jump")

    best = best_of_each_use(
        [*cleans, jump], {Quality.RATE_OF_FORCE_DEVELOPMENT: 0.003}, frozenset()
    )

    assert ids(best) == ["hang_power_clean", "block_power_clean", "box_jump"]


def test_minutes_of_sets_add_up_to_those_of_the_exercise(option):
    squat = option("back_squat", reps=4)

    for sets in (2, 3, 5):
        assert squat.set_up_min + sets * squat.set_min == pytest.approx(
            squat.exercise.minutes(sets, 4)
        )
