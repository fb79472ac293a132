"""What the phone makes of its entries and answers, asked of its modules in a real browser."""

import pytest

_SQUAT = {
    "item": 0,
    "exercise": "back_squat",
    "sets": 3,
    "reps": 5,
    "load_kg": 100.0,
    "plates": [25, 15],
    "stops_at_pain": 6,
    "stops_at_pain_places": {"left elbow": None, "left knee": 3},
    "answers": [
        {"when": {"missed_sets": [2, None]}, "stop": True, "why": "Missed twice."},
        {"when": {"missed": [1, None]}, "load_kg": 95.0, "plates": [25, 12.5], "why": "Missed."},
        {"when": {"speed_share": [None, 0.8]}, "sets": 2, "why": "Slower."},
        {"when": {"number": [1, 2], "reserve": [4, None]}, "load_kg": 105.0, "why": "Easy."},
        {"when": {"unsound_sets": [2, None]}, "stop": True, "sets": 0, "why": "Too loud."},
    ],
    "if_below": {"load_kg": 90.0, "plates": [20, 15], "why": "Below an ordinary day."},
}


@pytest.fixture
def ask(demo):
    """Calls a function of a module on the page of the browser."""
    page = demo.open("/sign-in/", signed_in=False)

    def call(module, function, *arguments):
        return page.evaluate(
            """async ([module, name, given]) => {
              const found = await import(`/static/saltus/pocket/${module}.js`);
              return found[name](...given);
            }""",
            [module, function, list(arguments)],
        )

    return call


def a_set(load_kg=100.0, **data):
    return {"data": {"exercise": "back_squat", "load_kg": load_kg, "reps": 5, "missed": 0} | data}


def after(ask, *sets, pains=(), form=None, item=_SQUAT):
    return ask("answers", "follow", item, list(sets), {"pains": list(pains), "form": form})


def test_without_a_set_the_plan_stands(ask):
    after_none = after(ask)
    assert (after_none["load_kg"], after_none["sets"], after_none["why"]) == (100, 3, None)


def test_the_first_answer_that_holds_is_taken(ask):
    missed = after(ask, a_set(missed=1, reserve=5))
    assert (missed["load_kg"], missed["plates"], missed["why"]) == (95, [25, 12.5], "Missed.")
    twice = after(ask, a_set(missed=1), a_set(95.0, missed=2))
    assert (twice["stop"], twice["why"]) == (True, "Missed twice.")


def test_a_stop_ends_the_item_and_says_why(ask):
    loud = a_set(soft_landings=False)
    assert after(ask, loud)["stop"] is False
    ended = after(ask, loud, a_set(soft_landings=True), loud)
    assert (ended["stop"], ended["sets"], ended["why"]) == (True, 3, "Too loud.")


def test_what_was_not_entered_answers_nothing(ask):
    silent = after(ask, a_set(reserve=None))
    assert (silent["load_kg"], silent["why"]) == (100, None)


def test_bounds_are_included_and_the_place_of_the_set_counts(ask):
    assert after(ask, a_set(reserve=4))["load_kg"] == 105
    assert after(ask, a_set(reserve=3))["load_kg"] == 100
    assert after(ask, a_set(), a_set(), a_set(reserve=4))["load_kg"] == 100


def test_speed_is_held_against_the_first_set_at_the_same_load(ask):
    slower = after(ask, a_set(speed_m_s=0.5), a_set(speed_m_s=0.4))
    assert (slower["sets"], slower["why"]) == (2, "Slower.")
    lighter = after(ask, a_set(speed_m_s=0.5), a_set(90.0, speed_m_s=0.4))
    assert lighter["sets"] == 3


def test_a_load_of_the_athletes_own_goes_on_without_plates_nobody_worked_out(ask):
    own = after(ask, a_set(97.5))
    assert (own["load_kg"], own["plates"]) == (97.5, None)


@pytest.mark.parametrize(
    ("place", "level", "stops"),
    [
        ("left knee", 3, True),
        ("left knee", 2, False),
        ("left elbow", 9, False),
        ("right knee", 6, True),
        ("right knee", 5, False),
    ],
)
def test_pain_stops_by_its_place(ask, place, level, stops):
    assert after(ask, pains=[{"place": place, "level": level}])["stop"] is stops


