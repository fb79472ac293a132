"""Texts that people write: the line of which a fault speaks, and the lines that differ."""

import difflib

from saltus.errors import Fault, FaultyFile

__all__ = ["difference", "with_lines"]


def with_lines(error: FaultyFile, written: str) -> list[tuple[Fault, str]]:
    """Each fault with the line that it speaks of; an empty one where it speaks of none."""
    lines = written.split("\n")
    return [
        (fault, lines[fault.line - 1].strip() if fault.line and fault.line <= len(lines) else "")
        for fault in error.faults
    ]


def difference(old: str, new: str) -> list[tuple[str, str]]:
    """Lines that differ, with three around them, each with what became of it."""
    kinds = {"+": "added", "-": "removed", "@": "gap"}
    lines = difflib.unified_diff(old.splitlines(), new.splitlines(), lineterm="", n=3)
    return [
        (kinds.get(line[:1], ""), "⋯" if line.startswith("@") else line)
        for line in lines
        if not line.startswith(("---", "+++"))
    ]
