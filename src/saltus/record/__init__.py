"""The athlete record: one open text file for each athlete, in and out."""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from saltus.record.reading import parse, read
    from saltus.record.record import Record

__all__ = ["Record", "parse", "read"]

_WHERE = {
    "Record": "saltus.record.record",
    "parse": "saltus.record.reading",
    "read": "saltus.record.reading",
}


def __getattr__(name: str) -> Any:
    """Import each public name when it is first asked for."""
    if name not in _WHERE:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(_WHERE[name]), name)
