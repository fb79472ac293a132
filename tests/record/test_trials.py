"""Results of a test day come back out of the record as they were put in."""

import datetime as dt
from dataclasses import replace

import pytest

from saltus.athlete.observations import Jump, JumpMethod, Lift, RepSet
from saltus.errors import TestError, UsageError
from saltus.record import parse, render
from saltus.record.trialresults import results_of, with_results
from saltus.record.trials import Quantity, Trial

DAY = dt.date(2026, 11, 20)

REACH = Trial(kind="countermovement_jump", method="reach", way="touched", arms=True)
MAT = Trial(kind="countermovement_jump", method="mat", way="flight")
FILM = Trial(kind="squat_jump", method="film", way="frames", frame_rate_hz=240)
DROP = Trial(kind="drop_jump", method="mat", box_m=0.3, attempts=2)
REPS = Trial(kind="rep_set", lift="back_squat")
SPEED = Trial(kind="bar_speed", lift="back_squat", attempts=2)
PULL = Trial(kind="isometric_pull")

ENTERED = [
    (REACH, {"touched.1": 2.70, "touched.2": 2.72}),
    (MAT, {"flight.1": 0.512, "flight.2": 0.52, "flight.3": 0.515}),
    (FILM, {"frames.1": 118.0}),
    (Trial(kind="approach_jump", method="reach", arms=True), {"heights.1": 0.51}),
    (
        Trial(kind="squat_jump", method="plate_impulse", load_kg=20),
        {"heights.1": 0.21, "heights.2": 0.22},
    ),
    (DROP, {"heights.1": 0.25, "heights.2": 0.26, "contacts.1": 0.2, "contacts.2": 0.21}),
    (DROP, {"heights.1": 0.25}),
    (Trial(kind="broad_jump", arms=True), {"distances.1": 2.05, "distances.2": 2.1}),
    (Trial(kind="maximum", lift="power_clean"), {"load.0": 62.5}),
    (REPS, {"load.0": 80.0, "reps.0": 5.0, "reserve.0": 1.0}),
    (SPEED, {"loads.1": 40.0, "loads.2": 60.0, "speeds.1": 1.0, "speeds.2": 0.8}),
    (PULL, {"peak.0": 2300.0, "force_at.100": 1200.0, "force_at.200": 1700.0}),
    (Trial(kind="body_mass"), {"mass.0": 71.5}),
    (Trial(kind="standing_reach"), {"standing_reach.0": 2.33}),
]


@pytest.fixture
def record(full):
    return replace(parse(full, recordings=False), restrictions=())


@pytest.mark.parametrize(("trial", "values"), ENTERED, ids=lambda x: getattr(x, "kind", ""))
def test_what_is_entered_is_written_and_read_back(record, full, trial, values):
    changed = with_results(record, trial, DAY, values, note="Test day")

    again = parse(render(changed, full), recordings=False)

    assert results_of(again, trial, DAY) == pytest.approx(values)


def test_results_given_again_take_the_place_of_those_before(record):
    once = with_results(record, MAT, DAY, {"flight.1": 0.5}, note="first")
    twice = with_results(once, MAT, DAY, {"flight.1": 0.5, "flight.2": 0.52}, note="second")

    assert len(twice.tests) == len(record.tests) + 1
    assert len(twice.tests[-1].heights_m) == 2
    assert twice.tests[-1].note == "first"


def test_other_days_loads_and_methods_stay_apart(record):
    changed = record
    for trial in (MAT, replace(MAT, load_kg=20), replace(MAT, arms=True)):
        changed = with_results(changed, trial, DAY, {"flight.1": 0.5})
    changed = with_results(changed, MAT, DAY + dt.timedelta(days=1), {"flight.1": 0.5})

    assert len(changed.tests) == len(record.tests) + 4


def test_without_any_figure_the_test_is_taken_out(record):
    changed = with_results(record, MAT, DAY, {"flight.1": 0.5})

    assert with_results(changed, MAT, DAY, {}).tests == record.tests


