"""Changing one row of a record, checked as the file is: the same faults, at the same fields.

A form, a row of a spreadsheet and the file itself pass through the same table of fields
(:mod:`saltus.record.schema`) and the same building, so that none can let through what
another refuses.
"""

import tomllib
from collections.abc import Mapping
from typing import Any

from saltus.errors import Fault, RecordError
from saltus.record import schema
from saltus.record.building import build
from saltus.record.checking import Checker
from saltus.record.fields import Table
from saltus.record.record import Record
from saltus.tomltext import Lines

__all__ = ["built", "place_of", "raw_rows", "table_of", "with_row", "without_row"]

RawRow = dict[str, Any]
"""Values of a table as they stand in the file, by key (``stature_cm``)."""


def table_of(name: str, row: Mapping[str, Any] | None = None) -> Table:
    """The table of fields of that name; of a test, that of its kind.

    Raises
    ------
    KeyError
        If there is no such table, or no such kind of test.
    """
    if name == "test":
        return schema.TESTS[(row or {})["kind"]]
    return {table.name: table for table in schema.TABLES}[name]


def raw_rows(text: str, name: str) -> list[RawRow]:
    """Rows of a table as they stand in a valid record's text; at most one of a single table."""
    found = tomllib.loads(text).get(name, [])
    rows = found if isinstance(found, list) else [found]
    return [dict(row) for row in rows]


def built(data: Mapping[str, Any], source: str = "record") -> Record:
    """A record from its tables' raw values.

    Raises
    ------
    RecordError
        With every fault; each names its field, such as ``body_mass[2].mass_kg``.
    """
    checker = Checker(Lines(""))
    record = build(data, checker, None)
    if record is None or checker.faults:
        raise RecordError(source, checker.faults)
    return record


def with_row(text: str, name: str, row: RawRow, index: int | None = None) -> Record:
    """The record that a text would give with a row changed or added.

    Parameters
    ----------
    text : str
        Of a valid record.
    name : str
        Of the table.
    row : dict
        Its raw values. An empty one takes a table away that need not be there.
    index : int or None
        Which row of a repeated table to change, from 0; None adds one. Of no meaning for
        a single table.

    Raises
    ------
    RecordError
        With every fault of the record that would come of it.
    IndexError
        If there is no such row.
    """
    data = tomllib.loads(text)
    if not table_of(name, row).repeated:
        if row or table_of(name).required:
            data[name] = row
        else:
            data.pop(name, None)
        return built(data)
    rows = list(data.get(name, []))
    if index is None:
        rows.append(row)
    else:
        _check(rows, index)
        rows[index] = row
    data[name] = rows
    return built(data)


def without_row(text: str, name: str, index: int) -> Record:
    """The record that a text would give without a row; errors as in :func:`with_row`."""
    data = tomllib.loads(text)
    rows = list(data.get(name, []))
    _check(rows, index)
    del rows[index]
    if rows:
        data[name] = rows
    else:
        data.pop(name, None)
    return built(data)


def _check(rows: list[Any], index: int) -> None:
    if not 0 <= index < len(rows):
        raise IndexError(f"there is no row {index} of {len(rows)}")


def place_of(fault: Fault, name: str, index: int | None) -> str | None:
    """Key of the field of a row at which a fault stands.

    Parameters
    ----------
    fault : Fault
        From :func:`built`.
    name : str
        Of the row's table.
    index : int or None
        Of the row; None for a single table.

    Returns
    -------
    str or None
        Empty where the whole row is at fault; None where the fault lies elsewhere.
    """
    row = name if index is None else f"{name}[{index}]"
    if fault.where == row:
        return ""
    if fault.where.startswith(f"{row}."):
        return fault.where.removeprefix(f"{row}.").split(".")[0].split("[")[0]
    return None
