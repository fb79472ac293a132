"""Changing one table of a method's text leaves the rest of it alone."""

import difflib
import tomllib

import pytest

from saltus.errors import MethodError
from saltus.training.exercise_file import shipped_text
from saltus.training.method_edit import (
    insert_table,
    raw_method,
    with_name,
    with_table,
    without_table,
)
from saltus.training.method_file import parse_method
from saltus.training.spans import Count, Span

WHOLE = shipped_text("method.toml")


def changed_lines(before, after):
    lines = difflib.ndiff(before.splitlines(), after.splitlines())
    return [line for line in lines if line[0] in "+-"]


def exercise(text, name, **changes):
    return raw_method(text)["exercise"][name] | changes


def test_nothing_changed_gives_the_same_text():
    for section, tables in raw_method(WHOLE).items():
        if section == "name":
            assert with_name(WHOLE, tables) == WHOLE
        elif section in ("rule", "exercise"):
            for name in list(tables)[::9]:
                values = tables[name]
                assert with_table(WHOLE, (section, name), values) == WHOLE
        elif isinstance(tables, list):
            assert with_table(WHOLE, (section, 0), tables[0]) == WHOLE
        else:
            assert with_table(WHOLE, (section,), tables) == WHOLE


def test_a_figure_of_a_phase_changes_one_line():
    phase = raw_method(WHOLE)["phase"][0]
    phase["use"][1]["sets"] = [3, 6]
    text = with_table(WHOLE, ("phase", 0), phase)
    assert [line[:22] for line in changed_lines(WHOLE, text)] == [
        '-   { family = "squat"',
        '+   { family = "squat"',
    ]
    assert parse_method(text).phases[0].uses[1].sets == Count(3, 6)


def test_a_use_can_go_and_another_come_beside_the_comments_of_the_rest():
    marked = WHOLE.replace(
        '  { family = "hinge", rule = "upkeep", per_week = [1, 2]',
        '  # light on purpose\n  { family = "hinge", rule = "upkeep", per_week = [1, 2]',
        1,
    )
    phase = raw_method(marked)["phase"][0]
    phase["use"] = [use for use in phase["use"] if use["family"] != "swing"]
    phase["use"].append(
        {"family": "sprint", "rule": "upkeep", "per_week": [0, 1], "sets": [1, 2], "reps": [2, 4]}
    )
    text = with_table(marked, ("phase", 0), phase)
    assert "# light on purpose" in text
    families = [use.family for use in parse_method(text).phases[0].uses]
    assert "swing" not in families
    assert families[-1] == "sprint"
    assert len(changed_lines(marked, text)) == 2


def test_an_exercise_says_only_what_differs_from_the_one_that_ships():
    text = with_table(WHOLE, ("exercise", "box_jump"), exercise(WHOLE, "box_jump", sets=[2, 3]))
    assert text == WHOLE + "\n[exercise.box_jump]\nsets = [2, 3]\n"
    back = without_table(text, ("exercise", "box_jump"))
    assert parse_method(back) == parse_method(WHOLE)


def test_a_comment_in_an_exercise_of_one_s_own_stays():
    own = 'name = "ours"\n\n[exercise.box_jump]\n# knees\nsets = [2, 3]  # fewer\nreps = [3, 4]\n'
    text = with_table(own, ("exercise", "box_jump"), exercise(own, "box_jump", sets=[2, 4]))
    assert text == own.replace("[2, 3]", "[2, 4]")


def test_what_an_exercise_has_no_more_is_said_to_be_none():
    values = exercise("", "depth_jump")
    del values["needs"], values["cues"]
    text = with_table("", ("exercise", "depth_jump"), values)
    read = parse_method(text).exercises["depth_jump"]
    assert (read.needs.squat_per_mass, read.cues) == (0, ())


