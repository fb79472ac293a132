import datetime as dt
from dataclasses import replace

import pytest

from saltus.training.frame import LANDING, OUTSIDE, belongs, build_frame
from saltus.training.phases import choose_goal, lay_phases
from saltus.training.situation import Event, EventKind, Priority, TargetDate

DAY = dt.timedelta(days=1)


@pytest.fixture
def day_of(method):
    """What a day of a situation allows."""

    def look(situation, date):
        goal, _ = choose_goal(situation)
        laid, _ = lay_phases(situation.start, goal.date, method, None)
        frame = build_frame(laid, situation, goal, method)
        return next(day for week in frame for day in week.days if day.date == date)

    return look


def test_a_training_day_has_its_minutes_and_a_blocked_one_none(day_of, situation):
    monday = situation.start + 7 * DAY

    assert day_of(situation, monday).minutes == 90
    blocked = day_of(replace(situation, blocked=frozenset({monday})), monday)
    assert (blocked.minutes, blocked.why) == (0, "blocked")


def test_days_before_the_start_are_outside(day_of, situation):
    later = replace(situation, start=situation.start + 3 * DAY)

    assert day_of(later, situation.start).why == OUTSIDE


def test_the_days_before_the_main_test_are_for_rest(day_of, situation, method):
    goal = situation.targets[0].date  # a Saturday
    friday = replace(situation, minutes={**situation.minutes, "fri": 60})

    assert day_of(friday, goal - DAY).why == "rest before a test"
    assert LANDING in day_of(situation, goal - 5 * DAY).closed
    assert method.unloading.rest_days == 2


def test_a_trial_takes_its_own_day_only(day_of, situation):
    trial = TargetDate(situation.start + 7 * DAY, Priority.TRIAL)
    as_trial = replace(situation, targets=(*situation.targets, trial))

    assert day_of(as_trial, trial.date).why == "day of a test"
    assert day_of(as_trial, trial.date + DAY).minutes == 90


def test_a_match_closes_the_days_round_it_for_hard_legs_and_jumps(day_of, situation):
    match = Event(situation.start + 8 * DAY, EventKind.MATCH, 50)  # a Tuesday
    playing = replace(situation, events=(match,))

    assert day_of(playing, match.date - DAY).closed >= {"heavy_legs", LANDING, "depth_jump"}
    assert "heavy_legs" not in day_of(playing, match.date + 2 * DAY).closed


def test_sport_is_counted_by_its_cost(day_of, situation, method):
    practice = Event(situation.start + 7 * DAY, EventKind.PRACTICE, 60)

    day = day_of(replace(situation, events=(practice, practice)), practice.date)

    assert day.sport_load == pytest.approx(120 * method.landing_steps.practice_cost)


def test_landing_is_everything_that_lands_but_preparation(method):
    assert belongs(method.exercises["depth_jump"], LANDING)
    assert not belongs(method.exercises["landing_practice"], LANDING)
    assert not belongs(method.exercises["back_squat"], LANDING)
    assert belongs(method.exercises["back_squat"], "heavy_legs")
