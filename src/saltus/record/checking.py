"""Checking a parsed record against the table of fields: values in SI out, faults collected."""

import datetime as dt
import difflib
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import PurePosixPath
from typing import Any

from saltus.errors import Fault
from saltus.record.fields import Field, Kind, Table, Unit
from saltus.tomltext import Lines

__all__ = ["Checker", "Row"]

Path = tuple[str | int, ...]

_LARGEST = 10**15
"""Whole numbers beyond it are not even turned into numbers with a point."""
_FIRST_YEAR, _LAST_YEAR = 1900, 2100
_MISSING = object()


@dataclass(slots=True)
class Row:
    """The checked values of one table, in SI, by field name.

    Parameters
    ----------
    table : Table
        Whose fields it holds.
    path : tuple
        Where it stands, such as ``("test", 2)``.
    values : dict
        Only the fields that are given.
    keys : dict
        The name under which each is given.
    """

    table: Table
    path: Path
    values: dict[str, Any] = field(default_factory=dict)
    keys: dict[str, str] = field(default_factory=dict)

    def __contains__(self, name: str) -> bool:
        return name in self.values

    def __getitem__(self, name: str) -> Any:
        """Value of a field, or its default."""
        if name in self.values:
            return self.values[name]
        return self.table.field(name).default

    def get(self, name: str, otherwise: Any) -> Any:
        """Value of a field, or `otherwise`."""
        return self.values.get(name, otherwise)


