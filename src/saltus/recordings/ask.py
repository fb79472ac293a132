"""The question Saltus asks when a file could be read in more than one way."""

import shlex
from collections.abc import Sequence

from saltus.errors import AmbiguousColumns
from saltus.recordings.columns import Column
from saltus.recordings.options import ReadOptions
from saltus.recordings.table import Table

__all__ = ["ambiguous"]


def ambiguous(
    why: str,
    *,
    table: Table,
    columns: Sequence[Column],
    candidates: Sequence[Column],
    options: ReadOptions,
) -> AmbiguousColumns:
    """Build the error that lists the columns and shows the commands to choose from.

    Parameters
    ----------
    why : str
        What is unclear, as the rest of a sentence.
    table : Table
        What was read.
    columns : sequence of Column
        All columns.
    candidates : sequence of Column
        Those that may be the force, likeliest first.
    options : ReadOptions
        What was given already; it stays in the commands.
    """
    headings = [column.heading for column in columns]
    names = [h.name.lower() for h in headings]

    def call(column: Column) -> str:
        name = column.heading.name
        unique = name and names.count(name.lower()) == 1 and not name.isdigit()
        return shlex.quote(name) if unique else str(column.index + 1)

    time = next((c for c in columns if c.kind == "time"), None)
    when = []
    if options.time is not None:
        when = ["--time", shlex.quote(options.time)]
    elif time is not None and options.rate_hz is None:
        when = ["--time", call(time)]
    if not when and (options.rate_hz is not None or table.stated_rate_hz is None):
        when = ["--rate", f"{options.rate_hz or 1000:g}"]
    units = [column.force_unit for column in candidates if column.force_unit]
    unit = ["--unit", options.unit or (units[0] if units else "N")]
    left = next((c for c in candidates if c.side == "left"), None)
    right = next((c for c in candidates if c.side == "right"), None)
    if left is None or right is None:
        left, right = (candidates[0], candidates[1]) if len(candidates) > 1 else (None, None)
    start = ["saltus", "analyse", shlex.quote(table.to_call)]
    commands = []
    if candidates:
        total = next((c for c in candidates if c.side == "total"), candidates[0])
        commands.append([*start, *when, "--force", call(total), *unit])
    if left is not None and right is not None:
        commands.append([*start, *when, "--left", call(left), "--right", call(right), *unit])
    if not commands:
        commands.append([*start, *when, "--force", str(len(columns)), *unit])
    listed = "\n".join(f"  {h.index + 1}  {h.shown}" for h in headings[:60])
    more = f"\n  ... and {len(headings) - 60} more" if len(headings) > 60 else ""
    shown = "\n".join("  " + " ".join(command) for command in commands)
    return AmbiguousColumns(
        f"{table.source}: {why}. The columns are:\n{listed}{more}\n"
        f"Say which ones to take, by name or number, for example:\n{shown}",
        [h.shown for h in headings],
    )