def test_form_changes_the_item_before_its_first_set(ask):
    form = {"exercise": "cmj", "below_m": 0.3, "well_below_m": None, "why_below": "Low."}
    jump = {"data": {"exercise": "cmj", "jump_m": 0.3}}
    assert ask("answers", "formOf", form, [jump]) == {"state": "below", "why": "Low."}
    higher = {"data": {"exercise": "cmj", "jump_m": 0.301}}
    assert ask("answers", "formOf", form, [jump, higher])["state"] == "usual"
    assert ask("answers", "formOf", form, []) is None
    below = after(ask, form="below")
    assert (below["load_kg"], below["why"]) == (90, "Below an ordinary day.")


def test_a_day_may_leave_nothing_of_an_item(ask):
    item = _SQUAT | {"if_well_below": {"sets": 0, "why": "Not today."}}
    gone = after(ask, form="well_below", item=item)
    assert (gone["stop"], gone["why"]) == (True, "Not today.")


def test_a_form_that_nobody_knows_says_nothing(ask):
    form = {"exercise": "cmj", "below_m": None, "well_below_m": None, "why_usual": "As usual."}
    jump = {"data": {"exercise": "cmj", "jump_m": 0.3}}
    assert ask("answers", "formOf", form, [jump]) is None


def entry(name, kind, at, sent=False, **data):
    return {
        "id": name,
        "kind": kind,
        "at": f"2026-11-25T10:{at:02d}:00.000Z",
        "data": data,
        "sent": sent,
    }


def test_two_phones_make_one_session_each_entry_once(ask):
    known = [entry("a", "set", 1, item=0, reps=5), entry("b", "set", 2, item=0, reps=4)]
    own = [entry("b", "set", 2, item=0, reps=4), entry("c", "set", 3, item=0, reps=3)]
    merged = ask("session", "merge", known, own)
    assert [(each["id"], each["sent"]) for each in merged] == [
        ("a", True),
        ("b", True),
        ("c", False),
    ]


def test_a_corrected_set_keeps_its_place_and_a_removed_one_is_gone(ask):
    entries = [
        entry("a", "set", 1, item=0, reps=5, load_kg=100),
        entry("b", "set", 2, item=0, reps=5, load_kg=100),
        entry("c", "set", 3, item=0, reps=5, load_kg=100),
        entry("d", "set", 4, item=0, reps=3, load_kg=100, replaces="a"),
        entry("e", "remove", 5, entry="b"),
        entry("f", "set", 6, item=0, reps=2, load_kg=100, replaces="d"),
    ]
    state = ask("session", "read", {"items": [_SQUAT]}, entries)
    assert [(each["id"], each["data"]["reps"]) for each in state["items"][0]["sets"]] == [
        ("f", 2),
        ("c", 5),
    ]
    assert state["count"] == 2


def test_of_single_answers_the_latest_counts(ask):
    entries = [
        entry("a", "before", 1, sleep_hours=8, pain=[]),
        entry("b", "before", 9, sleep_hours=7, pain=[{"place": "left knee", "level": 4}]),
    ]
    state = ask("session", "read", {"items": [_SQUAT]}, entries)
    assert state["before"]["data"]["sleep_hours"] == 7
    assert state["items"][0]["done"] is True


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("62,5", "mass", 62.5),
        ("27 1/2", "length", 0.275),
        ("1/2", "plain", 0.5),
        (" 185 ", "milliseconds", 0.185),
        ("", "mass", None),
    ],
)
def test_numbers_are_read_as_people_type_them(ask, text, kind, value):
    found = ask("units", "read", text, kind)
    assert found == (pytest.approx(value) if value is not None else None)


@pytest.mark.parametrize("text", ["six", "-3", "5 5", "1/0x"])
def test_what_is_no_number_is_not_guessed(ask, text):
    assert ask("units", "read", text, "plain") != ask("units", "read", "1", "plain")
    assert str(ask("units", "read", text, "plain")) == "nan"


def test_minutes_come_from_the_clock_only_where_it_says_something(ask):
    begun = entry("a", "start", 0)
    last = entry("b", "set", 40, item=0)
    state = {"start": begun}
    at = 1_795_600_800_000 + 41 * 60_000  # 2026-11-25T10:41Z
    assert ask("session", "minutes", state, [begun, last], at) == 41
    next_day = at + 86_400_000
    assert ask("session", "minutes", state, [begun, last], next_day) == 40
    assert ask("session", "minutes", {"start": None}, [last], at) is None
