import pytest

from saltus.errors import Fault, RecordError
from saltus.record import parse, render
from saltus.record.editing import built, place_of, raw_rows, table_of, with_row, without_row

TEXT = """\
saltus_record = 1
[athlete]
name = "Invented"
standing_reach_cm = 230
[[body_mass]]
date = 2026-01-01
mass_kg = 70
[[body_mass]]
date = 2026-02-01
mass_lb = 155
[goal]
touch_cm = 290
"""


def test_a_row_is_changed_added_and_removed():
    heavier = with_row(TEXT, "body_mass", {"date": "2026-01-01", "mass_kg": 72}, 0)
    assert heavier.person.body_masses[0].mass_kg == 72
    assert "mass_lb = 155" in render(heavier, TEXT)

    third = with_row(TEXT, "body_mass", {"date": "2026-03-01", "mass_kg": 73})
    assert len(third.person.body_masses) == 3
    assert len(without_row(TEXT, "body_mass", 0).person.body_masses) == 1


def test_an_empty_row_takes_a_table_away():
    assert with_row(TEXT, "goal", {}).goal is None
    with pytest.raises(RecordError, match="name"):
        with_row(TEXT, "athlete", {})


def test_faults_name_their_field():
    with pytest.raises(RecordError) as caught:
        with_row(TEXT, "body_mass", {"date": "2026-02-01", "mass_kg": 7}, 0)
    assert {place_of(f, "body_mass", 0) for f in caught.value.faults} == {"mass_kg"}

    with pytest.raises(RecordError) as caught:
        with_row(TEXT, "athlete", {"name": "Invented"})
    assert [place_of(f, "athlete", None) for f in caught.value.faults] == [None]


def test_places():
    assert place_of(Fault("goal", ""), "goal", None) == ""
    assert place_of(Fault("body_mass[10].mass_kg", ""), "body_mass", 1) is None
    assert place_of(Fault("gym.plates_kg[2]", ""), "gym", None) == "plates_kg"


def test_rows_as_they_stand():
    assert [sorted(row)[1] for row in raw_rows(TEXT, "body_mass")] == ["mass_kg", "mass_lb"]
    assert raw_rows(TEXT, "gym") == []
    assert table_of("test", {"kind": "maximum"}).title == "maximum"
    with pytest.raises(KeyError):
        table_of("nonsense")


def test_no_such_row():
    with pytest.raises(IndexError):
        with_row(TEXT, "body_mass", {}, 2)
    with pytest.raises(IndexError):
        without_row(TEXT, "target", 0)


def test_built_is_what_the_file_gives():
    import tomllib

    assert built(tomllib.loads(TEXT)) == parse(TEXT)
