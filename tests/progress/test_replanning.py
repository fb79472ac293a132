"""Reasons to plan anew."""

import datetime as dt
from dataclasses import replace

import pytest

from saltus.athlete.assess import assess
from saltus.athlete.health import Pain, Restriction
from saltus.athlete.observations import Lift, Maximum
from saltus.athlete.person import BodyMass, Person
from saltus.athlete.qualities import Quality
from saltus.progress.replanning import Cause, missed_sessions, replan_proposals, with_plateaus
from saltus.training.gates import pain_caution
from saltus.training.log import LoggedSession, LoggedSet
from saltus.training.plan import Plan, Session, SolverReport, Week
from saltus.training.situation import Priority, TargetDate

MONDAY = dt.date(2026, 9, 7)
GOAL = MONDAY + dt.timedelta(weeks=8, days=-2)


def day(n):
    return MONDAY + dt.timedelta(days=n)


PLAN = Plan(
    athlete="Runa Holt",
    start=MONDAY,
    goal_date=GOAL,
    weeks=tuple(
        Week(day(7 * w), "build", tuple(Session(day(7 * w + d), ()) for d in (0, 2, 4)))
        for w in range(8)
    ),
    unmet=(),
    solver=SolverReport("optimal", 0.0, 0.1),
)
MAIN = (TargetDate(GOAL, Priority.MAIN, "test"),)


def done(*days, **more):
    return [LoggedSession(date=day(n), **more) for n in days]


def causes(on, **facts):
    facts = {"targets": MAIN, "made": MONDAY} | facts
    return [each.cause for each in replan_proposals(PLAN, on=day(on), **facts)]


def test_all_done_is_no_reason():
    assert causes(14, log=done(0, 2, 4, 7, 9, 11)) == []


def test_a_day_off_still_counts_and_one_missed_session_is_no_reason():
    log = done(1, 2, 4, 7, 9)
    assert missed_sessions(PLAN, log, on=day(14)) == (day(11),)
    assert causes(14, log=log) == []


def test_two_missed_sessions_are_told_with_their_days():
    log = done(0, 2, 4, 11)
    (proposal,) = replan_proposals(PLAN, made=MONDAY, on=day(14), log=log, targets=MAIN)
    assert proposal.cause is Cause.MISSED
    assert proposal.missed == (day(7), day(9))
    assert "2 planned sessions" in proposal.text


def test_a_session_that_was_skipped_whole_was_missed_and_a_free_one_stands_for_none():
    skipped = LoggedSet(exercise="back_squat", reps=0, skipped="no rack")
    log = [*done(0, 2, 4, 9, 11), LoggedSession(date=day(7), planned=day(7), sets=(skipped,))]
    assert missed_sessions(PLAN, log, on=day(14)) == (day(7),)
    log = [*done(0, 2, 4, 9, 11), LoggedSession(date=day(7), free=True)]
    assert missed_sessions(PLAN, log, on=day(14)) == (day(7),)


def test_a_session_that_names_its_day_counts_for_that_day():
    log = [*done(0, 2, 4, 7, 11), LoggedSession(date=day(12), planned=day(9))]
    assert missed_sessions(PLAN, log, on=day(14)) == ()


def test_todays_session_may_still_come():
    assert missed_sessions(PLAN, done(0), on=day(2)) == ()


def test_without_any_log_nothing_counts_as_missed():
    assert causes(14) == []


@pytest.mark.parametrize(("level", "settled", "told"), [(2, True, 0), (4, True, 1), (2, False, 1)])
def test_pain_by_the_published_bands(level, settled, told):
    pains = [Pain(day(3), "left knee", level, settled)]
    assert causes(5, pains=pains) == [Cause.PAIN] * told


def test_pain_from_before_the_plan_or_that_went_is_no_reason():
    assert causes(5, pains=[Pain(day(-3), "left knee", 7)]) == []
    assert causes(5, pains=[Pain(day(1), "left knee", 7), Pain(day(4), "Left knee", 0)]) == []


def test_pain_of_the_day_of_the_plan_is_no_reason_where_the_plan_heeds_it():
    pain = Pain(MONDAY, "left knee", 6)
    told = pain_caution(pain)
    for plan, expected in ((PLAN, [Cause.PAIN]), (replace(PLAN, cautions=(told,)), [])):
        found = replan_proposals(plan, made=MONDAY, on=day(1), targets=MAIN, pains=[pain])
        assert [each.cause for each in found] == expected
    worse = [pain, Pain(day(1), "left knee", 8)]
    heeded = replace(PLAN, cautions=(told,))
    (again,) = replan_proposals(heeded, made=MONDAY, on=day(1), targets=MAIN, pains=worse)
    assert again.cause is Cause.PAIN


def test_pain_above_the_limit_says_whom_to_see_first():
    pains = [Pain(day(3), "left knee", 7)]
    first, second = replan_proposals(
        PLAN, made=MONDAY, on=day(14), log=done(0), targets=MAIN, pains=pains
    )
    assert "qualified" in first.text
    assert (first.cause, second.cause) == (Cause.PAIN, Cause.MISSED)
    assert first.cause.health
    assert not second.cause.health


def test_restrictions_that_came_and_that_went():
    came = Restriction("depth_jump", day(2))
    went = Restriction("landing", day(-20), day(3))
    assert causes(5, restrictions=[came, went]) == [Cause.RESTRICTION] * 2
    assert causes(5, restrictions=[Restriction("landing", day(-20))]) == []


def test_a_moved_date_blocked_days_and_tests():
    moved = (TargetDate(GOAL + dt.timedelta(days=14), Priority.MAIN),)
    assert causes(5, targets=moved) == [Cause.MOVED_DATE]
    assert causes(5, blocked=[day(7), day(8)]) == [Cause.BLOCKED]
    assert causes(5, blocked=[day(8)]) == []
    assert causes(5, tested=[day(0), day(3), day(9)]) == [Cause.TESTED]
    assert causes(5, tested=[day(0)]) == []


def test_a_plateau_is_told_in_its_own_words():
    found = replan_proposals(
        PLAN,
        made=MONDAY,
        on=day(30),
        targets=MAIN,
        levelled={Quality.MAX_STRENGTH: "Max strength has stopped rising."},
    )
    assert [(each.cause, each.text) for each in found] == [
        (Cause.PLATEAU, "Max strength has stopped rising.")
    ]


def test_a_plan_that_is_over_needs_a_new_one_and_no_repair():
    late = (GOAL - MONDAY).days + 1
    assert causes(late, log=done(0), pains=[Pain(day(50), "left knee", 9)]) == []


def test_more_of_what_stopped_is_worth_only_as_much_as_it_is_likely_to_bring():
    person = Person(
        name="Runa Holt",
        body_masses=(BodyMass(MONDAY, 64.0),),
        born=dt.date(2003, 4, 1),
        training_age_years=3.0,
    )
    before = assess(person, [Maximum(date=MONDAY, lift=Lift.BACK_SQUAT, load_kg=60.0)])
    first = before.worth[0]
    after = with_plateaus(before, {first.quality: 0.1})
    assert with_plateaus(before, {}) is before
    gains = {each.quality: each.gain_m for each in after.worth}
    assert gains[first.quality].value == pytest.approx(0.1 * first.gain_m.value)
    assert gains[first.quality].high == pytest.approx(0.1 * first.gain_m.high)
    assert after.worth[0].quality is before.worth[1].quality
    assert gains[before.worth[1].quality] == before.worth[1].gain_m
