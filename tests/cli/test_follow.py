import datetime as dt
import json

import pytest
from typer.testing import CliRunner

from saltus.cli import app
from saltus.errors import UsageError

RECORD = """\
saltus_record = 1
[athlete]
name = "Test Athlete"
sex = "female"
born = 2002-03-14
stature_cm = 178
training_age_years = 3
testing_tools = ["mat", "barbell"]
[[body_mass]]
date = 2026-01-01
mass_kg = 70
[[target]]
date = 2026-11-14
what = "the mark"
[[pain]]
date = 2026-06-20
place = "left heel"
level = 6
[[block]]
start = 2026-01-05
end = 2026-03-01
max_strength = 1.0
"""
TESTS = "".join(
    f"""\
[[test]]
kind = "countermovement_jump"
date = {date}
method = "mat"
heights_cm = [{cm}, {cm + 0.5}, {cm - 0.5}]
[[test]]
kind = "maximum"
date = {date}
lift = "back_squat"
load_kg = {kg}
"""
    for date, cm, kg in (
        ("2026-01-03", 29, 72.5),
        ("2026-03-02", 31, 80),
        ("2026-05-02", 33, 85),
        ("2026-06-29", 34, 90),
    )
)
LOG = "".join(
    f"""\
[[session]]
date = {dt.date(2026, 5, 4) + dt.timedelta(days=7 * week + day)}
minutes = 60
effort = {5 if week < 7 else 9}
sets = [
    {{ exercise = "back_squat", sets = 4, reps = 5, load_kg = 65 }},
    {{ exercise = "power_clean", sets = 2, reps = 3, load_kg = 40 }},
]
"""
    for week in range(8)
    for day in (0, 3)
)


@pytest.fixture
def record(tmp_path):
    path = tmp_path / "athlete.toml"
    path.write_text(RECORD + TESTS + LOG)
    return path


def run(*arguments):
    result = CliRunner(env={"COLUMNS": "100"}).invoke(app, ["follow", *map(str, arguments)])
    if result.exception is not None:
        raise result.exception
    return result.stdout


def test_the_document_tells_jump_changes_and_responses(record):
    document = json.loads(run(record, "--json"))

    assert document["date"] == "2026-06-29"
    assert list(document["jump"]) == document["tested"]
    assert len(document["tested"]) == 4
    assert {"low", "high"} <= set(document["qualities"]["2026-06-29"]["max_strength"])
    assert [change["to"] for change in document["changes"]] == document["tested"][1:]
    by_hand, from_log = document["response"][0], document["response"][1:]
    assert (by_hand["start"], by_hand["quality"]) == ("2026-01-05", "max_strength")
    assert by_hand["observed"]["low"] > 0
    assert {each["start"] for each in from_log} == {"2026-05-04"}
    assert "max_strength" in {each["quality"] for each in from_log}
    assert len(document["load"]) == 9  # the week of the day spoken of has begun


def test_it_is_printed_as_a_coach_would_say_it(record):
    text = run(record)

    for words in (
        "80 %",
        "Jump over time",
        "What really changed",
        "Does what is trained still rise?",
        "5 Jan 2026 to 1 Mar 2026: Max strength changed by",
        "What training cost",
        "the sessions weighed",
        "Left heel: pain of 6 out of 10",
        "The next test",
        "no medical advice",
    ):
        assert words in " ".join(text.split())


def test_imperial_units_turn_every_figure(record):
    text = run(record, "--units", "imperial")

    assert " in (" in text
    assert " cm" not in text


def test_another_day_leaves_out_what_came_later(record):
    early = json.loads(run(record, "--json", "--on", "2026-04-01"))
    later = json.loads(run(record, "--json", "--on", "2026-08-01"))

    assert early["tested"] == ["2026-01-03", "2026-03-02"]
    assert list(early["jump"])[-1] == "2026-04-01"
    assert early["load"] == []
    ends = [later["jump"][day] for day in ("2026-06-29", "2026-08-01")]
    widths = [jump["high"] - jump["low"] for jump in ends]
    assert widths[1] > widths[0]
    with pytest.raises(UsageError, match="no date"):
        run(record, "--on", "May")


def test_a_plan_beside_the_record_is_read(record):
    record.write_text(record.read_text() + '[plan]\ncurrent = "plan.json"\n')
    with pytest.raises(UsageError, match="cannot be read"):
        run(record)
