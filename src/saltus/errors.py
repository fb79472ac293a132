"""What a person can do wrong, told in a sentence that names the way out.

The tree::

    SaltusError
    ├── RecordingError        a recording that cannot be read or trusted
    │   └── AmbiguousColumns  several columns could be meant: says how to choose
    ├── FaultyFile            a text file with faults, all collected before raising
    │   ├── RecordError       an athlete's record (TOML)
    │   └── MethodError       exercises or a method (TOML) that contradict themselves
    ├── TestError             a test result that no equation of ours can use
    ├── ModelError            a simulation or estimate that cannot be carried out
    ├── PlanError             a plan that cannot be laid out at all
    └── UsageError            a command that cannot be obeyed as given

Every message is whole: what is wrong, where, and what to do.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

__all__ = [
    "AmbiguousColumns",
    "Fault",
    "FaultyFile",
    "MethodError",
    "ModelError",
    "PlanError",
    "RecordError",
    "RecordingError",
    "SaltusError",
    "TestError",
    "UsageError",
]


class SaltusError(Exception):
    """Base of every error that Saltus raises on purpose."""


class RecordingError(SaltusError, ValueError):
    """A recording that cannot be read, or not without guessing."""


class AmbiguousColumns(RecordingError):
    """Several columns could be meant; the message lists them and shows the command.

    Parameters
    ----------
    message : str
        The whole sentence.
    columns : sequence of str
        Names of the columns found.
    """

    def __init__(self, message: str, columns: Sequence[str]) -> None:
        super().__init__(message)
        self.columns = tuple(columns)


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault in a file: where it stands and what to do about it.

    Parameters
    ----------
    where : str
        Dotted name of the field, such as ``test[3].load_kg``.
    what : str
        What is wrong, with the value found, the limit, and the way out.
    line : int or None
        Line of the file, from 1, where it is known.
    """

    where: str
    what: str
    line: int | None = None

    def __str__(self) -> str:
        place = f"line {self.line}, {self.where}" if self.line is not None else self.where
        return f"{place}: {self.what}"


class FaultyFile(SaltusError, ValueError):
    """A file with faults, all of them collected before anything is said."""

    def __init__(self, source: Path | str, faults: Sequence[Fault]) -> None:
        self.source = str(source)
        self.faults = tuple(faults)
        lines = "\n".join(f"  {fault}" for fault in self.faults)
        super().__init__(f"{self.source}:\n{lines}")


class RecordError(FaultyFile):
    """A record (one athlete's TOML file) with faults."""


class MethodError(FaultyFile):
    """Exercises or a method (TOML) with faults."""


class TestError(SaltusError, ValueError):
    """A test result that cannot be used, such as a flight time of 3 s."""

    __test__ = False  # not a test case for pytest


class ModelError(SaltusError, RuntimeError):
    """A simulation or an estimate that cannot be carried out."""


class PlanError(SaltusError, RuntimeError):
    """A plan that cannot be laid out, with what would make room for it."""


class UsageError(SaltusError, ValueError):
    """A command that cannot be obeyed as it was given."""