def test_the_load_of_an_exercise_that_ships_cannot_go():
    values = exercise("", "back_squat")
    del values["load"]
    with pytest.raises(MethodError, match=r"exercise.back_squat.load: .* of your own"):
        with_table("", ("exercise", "back_squat"), values)


def test_what_is_missing_is_told_with_the_other_faults():
    values = exercise("", "back_squat", reps=[0, 5])
    del values["sets"]
    with pytest.raises(MethodError) as caught:
        with_table("", ("exercise", "back_squat"), values)
    assert [fault.where for fault in caught.value.faults] == [
        "exercise.back_squat.sets",
        "exercise.back_squat.reps",
    ]


def test_a_partial_text_takes_a_section_over_before_a_part_of_it_changes():
    own = '# mine\nname = "ours"\n'
    budgets = raw_method(own)["budget"]
    text = with_table(own, ("budget", 1), budgets[1] | {"per_week": 380})
    assert text.startswith(own)
    assert [b.per_week for b in parse_method(text).budgets] == [300, 380, 500, 220, 260]
    assert set(tomllib.loads(text)) == {"name", "budget"}


def test_a_phase_goes_in_before_another_and_out_again():
    phase = raw_method("")["phase"][2] | {"id": "jumps", "name": "jumps", "weeks": [1, 4]}
    text = insert_table("", ("phase", 3), phase)
    assert [p.id for p in parse_method(text).phases][2:5] == ["speed_strength", "jumps", "peaking"]
    assert parse_method(without_table(text, ("phase", 3))).phases == parse_method("").phases


def test_a_row_can_be_added_to_a_section():
    new = {"rule": "spacing_strength", "family": "swing", "days": 2, "days_minors": 2}
    text = with_table(WHOLE, ("spacing", 7), new)
    assert parse_method(text).spacings[-1].family == "swing"


@pytest.mark.parametrize(
    ("path", "changes", "where", "what"),
    [
        (
            ("exercise", "box_jump"),
            {"sets": [0, 3]},
            "exercise.box_jump.sets",
            "least allowed is 1",
        ),
        (("exercise", "box_jump"), {"place": "fast"}, "exercise.box_jump.place", "not one of"),
        (("exercise", "own"), {"name": "own"}, "exercise.own.sets", "missing"),
        (("budget", 0), {"per_session": 350}, "budget[0].per_session", "more than the week's 300"),
        (("back_off",), {"every_weeks": 1}, "back_off.every_weeks", "least allowed is 2"),
        (("phase", 0), {"weeks": [9, 3]}, "phase[0].weeks", "backwards"),
        (("emphasis", 4), {"shares": {"general_strength": 0.5}}, "emphasis[4].shares", "add up"),
        (("rule", "own"), {"text": ""}, "rule.own.text", "empty"),
    ],
)
def test_the_file_s_own_faults_come_back_with_their_field_and_line(path, changes, where, what):
    raw = raw_method(WHOLE)
    section = raw[path[0]]
    before = section if len(path) == 1 else {}
    if len(path) == 2:
        before = section[path[1]] if isinstance(path[1], int) else section.get(path[1], {})
    with pytest.raises(MethodError) as caught:
        with_table(WHOLE, path, before | changes)
    fault = next(fault for fault in caught.value.faults if fault.where == where)
    assert what in fault.what
    assert fault.line is not None


def test_a_phase_of_which_shares_speak_cannot_go():
    with pytest.raises(MethodError, match=r"emphasis\[0\].shares.*general_strength"):
        without_table(WHOLE, ("phase", 0))


def test_a_load_of_body_mass_range_reads_back():
    values = exercise(WHOLE, "back_squat")
    values["load"] = values["load"] | {"percent": [55, 90]}
    text = with_table(WHOLE, ("exercise", "back_squat"), values)
    assert parse_method(text).exercises["back_squat"].load.percent == Span(55, 90)


def test_brackets_without_end_are_a_fault_not_a_crash():
    with pytest.raises(MethodError, match="too deep"):
        parse_method("a = " + "[" * 100_000)
