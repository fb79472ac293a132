"""Ink on paper: the colours, type and lines that all figures share."""

from dataclasses import dataclass
from typing import Any, Final

__all__ = [
    "DARK",
    "FONT",
    "INK",
    "LIGHT",
    "MUTED",
    "OKABE_ITO",
    "Palette",
    "config",
]

OKABE_ITO: Final = {
    "orange": "#E69F00",
    "sky": "#56B4E9",
    "green": "#009E73",
    "yellow": "#F0E442",
    "blue": "#0072B2",
    "vermilion": "#D55E00",
    "purple": "#CC79A7",
    "black": "#000000",
}
"""Colours that people with any colour vision tell apart (Okabe & Ito 2008)."""


@dataclass(frozen=True, slots=True)
class Palette:
    """What paper and ink are: in print and by day, or in the dark.

    Parameters
    ----------
    paper, ink, muted, grid : str
        Ground, text, lesser text, lines.
    accent : str
        Of what is estimated.
    data : tuple of str
        For kinds of data beside one another, every one of them at 3:1 or more on the ground
        where there are few (WCAG 2.2, 1.4.11).
    """

    paper: str
    ink: str
    muted: str
    grid: str
    accent: str
    data: tuple[str, ...]


LIGHT: Final = Palette(
    paper="#FCFCFA",
    ink="#1C1C1A",
    muted="#5F5F5A",
    grid="#E4E4DE",
    accent=OKABE_ITO["blue"],
    data=tuple(OKABE_ITO[c] for c in ("vermilion", "black", "green", "purple", "blue", "orange")),
)
DARK: Final = Palette(
    paper="#16181A",
    ink="#E8E8E4",
    muted="#A9ADB2",
    grid="#2E3236",
    accent=OKABE_ITO["sky"],
    data=(
        OKABE_ITO["orange"],
        "#E8E8E4",
        *(OKABE_ITO[c] for c in ("green", "purple", "yellow", "vermilion")),
    ),
)

INK: Final = LIGHT.ink
MUTED: Final = LIGHT.muted

FONT: Final = "system-ui, 'Segoe UI', Helvetica, Arial, 'DejaVu Sans', sans-serif"


def config(palette: Palette = LIGHT) -> dict[str, Any]:
    """Return the Vega-Lite configuration of every figure."""
    return {
        "background": palette.paper,
        "font": FONT,
        "padding": 16,
        "view": {"stroke": None},
        "axis": {
            "domainColor": palette.muted,
            "gridColor": palette.grid,
            "gridWidth": 0.75,
            "labelColor": palette.ink,
            "labelFontSize": 11,
            "tickColor": palette.muted,
            "tickSize": 4,
            "titleColor": palette.muted,
            "titleFontSize": 11,
            "titleFontWeight": "normal",
        },
        "title": {
            "anchor": "start",
            "color": palette.ink,
            "fontSize": 14,
            "fontWeight": "bold",
            "subtitleColor": palette.muted,
            "subtitleFontSize": 11,
            "subtitleLineHeight": 14,
            "subtitlePadding": 4,
        },
        "legend": {
            "labelColor": palette.ink,
            "labelFontSize": 11,
            "titleColor": palette.muted,
            "titleFontSize": 11,
            "titleFontWeight": "normal",
        },
        "header": {"labelColor": palette.ink, "titleColor": palette.muted},
    }
