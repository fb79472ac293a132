"""Reading the fields of a TOML table with care: every fault is collected, none is guessed.

A :class:`Table` hands out the fields of one table, each checked for its kind and limits.
What is wrong is noted with the line, the field, the value and the limit; reading goes on,
so that a person sees all faults of a file at once.
"""

import difflib
import math
from collections.abc import Iterable, Mapping, Sequence
from enum import StrEnum
from typing import Any, TypeVar

from saltus.errors import Fault
from saltus.tomltext import Lines

__all__ = ["Table"]

E = TypeVar("E", bound=StrEnum)
N = TypeVar("N", int, float)

_KINDS = {
    bool: "true or false",
    int: "a whole number",
    float: "a number",
    str: "a text",
    list: "a list",
    dict: "a table",
}


class Table:
    """One table of a TOML file.

    Parameters
    ----------
    data : mapping
        Its fields.
    path : sequence of str or int
        Where it stands, such as ``("exercise", "back_squat")``.
    lines : Lines
        Of the file.
    faults : list of Fault
        Faults are added here.
    """

    def __init__(
        self,
        data: Mapping[str, Any],
        path: Sequence[str | int],
        lines: Lines,
        faults: list[Fault],
    ) -> None:
        self.data = data
        self.path = tuple(path)
        self.lines = lines
        self.faults = faults

    def fault(self, key: str | None, what: str) -> None:
        """Note a fault of a field, or of the whole table where `key` is None."""
        path = self.path if key is None else (*self.path, key)
        self.faults.append(self.lines.fault(path, what))

    def known(self, keys: Iterable[str]) -> None:
        """Note every field that is not among the known ones, with the nearest of them."""
        names = sorted(keys)
        for key in self.data:
            if key not in names:
                near = difflib.get_close_matches(key, names, n=1)
                hint = f' Did you mean "{near[0]}"?' if near else f" Known are: {', '.join(names)}."
                self.fault(key, f"there is no such field.{hint}")

    def text(self, key: str, default: str | None = None) -> str:
        """Return a text that is not empty; `default` where it is left out."""
        value = self._get(key, str, default)
        if value is None:
            return ""
        if not value.strip() and default is None:
            self.fault(key, "it is empty: give a text.")
        return str(value)

    def flag(self, key: str, default: bool = False) -> bool:
        """Return true or false."""
        value = self._get(key, bool, default)
        return bool(value)

    def number(
        self,
        key: str,
        default: float | None = None,
        *,
        low: float = 0.0,
        high: float = math.inf,
        unit: str = "",
    ) -> float:
        """Return a number within limits, both included; `default` where it is left out."""
        value = self._get(key, float, default)
        if value is None or not self._within(key, value, low, high, unit):
            return low
        return float(value)

    def count(
        self, key: str, default: int | None = None, *, low: int = 0, high: int = 10_000
    ) -> int:
        """Return a whole number within limits, both included."""
        value = self._get(key, int, default)
        if value is None or not self._within(key, value, low, high, ""):
            return low
        return int(value)

    def pair(
        self,
        key: str,
        default: tuple[float, float] | None = None,
        *,
        low: float = 0.0,
        high: float = math.inf,
        whole: bool = False,
        unit: str = "",
    ) -> tuple[float, float]:
        """Return a range ``[low, high]``; a single number stands for both ends."""
        value = self.data.get(key, default)
        if value is None:
            self._missing(key)
            return (low, low)
        ends = list(value) if isinstance(value, (list, tuple)) else [value, value]
        kind = int if whole else float
        if len(ends) != 2 or not all(_is(end, kind) for end in ends):
            self.fault(
                key,
                f"a range is written [low, high], two {'whole ' if whole else ''}numbers; "
                f"this is {_shown(value)}.",
            )
            return (low, low)
        if not all(self._within(key, end, low, high, unit) for end in ends):
            return (low, low)
        if ends[0] > ends[1]:
            self.fault(key, f"the range runs backwards: {ends[0]} is more than {ends[1]}.")
            return (low, low)
        return (ends[0], ends[1])

    def texts(self, key: str, default: Sequence[str] | None = ()) -> tuple[str, ...]:
        """Return a list of texts."""
        value = self._get(key, list, None if default is None else list(default))
        if value is None:
            return ()
        if not all(isinstance(entry, str) and entry.strip() for entry in value):
            self.fault(key, f"every entry must be a text; this is {_shown(value)}.")
            return ()
        return tuple(value)

    def choice(self, key: str, kind: type[E], default: E | None = None) -> E:
        """Return one of the words of an enumeration."""
        value = self._get(key, str, default)
        first = next(iter(kind))
        return first if value is None else self._word(key, value, kind) or first

    def choices(self, key: str, kind: type[E], default: Sequence[E] | None = ()) -> tuple[E, ...]:
        """Return a list of words of an enumeration."""
        words = self.texts(key, default)
        return tuple(word for text in words if (word := self._word(key, text, kind)) is not None)

    def shares(self, key: str, kind: type[E], *, high: float = math.inf) -> dict[E, float]:
        """Return a table from words of an enumeration to numbers from 0."""
        table = self.table(key, optional=True)
        if table is None:
            return {}
        found: dict[E, float] = {}
        for name in table.data:
            word = table._word(name, name, kind)
            if word is not None:
                found[word] = table.number(name, high=high)
        return found

    def table(self, key: str, *, optional: bool = False) -> "Table | None":
        """Return a table inside this one; None (noted unless `optional`) where there is none."""
        if optional and key not in self.data:
            return None
        value = self._get(key, dict, None)
        return None if value is None else Table(value, (*self.path, key), self.lines, self.faults)

    def tables(self, key: str) -> tuple["Table", ...]:
        """Return the tables of an array of tables; none where it is left out."""
        value = self._get(key, list, [])
        if value is None:
            return ()
        if not all(isinstance(entry, dict) for entry in value):
            self.fault(key, f"every entry must be a table; this is {_shown(value)}.")
            return ()
        return tuple(
            Table(entry, (*self.path, key, index), self.lines, self.faults)
            for index, entry in enumerate(value)
        )

    def _get(self, key: str, kind: type, default: Any) -> Any:
        value = self.data.get(key, default)
        if value is None:
            self._missing(key)
            return None
        if not _is(value, kind):
            self.fault(key, f"it must be {_KINDS[kind]}; this is {_shown(value)}.")
            return None
        return value

    def _missing(self, key: str) -> None:
        self.fault(key, "it is missing: add it.")

    def _within(self, key: str, value: float, low: float, high: float, unit: str) -> bool:
        if low <= value <= high:
            return True
        said = f" {unit}" if unit else ""
        if not math.isfinite(value):
            limit = "it must be a finite number"
        elif value < low:
            limit = f"the least allowed is {low:g}{said}"
        else:
            limit = f"the most allowed is {high:g}{said}"
        self.fault(key, f"{value:g}{said} is out of range: {limit}.")
        return False

    def _word(self, key: str, value: str, kind: type[E]) -> E | None:
        try:
            return kind(value)
        except ValueError:
            near = difflib.get_close_matches(value, [str(word) for word in kind], n=1)
            hint = f' Did you mean "{near[0]}"?' if near else ""
            self.fault(key, f'"{value}" is not one of: {", ".join(kind)}.{hint}')
            return None


def _is(value: Any, kind: type) -> bool:
    if kind is float:
        return isinstance(value, (int, float)) and not isinstance(value, bool)
    if kind is int:
        return isinstance(value, int) and not isinstance(value, bool)
    return isinstance(value, kind)


def _shown(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= 60 else f"{text[:57]}..."
