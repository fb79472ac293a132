"""What the document for the phone says beside the sessions."""

import datetime as dt
from types import SimpleNamespace

from saltus.training.method_file import load_method
from saltus.web.pocket.bundle import exercises, stopped

TODAY = dt.date(2026, 11, 24)
PAIN = (
    "Pain of 6 out of 10 (left knee, 2026-11-23): have someone qualified look at it before "
    "training goes on."
)
MILD = (
    "Pain of 2 out of 10 (left knee, 2026-11-23): note it before and the morning after each "
    "session; it must not rise from week to week."
)


def plan(*dates, cautions=(PAIN, MILD)):
    sessions = tuple(SimpleNamespace(date=date, minutes=60.0, items=()) for date in dates)
    goal = TODAY + dt.timedelta(weeks=9)
    return SimpleNamespace(goal_date=goal, sessions=sessions, cautions=cautions)


def test_a_plan_that_a_pain_has_stopped_says_so_where_sessions_would_stand():
    assert stopped(plan(TODAY - dt.timedelta(days=1)), TODAY) == [
        PAIN.replace("2026-11-23", "23 Nov 2026")
    ]
    assert stopped(plan(TODAY), TODAY) == []
    assert stopped(plan(cautions=(MILD,)), TODAY) == []
    assert stopped(None, TODAY) == []
    assert stopped(plan(), TODAY + dt.timedelta(weeks=10)) == []


def test_every_exercise_of_the_method_can_be_chosen_by_name():
    found = exercises(load_method())
    assert {each["value"] for each in found} == set(load_method().exercises)
    names = [each["name"].casefold() for each in found]
    assert names == sorted(names)
