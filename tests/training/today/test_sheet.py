import json
from dataclasses import replace

import pytest

from saltus.athlete.health import Pain
from saltus.quantities import POUND
from saltus.training.plan import Session
from saltus.training.today.next_set import next_set
from saltus.training.today.sheet import session_sheet

KEYS = {
    "item",
    "exercise",
    "name",
    "cue",
    "sets",
    "reps",
    "load_kg",
    "load_words",
    "plates",
    "box_m",
    "drop_m",
    "rest_s",
    "rest_between_reps_s",
    "why",
    "last",
    "cautions",
    "stops_at_pain",
    "stops_at_pain_places",
    "asks",
    "closed",
    "answers",
    "if_below",
    "if_well_below",
}


@pytest.fixture
def session(squat, make_item, facts):
    return Session(
        facts.date,
        (
            make_item("warm_up", sets=1, reps=1),
            make_item("countermovement_jump", reps=3),
            squat,
            make_item("box_jump", reps=3, box_m=0.45),
            make_item("depth_jump", reps=4, drop_m=0.30),
        ),
    )


def by_exercise(sheet):
    return {item["exercise"]: item for item in sheet["items"]}


def test_every_item_has_every_key_and_goes_through_json(session, facts, method):
    sheet = session_sheet(session, facts, method)

    assert json.loads(json.dumps(sheet)) == sheet
    assert all(set(item) == KEYS for item in sheet["items"])
    assert [item["item"] for item in sheet["items"]] == [0, 1, 2, 3, 4]


def test_the_plates_of_each_side(session, facts, method):
    squat = by_exercise(session_sheet(session, facts, method))["back_squat"]

    assert squat["load_kg"] == 90.0
    assert squat["plates"] == [20.0, 10.0, 5.0]
    assert squat["load_words"] == "90 kg: 20 + 10 + 5 a side"


def test_a_gym_in_pounds_is_told_in_pounds(session, facts, method, squat):
    gym = replace(
        facts.situation.gym,
        unit="lb",
        bar_kg=45 * POUND,
        plates_kg={45 * POUND: 4, 10 * POUND: 2, 5 * POUND: 2},
    )
    there = replace(facts, situation=replace(facts.situation, gym=gym))
    session = Session(facts.date, (replace(squat, load_kg=165 * POUND),))

    (item,) = session_sheet(session, there, method)["items"]

    assert item["plates"] == [45.0, 10.0, 5.0]
    assert item["load_words"] == "165 lb: 45 + 10 + 5 a side"


def test_dumbbells_are_told_in_words(facts, method, make_item):
    item = make_item("split_squat", reps=6, load_kg=20.0, percent_of="back_squat", percent=17.0)

    (sheet,) = session_sheet(Session(facts.date, (item,)), facts, method)["items"]

    assert sheet["plates"] is None
    assert sheet["load_words"] == "20 kg: two of 10"


def test_what_is_asked_of_each(session, facts, method):
    asked = {
        name: item["asks"]
        for name, item in by_exercise(session_sheet(session, facts, method)).items()
    }

    assert asked["warm_up"] == ["reps"]
    assert asked["back_squat"] == ["reps", "missed", "reserve", "speed"]
    assert asked["countermovement_jump"] == ["reps", "jump"]
    assert asked["box_jump"] == ["reps", "missed", "landing"]
    assert asked["depth_jump"] == ["reps", "missed", "jump", "contact", "landing"]


def test_last_time_in_words(session, after, method, a_set):
    known = after(
        (9, [a_set(load_kg=80.0)]),
        (3, [a_set(load_kg=85.0, reserve=2.0), a_set(load_kg=85.0, reps=3, missed=1)]),
    )

    last = by_exercise(session_sheet(session, known, method))["back_squat"]["last"]

    assert last == ["2026-03-13", "4 x 85 kg, 2 left", "3 x 85 kg, 1 missed"]


def test_a_load_that_the_last_sets_turned_down_is_not_turned_down_twice(
    session, after, method, a_set, squat
):
    """The answers of the phone are what is said of the same set with a signal."""
    hard = [a_set(load_kg=90.0, reps=3, reserve=0.0) for _ in range(3)]
    facts = after((3, hard), (6, hard))
    sheet = by_exercise(session_sheet(session, facts, method))[squat.exercise]
    load = sheet["load_kg"]
    assert load < squat.load_kg
    for reserve in (0.0, 1.0, 2.0, 3.0, 4.0):
        done = a_set(load_kg=load, reserve=reserve)
        advice = next_set(squat, [done], facts, method)
        (found, *_) = [
            each
            for each in sheet["answers"]
            if "reserve" in each["when"]
            and each["when"]["reserve"][0] <= reserve <= (each["when"]["reserve"][1] or 99)
            and (each["when"]["load_kg"][0] or 0) <= load <= (each["when"]["load_kg"][1] or 999)
        ] or [{"load_kg": load}]
        assert found["load_kg"] == advice.load_kg


def test_pain_closes_the_risky_and_leaves_the_rest(session, facts, method):
    pains = (Pain(facts.date, "left knee", 4),)
    hurt = replace(facts, situation=replace(facts.situation, pains=pains))

    items = by_exercise(session_sheet(session, hurt, method))

    assert "4 out of 10" in items["depth_jump"]["closed"]
    assert items["depth_jump"]["answers"] == []
    assert items["countermovement_jump"]["closed"]
    assert items["back_squat"]["closed"] is None
    assert any("may go on" in text for text in items["back_squat"]["cautions"])


def test_a_bad_day_is_ready_ahead(session, facts, method):
    items = by_exercise(session_sheet(session, facts, method))

    assert items["back_squat"]["if_below"]["load_kg"] == 85.0
    assert items["back_squat"]["if_well_below"]["load_kg"] == 80.0
    assert items["back_squat"]["if_well_below"]["sets"] == 2
    assert items["depth_jump"]["if_well_below"]["sets"] == 0
    assert items["warm_up"]["if_below"] is None


def test_the_lines_of_the_day_come_once_jumps_are_known(session, facts, after, method, a_set):
    unknown = session_sheet(session, facts, method)["form"]
    assert unknown["exercise"] == "countermovement_jump"
    assert unknown["below_m"] is None

    jumps = [(d, [a_set("countermovement_jump", jump_m=0.42)]) for d in (3, 7, 10)]
    form = session_sheet(session, after(*jumps), method)["form"]
    assert 0.32 < form["well_below_m"] < form["below_m"] < form["expected_m"]


def test_what_the_day_has_shown_already_does_not_change_the_sheet(
    session, facts, after, method, a_set
):
    """The table speaks of sets one by one; those of today come to the phone's own entries."""
    begun = after((0, [a_set(load_kg=90.0, reps=3, missed=1)]))

    assert session_sheet(session, begun, method) == session_sheet(session, facts, method)


def test_an_exercise_that_is_gone_is_still_told(facts, method, make_item):
    item = make_item("handstand", reps=3)

    (sheet,) = session_sheet(Session(facts.date, (item,)), facts, method)["items"]

    assert set(sheet) == KEYS
    assert sheet["name"] == "handstand"
