import datetime as dt
from dataclasses import replace

import pytest

from saltus.athlete.health import Pain
from saltus.athlete.observations import Lift
from saltus.quantities import POUND, Estimate
from saltus.training.audit import audit
from saltus.training.document import plan_document, read_plan_document
from saltus.training.phases import monday_of
from saltus.training.planner import make_plan
from saltus.training.replan import joined, replan
from saltus.training.situation import TargetDate

FROM = dt.date(2026, 2, 4)  # the Wednesday of the fifth week
PLENTY_S = 60.0


@pytest.fixture
def current(adult, valued, situation, method):
    return make_plan(adult, valued, situation, method, time_limit_s=PLENTY_S)


@pytest.fixture
def again(current, adult, valued, situation, method):
    """Plan anew from FROM on, and audit what comes of it."""

    def plan(situation=situation, assessment=valued, missed=(), from_date=FROM):
        new, changes = replan(
            current,
            adult,
            assessment,
            situation,
            method,
            from_date=from_date,
            missed=missed,
            time_limit_s=PLENTY_S,
        )
        gone = set(missed)
        earlier = [
            replace(week, sessions=tuple(s for s in week.sessions if s.date not in gone))
            for week in current.weeks
            if week.start < monday_of(from_date)
        ]
        as_now = replace(
            situation, start=from_date, landing_practice_weeks=new.landing_practice_weeks
        )
        assert audit(new, method, as_now, adult, assessment, earlier=earlier) == ()
        return new, changes

    return plan


def ahead(plan, since=FROM):
    return {
        s.date: [(i.exercise, i.sets, i.reps, i.load_kg) for i in s.items]
        for s in plan.sessions
        if s.date >= since
    }


def test_nothing_new_changes_nothing(again, current):
    new, changes = again()

    assert changes == ()
    assert ahead(new) == ahead(current)


def test_it_starts_on_the_day_and_keeps_what_was_done_in_that_week(again, current):
    new, _ = again()

    assert new.start == FROM
    assert new.weeks[0].start == monday_of(FROM)
    done = [s for s in new.sessions if s.date < FROM]
    assert done == [s for s in current.sessions if monday_of(FROM) <= s.date < FROM]
    assert new.counted_from == current.start


def test_a_missed_session_changes_little(again):
    _, changes = again(missed=[dt.date(2026, 2, 2)])

    # Landings and lighter weeks go by the weeks before them, so a few later sets may follow.
    assert len(changes) <= 4
    assert all("missed" in c.why for c in changes)
    assert not any("no session" in c.what for c in changes)


def test_a_blocked_day_is_told_with_its_reason(again, current, situation):
    day = dt.date(2026, 2, 12)
    assert day in ahead(current)

    new, changes = again(replace(situation, blocked=frozenset({day})))

    assert day not in ahead(new)
    told = next(c for c in changes if c.date == day)
    assert told.why == "the day is blocked"
    others = [c for c in changes if monday_of(c.date) != monday_of(day)]
    assert len(others) <= 3
    fits = "the best that the method's rules allow, with what is known now"
    assert all(c.why == fits for c in others)
    assert not any("no session" in c.what for c in others)


def test_new_tests_move_the_loads_and_say_from_what_to_what(again, current, valued):
    stronger = replace(
        valued,
        maxima_kg={**valued.maxima_kg, Lift.BACK_SQUAT: Estimate.normal(132.0, 5.0)},
    )
    new, changes = again(assessment=stronger)

    told = next(c for c in changes if c.what.startswith("back squat"))
    assert "132 kg instead of 120 kg" in told.why
    before = {d: [x[:2] for x in i] for d, i in ahead(current).items()}
    after = {d: [x[:2] for x in i] for d, i in ahead(new).items()}
    assert before == after  # the same work, in other loads


def test_a_pain_takes_the_landings_out_and_leaves_the_phases(again, current, situation):
    pain = Pain(FROM, "left knee", 4)
    new, changes = again(replace(situation, pains=(pain,)))

    assert [w.phase for w in new.weeks] == [w.phase for w in current.weeks if w.end >= FROM]
    assert "depth_jump" not in {x[0] for i in ahead(new).values() for x in i}
    assert any("pain of 4 out of 10 (left knee" in c.why for c in changes)


def test_a_pain_that_stops_training_is_the_reason_for_days_without_a_session(again, situation):
    pain = Pain(FROM, "left knee", 6)
    new, changes = again(replace(situation, pains=(pain,)))

    assert not ahead(new)
    gone = [change for change in changes if change.what.startswith("no session")]
    assert gone
    told = f"pain of 6 out of 10 (left knee, {FROM.isoformat()})"
    assert {change.why for change in gone} == {told}


