"""The documents name every field, and their examples can be read."""

from dataclasses import fields
from pathlib import Path

import pytest

from saltus.training.exercise_file import FIELDS, load_exercises
from saltus.training.exercises import EQUIPMENT, Carrier, HeightKind, Needs, Place
from saltus.training.method import (
    BackOff,
    Budget,
    Careful,
    Day,
    Easing,
    Emphasis,
    LandingSteps,
    MatchGap,
    Phase,
    Progression,
    Spacing,
    Unloading,
    Use,
    WeekShape,
)
from saltus.training.method_file import load_method

DOCS = Path(__file__).parents[2] / "docs"


def _example(text, first):
    """The indented example that holds a line, as it would stand in a file."""
    at = text.index(f"    {first}")
    begin = text.rindex("\n\n", 0, at)
    lines = []
    for line in text[begin:].lstrip("\n").split("\n"):
        if line and not line.startswith("    "):
            break
        lines.append(line[4:])
    return "\n".join(lines)


def test_every_field_of_an_exercise_is_described():
    text = (DOCS / "exercises.md").read_text(encoding="utf-8")
    for name in (*FIELDS, *(field.name for field in fields(Needs))):
        assert f"`{name}`" in text, name
    for words in (Place, Carrier, HeightKind):
        for word in words:
            assert f"`{word}`" in text, word
    for name, means in EQUIPMENT.items():
        assert f"| `{name}` | {means} |" in text


@pytest.mark.parametrize(
    "kind",
    [
        BackOff,
        Budget,
        Careful,
        Day,
        Easing,
        Emphasis,
        LandingSteps,
        MatchGap,
        Phase,
        Progression,
        Spacing,
        Unloading,
        Use,
        WeekShape,
    ],
)
def test_every_field_of_a_method_is_described(kind):
    text = (DOCS / "method.md").read_text(encoding="utf-8")
    renamed = {"uses": "use"}
    for field in fields(kind):
        assert f"`{renamed.get(field.name, field.name)}`" in text, field.name


def test_the_example_of_exercises_can_be_read(tmp_path):
    text = (DOCS / "exercises.md").read_text(encoding="utf-8")
    path = tmp_path / "own.toml"
    path.write_text(_example(text, "[exercise.back_squat]"), encoding="utf-8")
    assert "band_jump" in load_exercises(path)


def test_the_example_of_a_method_can_be_read(tmp_path):
    text = (DOCS / "method.md").read_text(encoding="utf-8")
    path = tmp_path / "mine.toml"
    path.write_text(_example(text, 'name = "lighter every third week"'), encoding="utf-8")
    assert load_method(path).back_off.every_weeks == 3


def test_the_figures_told_are_those_of_the_method(method):
    text = (DOCS / "method.md").read_text(encoding="utf-8")
    adults = [b for b in method.budgets if not b.minors]
    minors = [b for b in method.budgets if b.minors]
    days = ", ".join(f"{b.per_session:g}" for b in adults)
    young = " and ".join(f"{b.per_session:g}" for b in minors)
    weeks = ", ".join(f"{b.per_week:g}" for b in adults)
    young_weeks = ", ".join(f"{b.per_week:g}" for b in minors)
    assert f"{days} a day for adults" in text
    assert f"{young} for minors; {weeks} and {young_weeks} a week" in text
    steps = {p.family: p for p in method.progressions}
    assert f"creeping up by at most {steps['weightlifting'].step_points:g} points a week" in text
    share = method.unloading.sets_share
    assert f"{100 * share.low:g} to {100 * share.high:g} % of the sets" in text
    assert f"at most {100 * method.back_off.sets_share:g} % of the sets" in text


def test_the_rules_of_a_day_are_told_with_their_figures(method):
    text = (DOCS / "today.md").read_text(encoding="utf-8")
    day = method.day
    for field in fields(day):
        if field.name.endswith("rule"):
            assert f"`{getattr(day, field.name)}`" in text, field.name
    for share, words in (
        (day.least_change, "changes under {} %"),
        (day.most_rise, "up by {} %"),
        (day.missed_lighter, "at least {} % lighter"),
        (day.speed_loss, "the bar {} % slower"),
        (day.height_loss, "the jump {} % below"),
        (day.below_lighter, "loads {} % lighter"),
        (day.well_below_lighter, "loads {} % lighter, half"),
        (day.held_probability, "probability of {} % or more"),
        (day.held_loss, "within {} % of those"),
        (day.drop_probability, "less than {} %, among"),
        (day.end_gain, "brings {} % or more"),
        (day.end_probability, "with less than {} %; nothing"),
    ):
        assert words.format(f"{100 * share:g}") in text, words
    assert f"by {100 * day.box_step_m:g} cm at most after two sessions" in text
    assert (day.below, day.well_below, day.box_sessions, day.end_sessions) == (0.1, 0.02, 2, 4)
