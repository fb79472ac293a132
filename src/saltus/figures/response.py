"""What each block of training brought against what was expected: two dots with intervals each."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any, Literal

import altair as alt

from saltus.figures.draw import Figure
from saltus.figures.theme import LIGHT, Palette
from saltus.figures.told_apart import told_apart

__all__ = ["LINE", "response_dots"]

_ROW = 44

LINE = " | "
"""Parts a label into two lines."""


def response_dots(
    blocks: Sequence[Mapping[str, Any]],
    *,
    say: Callable[[str], str] = str,
    palette: Palette = LIGHT,
    width: int | Literal["container"] = 480,
) -> Figure:
    """Draw expected and observed gain of each block, the latest first.

    Parameters
    ----------
    blocks : sequence
        Each with ``label`` (what and when, in words, :data:`LINE` between the two),
        ``expected`` and ``observed``: mappings of estimate, low and high, as shares of the
        quality.
    say : callable
        Puts a word into the reader's language.
    palette : Palette
        By day or in the dark.
    width : int or "container"
        Pixels, or as wide as what it stands in.
    """
    kinds = {"expected": say("expected"), "observed": say("observed")}
    rows = [
        {
            "block": block["label"],
            "kind": words,
            **{end: round(100 * block[key][end], 2) for end in ("estimate", "low", "high")},
        }
        for block in blocks
        for key, words in kinds.items()
    ]
    names = list(kinds.values())
    data = alt.Chart(alt.NamedData("blocks"))
    y = alt.Y(
        "block:N",
        sort=[block["label"] for block in blocks],
        axis=alt.Axis(
            title=None,
            domain=False,
            ticks=False,
            labelLimit=170,
            labelPadding=8,
            labelFontSize=12,
            labelExpr=f"split(datum.label, '{LINE}')",
        ),
    )
    offset = alt.YOffset("kind:N", sort=names)
    colour, shape = told_apart(
        "kind", names, [palette.muted, palette.accent], ["diamond", "circle"]
    )

    def x(field: str) -> alt.X:
        return alt.X(
            f"{field}:Q",
            scale=alt.Scale(zero=True, nice=True),
            axis=alt.Axis(title=f"{say('gain of the quality')} (%)", tickCount=5),
        )

    chart = alt.layer(
        data.mark_rule(strokeWidth=2).encode(
            x=x("low"), x2="high:Q", y=y, yOffset=offset, color=colour
        ),
        data.mark_point(filled=True, size=70, opacity=1).encode(
            x=x("estimate"), y=y, yOffset=offset, color=colour, shape=shape
        ),
    ).properties(width=width, height=_ROW * max(len(blocks), 1))
    return Figure(chart, {"blocks": rows})
