"""The published force-velocity profile: line with band, and the loads it was fitted to."""

from collections.abc import Callable, Mapping
from typing import Any, Literal

import altair as alt

from saltus.figures.draw import Figure
from saltus.figures.theme import LIGHT, Palette

__all__ = ["force_velocity"]


def force_velocity(
    profile: Mapping[str, Any],
    *,
    mass_unit: str = "kg",
    per_kilogram: float = 1.0,
    say: Callable[[str], str] = str,
    palette: Palette = LIGHT,
    width: int | Literal["container"] = 480,
) -> Figure:
    """Draw mean force against mean velocity, both with their intervals.

    Parameters
    ----------
    profile : mapping
        ``force_velocity`` of :func:`saltus.athlete.document.assessment_document`.
    mass_unit, per_kilogram : str, float
        In which loads are told.
    say : callable
        Puts a word into the reader's language.
    palette : Palette
        By day or in the dark.
    width : int or "container"
        Pixels, or as wide as what it stands in.
    """
    line = [
        {"velocity": round(at["velocity_m_s"], 4), **_ends(at["force_n_kg"], "force")}
        for at in profile["line"]
    ]
    points = [
        {
            "load": f"{per_kilogram * point['load_kg']:.0f} {mass_unit}",
            **_ends(point["force_n_kg"], "force"),
            **_ends(point["velocity_m_s"], "velocity"),
        }
        for point in profile["points"]
    ]
    on_line, at_load = alt.Chart(alt.NamedData("line")), alt.Chart(alt.NamedData("points"))
    x_title = f"{say('mean velocity of the push')} (m/s)"
    y_title = f"{say('mean force')} (N/kg)"

    def x(field: str) -> alt.X:
        return alt.X(
            f"{field}:Q", scale=alt.Scale(zero=True), axis=alt.Axis(title=x_title, tickCount=5)
        )

    def y(field: str) -> alt.Y:
        return alt.Y(
            f"{field}:Q", scale=alt.Scale(zero=True), axis=alt.Axis(title=y_title, tickCount=5)
        )

    chart = alt.layer(
        on_line.mark_area(color=palette.accent, opacity=0.16).encode(
            x=x("velocity"), y=y("force_low"), y2="force_high:Q"
        ),
        on_line.mark_line(color=palette.accent, strokeWidth=1.75).encode(
            x=x("velocity"), y=y("force")
        ),
        at_load.mark_rule(color=palette.ink).encode(
            x=x("velocity"), y=y("force_low"), y2="force_high:Q"
        ),
        at_load.mark_rule(color=palette.ink).encode(
            x=x("velocity_low"), x2="velocity_high:Q", y=y("force")
        ),
        at_load.mark_circle(color=palette.ink, size=42, opacity=1).encode(
            x=x("velocity"), y=y("force")
        ),
        at_load.mark_text(align="left", dx=8, dy=-8, color=palette.muted, fontSize=11).encode(
            x=x("velocity"), y=y("force"), text="load:N"
        ),
    ).properties(width=width, height=260)
    return Figure(chart, {"line": line, "points": points})


def _ends(ends: Mapping[str, float], name: str) -> dict[str, float]:
    return {
        name: round(ends["estimate"], 4),
        f"{name}_low": round(max(ends["low"], 0.0), 4),
        f"{name}_high": round(max(ends["high"], 0.0), 4),
    }
