"""What of a record goes into following its athlete."""

import datetime as dt

import saltus.record as records
from saltus.record.following import follow_record, open_test_days
from saltus.record.known import posterior_of
from saltus.training.method_file import load_method
from saltus.training.plan import Item, Plan, Session, SolverReport, Week, Why

MONDAY = dt.date(2026, 6, 1)
TEXT = """\
saltus_record = 1
[athlete]
name = "Test Athlete"
sex = "female"
born = 2002-03-14
stature_cm = 178
training_age_years = 3
testing_tools = ["mat"]
[[body_mass]]
date = 2026-06-01
mass_kg = 70
[[target]]
date = 2026-09-05
[[match]]
weekdays = ["sat"]
landings = 40
[[blocked]]
start = 2026-06-08
end = 2026-06-09
[[test]]
kind = "countermovement_jump"
date = 2026-06-01
method = "mat"
heights_cm = [33, 34, 33.5]
"""
RECORD = records.parse(TEXT, recordings=False)


def planned():
    item = Item(exercise="back_squat", sets=5, reps=5, cue="", why=Why("squat_all_year", None, ""))
    weeks = tuple(
        Week(monday, "general_strength", (Session(monday + dt.timedelta(days=2), (item,)),))
        for monday in (MONDAY + dt.timedelta(weeks=i) for i in range(14))
    )
    return Plan(
        athlete="Test Athlete",
        start=MONDAY,
        goal_date=dt.date(2026, 9, 5),
        weeks=weeks,
        unmet=(),
        solver=SolverReport("optimal", 0.0, 0.1),
    )


def test_a_test_day_is_free_and_rested():
    until = MONDAY + dt.timedelta(days=14)
    free = [day.day for day in open_test_days(RECORD, MONDAY, until)]
    assert free == [2, 3, 4, 5, 10, 11, 12]  # not the Saturdays, not the days after, not blocked
    rested = [day.day for day in open_test_days(RECORD, MONDAY, until, planned())]
    assert rested == [2, 5, 12]  # nor the planned Wednesdays and the days after


def test_what_is_planned_and_the_day_that_counts_go_into_the_next_test():
    known, method = posterior_of(RECORD), load_method()
    with_plan = follow_record(RECORD, known, method, plan=planned()).retest
    without = follow_record(RECORD, known, method).retest
    assert with_plan.date < dt.date(2026, 9, 5)
    planned_for, idle = (
        {each.date: each.change_m.value for each in retest.asked} for retest in (with_plan, without)
    )
    day = max(planned_for.keys() & idle.keys())
    assert day > MONDAY + dt.timedelta(weeks=4)
    assert planned_for[day] > idle[day] + 0.002
