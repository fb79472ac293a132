"""What training and sport cost by the week, and how sore one place was: lines and points."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any, Literal

import altair as alt

from saltus.figures.days import day_axis
from saltus.figures.draw import Figure
from saltus.figures.theme import LIGHT, Palette
from saltus.figures.told_apart import told_apart

__all__ = ["cost_by_week", "reports_by_day"]

_Width = int | Literal["container"]


def cost_by_week(
    weeks: Sequence[Mapping[str, Any]],
    lines: Mapping[str, str],
    *,
    title: str,
    say: Callable[[str], str] = str,
    palette: Palette = LIGHT,
    width: _Width = 480,
) -> Figure:
    """Draw one or two sums over the weeks.

    Parameters
    ----------
    weeks : sequence
        Each with its ``start`` and the values; None where a week's value is unknown, which
        leaves a gap.
    lines : mapping of str to str
        What to draw: the name of the value, and what it is called.
    title : str
        Of the axis.
    say : callable
        Puts a word into the reader's language.
    palette : Palette
        By day or in the dark.
    width : int or "container"
        Pixels, or as wide as what it stands in.
    """
    names = [say(words) for words in lines.values()]
    rows = [
        {"date": week["start"], "value": round(week[key], 1), "line": say(words), "run": run}
        for key, words in lines.items()
        for run, week in _runs(weeks, key)
    ]
    colours = [palette.accent, palette.data[0]][: len(names)]
    data = alt.Chart(alt.NamedData("weeks"))
    x = day_axis(row["date"] for row in rows)
    y = alt.Y(
        "value:Q", scale=alt.Scale(zero=True, nice=True), axis=alt.Axis(title=title, tickCount=4)
    )
    colour, shape = told_apart("line", names, colours, ["circle", "square"][: len(names)])
    chart = alt.layer(
        data.mark_line(strokeWidth=1.75).encode(x=x, y=y, color=colour, detail="run:N"),
        data.mark_point(filled=True, size=30, opacity=1).encode(
            x=x, y=y, color=colour, shape=shape
        ),
    ).properties(width=width, height=180)
    return Figure(chart, {"weeks": rows})


def reports_by_day(
    reports: Sequence[Mapping[str, Any]],
    *,
    say: Callable[[str], str] = str,
    palette: Palette = LIGHT,
    width: _Width = 300,
) -> Figure:
    """Draw what was reported of one place: soreness and pain, 0 to 10.

    Parameters
    ----------
    reports : sequence
        Each with ``date``, ``soreness`` and ``pain``; None where it was not told.
    say, palette, width
        As in :func:`cost_by_week`.
    """
    words = {"soreness": say("soreness"), "pain": say("pain")}
    rows = [
        {"date": report["date"], "level": report[key], "kind": words[key]}
        for report in reports
        for key in words
        if report[key] is not None
    ]
    names = list(words.values())
    colour, shape = told_apart(
        "kind", names, [palette.accent, palette.data[0]], ["circle", "diamond"]
    )
    chart = (
        alt.Chart(alt.NamedData("reports"))
        .mark_point(filled=True, size=46, opacity=1)
        .encode(
            x=day_axis(row["date"] for row in rows),
            y=alt.Y(
                "level:Q",
                scale=alt.Scale(domain=[0, 10]),
                axis=alt.Axis(title=None, values=[0, 2, 5, 10]),
            ),
            color=colour,
            shape=shape,
        )
        .properties(width=width, height=110)
    )
    return Figure(chart, {"reports": rows})


def _runs(weeks: Sequence[Mapping[str, Any]], key: str) -> list[tuple[int, Mapping[str, Any]]]:
    """Weeks whose value is known, each with the number of its unbroken run."""
    run, found = 0, []
    for week in weeks:
        if week[key] is None:
            run += 1
        else:
            found.append((run, week))
    return found
