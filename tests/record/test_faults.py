"""Every fault is told with its field, its value, its limit and its line, all at once."""

import pytest

from saltus.errors import RecordError
from saltus.record import parse


def faults_of(text):
    with pytest.raises(RecordError) as caught:
        parse(text, "ada.toml")
    return caught.value.faults


def line_of(text, part):
    return next(i for i, line in enumerate(text.splitlines(), start=1) if part in line)


CASES = [
    # (what stands in the sound record, what stands there instead, field, words of the fault)
    ("mass_kg = 70.0", "mass_kg = 8", "body_mass[1].mass_kg", ["8 kg", "25 kg", "250 kg"]),
    ("mass_lb = 155", "mass_lb = 15", "body_mass[0].mass_lb", ["15 lb", "55.12 lb"]),
    ("stature_cm = 178.5", "stature_cm = 1.785", "athlete.stature_cm", ["1.785 cm", "100 cm"]),
    ("heights_in = 20", "heights_cm = 300", "test[3].heights_cm", ["300 cm", "150 cm"]),
    ("flight_s = [0.45, 0.46]", "flight_s = [0.45, 3]", "test[4].flight_s", ["3 s", "1.1 s"]),
    ("flight_ms = [500, 510]", "flight_ms = 5000", "test[2].flight_ms", ["5000 ms", "1100 ms"]),
    ("[275.41, 276.41]", "[275.41, 200]", "test[0].touched_cm", ["standing reach"]),
    ("[275.41, 276.41]", "[275.41, 449]", "test[0]", ["216.6 cm", "150 cm"]),
    ("frame_rate_hz = 240\n", "", "test[1].frames", ["frame_rate_hz"]),
    ("frames = [120, 125]", 'frames = "120"', "test[1].frames", ["list of numbers", "120"]),
    ('method = "film"', 'method = "reach"', "test[1].method", ["frames", "film"]),
    ('method = "mat"', 'method = "plate_impulse"', "test[2].method", ["flight time"]),
    ('method = "mat"\n', "", "test[2]", ["method is missing"]),
    ("heights_in = 20\n", "", "test[3]", ["holds no result"]),
    ("heights_in = 20", "heights_in = 20\nflight_s = 0.6", "test[3].flight_s", ["twice"]),
    ("heights_in = 20", "heights_in = 20\nheights_cm = 51", "test[3].heights_cm", ["twice"]),
    ("contacts_ms = [220, 230]", "contacts_ms = [220]", "test[4].contacts_ms", ["1", "2 attempts"]),
    (
        "contacts_ms = [220, 230]",
        "contacts_s = [0.22, 230]",
        "test[4].contacts_s",
        ["230 s", "1.5 s"],
    ),
    ("load_lb = 200", "load_lb = 2000", "test[6].load_lb", ["2000 lb", "1323 lb"]),
    ('lift = "front_squat"', 'lift = "front squat"', "test[7].lift", ["front_squat?"]),
    ("reps = 5\n", "reps = 5.5\n", "test[7].reps", ["whole number", "5.5"]),
    ("reps = 5\n", "reps = true\n", "test[7].reps", ["whole number", "true"]),
    ("[1.02, 0.81, 0.55]", "[1.02, 0.81]", "test[8].speeds_m_s", ["2 speeds for 3 loads"]),
    ("peak_n = 2150", "peak_n = 550", "test[9].peak_n", ["body weight"]),
    ("250 = 1700", "250 = 2700", "test[9].force_at_n", ["2700 N", "2150 N"]),
    ("reps = 5\n", "reps = 12\n", "test[7]", ["12 repetitions", "at most 10"]),
    ("[1.02, 0.81, 0.55]", "[0.55, 0.81, 1.02]", "test[8]", ["no slower under the heavier"]),
    ("250 = 1700", "700 = 1700", "test[9]", ["700 ms"]),
    ("distances_cm = [201, 204]", "distances_cm = [61, 62]", "test[5]", ["broad jump of 0.61 m"]),
    ('method = "mine.toml"', 'method = "/etc/mine.toml"', "plan.method", ["beside the record"]),
    ('current = "plans/ada.json"', 'current = "../ada.json"', "plan.current", ["beside"]),
    ("level = 3", "level = nan", "pain[0].level", ["whole number"]),
    ("minutes = 70", "minutes = inf", "session[0].minutes", ["a number", "inf"]),
    ("250 = 1700", "5000 = 1700", "test[9].force_at_n", ["5000", "milliseconds"]),
    ('kind = "broad_jump"', 'kind = "broadjump"', "test[5].kind", ["broad_jump?"]),
    ('kind = "broad_jump"\n', "", "test[5].kind", ["missing", "drop_jump"]),
    ("date = 2026-01-15", "date = 2004-01-15", "test[5].date", ["2003-05-17"]),
    ("date = 2026-01-15", "date = 12026", "test[5].date", ["2026-11-25", "12026"]),
    ("date = 2026-01-15", 'date = "15.1.2026"', "test[5].date", ["year-month-day"]),
    ("date = 2026-01-15", "date = 0026-01-15", "test[5].date", ["correct the year"]),
    ("end = 2025-12-15", "end = 2025-10-15", "block[0].end", ["before the start"]),
    ("max_strength = 1.0", "max_strength = 100", "block[0].max_strength", ["100", "2"]),
    ("max_strength = 1.0", "strength = 1.0", "block[0].strength", ["max_strength?"]),
    ("touch_cm = 300", "touch_cm = 300\njump_cm = 50", "goal", ["jump_cm", "touch_cm"]),
    ("touch_cm = 300", "touch_cm = 200", "goal.touch_cm", ["210 cm", "232 cm"]),
    ("standing_reach_in = 91.5", "standing_reach_in = 60", "athlete.standing_reach_in", ["152 cm"]),
    ('sex = "female"', 'sex = "f"', "athlete.sex", ["female", "unstated"]),
    ("born = 2003-05-17", "birthday = 2003-05-17", "athlete.birthday", ["unknown field"]),
    ("stature_cm", "height_cm", "athlete.height_cm", ["unknown field"]),
    ('name = "Ada Ilves"', 'nmae = "Ada Ilves"', "athlete.nmae", ["did you mean name?"]),
    ('name = "Ada Ilves"\n', "", "athlete", ["name is missing"]),
    ('name = "Ada Ilves"', 'name = " "', "athlete.name", ["empty"]),
    ("mon = 75", "mon = 1200", "week.mon", ["1200", "300"]),
    ("mon = 75", "monday = 75", "week.monday", ["did you mean mon?"]),
    ('weekdays = ["tue", "fri"]', 'weekdays = ["Tue"]', "practice[0].weekdays", ["tue?"]),
    ('weekdays = ["tue", "fri"]\n', "", "practice[0]", ["weekdays", "date"]),
    ("date = 2026-12-05", "date = 2026-12-05\nend = 2026-12-06", "match[0]", ["single date"]),
    ("end = 2027-01-03", "end = 2072-01-03", "blocked[0].end", ["check the year"]),
    ("[[45, 4], [25, 2], [2.5, 2]]", "[45, 25]", "gym.plates_lb", ["pairs"]),
    ("[[45, 4], [25, 2], [2.5, 2]]", "[[450, 4]]", "gym.plates_lb", ["450 lb"]),
    ('"rack"', '"rak"', "gym.equipment", ["rack?"]),
    ("soft_surface = true", 'soft_surface = "yes"', "gym.soft_surface", ["true or false"]),
    ("level = 3", "level = 11", "pain[0].level", ["11", "10"]),
    ("effort = 7", "effort = 70", "session[0].effort", ["70", "10"]),
    ("reps = 4, box_cm", "reps = 4, boxes_cm", "session[0].sets[1].boxes_cm", ["box_cm?"]),
    ("[[pain]]", "[[pains]]", "pains", ["unknown table", "[pain]?"]),
    ("[[restriction]]", "[restriction]", "restriction", ["[[restriction]]"]),
    ("[week]", "[[week]]", "week", ["must be a table"]),
    ("saltus_record = 1\n", "", "saltus_record", ["saltus_record = 1"]),
    ("saltus_record = 1", "saltus_record = 2", "saltus_record", ["newer"]),
    ("saltus_record = 1", 'saltus_record = "1"', "saltus_record", ["must be 1"]),
]


