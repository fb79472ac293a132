"""The curves of a measured jump in the words and units of whoever reads the page."""

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from saltus.quantities import CENTIMETRE, INCH
from saltus.web.units import current_units

__all__ = ["PHASES", "trace_told"]

PHASES = {
    "weighing": lazy("weighing"),
    "unweighting": lazy("unweighting"),
    "braking": lazy("braking"),
    "propulsion": lazy("propulsion"),
    "flight": lazy("flight"),
    "landing": lazy("landing"),
    "contact": lazy("contact"),
}
"""Phases of a jump, by what the core calls them."""
_LETTER, _EDGE = 7.0, 5
"""Pixels that a letter of a phase's name takes at most on average, and the space around it."""


def trace_told(specification: Mapping[str, Any]) -> dict[str, Any]:
    """The chart of one jump as its page shows it, whose headings say what its own title says.

    Parameters
    ----------
    specification : mapping
        Vega-Lite as :mod:`saltus.figures.jump_trace` draws it, displacement in cm; not changed.
    """
    per_centimetre = CENTIMETRE / INCH if current_units.get().length == "in" else 1.0
    titles = {
        "time (s)": _("time (s)"),
        "force (N)": _("force (N)"),
        "velocity (m/s)": _("velocity (m/s)"),
        "displacement (cm)": _("displacement (%(unit)s)") % {"unit": current_units.get().length},
    }
    told = {key: _told(part, titles) for key, part in specification.items() if key != "title"}
    for panel in told.get("vconcat", []):
        _make_room(panel)
    if per_centimetre != 1.0:
        told["datasets"] = {
            name: [_scaled(row, per_centimetre) for row in rows]
            for name, rows in specification.get("datasets", {}).items()
        }
    return told


def _make_room(panel: dict[str, Any]) -> None:
    """Make the strip of the phases' names, which stand upright, as high as the longest."""
    for layer in panel.get("layer", []):
        mark = layer.get("mark")
        if isinstance(mark, Mapping) and mark.get("type") == "text":
            longest = max(len(str(row["name"])) for row in layer["data"]["values"])
            panel["height"] = max(panel["height"], round(longest * _LETTER) + 2 * _EDGE)
            layer["encoding"]["y"] = {"value": panel["height"] - _EDGE}


def _scaled(row: Mapping[str, float], factor: float) -> dict[str, float]:
    if "displacement" not in row:
        return dict(row)
    return {**row, "displacement": round(row["displacement"] * factor, 4)}


def _told(part: Any, titles: Mapping[str, str]) -> Any:
    if isinstance(part, list):
        return [_told(each, titles) for each in part]
    if not isinstance(part, Mapping):
        return part
    told = {
        key: titles.get(each, each)
        if key == "title" and isinstance(each, str)
        else str(PHASES.get(each, each))
        if key == "name" and isinstance(each, str) and "middle" in part
        else each
        if key == "datasets"
        else _told(each, titles)
        for key, each in part.items()
    }
    return told | {"labelOverlap": True} if part.get("title") == "time (s)" else told
