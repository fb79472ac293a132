import datetime as dt

import pytest

from saltus.record.roster import columns_of, header_row, read_roster, unit_in

TODAY = dt.date(2026, 11, 25)


def read(header, *rows, **ways):
    cells = [header, *rows]
    return read_roster(cells, 0, columns_of(header), today=TODAY, **ways)


def test_columns_are_known_by_their_names():
    header = ["Athlete", "DOB", "Height (cm)", "Weight [lbs]", "Shoe size", "Team", "weight"]

    assert columns_of(header) == [
        "athlete.name",
        "athlete.born",
        "athlete.stature",
        "body_mass.mass",
        "",
        "group",
        "",
    ]
    assert columns_of(["Vorname", "Nachname", "Größe in cm", "stature_in"]) == [
        "first_name",
        "last_name",
        "athlete.stature",
        "",
    ]


@pytest.mark.parametrize(
    ("header", "unit"),
    [
        ("Height (cm)", "cm"),
        ("Weight [lbs]", "lb"),
        ("stature_in", "in"),
        ("Gewicht in kg", "kg"),
        ("Height", None),
        ("Name (full)", None),
    ],
)
def test_units_in_names(header, unit):
    assert unit_in(header) == unit


def test_who_is_weighed_was_born_years_before():
    [row] = read(["Name", "Born", "Weight"], ["Ada", "2030-01-02", "70"])
    assert row.record is None
    assert row.faults == {
        1: ["2030-01-02 is too late for somebody weighed on 2026-11-25: check both."]
    }


@pytest.mark.parametrize(
    ("column", "examples"),
    [
        ("Weight", "write 72.5, 72.5 kg or 160 lb."),
        ("Height", "write 178, 178 cm or 5'10\"."),
        ("Training age", "write 2 or 2.5."),
    ],
)
def test_what_is_proposed_fits_the_column(column, examples):
    [row] = read(["Name", column], ["Ada", "many"])
    assert row.faults[1][0].endswith(examples)


def test_the_header_is_found_below_a_title():
    cells = [["Fjord Jumpers 2026", ""], ["", ""], ["Name", "Weight"], ["Ada", "70"]]
    assert header_row(cells) == 2
    assert header_row([["", ""], ["x", "y"]]) == 1


def test_a_whole_athlete():
    header = [
        "First name",
        "Last name",
        "Sex",
        "Born",
        "Height",
        "Weight",
        "Reach",
        "Sport",
        "Training age",
        "Testing tools",
        "Group",
        "Mon",
        "Goal",
    ]
    [row] = read(
        header,
        [
            "Ada",
            "Ilves",
            "F",
            "17.05.2003",
            "1.78 m",
            "154 lb",
            "232",
            "volleyball",
            "4,5",
            "tape, force plate",
            "seniors",
            "60",
            "45",
        ],
    )

    assert row.faults == {}
    person = row.record.person
    assert (row.name, row.group) == ("Ada Ilves", "seniors")
    assert (person.name, person.sex, person.born) == ("Ada Ilves", "female", dt.date(2003, 5, 17))
    assert person.stature_m == pytest.approx(1.78)
    assert person.body_masses[0].mass_kg == pytest.approx(154 * 0.45359237)
    assert person.body_masses[0].date == TODAY
    assert person.testing_tools == {"tape", "force_plate"}
    assert row.record.minutes == {"mon": 60}
    assert row.record.goal.jump_m == pytest.approx(0.45)


def test_units_cell_before_column_before_choice():
    header = ["Name", "Weight (lb)", "Height"]
    rows = read(header, ["a", "154", "70"], ["b", "70 kg", "178 cm"], length="in")

    assert rows[0].record.person.body_masses[0].mass_kg == pytest.approx(154 * 0.45359237)
    assert rows[0].record.person.stature_m == pytest.approx(70 * 0.0254)
    assert rows[1].record.person.body_masses[0].mass_kg == 70
    assert rows[1].record.person.stature_m == pytest.approx(1.78)
    assert read(["Name", "Weight", "Height"], ["a", "70", "1.8"], length="m")[0].record


@pytest.mark.parametrize(
    ("cells", "column", "said"),
    [
        (["", "70", "178", "2003-05-17", "f"], 0, "name is needed"),
        (["a", "", "178", "2003-05-17", "f"], 1, "body mass is needed"),
        (["a", "7", "178", "2003-05-17", "f"], 1, "cannot be right"),
        (["a", "70", "tall", "2003-05-17", "f"], 2, "is no number"),
        (["a", "70", "178 kg", "2003-05-17", "f"], 2, "write it in cm"),
        (["a", "70", "17.8", "2003-05-17", "f"], 2, "cannot be right"),
        (["a", "70", "178", "03/04/2001", "f"], 3, "could be two dates"),
        (["a", "70", "178", "1703-05-17", "f"], 3, "correct the year"),
        (["a", "70", "178", "2003-05-17", "q"], 4, "known are"),
    ],
)
def test_each_fault_stands_at_its_cell(cells, column, said):
    [row] = read(["Name", "Weight", "Height", "Born", "Sex"], cells)

    assert row.record is None
    assert list(row.faults) == [column]
    assert said in row.faults[column][0]


def test_faults_of_one_row_do_not_stop_others():
    rows = read(["Name", "Weight"], ["a", "70"], ["b", "x"], ["", ""], ["c", "80"])

    assert [bool(row.record) for row in rows] == [True, False, True]
    assert [row.row for row in rows] == [1, 2, 4]


def test_a_reach_that_does_not_go_with_the_stature_is_told_at_the_reach():
    [row] = read(["Name", "Weight", "Height", "Reach"], ["a", "70", "178", "130"])
    assert list(row.faults) == [3]