@pytest.mark.parametrize(("sound", "faulty", "where", "words"), CASES)
def test_one_fault_is_told_with_its_place(full, sound, faulty, where, words):
    assert sound in full
    text = full.replace(sound, faulty, 1)

    (fault,) = [f for f in faults_of(text) if f.where == where]

    for word in words:
        assert word in fault.what
    key = where.rpartition(".")[2]
    if where.count(".") == 1 and key in faulty:
        assert fault.line == line_of(text, faulty.splitlines()[-1])


def test_all_faults_come_at_once_in_the_order_of_the_file(full):
    text = full.replace("mass_kg = 70.0", "mass_kg = 8").replace("level = 3", "level = 11")
    text = text.replace("stature_cm = 178.5", "stature_cm = 1.8")

    faults = faults_of(text)

    assert [f.where for f in faults] == [
        "athlete.stature_cm",
        "body_mass[1].mass_kg",
        "pain[0].level",
    ]
    assert [f.line for f in faults] == [
        line_of(text, "stature_cm = 1.8"),
        line_of(text, "mass_kg = 8"),
        line_of(text, "level = 11"),
    ]


def test_missing_tables_are_named():
    faults = faults_of("saltus_record = 1\n")

    assert {f.where for f in faults} == {"athlete", "body_mass"}


@pytest.mark.parametrize(
    ("line", "faulty", "hint"),
    [
        ("mass_kg = 70.0", "mass_kg = 70,0", "decimals have a point"),
        ("mass_kg = 70.0", "mass_kg = 70 kg", "a number stands alone"),
        ("date = 2026-01-15", "date = 2026-02-30", "a day that exists"),
        ('name = "Ada Ilves"', "name = Ada Ilves", "text stands in quotes"),
        ('name = "Ada Ilves"', "name = “Ada Ilves”", "straight quotes"),
        ("approach = true", "approach = Yes", "true or false"),
        ("level = 3", "level = 3\nlevel = 4", "stands there twice"),
    ],
)
def test_text_that_is_no_toml_is_told_with_its_line_and_the_way_out(full, line, faulty, hint):
    text = full.replace(line, faulty, 1)

    (fault,) = faults_of(text)

    assert fault.line == line_of(text, faulty.splitlines()[-1])
    assert hint in fault.what


def test_a_slip_on_the_last_line_has_its_line_too(minimal):
    (fault,) = faults_of(minimal + "mass_kg = 71\n")

    assert fault.line == len(minimal.splitlines()) + 1


def test_what_an_equation_refuses_is_told_once_with_its_place(full):
    (fault,) = faults_of(full.replace("reps = 5\n", "reps = 12\n"))

    assert fault.line == line_of(full, 'kind = "rep_set"') - 1
    assert "test[7]" not in fault.what


def test_two_weighings_on_one_day_are_refused(full):
    text = full.replace("date = 2026-03-01", "date = 2026-01-10", 1)

    assert any("two weighings" in f.what for f in faults_of(text))
