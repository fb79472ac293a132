import datetime as dt

import numpy as np
import pytest

import saltus.record as records
from saltus.record.example.folder import member_files
from saltus.record.example.squad import SQUAD
from saltus.record.example.truth import Athlete
from saltus.record.example.year import WRITTEN_ON, logged, moved, weeks_since
from saltus.training.plan import Item, Plan, Session, SolverReport, Week, Why

TODAY = WRITTEN_ON
MEMBER = next(member for member in SQUAD if member.name == "tomas-breck")


def make_plan():
    item = Item(
        exercise="back_squat", sets=4, reps=5, load_kg=70.0, minutes=20, why=Why("", None, "")
    )
    start = dt.date(2026, 11, 2)
    weeks = tuple(
        Week(
            monday,
            "general",
            tuple(Session(monday + dt.timedelta(days=d), (item,)) for d in (0, 3)),
        )
        for monday in (start + dt.timedelta(weeks=i) for i in range(6))
    )
    return Plan(
        athlete="x",
        start=start,
        goal_date=dt.date(2026, 12, 12),
        weeks=weeks,
        unmet=(),
        solver=SolverReport("optimal", 0.0, 0.0),
    )


def test_everybody_is_as_old_and_as_trained_on_another_day():
    text, _ = member_files(MEMBER)
    before = records.parse(text, recordings=False)
    after = records.parse(moved(text, 30), recordings=False)
    by = dt.timedelta(weeks=30)
    assert after.tests[0].date - before.tests[0].date == by
    assert after.person.age(TODAY + by) == before.person.age(TODAY)
    assert after.tests[0].date.weekday() == before.tests[0].date.weekday()


@pytest.mark.parametrize(("days", "weeks"), [(0, 0), (6, 0), (7, 1), (-1, -1)])
def test_weeks_are_whole(days, weeks):
    assert weeks_since(WRITTEN_ON + dt.timedelta(days=days)) == weeks


def written(**how):
    text, _ = member_files(MEMBER)
    record = records.parse(text, recordings=False)
    athlete = Athlete(MEMBER.truth, record.person, record.blocks, min(t.date for t in record.tests))
    log = logged(athlete, record, make_plan(), TODAY, np.random.default_rng(1), **how)
    return record, log


def test_the_log_ends_before_today_and_no_day_is_in_it_twice():
    record, log = written()
    days = [session.date for session in log]
    assert days == sorted(set(days))
    assert TODAY - dt.timedelta(days=372) <= days[0]
    assert days[-1] < TODAY
    assert {session.date for session in record.log} <= set(days)


def test_loads_were_lower_before_training_made_the_athlete_stronger():
    _, log = written()
    loads = [
        s.load_kg
        for session in log
        for s in session.sets
        if s.exercise == "back_squat" and s.load_kg
    ]
    assert loads[0] < loads[-1] == 70.0
    assert all(load % 2.5 == 0 for load in loads)


def test_sessions_of_the_last_two_weeks_can_be_missed():
    record, log = written(missed_lately=True)
    own = {session.date for session in record.log}
    assert not [s for s in log if (TODAY - s.date).days < 15 and s.date not in own]


def test_the_log_can_be_written_into_the_record():
    from dataclasses import replace

    record, log = written()
    text = records.render(replace(record, log=log))
    assert records.parse(text, recordings=False).log == log
