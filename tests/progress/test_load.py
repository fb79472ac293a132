"""Load and landings by the week."""

import datetime as dt

import pytest

from saltus.progress.load import RiseOf, landing_load_of, rises, weekly_load
from saltus.training.log import LoggedSession, LoggedSet
from saltus.training.method_file import load_method
from saltus.training.situation import Event, EventKind

MONDAY = dt.date(2026, 9, 7)
METHOD = load_method()
STEPS = METHOD.landing_steps


def day(week, weekday=0):
    return MONDAY + dt.timedelta(weeks=week, days=weekday)


def rated(week, effort, minutes, weekday=0):
    return LoggedSession(date=day(week, weekday), effort=effort, minutes=minutes)


def jumps(week, sets):
    done = LoggedSet(exercise="depth_jump", sets=sets, reps=5, drop_m=0.4)
    return LoggedSession(date=day(week), sets=(done,))


def weeks_of(log, until=None, events=()):
    last = until or max(session.date for session in log)
    return weekly_load(log, METHOD.exercises, events=events, steps=STEPS, until=last)


def test_session_load_is_rating_times_minutes():
    """Foster et al. 2001, J Strength Cond Res 15:109-115: 6 for 45 minutes make 270."""
    (week,) = weeks_of([rated(0, 6, 45), rated(0, 3, 30, weekday=2)])
    assert week.session_load == 270 + 90
    assert (week.sessions, week.rated) == (2, 2)


def test_a_week_without_a_rating_is_unknown_and_no_week_is_left_out():
    weeks = weeks_of([rated(0, 5, 40), LoggedSession(date=day(2), minutes=40)])
    assert [week.start for week in weeks] == [day(0), day(1), day(2)]
    assert [week.session_load for week in weeks] == [200, None, None]
    assert [week.sessions for week in weeks] == [1, 0, 1]


def test_landings_cost_what_the_method_says_and_missed_ones_land_too():
    depth = METHOD.exercises["depth_jump"]
    done = LoggedSet(exercise="depth_jump", sets=3, reps=4, missed=1, drop_m=0.4)
    count, cost = landing_load_of(LoggedSession(date=day(0), sets=(done,)), METHOD.exercises)
    assert count == 30, "of the drop and of the jump"
    assert cost == pytest.approx(depth.landing_load(3, 5, 0.4))


def test_skipped_sets_and_unknown_exercises_do_not_land_and_a_stated_count_is_kept():
    sets = (
        LoggedSet(exercise="depth_jump", sets=3, reps=0, skipped="no box"),
        LoggedSet(exercise="something_of_ours", sets=3, reps=5),
    )
    session = LoggedSession(date=day(0), sets=sets, landings=12)
    assert landing_load_of(session, METHOD.exercises) == (12, 12)


def test_sport_lands_too():
    match = Event(day(0, 5), EventKind.MATCH, landings=40)
    late = Event(day(0, 6), EventKind.MATCH, landings=40)
    (week,) = weeks_of([rated(0, 5, 40)], until=day(0, 5), events=[match, late])
    assert week.sport_landing_load == pytest.approx(40 * STEPS.match_cost)
    assert week.landings == 40


def test_a_sharp_rise_is_said_against_the_weeks_before_it():
    log = [rated(week, 5, 60) for week in range(4)] + [rated(4, 8, 60)]
    (rise,) = rises(weeks_of(log), STEPS)
    assert (rise.week, rise.of) == (day(4), RiseOf.SESSION_LOAD)
    assert (rise.value, rise.before) == (480, 300)
    assert "60 % more" in rise.text


def test_an_even_load_and_a_first_week_are_no_rise():
    assert rises(weeks_of([rated(week, 6, 60) for week in range(6)]), STEPS) == ()
    assert rises(weeks_of([rated(0, 10, 120)]), STEPS) == ()


def test_landings_may_grow_as_far_as_the_method_lets_them():
    held = [jumps(0, 4), jumps(1, 4), jumps(2, 4)]
    assert rises(weeks_of([*held, jumps(3, 4)]), STEPS) == ()
    (rise,) = rises(weeks_of([*held, jumps(3, 12)]), STEPS)
    assert rise.of is RiseOf.LANDINGS
    assert rise.value == pytest.approx(3 * rise.before)


def test_nothing_logged_is_no_week():
    assert weeks_of([], until=day(0)) == ()
