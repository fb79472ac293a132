"""Changing one table of a method's text: the rest of the text, comments too, stays as it is.

What comes of a change is read and checked as the file would be, so that a form lets through
nothing that the file's reader refuses. A text may be partial (see ``docs/method.md``): an
edit writes only what differs from the method that ships, and a section of which one part is
changed is first taken over whole.
"""

import copy
import tomllib
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import Array, InlineTable, Table

from saltus.errors import Fault, MethodError
from saltus.training.exercise_file import shipped_toml
from saltus.training.method_file import parse_method

__all__ = ["insert_table", "raw_method", "with_name", "with_table", "without_table"]

BY_ID = frozenset({"rule", "exercise"})
_EMPTY: Mapping[str, Any] = {
    "adds": {},
    "landing": {},
    "equipment": [],
    "needs": {},
    "stand_ins": [],
    "cues": [],
    "not_for": [],
    "rest_between_reps_s": 0,
    "set_up_min": 0,
    "per_side": False,
    "source": "judgement",
}
"""What says of a field of an exercise that ships that there is none of it any more."""
_MISSING = "it is missing: add it."
_KEPT = dict.fromkeys(
    ("load", "height"), "an exercise that ships keeps it: make an exercise of your own instead."
)
_UNSURE = "this text cannot be changed here without harm: change it as text."


def raw_method(text: str) -> dict[str, Any]:
    """Values of every table as a file would say them, what ships where the text says nothing.

    Parameters
    ----------
    text : str
        Of a valid method.

    Returns
    -------
    dict
        By section; of ``rule`` and ``exercise`` by identifier.
    """
    own, shipped = tomllib.loads(text), _shipped()
    merged = {**shipped, **own}
    for section in BY_ID:
        tables = dict(shipped[section])
        for name, table in own.get(section, {}).items():
            whole = section == "rule"  # a rule is replaced whole, an exercise field by field
            tables[name] = dict(table) if whole else {**tables.get(name, {}), **table}
        merged[section] = tables
    return merged


def with_name(text: str, name: str, source: str | Path = "the method") -> str:
    """The text with another name of the method.

    Raises
    ------
    MethodError
        If the name is empty.
    """
    document = _document(text, source)
    document["name"] = name
    return _checked(document, {**tomllib.loads(text), "name": name}, source)


def with_table(
    text: str,
    path: Sequence[str | int],
    values: Mapping[str, Any],
    source: str | Path = "the method",
) -> str:
    """The text with one table changed, or added at the end of its section.

    Parameters
    ----------
    text : str
        Of a valid method; may be partial or empty.
    path : sequence of str or int
        ``("exercise", "box_jump")``, ``("rule", "week")``, ``("phase", 2)``, ``("week",)``.
    values : mapping
        Every field of the table, as the file would say it. A field that is left out is
        taken away.
    source : str or Path
        Named in messages.

    Raises
    ------
    MethodError
        If the method that would come of it has faults; every fault, with the line of the
        text that would come of it.
    """
    document, expected = _document(text, source), tomllib.loads(text)
    section = str(path[0])
    missing: list[Fault] = []
    if section in BY_ID:
        missing = _set_by_id(document, expected, section, str(path[1]), values)
    else:
        _take_over(document, expected, section)
        if len(path) == 1:
            _update(document[section], values)
            expected[section] = dict(values)
        else:
            tables, index = document[section], int(path[1])
            if index < len(tables):
                _update(tables[index], values)
                expected[section][index] = dict(values)
            else:
                tables.append(_table(values))
                expected[section].append(dict(values))
    try:
        changed = _checked(document, expected, source)
    except MethodError as error:
        raise MethodError(source, [*missing, *error.faults]) from error
    if missing:
        raise MethodError(source, missing)
    return changed


def insert_table(
    text: str,
    path: Sequence[str | int],
    values: Mapping[str, Any],
    source: str | Path = "the method",
) -> str:
    """The text with a table put into a section that has several, before the one at `path`.

    Raises
    ------
    MethodError
        As :func:`with_table`.
    """
    document, expected = _document(text, source), tomllib.loads(text)
    section, index = str(path[0]), int(path[1])
    _take_over(document, expected, section)
    document[section].insert(index, _table(values))
    expected[section].insert(index, dict(values))
    return _checked(document, expected, source)


def without_table(text: str, path: Sequence[str | int], source: str | Path = "the method") -> str:
    """The text without a table of its own.

    An exercise or a rule that ships is then again as it ships; one of one's own is gone. A
    section that comes once is again as it ships, and of one that has several tables the one
    at `path` is gone.

    Raises
    ------
    MethodError
        As :func:`with_table`; for instance where something else still names the table.
    """
    document, expected = _document(text, source), tomllib.loads(text)
    section = str(path[0])
    if section in BY_ID:
        name = str(path[1])
        if name in expected.get(section, {}):
            del document[section][name]
            del expected[section][name]
    elif len(path) == 1:
        if section in expected:
            del document[section]
            del expected[section]
    else:
        _take_over(document, expected, section)
        del document[section][int(path[1])]
        del expected[section][int(path[1])]
    return _checked(document, expected, source)


