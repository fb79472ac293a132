import datetime as dt
from dataclasses import replace

import pytest

from saltus.errors import PlanError
from saltus.training.audit import audit
from saltus.training.document import plan_document, read_plan_document
from saltus.training.phases import monday_of
from saltus.training.pins import move_session, swap_exercise, with_pins, without_pins
from saltus.training.plan import Pin
from saltus.training.planner import make_plan
from saltus.training.replan import replan
from saltus.training.situation import TargetDate
from saltus.training.stand_ins import stand_ins

PLENTY_S = 60.0
GOAL = dt.date(2026, 2, 21)  # seven weeks after the start: quick to lay out
MON, THU = dt.date(2026, 1, 12), dt.date(2026, 1, 15)
TUE, WED, SAT = dt.date(2026, 1, 13), dt.date(2026, 1, 14), dt.date(2026, 1, 17)


@pytest.fixture
def situation(situation):
    return replace(situation, targets=(TargetDate(GOAL),))


@pytest.fixture
def current(adult, valued, situation, method):
    return make_plan(adult, valued, situation, method, time_limit_s=PLENTY_S)


@pytest.fixture
def pinned(current, adult, valued, situation, method):
    """Plan anew with pins, from the beginning, and audit what comes of it."""

    def plan(pins, situation=situation, plan=current, from_date=current.start):
        new, changes = replan(
            plan,
            adult,
            valued,
            situation,
            method,
            from_date=from_date,
            pins=pins,
            time_limit_s=PLENTY_S,
        )
        as_now = replace(
            situation, start=from_date, landing_practice_weeks=new.landing_practice_weeks
        )
        earlier = [week for week in plan.weeks if week.start < monday_of(from_date)]
        assert audit(new, method, as_now, adult, valued, earlier=earlier) == ()
        return new, changes

    return plan


def on(plan, date):
    return next(({i.exercise for i in s.items} for s in plan.sessions if s.date == date), set())


def days(plan):
    return [s.date for s in plan.sessions]


def test_a_moved_session_stands_where_the_coach_put_it_and_the_rest_stays(
    current, pinned, situation
):
    day = next(d for d in days(current) if d.weekday() == 3)
    free = day + dt.timedelta(days=1)

    new, changes = pinned(move_session(current, day, free, situation))

    assert on(new, free) == on(current, day)
    assert not on(new, day)
    elsewhere = [d for d in days(current) if monday_of(d) != monday_of(day)]
    assert all(on(new, d) == on(current, d) for d in elsewhere)
    moved = next(c for c in changes if c.date == day)
    assert free.isoformat() in moved.what
    assert moved.why == "as you settled it"
    assert new.unmet == current.unmet


def test_a_session_may_go_to_a_day_without_time_of_its_own(current, pinned, situation):
    day = days(current)[2]
    saturday = monday_of(day) + dt.timedelta(days=5)
    assert not situation.minutes_on(saturday)

    new, _ = pinned(move_session(current, day, saturday, situation))

    assert on(new, saturday)
    assert on(new, saturday) == on(current, day)
    # Only that week's: the others keep to the free days.
    assert [d for d in days(new) if d.weekday() == 5] == [saturday]


@pytest.mark.parametrize(("a", "b"), [(0, 2), (1, 2), (3, 2), (3, 4)])
def test_whatever_is_moved_the_rules_hold(current, pinned, situation, a, b):
    monday = MON
    day, to = monday + dt.timedelta(days=a), monday + dt.timedelta(days=b)

    new, changes = pinned(move_session(current, day, to, situation))

    assert changes
    gone = on(current, day) - on(new, to)
    # What has no room there by the rules is told by name, not dropped in silence.
    assert all(any(to.isoformat() in text for text in new.unmet) for _ in gone)
    assert {d for d in days(new) if monday_of(d) != monday} == {
        d for d in days(current) if monday_of(d) != monday
    }


def test_two_sessions_trade_places(current, pinned, situation):
    a, b = days(current)[3:5]
    assert monday_of(a) == monday_of(b)

    pins = move_session(current, a, b, situation)

    by_date = {pin.date: pin for pin in pins}
    assert by_date[b].stands == on(current, a)
    assert by_date[a].stands == on(current, b)
    new, _ = pinned(pins)
    assert on(new, b) == on(current, a)
    assert on(new, a) == on(current, b)


def test_what_the_coach_settled_stays_when_the_plan_is_made_anew(current, pinned, situation):
    day = days(current)[2]
    saturday = monday_of(day) + dt.timedelta(days=5)
    moved, _ = pinned(move_session(current, day, saturday, situation))

    again, changes = pinned(None, plan=moved)

    assert changes == ()
    assert on(again, saturday) == on(moved, saturday)
    freed, changes = pinned(without_pins(moved.pins, {day, saturday}), plan=moved)
    assert freed.pins == ()
    assert not on(freed, saturday)


