"""Several records at once: TOML files, some of them perhaps packed in a zip."""

import io
import zipfile
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import PurePosixPath

from saltus.errors import FaultyFile, UsageError
from saltus.record.entries import RecordedTest
from saltus.record.reading import parse
from saltus.record.record import Record

__all__ = ["MOST_BYTES", "MOST_RECORDS", "ReadRecord", "read_records"]

MOST_BYTES = 20_000_000
MOST_RECORDS = 500
_MOST_OF_ONE = 2_000_000


@dataclass(frozen=True, slots=True)
class ReadRecord:
    """One of the records.

    Parameters
    ----------
    name : str
        Of its file, to be shown only.
    text : str
        What stands in it.
    record : Record or None
        None where it is at fault.
    fault : str
        Every fault with its line; empty where there is none.
    recordings : int
        Recordings that it names; they do not come along.
    """

    name: str
    text: str
    record: Record | None
    fault: str = ""
    recordings: int = 0


def read_records(files: Iterable[tuple[str, bytes]]) -> list[ReadRecord]:
    """Read every record of some files.

    Parameters
    ----------
    files : iterable of (str, bytes)
        Name and content; what is a zip is told by its content.

    Raises
    ------
    UsageError
        If there are too many, or they are too large, or a zip is damaged.
    """
    found: list[ReadRecord] = []
    total = 0
    for name, content in _opened(files):
        total += len(content)
        if len(found) >= MOST_RECORDS or total > MOST_BYTES:
            raise UsageError(
                f"At most {MOST_RECORDS} records of {MOST_BYTES // 1_000_000} MB together are "
                "read at once: send them in parts."
            )
        found.append(_read(name, content))
    return found


def _opened(files: Iterable[tuple[str, bytes]]) -> Iterator[tuple[str, bytes]]:
    for name, content in files:
        if not content.startswith(b"PK\x03\x04"):
            yield PurePosixPath(name.replace("\\", "/")).name, content
            continue
        try:
            with zipfile.ZipFile(io.BytesIO(content)) as archive:
                yield from _members(name, archive)
        except (zipfile.BadZipFile, OSError, RuntimeError, ValueError) as error:
            if isinstance(error, UsageError):
                raise
            raise UsageError(f"{name} is a damaged or locked zip: pack it again.") from error


def _members(name: str, archive: zipfile.ZipFile) -> Iterator[tuple[str, bytes]]:
    members = [
        member
        for member in archive.infolist()
        if member.filename.casefold().endswith(".toml") and "__MACOSX" not in member.filename
    ]
    if not members:
        raise UsageError(f"{name} holds no record: they are files that end in .toml.")
    for member in members[: MOST_RECORDS + 1]:
        with archive.open(member) as file:  # the size that a zip states is not to be trusted
            content = file.read(_MOST_OF_ONE + 1)
        yield PurePosixPath(member.filename.replace("\\", "/")).name, content


def _read(name: str, content: bytes) -> ReadRecord:
    name = name[:200]
    if len(content) > _MOST_OF_ONE:
        return ReadRecord(name, "", None, f"{name} is too large for a record.")
    try:
        text = content.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError:
        return ReadRecord(name, "", None, f"{name} is no text in UTF-8: is it a record?")
    try:
        record = parse(text, name, recordings=False)
    except FaultyFile as error:
        return ReadRecord(name, text, None, "\n".join(str(fault) for fault in error.faults))
    recordings = sum(isinstance(test, RecordedTest) for test in record.tests)
    return ReadRecord(name, text, record, recordings=recordings)
