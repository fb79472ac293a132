"""Writing a record: only what changed is touched, comments and order stay."""

import datetime as dt
import difflib
import os
import tempfile
import tomllib
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.items import Array, InlineTable, Item
from tomlkit.items import Table as TomlTable

from saltus.errors import Fault, RecordError
from saltus.record import schema
from saltus.record.encoding import PlainRow, alike, plain
from saltus.record.fields import Field, Kind, Table, Unit
from saltus.record.layout import Section, cut, drop, insert, joined
from saltus.record.reading import parse
from saltus.record.record import Record

__all__ = ["place_of_table", "render", "write"]

_DIGITS = 12
"""Significant digits written: far finer than any tape, scale or clock."""
_HEAD = f"{schema.VERSION_FIELD} = {schema.VERSION}\n"


def write(record: Record, path: Path | str) -> None:
    """Write a record to its file.

    Where the file exists, only the fields that differ from `record` are changed, and its
    comments, order and units stay. The file is replaced in one step: an interrupted write
    leaves the old one whole.

    Parameters
    ----------
    record : Record
        What the file shall say.
    path : Path or str
        The file.

    Raises
    ------
    RecordError
        If the file that is there is at fault, or laid out in a way that cannot be changed
        piecemeal, or if the record holds a value that could not be read back.
    """
    target = Path(path)
    old = _text(target) if target.exists() else None
    text = render(record, old, str(target))
    target.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="") as file:
            file.write(text)
        if old is not None:
            Path(name).chmod(target.stat().st_mode)
        else:
            Path(name).chmod(0o644)
        Path(name).replace(target)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def _text(path: Path) -> str:
    with path.open(encoding="utf-8-sig", newline="") as file:
        return file.read()


def render(record: Record, old: str | None = None, source: str = "record") -> str:
    """Return the text of a record, as a change of `old` where that is given.

    Raises
    ------
    RecordError
        As :func:`write`.
    """
    wanted = plain(record)
    text = old if old is not None else _HEAD
    known = plain(parse(old, source, recordings=False)) if old is not None else {}
    sections = cut(text, source)
    _keep_reach(sections, known, wanted)
    for name, table in _tables().items():
        _update(sections, name, table, known.get(name, []), wanted.get(name, []))
    text = joined(sections)
    written = plain(parse(text, source, recordings=False))
    for name, rows in wanted.items():
        if not alike(written[name], rows):
            raise RecordError(
                source,
                [
                    Fault(
                        name,
                        "this table is laid out in a way that cannot be changed without losing "
                        f"comments: write it as [{name}] or [[{name}]], field by field.",
                    )
                ],
            )
    return text


def _keep_reach(
    sections: list[Section],
    known: dict[str, list[PlainRow]],
    wanted: dict[str, list[PlainRow]],
) -> None:
    """Write the standing reach into jumps that were touched, before the athlete's changes.

    Those jumps were as high as they were, whatever is measured later.
    """
    before, after = (
        next(iter(rows.get("athlete", [])), {}).get("standing_reach") for rows in (known, wanted)
    )
    if before is None or alike(before, after):
        return
    reach = schema.TESTS["countermovement_jump"].field("standing_reach")
    for section in sections:
        if section.name != "test" or "touched_" not in section.text:
            continue
        document = tomlkit.parse(section.text)
        body: Any = document["test"][0]
        touched = any(key.startswith("touched_") for key in body)
        if touched and not any(key in body for key in reach.units_by_key()):
            ending = "\n" if section.text.endswith("\n") else ""
            _set(body, reach, before)
            section.text = tomlkit.dumps(document).rstrip("\n") + ending


def _tables() -> dict[str, Table]:
    return {table.name: table for table in schema.TABLES}


def _table_of(table: Table, row: PlainRow) -> Table:
    return schema.TESTS[row["kind"]] if table.name == "test" else table


def _update(
    sections: list[Section], name: str, table: Table, old: list[PlainRow], new: list[PlainRow]
) -> None:
    """Turn the sections of one table from the old rows into the new ones."""
    mine = [section for section in sections if section.name == name]
    if len(mine) < len(old):
        return  # laid out in another way: the check afterwards says so if it matters
    if table is schema.BODY_MASS:  # a record holds weighings by date, a file as they came
        mine.sort(key=lambda section: str(tomllib.loads(section.text)[name][0]["date"]))
    place = place_of_table(sections, name)
    matcher = difflib.SequenceMatcher(
        a=[repr(row) for row in old], b=[repr(row) for row in new], autojunk=False
    )
    after: Section = sections[place - 1]
    for step, a0, a1, b0, b1 in matcher.get_opcodes():
        if step == "equal":
            after = mine[a1 - 1]
            continue
        both = min(a1 - a0, b1 - b0)
        for i in range(both):
            after = mine[a0 + i]
            _change(after, table, old[a0 + i], new[b0 + i])
        for section in mine[a0 + both : a1]:
            section.text = ""
        for row in new[b0 + both : b1]:
            after = insert(sections, after, name, _new_text(table, row))
    for section in [s for s in mine if not s.text]:
        drop(sections, section)


