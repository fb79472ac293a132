"""The squad as it stands in a folder."""

import datetime as dt

import pytest

from saltus.athlete.person import TestingTool
from saltus.errors import UsageError
from saltus.record import read, render
from saltus.record.entries import RecordedTest
from saltus.record.example.folder import member_files, write_example
from saltus.record.example.squad import SQUAD
from saltus.record.example.stamp import STAMP, is_written
from saltus.training.situation import Priority

TODAY = dt.date(2026, 11, 25)
NAMES = [member.name for member in SQUAD]


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    path = tmp_path_factory.mktemp("squad") / "demo"
    write_example(path)
    return path


@pytest.fixture(scope="module")
def squad(folder):
    return {name: read(folder / f"{name}.toml") for name in NAMES}


def test_at_least_nine_athletes_who_differ(squad):
    truths = {member.truth for member in SQUAD}

    assert len(squad) >= 9
    assert len(truths) == len(squad)


def test_everything_says_that_it_is_invented(folder):
    assert "This squad is invented." in (folder / "README.txt").read_text(encoding="utf-8")
    for name in NAMES:
        head = (folder / f"{name}.toml").read_text(encoding="utf-8").split("saltus_record")[0]
        assert "invented athlete of an invented club" in head, name
        assert "made by a model" in head, name


def test_page_names_everybody(folder):
    page = (folder / "README.txt").read_text(encoding="utf-8")

    assert all(f"\n  {name} " in page for name in NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_a_record_has_all_that_assessing_and_planning_needs(squad, name):
    record = squad[name]
    days = [test.date for test in record.tests]

    assert len(record.observations) >= 4
    assert len(set(days)) >= 2
    assert TODAY - dt.timedelta(days=366) < min(days) < max(days) < TODAY
    assert record.goal is not None
    assert dt.date(2027, 2, 1) < record.goal.date < dt.date(2027, 6, 1)
    assert [t.date for t in record.targets if t.priority is Priority.MAIN] == [record.goal.date]
    assert record.start == dt.date(2026, 11, 30)
    assert sum(record.minutes.values()) >= 90
    assert record.situation.gym.equipment
    assert any(event.landings > 0 for event in record.situation.events)
    assert record.situation.blocked
    assert record.blocks
    assert record.agreed


@pytest.mark.parametrize("name", NAMES)
def test_a_record_has_comments_and_survives_being_written(folder, squad, name):
    text = (folder / f"{name}.toml").read_text(encoding="utf-8")

    assert text.count("#") >= 8
    assert '"?' not in text
    assert render(squad[name], text) == text


def test_the_kinds_of_athlete_that_a_coach_meets(squad):
    ages = {name: record.person.age(TODAY) for name, record in squad.items()}
    tools = {name: record.person.testing_tools for name, record in squad.items()}

    assert ages["nele-ostrin"] == 16
    assert ages["piet-harlow"] >= 50
    assert squad["tomas-breck"].person.training_age_years < 1
    assert tools["sanna-lund"] == {TestingTool.TAPE}
    assert TestingTool.FORCE_PLATE in tools["ines-adler"] & tools["ruben-castell"]
    assert squad["jonas-feld"].restrictions
    assert any("tendon" in pain.place for pain in squad["jonas-feld"].pains)
    assert squad["kofi-arden"].gym.unit == "lb"


def test_strong_slow_fast_weak_and_springy_truly_are():
    truth = {member.name: member.truth for member in SQUAD}
    others = [t for name, t in truth.items() if name != "kofi-arden"]

    assert truth["viktor-hallan"].torque_nm_kg == max(t.torque_nm_kg for t in truth.values())
    assert truth["viktor-hallan"].speed_rad_s < 16.5
    assert truth["lea-morand"].speed_rad_s == max(t.speed_rad_s for t in truth.values())
    assert truth["lea-morand"].torque_nm_kg < 8.5
    assert truth["kofi-arden"].stretch_gain > 1.5 * max(t.stretch_gain for t in others)


def test_recordings_are_of_every_form(folder, squad):
    suffixes = set()
    for record in squad.values():
        for test in record.tests:
            if isinstance(test, RecordedTest):
                assert (folder / test.file).is_file()
                assert test.observations, test.file
                suffixes.add(test.file.suffix)

    assert suffixes == {".csv", ".txt", ".tsv", ".c3d"}


def test_a_landing_on_bent_knees_is_noticed_and_nothing_else_is(squad):
    notes = [note for record in squad.values() for note in record.notes]

    assert len(notes) == 1
    assert "2026-05-18-cmj.csv: countermovement jump 2 is doubtful" in notes[0]
    assert "bent knees" in notes[0]


def test_written_again_it_is_the_same_bit_for_bit(folder, tmp_path):
    write_example(tmp_path / "again")

    one = {p.relative_to(folder): p.read_bytes() for p in folder.rglob("*") if p.is_file()}
    two = {
        p.relative_to(tmp_path / "again"): p.read_bytes()
        for p in (tmp_path / "again").rglob("*")
        if p.is_file()
    }
    assert one == two


def test_one_test_more_changes_no_other(monkeypatch):
    from saltus.record.example import folder as module

    whole = module._template("sanna-lund.toml")
    cut = whole[: whole.index('[[test]]\nkind = "broad_jump"\ndate = 2026-11-16')]
    rest = whole[whole.index("# ---- Training already done") :]
    full, _ = member_files(SQUAD[NAMES.index("sanna-lund")])
    monkeypatch.setattr(module, "_template", lambda name: cut + rest)

    shorter, _ = member_files(SQUAD[NAMES.index("sanna-lund")])

    assert shorter.split("# ---- Training")[0] in full


def test_a_folder_with_files_of_its_own_is_left_alone(tmp_path):
    (tmp_path / "ines-adler.toml").write_text("mine", encoding="utf-8")

    with pytest.raises(UsageError, match="files of its own"):
        write_example(tmp_path)

    assert (tmp_path / "ines-adler.toml").read_text(encoding="utf-8") == "mine"
    assert list(tmp_path.iterdir()) == [tmp_path / "ines-adler.toml"]


def test_a_file_is_no_folder(tmp_path):
    (tmp_path / "squad").write_text("", encoding="utf-8")

    with pytest.raises(UsageError, match="is a file"):
        write_example(tmp_path / "squad")


def test_stamp_knows_whether_all_is_there(folder):
    assert is_written(folder)
    assert not is_written(folder / "recordings")

    stamp = folder / STAMP
    text = stamp.read_text(encoding="utf-8")
    try:
        stamp.write_text("0.0.0\n" + text.partition("\n")[2], encoding="utf-8")
        assert not is_written(folder)
        stamp.write_text(text + "gone.toml\n", encoding="utf-8")
        assert not is_written(folder)
    finally:
        stamp.write_text(text, encoding="utf-8")
