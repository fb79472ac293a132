"""Reading a record: parse, check everything, then build."""

from pathlib import Path
from typing import Any

from saltus.errors import RecordError
from saltus.record.building import build
from saltus.record.checking import Checker
from saltus.record.record import Record
from saltus.tomltext import Lines, parse_toml, read_toml

__all__ = ["parse", "read"]


def parse(text: str, source: Path | str | None = None) -> Record:
    """Read a record from its text.

    Parameters
    ----------
    text : str
        The TOML text.
    source : Path or str, optional
        The file it stands in.

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
    return _record(data, lines, Path(source) if source is not None else None)


def read(path: Path | str) -> Record:
    """Read a record from its file; parameters, result and errors as in :func:`parse`."""
    data, lines = read_toml(path, RecordError)
    return _record(data, lines, Path(path))


def _record(data: dict[str, Any], lines: Lines, source: Path | None) -> Record:
    checker = Checker(lines)
    record = build(data, checker, source)
    if record is None or checker.faults:
        faults = sorted(checker.faults, key=lambda fault: fault.line or 0)
        raise RecordError(source or "record", faults)
    return record
