"""A record's text cut into its tables, so that one can be changed and the rest left alone.

The cut follows what a reader sees: comment lines that touch a header from above belong to
its table; blank lines and the comments after them, below the last field of a table, belong
to neither and stay where they are.
"""

import re
from dataclasses import dataclass, field

from saltus.errors import RecordError
from saltus.tomltext import parse_toml

__all__ = ["Section", "cut", "cut_quickly", "drop", "insert", "joined"]


_HEADER = re.compile(r"[ \t]*\[\[?[ \t]*([A-Za-z_][\w-]*)[ \t]*\]\]?[ \t]*(?:#.*)?\r?$")
_ANY_HEADER = re.compile(r"[ \t]*\[\[?[ \t]*[A-Za-z_\"']")
_LONG_TEXT = re.compile("\"\"\"|'''")


@dataclass(slots=True)
class Section:
    """One table of the text.

    Parameters
    ----------
    name : str
        Of the table; empty for what stands above the first.
    text : str
        From the comments that touch its header to its last field.
    tail : str
        Blank lines and comments before the next table.
    """

    name: str
    text: str
    tail: str = field(default="")


def cut(text: str, source: str) -> list[Section]:
    """Cut a valid record's text into sections; joined, they give the text again.

    Raises
    ------
    RecordError
        If the text is no TOML.
    """
    data, where = parse_toml(text, source, RecordError)
    # Only a line feed ends a line of TOML; other separators may stand inside a text.
    lines = [line + "\n" for line in text.split("\n")]
    lines[-1] = lines[-1].removesuffix("\n")
    starts: list[tuple[int, str]] = []
    for name, value in data.items():
        paths = [(name, i) for i in range(len(value))] if isinstance(value, list) else [(name,)]
        for path in paths:
            line = where.of(path)
            if line is not None and lines[line - 1].lstrip().startswith("["):
                starts.append((line - 1, name))
    starts.sort()
    return _sections(lines, starts)


def cut_quickly(text: str) -> list[Section] | None:
    """Cut as :func:`cut` does, without reading the values; a valid record is taken for granted.

    Returns
    -------
    list of Section or None
        None where headers cannot be told from the text alone: :func:`cut` can.
    """
    if _LONG_TEXT.search(text):
        return None  # a line of a long text may look like a header
    lines = [line + "\n" for line in text.split("\n")]
    lines[-1] = lines[-1].removesuffix("\n")
    starts = []
    for at, line in enumerate(lines):
        if "[" not in line[:8] or not _ANY_HEADER.match(line):
            continue
        found = _HEADER.match(line.removesuffix("\n"))
        if found is None:
            return None  # a table within a table, or a name in quotes
        starts.append((at, found[1]))
    return _sections(lines, starts)


def _sections(lines: list[str], starts: list[tuple[int, str]]) -> list[Section]:
    bounds = [(_with_comments(lines, at), name) for at, name in starts]
    sections = [Section("", *_split(lines[: bounds[0][0] if bounds else len(lines)]))]
    ends = [at for at, _ in bounds[1:]] + [len(lines)]
    for (at, name), end in zip(bounds, ends, strict=False):
        sections.append(Section(name, *_split(lines[at:end])))
    return sections


def joined(sections: list[Section]) -> str:
    """Put the sections together again."""
    return "".join(section.text + section.tail for section in sections)


def insert(sections: list[Section], after: Section, name: str, text: str) -> Section:
    """Insert a new section; what stands between two tables stays below it."""
    at = next(i for i, section in enumerate(sections) if section is after)
    if after.text and not after.text.endswith("\n"):
        after.text += "\n"
    new = Section(name, text, after.tail)
    after.tail = "\n"
    sections.insert(at + 1, new)
    return new


def drop(sections: list[Section], section: Section) -> None:
    """Remove a section; comments below it stay."""
    at = next(i for i, each in enumerate(sections) if each is section)
    if section.tail.strip():
        sections[at - 1].tail += section.tail.lstrip("\n")
    elif at == len(sections) - 1:
        sections[at - 1].tail = ""
    del sections[at]


def _with_comments(lines: list[str], at: int) -> int:
    while at > 0 and lines[at - 1].lstrip().startswith("#"):
        at -= 1
    return at


def _split(lines: list[str]) -> tuple[str, str]:
    """Text up to the first blank line after the last field, and the rest."""
    last = max(
        (i for i, line in enumerate(lines) if line.strip() and not line.lstrip().startswith("#")),
        default=-1,
    )
    end = last + 1
    while end < len(lines) and lines[end].strip():
        end += 1
    return "".join(lines[:end]), "".join(lines[end:])