def test_a_moved_date_moves_the_end_and_is_the_reason_given(again, current, situation):
    moved = TargetDate(current.goal_date + dt.timedelta(weeks=2))
    new, changes = again(replace(situation, targets=(moved,)))

    assert new.goal_date == moved.date
    assert new.weeks[-1].phase == "unloading"
    assert changes
    assert all(f"moved from {current.goal_date} to {moved.date}" in c.why for c in changes)


def test_the_plan_carries_its_changes_as_sentences(again, situation):
    new, changes = again(replace(situation, blocked=frozenset({dt.date(2026, 2, 12)})))

    assert new.changes == tuple(str(c) for c in changes)
    assert any(text.startswith("Thu 2026-02-12: ") for text in new.changes)


def test_a_second_replan_goes_on_counting_from_the_first_day(
    again, adult, valued, situation, method, current
):
    new, _ = again()
    later = FROM + dt.timedelta(weeks=2)
    done = tuple(w for w in current.weeks if w.start < new.weeks[0].start)

    third, changes = replan(
        new,
        adult,
        valued,
        replace(situation, landing_practice_weeks=new.landing_practice_weeks),
        method,
        from_date=later,
        earlier=done,
        time_limit_s=PLENTY_S,
    )

    assert third.counted_from == current.start
    assert changes == ()
    assert ahead(third, later) == ahead(current, later)


def test_landing_practice_counts_once_whenever_the_plan_is_made_anew(
    adult, valued, situation, method
):
    # Depth jumps wait for six weeks of landing practice: two told of, four in the plan.
    told = replace(
        situation, landing_practice_weeks=2.0, targets=(TargetDate(dt.date(2026, 2, 28)),)
    )
    plan = make_plan(adult, valued, told, method, time_limit_s=PLENTY_S)
    first = plan.start
    weeks = plan.weeks
    for number in (2, 3):
        start = first + dt.timedelta(weeks=number)
        earlier = [week for week in weeks if week.start < start]
        # The first re-plan follows on the plan, the second on the re-plan.
        before = [week for week in earlier if week.start < plan.weeks[0].start]
        plan, _ = replan(
            plan,
            adult,
            valued,
            told,
            method,
            from_date=start,
            earlier=before,
            time_limit_s=PLENTY_S,
        )
        assert plan.landing_practice_weeks == 2 + number
        assert plan.landing_practice_told == 2
        as_now = replace(told, start=start, landing_practice_weeks=2.0 + number)
        assert audit(plan, method, as_now, adult, valued, earlier=earlier) == ()


def test_what_the_coach_tells_anew_of_landing_practice_holds(
    again, current, adult, valued, situation, method
):
    new, _ = again()
    told = replace(situation, landing_practice_weeks=1.0)

    corrected, _ = replan(new, adult, valued, told, method, from_date=FROM, time_limit_s=PLENTY_S)

    assert corrected.landing_practice_weeks == 1
    assert corrected.landing_practice_told is None


def test_a_plan_that_begins_later_keeps_the_days_before_it(again, current, method):
    today, start = dt.date(2026, 1, 14), dt.date(2026, 1, 29)
    new, _ = again(from_date=start)

    whole = joined(current, new, today, method)

    assert whole.start == today
    assert [w.start for w in whole.weeks] == [w.start for w in current.weeks if w.end >= today]
    dates = [s.date for s in whole.sessions if s.date >= today]
    assert dates == [s.date for s in current.sessions if today <= s.date < start] + [
        s.date for s in new.sessions if s.date >= start
    ]
    assert whole.counted_from == current.start
    # Three weeks told of and one done by then; those in between stand in the plan.
    assert whole.landing_practice_weeks == 3 + 1
    assert whole.landing_practice_told == 3


def test_a_plan_made_afresh_counts_from_its_own_start(current, adult, valued, situation, method):
    start = dt.date(2026, 2, 2)
    afresh = make_plan(
        adult, valued, replace(situation, start=start), method, time_limit_s=PLENTY_S
    )

    whole = joined(current, afresh, dt.date(2026, 1, 14), method)

    assert whole.counted_from == start
    assert whole.weeks[-1] == afresh.weeks[-1]
    assert joined(current, afresh, start, method) is afresh


def test_loads_in_pounds_are_the_same_after_they_were_written_down(
    adult, valued, situation, method
):
    plates = {x * POUND: 4 for x in (45, 35, 25, 10, 5, 2.5)}
    pounds = replace(
        situation,
        targets=(TargetDate(dt.date(2026, 2, 28)),),
        gym=replace(situation.gym, bar_kg=45 * POUND, plates_kg=plates, unit="lb"),
    )
    plan = make_plan(adult, valued, pounds, method, time_limit_s=PLENTY_S)
    written = read_plan_document(plan_document(plan), method.exercises)

    _, changes = replan(
        written,
        adult,
        valued,
        pounds,
        method,
        from_date=plan.start,
        time_limit_s=PLENTY_S,
    )

    assert changes == ()
