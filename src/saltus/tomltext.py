"""A TOML file with the line on which every field stands, so that a message can name it.

The standard parser gives the values but not where they stood. A short scan over the
same text finds the headers and keys; a fault is then told with its line.
"""

import re
import tomllib
from collections.abc import Mapping, Sequence
from functools import cached_property
from pathlib import Path
from typing import Any

from saltus.errors import Fault, FaultyFile

__all__ = ["Lines", "parse_toml", "read_toml"]

Key = str | int

_LONGEST_NAME = 64
_PART = r"""(?:[\w-]+|"[^"\n]*"|'[^'\n]*')"""
_TOO_LONG = re.compile(rf"""(?<![\w"'.-])(?:{_PART}[ \t]*\.[ \t]*){{{_LONGEST_NAME}}}""", re.ASCII)
"""Dotted names whose parts the standard parser would keep once for every part."""
_AT_LINE = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)")
_HINTS = tuple(
    (re.compile(pattern), hint)
    for pattern, hint in (
        (r"=\s*[+-]?\d+,\d", "decimals have a point, such as 72.5"),
        (r"=\s*[“”„‘’»«]", 'text stands in straight quotes, such as "left knee"'),
        (r"=\s*(?i:yes|no|true|false)\b", "write true or false, in small letters"),
        (r"=\s*\d+-\d", "a date is a day that exists, written as 2026-11-25"),
        (r"=\s*[+-]?[\d.]+\s*[^\W\d]", "a number stands alone: its unit is in the field's name"),
        (r"=\s*[^\W\d]", 'text stands in quotes, such as "left knee"'),
    )
)
_TWICE = {
    "overwrite": "the field stands there twice, keep one",
    "declare": "the table stands there twice; one that may come several times has two brackets, "
    "[[name]]",
}


class Lines:
    """Where each field of a TOML text stands.

    Parameters
    ----------
    text : str
        The text, valid TOML.
    """

    def __init__(self, text: str) -> None:
        self._text = text

    @cached_property
    def _lines(self) -> dict[tuple[Key, ...], int]:
        """Scanned only where somebody asks: a text without faults need not be."""
        return _scan(self._text)

    def of(self, path: Sequence[Key]) -> int | None:
        """Line, from 1, of a field such as ``("test", 3, "load_kg")``.

        A field that has no line of its own (one that is missing, or that stands inside an
        array or inline table) gets that of the nearest thing around it; None if even that
        is not in the text.
        """
        keys = tuple(path)
        while keys:
            if keys in self._lines:
                return self._lines[keys]
            keys = keys[:-1]
        return None

    def fault(self, path: Sequence[Key], what: str) -> Fault:
        """Fault at a field, with its dotted name and its line."""
        return Fault(where=dotted(path), what=what, line=self.of(path))


def dotted(path: Sequence[Key]) -> str:
    """Name of a field as a person would say it: ``test[3].load_kg``."""
    name = ""
    for key in path:
        if isinstance(key, int):
            name += f"[{key}]"
        else:
            name += f".{key}" if name else key
    return name


def parse_toml(
    text: str, source: Path | str, error: type[FaultyFile] = FaultyFile
) -> tuple[dict[str, Any], Lines]:
    """Parse TOML text and find its lines.

    Parameters
    ----------
    text : str
        The text.
    source : Path or str
        Named in messages.
    error : type
        What to raise, a :class:`~saltus.errors.FaultyFile`.

    Raises
    ------
    FaultyFile
        (the given class) if the text is no TOML.
    """
    if _TOO_LONG.search(text):
        what = f"a name has more than {_LONGEST_NAME} parts, joined by points: write it plainer."
        raise error(source, [Fault("the text", what)])
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        found = _AT_LINE.search(str(fault))
        what = _AT_LINE.sub("", str(fault)).rstrip()
        lines = text.rstrip().split("\n")
        line = int(found[1]) if found and found[1] else len(lines)
        hint = _hint(what, lines[line - 1] if line <= len(lines) else "")
        raise error(
            source, [Fault("the text", f"this is not valid TOML: {what}{hint}.", line)]
        ) from fault
    except RecursionError as fault:
        what = "brackets stand within brackets too deep to be meant: write it plainer."
        raise error(source, [Fault("the text", what)]) from fault
    return data, Lines(text)