def test_a_swapped_exercise_stands_in_for_the_other_on_that_day_alone(
    current, pinned, adult, valued, situation, method
):
    day = next(d for d in days(current) if d >= MON and "back_squat" in on(current, d))
    found = stand_ins(current, day, "back_squat", adult, valued, situation, method)
    other = next(s for s in found if not s.why_not)

    new, changes = pinned(swap_exercise(current, day, "back_squat", other.exercise.id))

    assert other.exercise.id in on(new, day)
    assert "back_squat" not in on(new, day)
    later = [d for d in days(current) if monday_of(d) > monday_of(day)]
    assert all(on(new, d) == on(current, d) for d in later)
    change = next(c for c in changes if c.date == day and other.exercise.name in c.what)
    assert change.why == "as you settled it"


def test_a_swap_from_a_day_on_holds_on_every_later_day_where_it_may_stand(
    current, pinned, adult, valued, situation, method
):
    day = next(d for d in days(current) if d >= MON and "back_squat" in on(current, d))
    found = stand_ins(current, day, "back_squat", adult, valued, situation, method)
    other = next(s for s in found if not s.why_not and s.days)

    new, _ = pinned(
        swap_exercise(
            current, day, "back_squat", other.exercise.id, onward=True, allowed=other.days
        )
    )

    for d in {day, *other.days}:
        assert "back_squat" not in on(new, d)
    assert sum(other.exercise.id in on(new, d) for d in {day, *other.days}) == 1 + len(other.days)


def test_a_pin_holds_against_what_the_planner_would_choose(
    current, adult, valued, situation, method
):
    day = next(d for d in days(current) if d >= MON and "back_squat" in on(current, d))
    pin = Pin(day, frozenset({"front_squat"}), frozenset({"back_squat"}))

    plan = make_plan(adult, valued, situation, method, pins=(pin,), time_limit_s=PLENTY_S)

    assert "front_squat" in on(plan, day)
    assert "back_squat" not in on(plan, day)
    assert not any("front_squat" in on(plan, d) for d in days(plan) if d != day)


def test_stand_ins_that_may_not_be_given_say_why(current, adult, valued, situation, method, gym):
    bare = replace(situation, gym=replace(gym, equipment=gym.equipment - {"rack"}))
    day = next(d for d in days(current) if "back_squat" in on(current, d))

    found = stand_ins(current, day, "back_squat", adult, valued, bare, method)

    racked = [s for s in found if "rack" in s.exercise.equipment]
    assert racked
    assert all("rack" in s.why_not and s.days == frozenset() for s in racked)
    assert all(s.exercise.id not in on(current, day) for s in found)


def test_rules_come_before_the_coachs_wish_and_that_is_told(current, pinned, situation):
    day = days(current)[2]
    saturday = monday_of(day) + dt.timedelta(days=5)
    pins = move_session(current, day, saturday, situation)

    new, _ = pinned(pins, situation=replace(situation, blocked=frozenset({saturday})))

    assert not on(new, saturday)
    told = [text for text in new.unmet if saturday.isoformat() in text]
    assert len(told) == 1
    assert "as you settled it" in told[0]
    assert "blocked" in told[0]


def test_a_session_moves_to_no_blocked_day_no_test_and_not_out_of_the_plan(current, situation):
    day = days(current)[2]
    blocked = replace(situation, blocked=frozenset({SAT}))
    with pytest.raises(PlanError, match="blocked"):
        move_session(current, day, SAT, blocked)
    with pytest.raises(PlanError, match="outside the plan"):
        move_session(current, day, GOAL, situation)
    with pytest.raises(PlanError, match="no session"):
        move_session(current, dt.date(2026, 1, 18), SAT, situation)
    tested = replace(situation, targets=(TargetDate(GOAL), TargetDate(SAT)))
    with pytest.raises(PlanError, match="test or a competition"):
        move_session(current, day, SAT, tested)


def test_the_last_word_on_an_exercise_holds():
    first = (Pin(MON, frozenset({"a", "b"}), frozenset({"c"}), 60),)

    (pin,) = with_pins(first, [Pin(MON, frozenset({"c"}), frozenset({"a"}))])

    assert pin == Pin(MON, frozenset({"b", "c"}), frozenset({"a"}), 60)


def test_pins_are_written_into_the_document_and_read_back(current, method):
    pins = (Pin(MON, frozenset({"back_squat"}), frozenset({"jump_squat"}), 45),)

    document = plan_document(replace(current, pins=pins))

    assert document["pins"] == [
        {"date": "2026-01-12", "stands": ["back_squat"], "absent": ["jump_squat"], "minutes": 45}
    ]
    assert read_plan_document(document, method.exercises).pins == pins


def test_whoever_follows_the_work_can_end_it(adult, valued, situation, method):
    class Enough(Exception):
        pass

    told = []

    def progress(share):
        told.append(share)
        if share >= 0.5:
            raise Enough

    with pytest.raises(Enough):
        make_plan(adult, valued, situation, method, progress=progress)
    assert told == sorted(told)
    assert all(0 < share <= 1 for share in told)