def place_of_table(sections: list[Section], name: str) -> int:
    """Index behind the last section that comes before this table in the usual order."""
    order = list(_tables())
    rank = order.index(name)
    before = [
        i
        for i, section in enumerate(sections)
        if section.name == "" or (section.name in order and order.index(section.name) < rank)
    ]
    return before[-1] + 1


def _change(section: Section, table: Table, old: PlainRow, new: PlainRow) -> None:
    """Change the fields of one section that differ."""
    if table.name == "test" and old["kind"] != new["kind"]:
        section.text = _new_text(table, new)
        return
    fields = _table_of(table, new)
    ending = "\n" if section.text.endswith("\n") else ""
    document = tomlkit.parse(section.text)
    body: Any = document[table.name]
    if table.repeated:
        body = body[0]
    replaced = False
    for each in fields.fields:
        before, after = old.get(each.name), new.get(each.name)
        if alike(before, after):
            continue
        for other in fields.fields:
            if other.gives == each.name:
                replaced |= _remove(body, other)
        if after is None:
            _remove(body, each)
        else:
            _set(body, each, after)
    if replaced:  # what the other way of giving it implied must now be said
        for each in fields.fields:
            if each.name in new and not any(key in body for key in each.units_by_key()):
                _set(body, each, new[each.name])
    section.text = tomlkit.dumps(document).rstrip("\n") + ending


def _remove(body: TomlTable, each: Field) -> bool:
    found = [key for key in each.units_by_key() if key in body]
    for key in found:
        body.remove(key)
    return bool(found)


def _set(body: TomlTable, each: Field, value: Any) -> None:
    present = next(((k, u) for k, u in each.units_by_key().items() if k in body), None)
    key, unit = present or _best_key(each, value)
    body[key] = _item(each, unit, value)


def _new_text(table: Table, row: PlainRow) -> str:
    """Text of a table that was not there before."""
    brackets = f"[[{table.name}]]" if table.repeated else f"[{table.name}]"
    lines = [brackets]
    for each in _table_of(table, row).fields:
        if each.name in row:
            key, unit = _best_key(each, row[each.name])
            lines.append(f"{key} = {_item(each, unit, row[each.name]).as_string()}")
    return "\n".join(lines) + "\n"


def _best_key(each: Field, value: Any) -> tuple[str, Unit | None]:
    """Name, and so unit, in which a value is shortest: 45 lb rather than 20.41165665 kg."""
    keys = each.units_by_key()
    if len(keys) == 1:
        return next(iter(keys.items()))
    return min(keys.items(), key=lambda key: len(_item(each, key[1], value).as_string()))


def _number(value: float, unit: Unit | None) -> float | int:
    shown = float(f"{unit.from_si(value) if unit else value:.{_DIGITS}g}")
    return int(shown) if shown == int(shown) else shown


def _item(each: Field, unit: Unit | None, value: Any) -> Item:
    """Turn a plain value into a TOML item in that unit."""
    match each.kind:
        case Kind.NUMBER | Kind.WHOLE:
            return tomlkit.item(_number(value, unit))
        case Kind.NUMBERS:
            return tomlkit.item([_number(x, unit) for x in value])
        case Kind.COUNTS:
            pairs: list[list[float]] = [[_number(x, unit), count] for x, count in value.items()]
            return tomlkit.item(pairs)
        case Kind.AFTER_MS:
            table: InlineTable = tomlkit.inline_table()
            for after, force in sorted(value.items()):
                table.append(str(after), _number(force, unit))
            return table
        case Kind.ROWS:
            assert each.rows is not None
            rows: Array = tomlkit.array().multiline(True)
            for row in value:
                rows.append(_inline(each.rows, row))
            return rows
        case Kind.CHOICES:
            return tomlkit.item([str(word) for word in value])
        case _:
            return tomlkit.item(value if isinstance(value, bool | dt.date) else str(value))


def _inline(table: Table, row: PlainRow) -> InlineTable:
    inline = tomlkit.inline_table()
    for each in table.fields:
        if each.name in row:
            key, unit = _best_key(each, row[each.name])
            inline.append(key, _item(each, unit, row[each.name]))
    return inline
