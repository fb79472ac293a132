"""Reading a record: parse, check everything, then build."""

from pathlib import Path
from typing import Any

from saltus.errors import RecordError
from saltus.record.building import build
from saltus.record.checking import Checker
from saltus.record.entries import RecordedTest
from saltus.record.record import Record
from saltus.tomltext import Lines, parse_toml, read_toml

__all__ = ["parse", "read"]


def parse(text: str, source: Path | str | None = None, *, recordings: bool = True) -> Record:
    """Read a record from its text.

    Parameters
    ----------
    text : str
        The TOML text.
    source : Path or str, optional
        The file it stands in; recordings are looked for beside it.
    recordings : bool
        Whether to analyse the recordings that it names. Without, their tests hold no
        observations.

    Returns
    -------
    Record
        Everything in SI units.

    Raises
    ------
    RecordError
        With every fault of the text, each with its field, value, limit and line.
    """
    name = str(source) if source is not None else "record"
    data, lines = parse_toml(text, name, RecordError)
    return _record(data, lines, Path(source) if source is not None else None, recordings)


def read(path: Path | str, *, recordings: bool = True) -> Record:
    """Read a record from its file; parameters, result and errors as in :func:`parse`."""
    data, lines = read_toml(path, RecordError)
    return _record(data, lines, Path(path), recordings)


def _record(data: dict[str, Any], lines: Lines, source: Path | None, recordings: bool) -> Record:
    checker = Checker(lines)
    record = build(data, checker, source)
    if record is not None and recordings:
        record = _with_recordings(record, checker)
    if record is None or checker.faults:
        faults = sorted(checker.faults, key=lambda fault: fault.line or 0)
        raise RecordError(source or "record", faults)
    return record


def _with_recordings(record: Record, checker: Checker) -> Record:
    if not any(isinstance(test, RecordedTest) for test in record.tests):
        return record
    # The readers of recordings are heavy; a record without any must open at once.
    from saltus.record.recorded import analyse_all

    return analyse_all(record, checker)
