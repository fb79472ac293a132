import datetime as dt
import io
import json

import pytest
from rich.console import Console
from typer.testing import CliRunner

from saltus.cli import app
from saltus.cli.plan_text import print_plan
from saltus.errors import PlanError, UsageError
from saltus.training.document import read_plan_document
from saltus.training.method_file import load_method

RECORD = """\
saltus_record = 1
[athlete]
name = "Test Athlete"
sex = "female"
born = 2002-03-14
stature_cm = 178
training_age_years = 3
testing_tools = ["tape", "barbell", "boxes"]
landing_practice_weeks = 8
[[body_mass]]
date = 2026-11-16
mass_kg = 68
[[test]]
kind = "countermovement_jump"
date = 2026-11-16
method = "mat"
heights_cm = [33, 34, 33.5]
[[test]]
kind = "maximum"
date = 2026-11-16
lift = "back_squat"
load_kg = 110
[plan]
start = 2026-11-30
[[target]]
date = 2027-02-06
priority = "main"
[week]
mon = 75
wed = 60
fri = 75
[gym]
equipment = ["barbell", "rack", "boxes", "bench"]
bar_kg = 20
plates_kg = [[20, 4], [10, 2], [5, 2], [2.5, 2], [1.25, 2]]
boxes_cm = [30, 45, 60]
soft_surface = true
"""


@pytest.fixture(scope="module")
def record(tmp_path_factory):
    path = tmp_path_factory.mktemp("record") / "athlete.toml"
    path.write_text(RECORD, encoding="utf-8")
    return path


def saltus(*arguments, columns=80):
    runner = CliRunner(env={"COLUMNS": str(columns), "TERM": "dumb"})
    return runner.invoke(app, ["plan", *map(str, arguments)])


@pytest.fixture(scope="module")
def document(record):
    result = saltus(record, "--json")
    assert result.exit_code == 0, result.output
    return json.loads(result.stdout)


def test_json_is_one_document_from_start_to_goal(document):
    assert document["athlete"] == "Test Athlete"
    assert document["start"] == "2026-11-30"
    assert document["goal_date"] == "2027-02-06"
    assert document["solver"]["gap"] <= 0.01
    assert len(document["weeks"]) == 10
    assert all(isinstance(text, str) for text in document["unmet"])
    dates = [s["date"] for w in document["weeks"] for s in w["sessions"]]
    assert dates == sorted(set(dates))
    assert {dt.date.fromisoformat(d).weekday() for d in dates} <= {0, 2, 4}


def test_every_load_is_made_of_this_gyms_plates(document):
    items = [i for w in document["weeks"] for s in w["sessions"] for i in s["items"]]
    loads = [i["load_kg"] for i in items if i["load_kg"] is not None]

    assert loads
    assert all(((load - 20) / 2.5) % 1 == pytest.approx(0.0, abs=1e-9) for load in loads)
    assert {i["box_cm"] for i in items} <= {None, 30.0, 45.0, 60.0}


def test_it_prints_a_calendar_that_fits_eighty_columns(record):
    result = saltus(record)

    assert result.exit_code == 0
    lines = result.stdout.splitlines()
    assert max(map(len, lines)) <= 80
    text = result.stdout
    assert "Week of Mon 30 November 2026" in text
    assert "Wed 2 Dec" in text
    assert "medical advice" in " ".join(text.split())


def test_what_could_not_be_met_stands_before_the_calendar(tmp_path):
    path = tmp_path / "athlete.toml"
    short = RECORD.replace("mon = 75\nwed = 60\nfri = 75", "tue = 60")
    path.write_text(short, encoding="utf-8")

    text = saltus(path).stdout

    assert text.index("What could not be met") < text.index("Week of")
    assert "free day would make room" in " ".join(text.split())


def test_weeks_limits_what_is_printed_and_not_the_plan(record):
    text = saltus(record, "--weeks", 2).stdout

    assert text.count("Week of") == 2
    assert "10 weeks" in text
    assert "8 more weeks" in text


def test_units_can_be_pounds_and_inches(record):
    text = saltus(record, "--weeks", 1, "--units", "imperial").stdout

    assert " lb" in text
    assert " kg" not in text


def test_it_starts_on_the_day_asked_for(record):
    result = saltus(record, "--from", "2026-12-09", "--json")

    document = json.loads(result.stdout)
    assert document["start"] == "2026-12-09"
    assert document["weeks"][0]["start"] == "2026-12-07"


def test_a_method_of_ones_own_rules(record, tmp_path):
    method = tmp_path / "method.toml"
    shipped = saltus_method_text().replace("rest_days = 2", "rest_days = 5")
    method.write_text(shipped, encoding="utf-8")

    document = json.loads(saltus(record, "--method", method, "--json").stdout)

    last = max(s["date"] for w in document["weeks"] for s in w["sessions"])
    assert dt.date.fromisoformat(last) < dt.date(2027, 2, 1)


def saltus_method_text():
    from saltus.training.exercise_file import shipped_text

    return shipped_text("method.toml")


def test_a_plan_that_is_known_is_kept_and_changes_are_told(record, document, tmp_path):
    known = tmp_path / "plan.json"
    known.write_text(json.dumps(document), encoding="utf-8")

    same = json.loads(saltus(record, "--from", "2026-12-14", "--current", known, "--json").stdout)
    later = ("--from", "2026-12-16", "--current", known, "--missed", "2026-12-14")
    after = json.loads(saltus(record, *later, "--json").stdout)

    assert same["changes"] == []
    assert same["counted_from"] == "2026-11-30"
    assert all("missed" in text for text in after["changes"])
    assert "2026-12-14" not in [s["date"] for w in after["weeks"] for s in w["sessions"]]


def test_bad_input_gets_a_sentence(record, tmp_path):
    odd = tmp_path / "odd.json"
    odd.write_text("{}", encoding="utf-8")

    date = saltus(record, "--from", "tomorrow")
    missing = saltus(record, "--current", tmp_path / "none.json")
    empty = saltus(record, "--current", odd)
    alone = saltus(record, "--missed", "2026-12-01")

    assert isinstance(date.exception, UsageError)
    assert "write it as 2026-11-25" in str(date.exception)
    assert isinstance(missing.exception, UsageError)
    assert isinstance(empty.exception, PlanError)
    assert isinstance(alone.exception, UsageError)


def test_a_wide_terminal_shows_the_cue_beside_each_item(document):
    method = load_method()
    plan = read_plan_document(document, method.exercises)
    console = Console(width=140, record=True, file=io.StringIO())

    print_plan(console, plan, method, pounds=False, inches=False, weeks=1)

    text = console.export_text()
    assert "What to think of" not in text
    assert "Raise the pulse" in text
