"""What differs between two methods, and which plans that touches."""

import datetime as dt

import pytest

from saltus.training.method_compare import Differences, differences, looser, looser_parts, touched
from saltus.training.method_edit import raw_method, with_name, with_table
from saltus.training.method_file import parse_method

GOAL = dt.date(2026, 3, 28)


def edited(path, changes):
    raw = raw_method("")[path[0]]
    before = raw if len(path) == 1 else raw[path[1]]
    return parse_method(with_table("", path, before | changes))


def test_the_same_method_differs_in_nothing(method):
    assert not differences(method, parse_method(""))


@pytest.mark.parametrize(
    ("path", "changes", "found"),
    [
        (("exercise", "box_jump"), {"sets": [2, 3]}, Differences(frozenset({"box_jump"}))),
        (("phase", 3), {"weeks": [4, 5]}, Differences(phases=frozenset({"peaking"}))),
        (("rule", "week"), {"text": "Less."}, Differences(rules=frozenset({"week"}))),
        (("spacing", 6), {"days": 2}, Differences(families=frozenset({"depth_jump"}))),
        (("budget", 0), {"per_week": 280}, Differences(sections=frozenset({"budgets"}))),
        (("back_off",), {"every_weeks": 3}, Differences(sections=frozenset({"back_off"}))),
    ],
)
def test_each_part_is_told_by_its_identifier(method, path, changes, found):
    assert differences(method, edited(path, changes)) == found


def test_a_name_alone_touches_no_plan(method, sound_plan):
    found = differences(method, parse_method(with_name("", "ours")))
    assert found.name
    assert not touched(sound_plan, found, method, since=sound_plan.start)


def test_a_plan_is_touched_by_an_exercise_it_still_uses(method, sound_plan):
    found = differences(method, edited(("exercise", "box_jump"), {"sets": [2, 3]}))
    assert touched(sound_plan, found, method, since=sound_plan.start).exercises == {"box_jump"}
    assert not touched(sound_plan, found, method, since=GOAL - dt.timedelta(days=14))


def test_a_plan_is_not_touched_by_an_exercise_it_does_not_use(method, sound_plan):
    found = differences(method, edited(("exercise", "hurdle_hops"), {"sets": [2, 3]}))
    assert not touched(sound_plan, found, method, since=sound_plan.start)


def test_a_plan_is_touched_by_a_phase_to_come(method, sound_plan):
    found = differences(method, edited(("phase", 0), {"weeks": [3, 26]}))
    assert touched(sound_plan, found, method, since=sound_plan.start).phases == {"general_strength"}
    assert not touched(sound_plan, found, method, since=sound_plan.start + dt.timedelta(days=14))


def test_a_limit_on_a_family_touches_the_plans_that_use_it(method, sound_plan):
    found = differences(method, edited(("spacing", 6), {"days": 2}))
    assert touched(sound_plan, found, method, since=sound_plan.start).exercises == {"depth_jump"}
    landings = differences(method, edited(("spacing", 5), {"days_minors": 4}))
    told = touched(sound_plan, landings, method, since=sound_plan.start).exercises
    assert {"depth_jump", "box_jump"} <= told
    assert "back_squat" not in told


def test_a_landing_budget_touches_only_who_still_lands(method, sound_plan):
    found = differences(method, edited(("budget", 0), {"per_week": 280}))
    assert touched(sound_plan, found, method, since=sound_plan.start).sections == {"budgets"}
    assert not touched(sound_plan, found, method, since=GOAL - dt.timedelta(days=12))


def test_lighter_weeks_touch_every_plan_that_has_sessions_left(method, sound_plan):
    found = differences(method, edited(("back_off",), {"every_weeks": 3}))
    assert touched(sound_plan, found, method, since=sound_plan.start).sections == {"back_off"}
    assert not touched(sound_plan, found, method, since=GOAL + dt.timedelta(days=1))


def test_what_asks_for_less_caution_is_named(method):
    depth = method.exercises["depth_jump"]
    raw = raw_method("")["exercise"]["depth_jump"]
    same = edited(("exercise", "depth_jump"), {"cues": ["Quick."]}).exercises["depth_jump"]
    assert looser(same, depth) == ()
    needs = raw["needs"] | {"squat_per_mass": 1.0, "pain": "acceptable"}
    easier = edited(("exercise", "depth_jump"), {"needs": needs}).exercises["depth_jump"]
    assert looser(easier, depth) == ("squat_per_mass", "pain")
    height = {key: value for key, value in raw["height"].items() if key != "limits"}
    higher = edited(("exercise", "depth_jump"), {"height": height}).exercises["depth_jump"]
    assert looser(higher, depth) == ("height",)
    cheap = raw["landing"] | {"cost": 0.5}
    lighter = edited(("exercise", "depth_jump"), {"landing": cheap}).exercises["depth_jump"]
    assert looser(lighter, depth) == ("landing",)


@pytest.mark.parametrize(
    ("path", "changes", "parts"),
    [
        (("budget", 0), {"per_week": 280}, ()),
        (("budget", 0), {"per_week": 320}, ("budgets",)),
        (("budget", 4), {"from_years": 0.5}, ("budgets",)),
        (("landing_steps",), {"step": 0.3}, ("landing_steps",)),
        (("landing_steps",), {"match_cost": 1.0}, ()),
        (("careful",), {"weeks": 1}, ("careful",)),
        (("careful",), {"reserve_reps": 3}, ()),
        (("easing",), {"from_days": 14}, ("easing",)),
        (("easing",), {"weeks": 1}, ("easing",)),
        (("easing",), {"long_load_share": 0.85}, ("easing",)),
        (("easing",), {"volume_share": 0.6, "long_weeks": 5}, ()),
        (("spacing", 5), {"days_minors": 2}, ("spacings",)),
        (("spacing", 5), {"family": "jump", "days_minors": 3}, ("spacings",)),
        (("spacing", 5), {"days_minors": 4}, ()),
        (("day",), {"most_rise": 0.1}, ("day",)),
        (("day",), {"well_below_sets": 0.8}, ("day",)),
        (("day",), {"missed_lighter": 0.03}, ("day",)),
        (("day",), {"held_probability": 0.9, "speed_loss": 0.05, "drop_by": "rsi"}, ()),
    ],
)
def test_parts_that_ask_for_less_caution_are_named(method, path, changes, parts):
    assert looser_parts(edited(path, changes), method) == parts


def test_rules_of_the_day_differ_without_touching_a_plan(method, sound_plan):
    found = differences(method, edited(("day",), {"most_rise": 0.02}))

    assert found.sections == {"day"}
    assert not touched(sound_plan, found, method, since=sound_plan.start)
