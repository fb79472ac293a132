"""Recordings named in a record are analysed as it is read."""

import datetime as dt
from dataclasses import replace
from pathlib import PurePosixPath

import numpy as np
import pytest

from saltus.athlete.observations import DropJump, IsometricPull, Jump, JumpMethod, JumpStyle
from saltus.athlete.pushoff import Start
from saltus.athlete.pushoff_trace import trace
from saltus.errors import RecordError
from saltus.jumps.jump import Jump as PlateJump
from saltus.jumps.jump import JumpKind, Measure, Trust
from saltus.record import parse, read, render
from saltus.record.entries import JumpDecision, RecordedTest
from saltus.record.recorded import observations_of, weight_note
from saltus.recordings.recording import Recording
from saltus.recordings.write import write_delimited

ATHLETE = {
    "mass_kg": 78.0,
    "segment_m": 0.505,
    "torque_nm": 900.0,
    "speed_rad_s": 18.0,
    "rfd_nm_s": 6000.0,
    "distance_m": 0.42,
    "stretch_gain": 0.1,
}
HEAD = """\
saltus_record = 1
[athlete]
name = "Ada Ilves"
[[body_mass]]
date = 2026-01-10
mass_kg = 78.0
"""
DAY = '[[test]]\nkind = "recording"\ndate = 2026-01-10\n'


def record_with(folder, start, *fields, **more):
    """Write a recording of one simulated jump and a record that names it."""
    jump = trace(start, **ATHLETE, **more)
    noise = np.random.default_rng(3).normal(0, 1.0, jump.force_n.size)
    (folder / "recordings").mkdir(exist_ok=True)
    write_delimited(
        Recording(jump.rate_hz, jump.force_n + noise), folder / "recordings" / "jump.csv"
    )
    path = folder / "ada.toml"
    lines = ['file = "recordings/jump.csv"', *fields]
    path.write_text(HEAD + DAY + "\n".join(lines) + "\n", encoding="utf-8")
    return path, jump


def test_countermovement_jump_becomes_an_impulse_height(tmp_path):
    path, jump = record_with(tmp_path, Start.COUNTERMOVEMENT, 'note = "left shoe new"')

    record = read(path)

    (found,) = record.observations
    assert isinstance(found, Jump)
    assert found.style is JumpStyle.COUNTERMOVEMENT
    assert found.method is JumpMethod.PLATE_IMPULSE
    assert found.heights_m[0] == pytest.approx(jump.height_m, abs=0.01)
    assert found.label == "recordings/jump.csv"
    assert found.note == "left shoe new"
    assert record.notes == ()


def test_drop_jump_has_its_contact_and_true_drop(tmp_path):
    path, jump = record_with(tmp_path, Start.DROP, "box_cm = 35", drop_m=0.30)

    (found,) = read(path).observations

    assert isinstance(found, DropJump)
    assert found.true_drop
    assert found.drop_m == pytest.approx(0.30, abs=0.02)
    assert found.contacts_s[0] == pytest.approx(jump.take_off_s - jump.start_s, abs=0.01)
    assert found.heights_m[0] == pytest.approx(jump.height_m, abs=0.015)


def test_reading_without_recordings_opens_no_file(tmp_path):
    path, _ = record_with(tmp_path, Start.SQUAT)
    (tmp_path / "recordings" / "jump.csv").unlink()

    record = read(path, recordings=False)

    assert isinstance(record.tests[0], RecordedTest)
    assert record.observations == ()


def test_a_load_that_the_record_does_not_tell_is_noted(tmp_path):
    path, _ = record_with(tmp_path, Start.COUNTERMOVEMENT, load_kg=20.0)

    notes = read(path).notes

    assert any("98.0 kg stood on the plate" in note and "78.0 kg" in note for note in notes)


def test_a_load_that_the_record_tells_is_carried_over(tmp_path):
    path, jump = record_with(tmp_path, Start.COUNTERMOVEMENT, "load_kg = 20", load_kg=20.0)

    record = read(path)

    assert record.observations[0].load_kg == 20.0
    assert record.observations[0].heights_m[0] == pytest.approx(jump.height_m, abs=0.01)
    assert record.notes == ()


def test_missing_and_unreadable_recordings_are_faults_with_their_lines(tmp_path):
    path = tmp_path / "ada.toml"
    (tmp_path / "rubbish.csv").write_text("no recording at all\n", encoding="utf-8")
    text = HEAD + DAY + 'file = "gone.csv"\n' + DAY + 'file = "rubbish.csv"\n'
    path.write_text(text, encoding="utf-8")

    with pytest.raises(RecordError) as caught:
        read(path)

    gone, rubbish = caught.value.faults
    assert (gone.where, gone.line) == ("test[0].file", 10)
    assert "no recording gone.csv" in gone.what
    assert (rubbish.where, rubbish.line) == ("test[1].file", 14)
    assert "cannot be used" in rubbish.what


def test_a_text_without_a_file_has_no_recordings():
    with pytest.raises(RecordError, match="stands in no file"):
        parse(HEAD + DAY + 'file = "a.csv"\n')

    assert parse(HEAD + DAY + 'file = "a.csv"\n', recordings=False).observations == ()


