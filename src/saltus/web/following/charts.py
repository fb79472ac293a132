"""Charts of the page: which there are, and what each draws."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from typing import Any

from django.utils.translation import gettext, gettext_noop

from saltus.figures.by_week import cost_by_week, reports_by_day
from saltus.figures.draw import Figure
from saltus.figures.response import LINE, response_dots
from saltus.figures.theme import DARK, LIGHT, Palette
from saltus.progress.load import WeekLoad
from saltus.progress.soreness import PlaceOverTime
from saltus.web.following.gathered import Gathered
from saltus.web.following.tables import block_label
from saltus.web.page_charts import on_page

__all__ = ["chart_specification"]

_WORDS = (
    gettext_noop("all landings"),
    gettext_noop("practice and matches"),
    gettext_noop("session load"),
    gettext_noop("soreness"),
    gettext_noop("pain"),
    gettext_noop("expected"),
    gettext_noop("observed"),
    gettext_noop("gain of the quality"),
)
"""Words of the figures, noted here for the translators."""

_WEEKS_DRAWN = 53


def chart_specification(
    name: str, gathered: Gathered, *, health: bool, dark: bool
) -> dict[str, Any] | None:
    """Specification of a chart, or None where there is none of that name for this reader.

    Parameters
    ----------
    name : str
        ``load``, ``landings``, ``response``, or ``place-`` with the number of a place.
    gathered : Gathered
        What there is to draw.
    health : bool
        Whether the reader may see what speaks of health.
    dark : bool
        Whether the page is dark.
    """
    palette = DARK if dark else LIGHT
    figure = _figure(name, gathered, palette, health=health)
    return None if figure is None else on_page(figure, palette)


def _figure(name: str, gathered: Gathered, palette: Palette, *, health: bool) -> Figure | None:
    if name == "load":
        return _by_week(
            gathered.weeks,
            {"session_load": "session load"},
            gettext("rating × minutes"),
            palette,
        )
    if name == "landings":
        return _by_week(
            gathered.weeks,
            {"landing_load": "all landings", "sport_landing_load": "practice and matches"},
            gettext("landings by their cost"),
            palette,
        )
    if name == "response":
        return _response(gathered.told, palette)
    if name.startswith("place-") and health:
        return _place(name.removeprefix("place-"), gathered.places, palette)
    return None


def _by_week(
    weeks: Sequence[WeekLoad], lines: Mapping[str, str], title: str, palette: Palette
) -> Figure | None:
    rows = [asdict(week) | {"start": week.start.isoformat()} for week in weeks[-_WEEKS_DRAWN:]]
    if not any(row[key] is not None for row in rows for key in lines):
        return None
    return cost_by_week(rows, lines, title=title, say=gettext, palette=palette, width="container")


def _response(told: Mapping[str, Any], palette: Palette) -> Figure | None:
    blocks = told.get("response") or ()
    rows = [dict(each) | {"label": block_label(each, line=LINE)} for each in reversed(blocks)]
    return response_dots(rows, say=gettext, palette=palette, width="container") if rows else None


def _place(number: str, places: Sequence[PlaceOverTime], palette: Palette) -> Figure | None:
    if not number.isdecimal() or int(number) >= len(places):
        return None
    reports = [
        {"date": each.date.isoformat(), "soreness": each.soreness, "pain": each.pain}
        for each in places[int(number)].reports
    ]
    return reports_by_day(reports, say=gettext, palette=palette, width="container")
