import datetime as dt
import json

import pytest
from typer.testing import CliRunner

from saltus.cli import app
from saltus.cli.terminal import interval_line
from saltus.errors import RecordError, UsageError
from saltus.quantities import Estimate

RECORD = """\
saltus_record = 1
[athlete]
name = "Test Athlete"
sex = "female"
born = 2002-03-14
stature_cm = 178
standing_reach_cm = 232
training_age_years = 5
testing_tools = ["tape", "phone", "barbell"]
[[body_mass]]
date = 2026-11-16
mass_kg = 70
[goal]
date = 2027-04-17
touch_cm = 300
what = "the mark"
[[test]]
kind = "countermovement_jump"
date = 2026-11-16
method = "mat"
heights_cm = [33, 34, 33.5]
[[test]]
kind = "maximum"
date = 2026-11-16
lift = "back_squat"
load_kg = 100
"""


@pytest.fixture
def record(tmp_path):
    path = tmp_path / "athlete.toml"
    path.write_text(RECORD)
    return path


def run(*arguments):
    return CliRunner(env={"COLUMNS": "100"}).invoke(app, ["assess", *map(str, arguments)])


def test_json_is_exactly_one_document(record):
    result = run(record, "--json")

    document = json.loads(result.stdout)
    assert document["athlete"] == "Test Athlete"
    assert document["date"] == "2026-11-16"
    assert document["goal"]["needed_m"] == pytest.approx(0.68)
    assert document["what_if"] is None


def test_it_is_printed_as_a_coach_would_say_it(record):
    text = run(record).stdout

    assert "Limiting quality" in text
    assert "80 %" in text
    assert "For the mark a jump of 68.0 cm is needed" in text
    assert "no medical advice" in text


def test_imperial_units_turn_every_figure(record):
    text = run(record, "--units", "imperial").stdout

    assert "154.3 lb" in text
    assert "a jump of 26.8 in is needed" in text
    assert " cm" not in text


def test_what_if_tells_the_jump_and_its_change(record):
    more = json.loads(run(record, "--what-if", "max_strength=+10", "--json").stdout)["what_if"]
    heavier = json.loads(run(record, "--what-if", "body_mass=+2", "--json").stdout)["what_if"]

    assert more["change_m"]["low"] > 0
    assert heavier["change_m"]["high"] < 0


def test_undecided_is_said_with_what_would_decide(record):
    text = run(record, "--decided", "1").stdout

    assert "Limiting quality: undecided" in text


def test_a_later_day_is_spoken_of(record):
    document = json.loads(run(record, "--on", "2026-12-01", "--json").stdout)

    assert dt.date.fromisoformat(document["date"]) == dt.date(2026, 12, 1)


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--on", "yesterday"], "write it as"),
        (["--what-if", "speed=10"], "push_off_speed"),
        (["--what-if", "max_strength=300"], "between"),
    ],
)
def test_what_cannot_be_obeyed_is_said_with_the_way_out(record, arguments, words):
    result = run(record, *arguments)

    assert isinstance(result.exception, UsageError)
    assert words in str(result.exception)


def test_body_mass_is_not_talked_about_with_a_minor(record):
    record.write_text(RECORD.replace("2002-03-14", "2010-03-14"))

    assert isinstance(run(record, "--what-if", "body_mass=-2").exception, UsageError)
    assert "One kg more" not in run(record).stdout


def test_a_faulty_record_names_the_line(record):
    record.write_text(RECORD.replace("mass_kg = 70", "mass_kg = 7"))

    result = run(record)
    assert isinstance(result.exception, RecordError)
    assert "line 12" in str(result.exception)


def test_interval_line_puts_the_dot_within_its_interval():
    line = interval_line(Estimate(5.0, 2.0, 8.0, 2.0), 0.0, 10.0, width=11)

    assert line == "  ├──●──┤  "


def test_figures_fit_a_terminal_of_eighty_columns(record):
    result = CliRunner(env={"COLUMNS": "80"}).invoke(app, ["assess", str(record)])

    assert max(len(line.rstrip()) for line in result.stdout.splitlines()) <= 80
    assert "rate of force development" in result.stdout
    assert "…" not in result.stdout