def test_a_missed_attempt_leaves_no_gap(record):
    changed = with_results(record, MAT, DAY, {"flight.1": 0.5, "flight.3": 0.52})

    assert results_of(changed, MAT, DAY) == pytest.approx({"flight.1": 0.5, "flight.2": 0.52})


@pytest.mark.parametrize(
    ("trial", "values", "missing"),
    [
        (REPS, {"load.0": 80.0}, ["reps.0"]),
        (DROP, {"heights.1": 0.2, "heights.2": 0.2, "contacts.1": 0.2}, ["contacts.2"]),
        (DROP, {"contacts.1": 0.2}, ["heights.1"]),
        (SPEED, {"loads.1": 40.0}, ["speeds.1"]),
        (PULL, {"force_at.100": 900.0}, ["peak.0"]),
        (MAT, {"flight.2": 0.5}, []),
        (DROP, {"heights.1": 0.2}, []),
        (REPS, {}, []),
    ],
)
def test_what_is_no_whole_test_says_what_is_missing(record, trial, values, missing):
    assert [column.key for column in trial.missing(values)] == missing
    if missing:
        with pytest.raises(TestError, match="missing"):
            with_results(record, trial, DAY, values)


def test_a_touch_needs_the_standing_reach(minimal):
    record = parse(minimal)

    with pytest.raises(TestError, match="standing reach"):
        with_results(record, REACH, DAY, {"touched.1": 2.7})


def test_a_touch_is_a_height_above_the_standing_reach(record):
    changed = with_results(record, REACH, DAY, {"touched.1": 2.70})

    assert isinstance(changed.tests[-1], Jump)
    assert changed.tests[-1].heights_m[0] == pytest.approx(2.70 - 91.5 * 0.0254)
    assert changed.tests[-1].method is JumpMethod.REACH


def test_the_only_weighing_stays(minimal):
    record = parse(minimal)
    day = record.person.body_masses[0].date

    with pytest.raises(TestError, match="only weighing"):
        with_results(record, Trial(kind="body_mass"), day, {})


def test_early_forces_that_are_not_asked_for_stay(record):
    day = dt.date(2026, 1, 19)

    changed = with_results(record, PULL, day, {"peak.0": 2200.0, "force_at.100": 1160.0})

    (pull,) = [test for test in changed.tests if test.date == day]
    assert pull.force_at_n == {100: 1160.0, 250: 1700.0}
    assert pull.note == "Grip slipped once."


def test_a_trial_survives_its_row():
    for trial, _ in ENTERED:
        assert Trial.from_row(trial.as_row()) == trial


def test_columns_have_the_limits_of_the_record():
    first, contact, *_ = DROP.columns()

    assert (first.low, first.high) == (0.02, 1.5)
    assert contact.quantity is Quantity.MILLISECONDS
    assert (contact.low, contact.high) == (0.08, 1.5)
    assert len(DROP.columns(5)) == 10


@pytest.mark.parametrize(
    "wrong",
    [
        {"kind": "recording"},
        {"kind": "maximum"},
        {"kind": "maximum", "lift": "curl"},
        {"kind": "drop_jump", "method": "mat"},
        {"kind": "squat_jump"},
        {"kind": "squat_jump", "method": "mat", "way": "touched"},
        {"kind": "squat_jump", "method": "film", "way": "frames"},
        {"kind": "drop_jump", "method": "reach", "way": "touched", "box_m": 0.3},
        {"kind": "broad_jump", "attempts": 0},
    ],
)
def test_what_contradicts_itself_is_refused(wrong):
    with pytest.raises(UsageError):
        Trial(**wrong)


def test_a_set_of_repetitions_is_one(record):
    changed = with_results(record, REPS, DAY, {"load.0": 80.0, "reps.0": 5.0})

    assert changed.tests[-1] == RepSet(date=DAY, lift=Lift.BACK_SQUAT, load_kg=80.0, reps=5)
