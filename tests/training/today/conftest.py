import datetime as dt
from dataclasses import replace

import pytest

from saltus.training.log import LoggedSession, LoggedSet
from saltus.training.plan import Item, Plan, Session, SolverReport, Week, Why
from saltus.training.situation import Gym, Situation, TargetDate
from saltus.training.today.facts import Facts

TODAY = dt.date(2026, 3, 16)  # a Monday, ten weeks into an invented plan
BEGUN = dt.date(2026, 1, 5)


@pytest.fixture(scope="session")
def gym():
    return Gym(
        equipment=frozenset({"barbell", "rack", "hurdles"}),
        plates_kg={20.0: 4, 10.0: 4, 5.0: 4, 2.5: 4, 1.25: 2},
        boxes_m=(0.15, 0.30, 0.45, 0.60),
        dumbbells_kg=(5.0, 7.5, 10.0, 12.5),
        kettlebells_kg=(16.0, 24.0),
    )


@pytest.fixture(scope="session")
def make_item():
    def make(exercise="back_squat", sets=4, reps=4, **what):
        return Item(
            exercise=exercise, sets=sets, reps=reps, why=Why("squat_all_year", None, "x"), **what
        )

    return make


@pytest.fixture(scope="session")
def squat(make_item):
    return make_item(load_kg=90.0, percent_of="back_squat", percent=75.0)


def one_week_plan(items, *, back_off=False, phase="strength_speed"):
    start = TODAY - dt.timedelta(days=TODAY.weekday())
    week = Week(start, phase, (Session(TODAY, tuple(items)),), back_off)
    return Plan(
        athlete="Ada Probe",
        start=BEGUN,
        goal_date=dt.date(2026, 5, 30),
        weeks=(week,),
        unmet=(),
        solver=SolverReport("optimal", 0.0, 0.0),
        counted_from=BEGUN,
    )


@pytest.fixture(scope="session")
def facts(gym, squat, strong, adult):
    return Facts(
        date=TODAY,
        person=replace(adult, training_age_years=3.0),
        assessment=replace(strong, date=TODAY - dt.timedelta(days=20)),
        situation=Situation(
            start=BEGUN,
            targets=(TargetDate(dt.date(2026, 5, 30)),),
            minutes={},
            gym=gym,
            landing_practice_weeks=10.0,
            soft_surface=True,
        ),
        plan=one_week_plan([squat]),
    )


@pytest.fixture(scope="session")
def minor(facts):
    return replace(facts, person=replace(facts.person, born=dt.date(2010, 5, 1)))


@pytest.fixture(scope="session")
def beginner(facts):
    return replace(facts, person=replace(facts.person, training_age_years=0.5))


@pytest.fixture(scope="session")
def after(facts):
    """Facts after earlier sessions: (days ago, sets) each."""

    def with_log(*sessions, of=facts):
        log = tuple(
            LoggedSession(date=TODAY - dt.timedelta(days=ago), sets=tuple(sets))
            for ago, sets in sessions
        )
        return replace(of, log=log)

    return with_log


@pytest.fixture(scope="session")
def a_set():
    def make(exercise="back_squat", reps=4, **what):
        return LoggedSet(exercise=exercise, reps=reps, **what)

    return make