def _hint(what: str, line: str) -> str:
    """The way out of the slips that people make most, as far as the line shows them."""
    hint = next((words for word, words in _TWICE.items() if f"Cannot {word}" in what), "")
    if not hint:
        hint = next((words for pattern, words in _HINTS if pattern.search(line)), "")
    return f" ({hint})" if hint else ""


def read_toml(
    path: Path | str, error: type[FaultyFile] = FaultyFile
) -> tuple[dict[str, Any], Lines]:
    """Read a TOML file (UTF-8, with or without a byte-order mark) and find its lines.

    Raises
    ------
    FaultyFile
        (the given class) if the file is missing, unreadable, not UTF-8, or no TOML.
    """
    try:
        text = Path(path).read_text(encoding="utf-8-sig")
    except FileNotFoundError as fault:
        raise error(
            path, [Fault("the file", "there is no such file: check the name and the folder.")]
        ) from fault
    except UnicodeDecodeError as fault:
        raise error(
            path, [Fault("the file", "this is not UTF-8 text: save it again as UTF-8.")]
        ) from fault
    except OSError as fault:
        raise error(path, [Fault("the file", f"it cannot be read ({fault.strerror}).")]) from fault
    return parse_toml(text, path, error)


def _scan(text: str) -> dict[tuple[Key, ...], int]:
    """Line of each header and key."""
    lines: dict[tuple[Key, ...], int] = {}
    counts: dict[tuple[Key, ...], int] = {}
    table: tuple[Key, ...] = ()
    depth, fence = 0, ""
    for number, line in enumerate(text.split("\n"), start=1):
        if not fence and depth == 0:
            stripped = line.strip()
            if stripped.startswith("["):
                table = _header(stripped, counts)
                lines.setdefault(table, number)
                if isinstance(table[-1], int):
                    lines.setdefault(table[:-1], number)
                continue
            key = _key(stripped)
            if key:
                for end in range(1, len(key) + 1):
                    lines.setdefault(table + key[:end], number)
        depth, fence = _after(line, depth, fence)
    return lines


def _header(stripped: str, counts: dict[tuple[Key, ...], int]) -> tuple[Key, ...]:
    """Path of a table header, arrays of tables counted."""
    many = stripped.startswith("[[")
    node: Any = tomllib.loads(stripped)
    path: tuple[Key, ...] = ()
    while isinstance(node, Mapping) and node:
        name, node = next(iter(node.items()))
        path += (name,)
        last = not node or (isinstance(node, list) and not node[0])
        if last and many:
            counts[path] = counts.get(path, -1) + 1
        if path in counts:
            path += (counts[path],)
        if isinstance(node, list):
            node = node[0]
    return path


def _key(stripped: str) -> tuple[Key, ...]:
    """Dotted key at the head of a line, or nothing."""
    found = re.match(r"""((?:[A-Za-z0-9_-]+|"[^"]*"|'[^']*'|\s*\.\s*)+)\s*=""", stripped)
    if not found:
        return ()
    try:
        node: Any = tomllib.loads(f"{found[1]} = 0")
    except tomllib.TOMLDecodeError:  # a quoted key with escapes that the pattern cut short
        return ()
    path: tuple[Key, ...] = ()
    while isinstance(node, dict):
        name, node = next(iter(node.items()))
        path += (name,)
    return path


def _after(line: str, depth: int, fence: str) -> tuple[int, str]:
    """Bracket depth and open multi-line string after a line."""
    at = 0
    while at < len(line):
        if fence:
            end = line.find(fence, at)
            if end < 0:
                return (depth, fence) if len(fence) == 3 else (depth, "")
            if fence[0] == '"' and _escaped(line, end):
                at = end + 1
                continue
            at, fence = end + len(fence), ""
            continue
        if line.startswith(('"""', "'''"), at):
            fence = line[at : at + 3]
            at += 3
            continue
        mark = line[at]
        if mark == "#":
            break
        if mark in "\"'":
            fence = mark
        elif mark in "[{":
            depth += 1
        elif mark in "]}":
            depth -= 1
        at += 1
    return depth, fence if len(fence) == 3 else ""


def _escaped(line: str, at: int) -> bool:
    """Whether an odd number of backslashes stands before a position."""
    run = len(line[:at]) - len(line[:at].rstrip("\\"))
    return run % 2 == 1
