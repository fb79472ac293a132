"""What a record says, once read: in SI units, with defaults filled in."""

import datetime as dt
from dataclasses import MISSING, fields, replace

import pytest

from saltus.athlete.observations import (
    BarSpeedSet,
    DropJump,
    IsometricPull,
    Jump,
    JumpMethod,
    JumpStyle,
    Lift,
    Maximum,
    RepSet,
)
from saltus.athlete.person import Person, Sex, TestingTool
from saltus.athlete.qualities import Quality
from saltus.errors import RecordError
from saltus.record import parse, read
from saltus.training.situation import EventKind, Gym, Priority, Weekday


@pytest.fixture(scope="module")
def record(full):
    return parse(full)


def test_person_is_in_si_units(record):
    person = record.person

    assert person.name == "Ada Ilves"
    assert person.sex is Sex.FEMALE
    assert person.born == dt.date(2003, 5, 17)
    assert person.stature_m == 1.785
    assert person.standing_reach_m == pytest.approx(91.5 * 0.0254, abs=1e-12)
    assert person.push_off_distance_m == 0.41
    assert person.testing_tools == {TestingTool.FORCE_PLATE, TestingTool.BARBELL}


def test_weighings_are_put_in_order_of_date(record):
    first, second = record.person.body_masses

    assert first.mass_kg == 70.0
    assert second.mass_kg == pytest.approx(155 * 0.45359237, abs=1e-9)


def test_touched_height_becomes_jump_height(record):
    jump = record.tests[0]

    assert isinstance(jump, Jump)
    assert jump.method is JumpMethod.REACH
    assert jump.arms
    # 91.5 in is 232.41 cm.
    assert jump.heights_m == pytest.approx((0.43, 0.44), abs=1e-9)


def test_frames_become_height(record):
    jump = record.tests[1]

    # Half a second in the air is 30.65 cm at standard gravity: g t² / 8 (Linthorne 2001).
    assert jump.method is JumpMethod.FILM
    assert jump.heights_m[0] == pytest.approx(0.30646, abs=1e-5)
    assert jump.frame_rate_hz == 240
    assert not jump.arms


def test_flight_time_becomes_height(record):
    jump = record.tests[2]

    assert jump.style is JumpStyle.SQUAT
    assert jump.heights_m[0] == pytest.approx(0.30646, abs=1e-5)
    assert jump.load_kg == pytest.approx(44 * 0.45359237)


def test_single_value_is_a_list_of_one(record):
    jump = record.tests[3]

    assert jump.style is JumpStyle.APPROACH
    assert jump.heights_m == (0.508,)


def test_other_tests(record):
    drop, _, maximum, reps, speeds, pull = record.tests[4:]

    assert isinstance(drop, DropJump)
    assert drop.drop_m == 0.3
    assert drop.contacts_s == (0.22, 0.23)
    assert isinstance(maximum, Maximum)
    assert maximum.load_kg == pytest.approx(90.718474)
    assert isinstance(reps, RepSet)
    assert (reps.lift, reps.reps, reps.reserve) == (Lift.FRONT_SQUAT, 5, 2.0)
    assert isinstance(speeds, BarSpeedSet)
    assert speeds.speeds_m_s == (1.02, 0.81, 0.55)
    assert isinstance(pull, IsometricPull)
    assert pull.force_at_n == {100: 1150.0, 250: 1700.0}
    assert pull.note == "Grip slipped once."


def test_tests_say_where_they_stand(record):
    assert record.observations[5].label == "test[5]"


def test_goal(record):
    goal = record.goal

    assert goal.touch_m == 3.0
    assert goal.hand_above_m == 0.1
    assert goal.approach
    assert goal.arms


def test_block_keeps_only_what_was_trained(record):
    assert record.blocks[0].emphasis == {Quality.MAX_STRENGTH: 1.0, Quality.PUSH_OFF_SPEED: 0.3}


def test_situation(record):
    situation = record.situation

    assert situation.start == dt.date(2026, 4, 6)
    assert situation.minutes == {Weekday.MON: 75, Weekday.THU: 60}
    assert [target.priority for target in situation.targets] == [Priority.MAIN, Priority.TRIAL]
    assert len(situation.blocked) == 16
    assert situation.gym.plates_kg[45 * 0.45359237] == 4
    assert situation.gym.boxes_m == (0.3048, 0.4572)
    assert situation.soft_surface
    assert situation.landing_practice_weeks == 6


def test_weekly_practice_comes_round_on_its_days_but_not_on_blocked_ones(record):
    events = record.situation.events
    practices = [event for event in events if event.kind is EventKind.PRACTICE]

    assert practices[0].date == dt.date(2026, 9, 1)
    assert practices[-1].date == dt.date(2027, 5, 14)
    assert {Weekday.of(event.date) for event in practices} == {Weekday.TUE, Weekday.FRI}
    assert dt.date(2026, 12, 22) not in {event.date for event in practices}
    assert dt.date(2027, 1, 5) in {event.date for event in practices}


def test_single_match_keeps_its_day(record):
    (match,) = [e for e in record.situation.events if e.kind is EventKind.MATCH]

    assert (match.date, match.landings) == (dt.date(2026, 12, 5), 90)


def test_start_may_be_replaced(record):
    later = replace(record, start=dt.date(2026, 5, 1))

    assert later.situation.start == dt.date(2026, 5, 1)


def test_start_follows_the_latest_test_where_none_is_given(full):
    record = parse(full.replace("start = 2026-04-06\n", ""))

    assert record.situation.start == dt.date(2026, 1, 20)


def test_paths_are_beside_the_record(full, tmp_path):
    path = tmp_path / "ada.toml"
    path.write_text(full, encoding="utf-8")

    record = read(path)

    assert record.source == path
    assert record.method_path == tmp_path / "mine.toml"
    assert record.plan_path == tmp_path / "plans" / "ada.json"


def test_log(record):
    (session,) = record.log
    squat, box = session.sets

    assert session.effort == 7
    assert (squat.exercise, squat.sets, squat.load_kg, squat.reserve) == ("back_squat", 3, 65, 2)
    assert (box.sets, box.box_m, box.load_kg, box.note) == (1, 0.5, None, "crisp")


def test_health_and_agreements(record):
    assert record.pains[0].level == 3
    assert record.restrictions[0].end is None
    assert record.agreed[0].by == "Ada Ilves"


def test_minimal_record_takes_the_defaults_of_the_types(minimal):
    record = parse(minimal)

    for owner, cls in ((record.person, Person), (record.situation.gym, Gym)):
        for each in fields(cls):
            if each.default is not MISSING:
                assert getattr(owner, each.name) == each.default, each.name
    assert record.observations == ()
    assert record.goal is None
    assert record.situation.start == dt.date(2026, 1, 11)
    assert record.situation.minutes == {}


def test_byte_order_mark_and_windows_line_ends_are_read(minimal, tmp_path):
    path = tmp_path / "ada.toml"
    path.write_bytes(b"\xef\xbb\xbf" + minimal.replace("\n", "\r\n").encode())

    assert read(path).person.name == "Ada Ilves"


def test_missing_file_is_said(tmp_path):
    with pytest.raises(RecordError, match="no such file"):
        read(tmp_path / "nobody.toml")
