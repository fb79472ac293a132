"""Numbers and dates of charts as whoever reads them writes them."""

from collections.abc import Mapping
from typing import Any

from django.utils.dates import MONTHS, MONTHS_AP, WEEKDAYS, WEEKDAYS_ABBR
from django.utils.formats import get_format
from django.utils.translation import get_language

__all__ = ["localised"]


def localised(specification: Mapping[str, Any]) -> dict[str, Any]:
    """A Vega-Lite specification whose axes and tips write in the reader's language.

    Parameters
    ----------
    specification : mapping
        With its ``config``; it is not changed.
    """
    if (get_language() or "en").startswith("en"):
        return dict(specification)  # as the library writes
    number = {
        "decimal": str(get_format("DECIMAL_SEPARATOR")),
        "thousands": str(get_format("THOUSAND_SEPARATOR")),
        "grouping": [3],
        "currency": ["", ""],
    }
    # Its week begins on Sunday, that of Django on Monday.
    week = (6, *range(6))
    time = {
        "dateTime": "%A, %e. %B %Y %X",
        "date": "%d.%m.%Y",
        "time": "%H:%M:%S",
        "periods": ["AM", "PM"],
        "days": [str(WEEKDAYS[day]) for day in week],
        "shortDays": [str(WEEKDAYS_ABBR[day]) for day in week],
        "months": [str(MONTHS[month]) for month in range(1, 13)],
        "shortMonths": [str(MONTHS_AP[month]) for month in range(1, 13)],
    }
    config = specification.get("config", {}) | {"locale": {"number": number, "time": time}}
    return {**_with_ordinals(specification), "config": config}


def _with_ordinals(part: Any) -> Any:
    """The same with a full stop after each day of a month: 4. März."""
    if isinstance(part, Mapping):
        return {
            key: each.replace("%-d %b", "%-d. %b")
            if key == "format" and isinstance(each, str)
            else each
            if key in ("data", "datasets")
            else _with_ordinals(each)
            for key, each in part.items()
        }
    return [_with_ordinals(each) for each in part] if isinstance(part, list) else part
