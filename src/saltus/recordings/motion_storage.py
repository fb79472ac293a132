"""Motion-storage tables (.mot, .sto): a declared size above a table of SI numbers.

The header is a title, lines of ``key=value`` (nRows, nColumns, inDegrees, version) and
``endheader``; then one line of names and the rows, apart by tabs or blanks, or saved by a
spreadsheet as comma-separated text. Forces are in newtons and points in metres by
convention, and y is up as a rule; the axis that bears the weight decides.
"""

import re
from dataclasses import replace
from pathlib import Path

from saltus.errors import RecordingError
from saltus.recordings.choose import choose
from saltus.recordings.columns import recognise, wanted
from saltus.recordings.delimited import load
from saltus.recordings.options import ReadOptions
from saltus.recordings.signals import Signals
from saltus.recordings.sniff import Layout

__all__ = ["is_motion_storage", "read_motion_storage"]

_END = re.compile(r"^\s*endheader\s*[,;\t]*\s*$", re.IGNORECASE)
_SIZE = re.compile(
    r"^\s*(?P<key>nrows|ncolumns|datarows|datacolumns)\s*[=\s]\s*(?P<value>\d+)", re.IGNORECASE
)


def is_motion_storage(layout: Layout) -> bool:
    """Whether the lines above the table are those of a motion-storage header."""
    return any(_END.match(line) for line in layout.preamble)


def read_motion_storage(path: Path, layout: Layout, options: ReadOptions) -> Signals:
    """Read the forces of a motion-storage table.

    Raises
    ------
    RecordingError
        If the table is shorter or narrower than its header says.
    """
    declared = {}
    for line in layout.preamble:
        match = _SIZE.match(line)
        if match:
            key = "columns" if match["key"].lower().endswith("columns") else "rows"
            declared[key] = int(match["value"])
    width = len(layout.headings)
    if declared.get("columns", width) != width:
        raise RecordingError(
            f"{path.name}: the header announces {declared['columns']} columns, the table has "
            f"{width}. Export the recording again."
        )
    headings = tuple(
        replace(h, unit="s" if h.name.lower() == "time" else h.unit) for h in layout.headings
    )
    columns = recognise(headings)
    headings = tuple(
        replace(c.heading, unit="N") if c.kind == "force" and c.heading.unit is None else c.heading
        for c in columns
    )
    table = load(path, replace(layout, headings=headings), wanted(recognise(headings), options))
    if declared.get("rows", table.values.height) != table.values.height:
        raise RecordingError(
            f"{path.name}: the header announces {declared['rows']} rows, the table has "
            f"{table.values.height}: it was cut off or edited. Export the recording again."
        )
    return choose(table, options)
