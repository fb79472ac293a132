"""The jump, and one quality, over time: a line with its band."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any, Literal

import altair as alt

from saltus.athlete.qualities import UNITS, WORDS, Quality
from saltus.figures.days import day_axis
from saltus.figures.draw import Figure
from saltus.figures.theme import LIGHT, Palette

__all__ = ["METHOD_WORDS", "jump_over_time", "quality_over_time"]

METHOD_WORDS = {
    "reach": "jump and reach",
    "mat": "mat",
    "film": "film",
    "plate_flight": "plate, flight",
    "plate_impulse": "plate, impulse",
    "broad_jump": "broad jump",
}
"""How each method is called in the key."""

_SHAPES = ("triangle-up", "circle", "square", "diamond", "cross", "triangle-down")
_METHODS_IN_A_ROW = 3

_Width = int | Literal["container"]


def jump_over_time(
    moments: Sequence[Mapping[str, Any]],
    tests: Sequence[Mapping[str, Any]],
    *,
    unit: str = "cm",
    per_metre: float = 100.0,
    say: Callable[[str], str] = str,
    palette: Palette = LIGHT,
    width: _Width = 640,
) -> Figure:
    """Draw the jump with its band, and the tests as points by method.

    Parameters
    ----------
    moments, tests : sequences
        Those of :func:`saltus.athlete.timeline.timeline_document`.
    unit, per_metre : str, float
        In which heights are told.
    say : callable
        Puts a word into the reader's language.
    palette : Palette
        By day or in the dark.
    width : int or "container"
        Pixels, or as wide as what it stands in.
    """
    band = _band([(m["date"], m["jump"]) for m in moments], per_metre)
    points = [
        {
            "date": test["date"],
            "method": say(METHOD_WORDS[test["method"]]),
            **_scaled(test, per_metre),
        }
        for test in tests
    ]
    used = [m for m in METHOD_WORDS if any(test["method"] == m for test in tests)]
    title = f"{say('jump without arms')} ({unit})"
    x = day_axis([*(m["date"] for m in moments), *(test["date"] for test in tests)])
    layers = [*_line(palette, title, x)]
    if points:
        place = {method: list(METHOD_WORDS).index(method) for method in used}
        names = [say(METHOD_WORDS[method]) for method in used]
        colour = alt.Color(
            "method:N",
            scale=alt.Scale(domain=names, range=[palette.data[place[m]] for m in used]),
            legend=alt.Legend(
                title=None, orient="bottom", columns=_METHODS_IN_A_ROW, symbolOpacity=1
            ),
        )
        shape = alt.Shape(
            "method:N", scale=alt.Scale(domain=names, range=[_SHAPES[place[m]] for m in used])
        )
        data = alt.Chart(alt.NamedData("tests"))
        layers += [
            data.mark_rule(strokeWidth=1, opacity=0.55).encode(
                x=x, y=_height("low", title), y2="high:Q", color=colour
            ),
            data.mark_point(filled=True, size=42, opacity=1).encode(
                x=x, y=_height("estimate", title), color=colour, shape=shape
            ),
        ]
    chart = alt.layer(*layers).properties(width=width, height=260)
    return Figure(chart, {"band": band, "tests": points} if points else {"band": band})


def quality_over_time(
    moments: Sequence[Mapping[str, Any]],
    quality: Quality,
    *,
    unit: str | None = None,
    per_unit: float = 1.0,
    titled: bool = True,
    say: Callable[[str], str] = str,
    palette: Palette = LIGHT,
    width: _Width = 300,
) -> Figure:
    """Draw one quality with its band, small, to stand beside the others.

    Parameters
    ----------
    moments : sequence
        Of :func:`saltus.athlete.timeline.timeline_document`.
    quality : Quality
        Which.
    unit, per_unit : str or None, float
        In which it is told; its own unit if not given.
    titled : bool
        Whether its name stands above it.
    say, palette, width
        As in :func:`jump_over_time`.
    """
    band = _band([(m["date"], m["qualities"][quality.value]) for m in moments], per_unit)
    unit = UNITS[quality] if unit is None else unit
    chart = alt.layer(*_line(palette, None, day_axis(m["date"] for m in moments))).properties(
        width=width, height=120
    )
    if titled:
        title = say(WORDS[quality]) + (f" ({unit})" if unit != "1" else "")
        chart = chart.properties(title=alt.TitleParams(title, fontSize=12, fontWeight="normal"))
    return Figure(chart, {"band": band})


def _line(palette: Palette, title: str | None, x: alt.X) -> list[alt.Chart]:
    """Band, line, and the present as a dot with its interval."""
    data = alt.Chart(alt.NamedData("band"))
    now = data.transform_filter("datum.last")
    return [
        data.mark_area(color=palette.accent, opacity=0.16).encode(
            x=x, y=_height("low", title), y2="high:Q"
        ),
        data.mark_line(color=palette.accent, strokeWidth=1.75).encode(
            x=x, y=_height("estimate", title)
        ),
        now.mark_rule(color=palette.accent, strokeWidth=1.75).encode(
            x=x, y=_height("low", title), y2="high:Q"
        ),
        now.mark_circle(color=palette.accent, size=46, opacity=1).encode(
            x=x, y=_height("estimate", title)
        ),
    ]


def _height(field: str, title: str | None) -> alt.Y:
    return alt.Y(
        f"{field}:Q",
        scale=alt.Scale(zero=False, nice=True),
        axis=alt.Axis(title=title, tickCount=4),
    )


def _band(rows: Sequence[tuple[str, Mapping[str, float]]], factor: float) -> list[dict[str, Any]]:
    last = len(rows) - 1
    return [
        {"date": date, **_scaled(ends, factor), "last": i == last}
        for i, (date, ends) in enumerate(rows)
    ]


def _scaled(ends: Mapping[str, Any], factor: float) -> dict[str, float]:
    return {name: round(ends[name] * factor, 4) for name in ("estimate", "low", "high")}