def _set_by_id(
    document: tomlkit.TOMLDocument,
    expected: dict[str, Any],
    section: str,
    name: str,
    values: Mapping[str, Any],
) -> list[Fault]:
    """Set a rule or an exercise; gives the fields that it cannot do without."""
    missing: list[Fault] = []
    shipped = _shipped()[section].get(name, {})
    own = expected.get(section, {}).get(name, {})
    wanted = dict(values)
    if section == "exercise":
        for key in shipped.keys() - values.keys():
            if key not in _EMPTY:
                missing.append(Fault(f"exercise.{name}.{key}", _KEPT.get(key, _MISSING)))
            wanted[key] = _EMPTY.get(key, shipped[key])
        wanted = {
            key: value
            for key, value in wanted.items()
            if key in own or key not in shipped or not _same(value, shipped[key])
        }
    elif _same(wanted, shipped) and not own:
        wanted = {}
    if not wanted and not own:
        return missing
    if section not in document:
        document[section] = tomlkit.table(is_super_table=True)
    tables = document[section]
    if name in tables:
        _update(tables[name], wanted)
    else:
        tables[name] = _table(wanted)
    expected.setdefault(section, {})[name] = wanted
    return missing


def _take_over(document: tomlkit.TOMLDocument, expected: dict[str, Any], section: str) -> None:
    """Have the section in the text, as it ships, so that a part of it can be changed."""
    if section in expected:
        return
    shipped = _shipped()[section]
    if isinstance(shipped, list):
        tables = tomlkit.aot()
        for values in shipped:
            tables.append(_table(values))
        document[section] = tables
    else:
        document[section] = _table(shipped)
    expected[section] = shipped


def _update(table: Any, values: Mapping[str, Any]) -> None:
    """Give a table these values and touch only what differs."""
    for key in [key for key in table if key not in values]:
        del table[key]
    for key, value in values.items():
        old = table.get(key)
        if key in table and _same(_plain(old), value):
            continue
        if isinstance(value, Mapping) and isinstance(old, (Table, InlineTable)):
            _update(old, value)
        elif not (_rows(value) and isinstance(old, Array) and _update_rows(old, value)):
            table[key] = _item(value)


def _update_rows(array: Array, rows: Sequence[Mapping[str, Any]]) -> bool:
    """Whether the rows of an array could be changed where they stand, with their comments."""
    names = [row.get("family") for row in rows]
    if not all(isinstance(entry, InlineTable) for entry in array):
        return False
    if any(names):
        for index in reversed(range(len(array))):
            if array[index].get("family") not in names:
                del array[index]
        for row in rows[len(array) :]:
            array.append(_item(row))
    if [row.get("family") for row in array] != names:
        return False
    for entry, row in zip(array, rows, strict=True):
        _update(entry, row)
    return True


def _rows(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(v, Mapping) for v in value)


def _table(values: Mapping[str, Any]) -> Table:
    table = tomlkit.table()
    for key, value in values.items():
        table[key] = _item(value)
    return table


def _item(value: Any) -> Any:
    """A value on one line; of several rows, each on a line of its own."""
    if isinstance(value, Mapping):
        inline = tomlkit.inline_table()
        for key, inner in value.items():
            inline[key] = _item(inner)
        return inline
    if isinstance(value, list):
        array = tomlkit.array()
        for entry in value:
            array.append(_item(entry))
        return array.multiline(_rows(value) and len(value) > 2)
    return value


def _plain(value: Any) -> Any:
    return value.unwrap() if hasattr(value, "unwrap") else value


def _same(one: Any, other: Any) -> bool:
    """Whether two values are the same, 1 and true told apart."""
    if isinstance(one, Mapping) and isinstance(other, Mapping):
        return one.keys() == other.keys() and all(_same(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(_same, one, other))
    return bool(one == other) and isinstance(one, bool) == isinstance(other, bool)


def _shipped() -> dict[str, Any]:
    """What ships, the caller's to change."""
    return copy.deepcopy({**shipped_toml("method.toml")[0], **shipped_toml("exercises.toml")[0]})


def _document(text: str, source: str | Path) -> tomlkit.TOMLDocument:
    try:
        return tomlkit.parse(text)
    except TOMLKitError as error:
        raise MethodError(source, [Fault("the text", f"this is not valid TOML: {error}.")]) from (
            error
        )


def _checked(
    document: tomlkit.TOMLDocument, expected: Mapping[str, Any], source: str | Path
) -> str:
    """The text, once it has been read back, says what it should, and is a sound method."""
    text = tomlkit.dumps(document)
    try:
        written = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        written = {}
    if not _same(_without_empty(written), _without_empty(expected)):
        raise MethodError(source, [Fault("the text", _UNSURE)])
    parse_method(text, source)
    return text


def _without_empty(data: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in data.items() if key not in BY_ID or value}
