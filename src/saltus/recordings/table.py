"""A text table on its way from a file to a recording."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import polars as pl

from saltus.errors import RecordingError

__all__ = ["BadCell", "Heading", "Table"]


@dataclass(frozen=True, slots=True)
class Heading:
    """Name and unit of one column.

    Parameters
    ----------
    index : int
        Place in the row, from 0; people count from 1.
    name : str
        As in the file, without its unit; empty where the file has no names.
    unit : str or None
        As in the file, without brackets.
    """

    index: int
    name: str
    unit: str | None = None

    @property
    def shown(self) -> str:
        """Name and unit as a person reads them."""
        name = self.name or "no name"
        return f"{name} [{self.unit}]" if self.unit else name


@dataclass(frozen=True, slots=True)
class BadCell:
    """The first cell of a column that is no number."""

    line: int
    text: str


@dataclass(frozen=True, slots=True, eq=False)
class Table:
    """Numbers in named columns.

    Parameters
    ----------
    source : str
        File name.
    headings : tuple of Heading
        All columns of the file.
    values : polars.DataFrame
        The columns that were read, named by ``str(index)``; an empty or unreadable cell is null.
    first_line : int
        Line of the first row of numbers, from 1.
    bad : mapping of int to BadCell
        First cell of each column that holds something but no number.
    stated_rate_hz : float or None
        Sampling rate that the preamble states.
    notes : tuple of str
        What was done so far.
    path : str
        Path as it was given, for commands.
    """

    source: str
    headings: tuple[Heading, ...]
    values: pl.DataFrame
    first_line: int = 1
    bad: Mapping[int, BadCell] = field(default_factory=dict)
    stated_rate_hz: float | None = None
    notes: tuple[str, ...] = ()
    path: str = ""

    @property
    def to_call(self) -> str:
        """The file as a command would name it."""
        return self.path or self.source

    def has(self, index: int) -> bool:
        """Whether column `index` was read."""
        return str(index) in self.values.columns

    def column(self, index: int) -> pl.Series:
        """Column `index` as it stands, gaps as nulls."""
        return self.values[str(index)]

    def checked(self, index: int, way_out: str = "") -> pl.Series:
        """Column `index`, in which every cell is a number or empty.

        Parameters
        ----------
        index : int
            Column, from 0.
        way_out : str
            End of the message.

        Raises
        ------
        RecordingError
            If a cell holds something else.
        """
        if index in self.bad:
            cell = self.bad[index]
            raise RecordingError(
                f"{self.source}: line {cell.line}, column {index + 1} "
                f"({self.headings[index].shown}): {cell.text!r} is not a number.{way_out}"
            )
        return self.column(index)