@pytest.mark.parametrize("file", ["../other.csv", "/etc/other.csv", "C:\\\\other.csv"])
def test_a_recording_stands_beside_the_record(file):
    with pytest.raises(RecordError, match="beside the record"):
        parse(HEAD + DAY + f'file = "{file}"\n')


def plate_jump(kind, trust=Trust.SOUND, reasons=(), **values):
    measures = {name: Measure(value, 0.0, "", "") for name, value in values.items()}
    return PlateJump(kind, 0.0, 1.0, trust, reasons, measures)


@pytest.fixture
def recorded(full):
    day = parse(full).tests[0].date
    return RecordedTest(date=day, file="a.csv")


def test_doubtful_counts_and_is_noted_rejected_is_left_out_and_said(recorded):
    jumps = (
        plate_jump(JumpKind.CMJ, height_impulse=0.40, height_flight=0.41),
        plate_jump(JumpKind.CMJ, Trust.DOUBTFUL, ("Stand still first.",), height_flight=0.42),
        plate_jump(JumpKind.CMJ, Trust.REJECTED, ("You left the plate.",), height_flight=0.60),
    )

    observations, notes = observations_of(jumps, recorded)

    assert [(o.method, o.heights_m) for o in observations] == [
        (JumpMethod.PLATE_IMPULSE, (0.40,)),
        (JumpMethod.PLATE_FLIGHT, (0.42,)),
    ]
    assert len(notes) == 2
    assert "2 is doubtful" in notes[0]
    assert "Stand still first." in notes[0]
    assert "3 is left out" in notes[1]


def test_drop_jumps_of_unknown_drop_need_the_box(recorded):
    jump = plate_jump(JumpKind.DJ, height_flight=0.3, contact_time=0.2)

    observations, notes = observations_of((jump,), recorded)

    assert observations == ()
    assert "box_cm" in notes[0]


def test_of_several_pulls_the_strongest_counts(recorded):
    jumps = (
        plate_jump(JumpKind.ISOMETRIC, isometric_peak_force=2000, force_100ms=1100),
        plate_jump(JumpKind.ISOMETRIC, isometric_peak_force=2100, force_250ms=1700),
    )

    (pull,), _ = observations_of(jumps, recorded)

    assert isinstance(pull, IsometricPull)
    assert pull.peak_n == 2100
    assert pull.force_at_n == {250: 1700}


def test_hops_are_left_out_and_said(recorded):
    observations, notes = observations_of((plate_jump(JumpKind.HOPS),), recorded)

    assert observations == ()
    assert "hops" in notes[0]


DOUBTFUL = Trust.DOUBTFUL


def judged(*decisions):
    return RecordedTest(date=dt.date(2026, 1, 10), file=PurePosixPath("a.csv"), decisions=decisions)


def cmj(height, trust=Trust.SOUND):
    return PlateJump(
        JumpKind.CMJ,
        0.0,
        1.0,
        trust,
        ("You landed with bent knees.",) if trust is not Trust.SOUND else (),
        {"height_impulse": Measure(height, 0.005, "m", "height by impulse")},
    )


def test_a_dropped_jump_does_not_count_and_is_said():
    test = judged(JumpDecision(2, False, "Touched the rail."))

    (found,), notes = observations_of((cmj(0.30), cmj(0.38), cmj(0.31)), test)

    assert found.heights_m == (0.30, 0.31)
    assert notes == ["countermovement jump 2 was dropped. Touched the rail."]


def test_a_doubtful_jump_that_was_kept_counts_and_says_why():
    test = judged(JumpDecision(1, True, "I saw the landing."))

    (found,), notes = observations_of((cmj(0.30, DOUBTFUL), cmj(0.31, DOUBTFUL)), test)

    assert found.heights_m == (0.30, 0.31)
    assert notes[0] == "countermovement jump 1 is doubtful and was kept. I saw the landing."
    assert "counts all the same" in notes[1]


def test_a_rejected_jump_cannot_be_vouched_for():
    test = judged(JumpDecision(1, True, "I want it."))

    found, notes = observations_of((cmj(0.30, Trust.REJECTED),), test)

    assert found == ()
    assert "left out" in notes[0]


def test_decisions_are_written_and_read_back():
    text = HEAD + DAY + 'file = "a.csv"\nresample = true\nfirst_plate = "right"\n'
    record = parse(text, recordings=False)
    decided = replace(
        record.tests[0],
        decisions=(JumpDecision(2, False, 'Said "ouch".'), JumpDecision(5, True, "Seen.")),
    )

    written = render(replace(record, tests=(decided,)), text)

    (read_back,) = parse(written, recordings=False).tests
    assert read_back == decided
    assert read_back.first_plate == "right"
    assert read_back.resample


def test_a_jump_cannot_be_decided_twice():
    decisions = (
        'decisions = [{ jump = 2, keep = true, why = "a" }, { jump = 2, keep = false, why = "b" }]'
    )
    with pytest.raises(RecordError, match="jump 2 is decided twice"):
        parse(HEAD + DAY + 'file = "a.csv"\n' + decisions + "\n", recordings=False)


def test_a_foreign_weight_is_said():
    weight = Measure(784.5, 1.0, "N", "body weight")

    assert weight_note(weight, 79.0) == []
    assert weight_note(None, 50.0) == []
    (said,) = weight_note(weight, 60.0)
    assert "80.0 kg stood on the plate" in said
