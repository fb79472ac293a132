"""What a block on each quality is worth: a dot with its interval for each."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any, Literal

import altair as alt

from saltus.athlete.qualities import WORDS, Quality
from saltus.figures.draw import Figure
from saltus.figures.theme import LIGHT, Palette

__all__ = ["worth_dots"]

_ROW = 34


def worth_dots(
    worth: Sequence[Mapping[str, Any]],
    *,
    unit: str = "cm",
    per_centimetre: float = 1.0,
    named: str | None = None,
    say: Callable[[str], str] = str,
    palette: Palette = LIGHT,
    width: int | Literal["container"] = 480,
) -> Figure:
    """Draw the worth of each quality, largest first.

    Parameters
    ----------
    worth : sequence
        As in :func:`saltus.athlete.document.assessment_document`.
    unit, per_centimetre : str, float
        In which heights are told.
    named : str or None
        The limiting quality, where it is decided: drawn full, the others hollow.
    say : callable
        Puts a word into the reader's language.
    palette : Palette
        By day or in the dark.
    width : int or "container"
        Pixels, or as wide as what it stands in.
    """
    rows = [
        {
            "quality": say(WORDS[Quality(each["quality"])]),
            "named": each["quality"] == named,
            **{
                end: round(each[f"{end}_cm"] * per_centimetre, 3)
                for end in ("estimate", "low", "high")
            },
        }
        for each in worth
    ]
    data = alt.Chart(alt.NamedData("worth"))
    title = f"{say('jump gained')} ({unit})"
    y = alt.Y(
        "quality:N",
        sort=[row["quality"] for row in rows],
        axis=alt.Axis(
            title=None, domain=False, ticks=False, labelLimit=220, labelPadding=8, labelFontSize=12
        ),
    )

    def x(field: str) -> alt.X:
        return alt.X(
            f"{field}:Q",
            scale=alt.Scale(zero=True, nice=True),
            axis=alt.Axis(
                title=title, tickCount=5, titleAnchor="end", labelOverlap=True, labelSeparation=4
            ),
        )

    fill = alt.condition("datum.named", alt.value(palette.accent), alt.value(palette.paper))
    chart = alt.layer(
        data.mark_rule(color=palette.accent, strokeWidth=2).encode(x=x("low"), x2="high:Q", y=y),
        data.mark_point(
            shape="circle", size=90, stroke=palette.accent, strokeWidth=2, opacity=1, filled=True
        ).encode(x=x("estimate"), y=y, fill=fill),
    ).properties(width=width, height=_ROW * len(rows))
    return Figure(chart, {"worth": rows})
