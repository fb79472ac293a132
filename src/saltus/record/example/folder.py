"""Writing the invented squad to a folder."""

import zlib
from importlib.resources import files
from pathlib import Path

import numpy as np

from saltus.athlete.observations import Observation
from saltus.errors import UsageError
from saltus.record.entries import RecordedTest
from saltus.record.example.field_tests import Coach
from saltus.record.example.filling import filled, sketch
from saltus.record.example.plates import record_test
from saltus.record.example.squad import SQUAD, Member
from saltus.record.example.stamp import STAMP, stamp
from saltus.record.example.truth import Athlete
from saltus.recordings.recording import Recording
from saltus.recordings.write import write_c3d, write_delimited

__all__ = ["member_files", "write_example", "write_recording"]

_SEED = 20261125
_PULLS, _JUMPS = 2, 3


def write_example(folder: Path) -> list[Path]:
    """Write the squad's records, their recordings and a page that says what they are.

    Parameters
    ----------
    folder : Path
        Made if it is not there. Files of the same names are overwritten, but only in a folder
        that is empty or that an earlier call wrote.

    Returns
    -------
    list of Path
        The records, in order of name.

    Raises
    ------
    UsageError
        If the folder holds something else, so that nothing of a coach's own is lost.
    """
    if folder.exists() and not folder.is_dir():
        raise UsageError(f"{folder} is a file: name a folder to write the squad to.")
    if folder.exists() and any(folder.iterdir()) and not (folder / STAMP).is_file():
        raise UsageError(
            f"{folder} holds files of its own: name a new folder, so that nothing is lost."
        )
    folder.mkdir(parents=True, exist_ok=True)
    stamp(folder, None)
    records: list[Path] = []
    written: list[str] = ["README.txt"]
    (folder / "README.txt").write_text(_template("README.txt"), encoding="utf-8")
    for member in SQUAD:
        text, recordings = member_files(member)
        path = folder / f"{member.name}.toml"
        path.write_text(text, encoding="utf-8")
        records.append(path)
        for name, recording in recordings.items():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            write_recording(recording, folder / name)
        written += [path.name, *recordings]
    stamp(folder, written)
    return sorted(records)


def _template(name: str) -> str:
    return (files("saltus.record.example") / "members" / name).read_text(encoding="utf-8")


def _rng(*path: str | int) -> np.random.Generator:
    """Random numbers of their own for each test, so that one more changes no other."""
    keys = [zlib.crc32(part.encode()) if isinstance(part, str) else part for part in path]
    return np.random.default_rng([_SEED, *keys])


def member_files(member: Member) -> tuple[str, dict[str, Recording]]:
    """Return a member's record, and the recordings it names by their paths."""
    template = _template(f"{member.name}.toml")
    record = sketch(template)
    first = min(test.date for test in record.tests)
    athlete = Athlete(member.truth, record.person, record.blocks, first)
    coach = Coach(athlete, _rng(member.name, "biases"))
    results: dict[int, Observation] = {}
    recordings: dict[str, Recording] = {}
    for i, test in enumerate(record.tests):
        rng = _rng(member.name, i)
        if isinstance(test, RecordedTest):
            attempts = _PULLS if test.jump == "isometric_pull" else _JUMPS
            recordings[str(test.file)] = record_test(
                test,
                athlete,
                attempts,
                rng,
                rate_hz=member.rate_hz,
                plates=member.plates,
                bent_landing=dict(member.bent_landings).get(str(test.file)),
            )
        else:
            results[i] = coach.reading(test, rng)
    return filled(template, results, record.person.standing_reach_m), recordings


def write_recording(recording: Recording, path: Path) -> None:
    """Write in the form that the name asks for; clubs have all of them."""
    match path.suffix:
        case ".c3d":
            write_c3d(recording, path)
        case ".txt":
            write_delimited(recording, path, delimiter=";", decimal_comma=True)
        case ".tsv":
            write_delimited(recording, path, delimiter="\t")
        case _:
            write_delimited(recording, path)
