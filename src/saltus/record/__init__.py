"""The athlete record: one open text file for each athlete, in and out."""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from saltus.record.reading import parse, read
    from saltus.record.record import Record
    from saltus.record.writing import render, write

__all__ = ["Record", "parse", "read", "render", "write"]

_WHERE = {
    "Record": "saltus.record.record",
    "parse": "saltus.record.reading",
    "read": "saltus.record.reading",
    "render": "saltus.record.writing",
    "write": "saltus.record.writing",
}


def __getattr__(name: str) -> Any:
    """Import each public name when it is first asked for."""
    if name not in _WHERE:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(_WHERE[name]), name)