def _shown(value: object) -> str:
    """Return the value found, short enough for a sentence."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, float) or (isinstance(value, int) and abs(value) < _LARGEST):
        return f"{value:g}"
    text = repr(value)
    return text if len(text) <= 60 else text[:57] + "..."


class Checker:
    """Collects faults while it turns raw tables into rows.

    Parameters
    ----------
    lines : Lines
        Where each field stands.
    """

    def __init__(self, lines: Lines) -> None:
        self.lines = lines
        self.faults: list[Fault] = []

    def fault(self, path: Path, what: str) -> None:
        """Note a fault at a path, with the line of the nearest thing that has one."""
        self.faults.append(self.lines.fault(path, what))

    def fault_in(self, row: Row, name: str, what: str) -> None:
        """Note a fault of a field of a row, under the name by which it is given."""
        key = row.keys.get(name)
        self.fault((*row.path, key) if key else row.path, what)

    def unknown(self, path: Path, key: str, known: Sequence[str]) -> None:
        """Note an unknown name, with the nearest known one."""
        near = difflib.get_close_matches(key.lower(), known, n=1, cutoff=0.6)
        hint = f"did you mean {near[0]}?" if near else f"known here: {', '.join(known)}."
        self.fault((*path, key), f"unknown field; {hint}")

    def row(self, table: Table, raw: object, path: Path) -> Row | None:
        """Check one table.

        Returns
        -------
        Row or None
            None where it is no table at all; a field at fault is left out of the row.
        """
        if not isinstance(raw, Mapping):
            self.fault(path, f"must be a table, not {_shown(raw)}.")
            return None
        row = Row(table, path)
        by_key = table.by_key()
        for key, value in raw.items():
            if key not in by_key:
                self.unknown(path, key, list(by_key))
                continue
            wanted, unit = by_key[key]
            if wanted.name in row.keys:
                self.fault(
                    (*path, key),
                    f"given twice, as {row.keys[wanted.name]} and as {key}; keep one.",
                )
                continue
            row.keys[wanted.name] = key
            checked = self.value(wanted, unit, value, (*path, key))
            if checked is not _MISSING:
                row.values[wanted.name] = checked
        for wanted in table.fields:
            if wanted.required and wanted.name not in row.keys:
                names = " or ".join(wanted.units_by_key())
                self.fault(path, f"{names} is missing: {wanted.help[0].lower()}{wanted.help[1:]}")
        return row

    def rows(self, table: Table, raw: object, path: Path) -> list[Row]:
        """Check a list of tables."""
        if not isinstance(raw, list):
            self.fault(path, f"may come several times: write [[{path[-1]}]], in two brackets.")
            return []
        rows = (self.row(table, each, (*path, i)) for i, each in enumerate(raw))
        return [row for row in rows if row is not None]

    def value(self, wanted: Field, unit: Unit | None, raw: object, path: Path) -> Any:
        """Check one value; the module's mark for "missing" where it is at fault."""
        match wanted.kind:
            case Kind.TEXT:
                return self._text(wanted, raw, path)
            case Kind.FILE:
                return self._file(wanted, raw, path)
            case Kind.CHOICE:
                return self._choice(wanted, raw, path)
            case Kind.CHOICES:
                return self._words(wanted, raw, path)
            case Kind.DATE:
                return self._date(wanted, raw, path)
            case Kind.YES_NO:
                if isinstance(raw, bool):
                    return raw
                return self._wrong_kind(wanted, raw, path)
            case Kind.NUMBER | Kind.WHOLE:
                return self._number(wanted, unit, raw, path)
            case Kind.NUMBERS:
                return self._numbers(wanted, unit, raw, path)
            case Kind.COUNTS:
                return self._counts(wanted, unit, raw, path)
            case Kind.AFTER_MS:
                return self._after_ms(wanted, unit, raw, path)
            case Kind.ROWS:
                assert wanted.rows is not None
                return tuple(self.rows(wanted.rows, raw, path))

    def _wrong_kind(self, wanted: Field, raw: object, path: Path) -> Any:
        self.fault(path, f"must be {wanted.kind.value}, not {_shown(raw)}.")
        return _MISSING

    def _text(self, wanted: Field, raw: object, path: Path) -> Any:
        if not isinstance(raw, str):
            return self._wrong_kind(wanted, raw, path)
        if wanted.required and not raw.strip():
            self.fault(path, "must not be empty.")
            return _MISSING
        return raw

    def _file(self, wanted: Field, raw: object, path: Path) -> Any:
        """Check a path: beside the record or below, so that a record reaches nothing else."""
        text = self._text(wanted, raw, path)
        if text is _MISSING:
            return _MISSING
        file = PurePosixPath(text.replace("\\", "/"))
        if (
            not file.parts
            or file.is_absolute()
            or ".." in file.parts
            or ":" in file.parts[0]
            or "\0" in text
        ):
            self.fault(
                path, f'"{text}" must be a path beside the record, such as "recordings/a.csv".'
            )
            return _MISSING
        return str(file)

    def _choice(self, wanted: Field, raw: object, path: Path) -> Any:
        if not isinstance(raw, str):
            return self._wrong_kind(wanted, raw, path)
        if raw not in wanted.choices:
            near = difflib.get_close_matches(raw.lower(), wanted.choices, n=1)
            hint = f"; did you mean {near[0]}?" if near else "."
            self.fault(path, f'"{raw}" is not one of: {", ".join(map(str, wanted.choices))}{hint}')
            return _MISSING
        return raw

    def _words(self, wanted: Field, raw: object, path: Path) -> Any:
        given = [raw] if isinstance(raw, str) else raw
        if not isinstance(given, list):
            return self._wrong_kind(wanted, raw, path)
        check = self._choice if wanted.choices else self._text
        words = [check(wanted, word, path) for word in given]
        return _MISSING if _MISSING in words else tuple(words)

    def _date(self, wanted: Field, raw: object, path: Path) -> Any:
        if isinstance(raw, str):
            try:
                raw = dt.date.fromisoformat(raw.strip())
            except ValueError:
                self.fault(path, f'"{raw}" is no date; write year-month-day, such as 2026-11-25.')
                return _MISSING
        if isinstance(raw, dt.datetime) or not isinstance(raw, dt.date):
            return self._wrong_kind(wanted, raw, path)
        if not _FIRST_YEAR <= raw.year <= _LAST_YEAR:
            self.fault(
                path,
                f"{raw} lies outside the years {_FIRST_YEAR} to {_LAST_YEAR}; correct the year.",
            )
            return _MISSING
        return raw

    def _number(self, wanted: Field, unit: Unit | None, raw: object, path: Path) -> Any:
        if isinstance(raw, bool) or not isinstance(raw, int | float):
            return self._wrong_kind(wanted, raw, path)
        if not (abs(raw) < _LARGEST):  # nor infinite, nor undefined
            return self._wrong_kind(wanted, raw, path)
        if wanted.kind is Kind.WHOLE and raw != int(raw):
            return self._wrong_kind(wanted, raw, path)
        if not self._within(wanted, unit, float(raw), path):
            return _MISSING
        if wanted.kind is Kind.WHOLE:
            return int(raw)
        return unit.to_si(raw) if unit else float(raw)

    def _within(self, wanted: Field, unit: Unit | None, raw: float, path: Path) -> bool:
        """Check the limits, which the table of fields gives in the first unit."""
        low = -math.inf if wanted.low is None else wanted.low
        high = math.inf if wanted.high is None else wanted.high
        sign = f" {unit.sign}" if unit else ""
        if unit:
            first = wanted.units[0]
            low, high = unit.from_si(first.to_si(low)), unit.from_si(first.to_si(high))
        slack = 1e-9 * max(abs(raw), 1.0)
        if low - slack <= raw <= high + slack:
            return True
        self.fault(
            path,
            f"{_shown(raw)}{sign} cannot be right: the value lies between "
            f"{low:.4g}{sign} and {high:.4g}{sign}; check the number and its unit.",
        )
        return False

    def _numbers(self, wanted: Field, unit: Unit | None, raw: object, path: Path) -> Any:
        given = raw if isinstance(raw, list) else [raw]
        if not given:
            self.fault(path, "holds no value; fill it in or leave it out.")
            return _MISSING
        values = [self._number(wanted, unit, each, path) for each in given]
        return _MISSING if _MISSING in values else tuple(values)

    def _counts(self, wanted: Field, unit: Unit | None, raw: object, path: Path) -> Any:
        if not isinstance(raw, list):
            return self._wrong_kind(wanted, raw, path)
        counts: dict[float, int] = {}
        for pair in raw:
            if not (
                isinstance(pair, list) and len(pair) == 2 and type(pair[1]) is int and pair[1] >= 0
            ):
                self._wrong_kind(wanted, pair, path)
                return _MISSING
            weight = self._number(wanted, unit, pair[0], path)
            if weight is _MISSING:
                return _MISSING
            counts[weight] = counts.get(weight, 0) + pair[1]
        return counts

    def _after_ms(self, wanted: Field, unit: Unit | None, raw: object, path: Path) -> Any:
        if not isinstance(raw, Mapping):
            return self._wrong_kind(wanted, raw, path)
        forces: dict[int, float] = {}
        for after, force in raw.items():
            if not after.isdecimal() or not 10 <= int(after) <= 1000:
                self.fault(path, f'"{after}" must be milliseconds after the onset, 10 to 1000.')
                return _MISSING
            value = self._number(wanted, unit, force, (*path, after))
            if value is _MISSING:
                return _MISSING
            forces[int(after)] = value
        return forces
