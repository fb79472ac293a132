"""Ink on paper: the colours, type and lines that all figures share."""

from typing import Any, Final

__all__ = ["ACCENT", "FONT", "GRID", "INK", "MUTED", "OKABE_ITO", "PAPER", "config"]

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

PAPER: Final = "#FCFCFA"
INK: Final = "#1C1C1A"
MUTED: Final = "#5F5F5A"
GRID: Final = "#E4E4DE"
ACCENT: Final = OKABE_ITO["blue"]

FONT: Final = "system-ui, 'Segoe UI', Helvetica, Arial, 'DejaVu Sans', sans-serif"


def config() -> dict[str, Any]:
    """Return the Vega-Lite configuration of every figure."""
    return {
        "background": PAPER,
        "font": FONT,
        "padding": 16,
        "view": {"stroke": None},
        "axis": {
            "domainColor": MUTED,
            "gridColor": GRID,
            "gridWidth": 0.75,
            "labelColor": INK,
            "labelFontSize": 11,
            "tickColor": MUTED,
            "tickSize": 4,
            "titleColor": MUTED,
            "titleFontSize": 11,
            "titleFontWeight": "normal",
        },
        "title": {
            "anchor": "start",
            "color": INK,
            "fontSize": 14,
            "fontWeight": "bold",
            "subtitleColor": MUTED,
            "subtitleFontSize": 11,
            "subtitleLineHeight": 14,
            "subtitlePadding": 4,
        },
        "legend": {
            "labelColor": INK,
            "labelFontSize": 11,
            "titleColor": MUTED,
            "titleFontSize": 11,
            "titleFontWeight": "normal",
        },
        "header": {"labelColor": INK, "titleColor": MUTED},
    }
