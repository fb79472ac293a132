"""Days as pages write them in tables and sentences: 4 Jan 2027."""

import datetime as dt
from functools import lru_cache

from django.utils.formats import date_format
from django.utils.translation import get_language

__all__ = ["iso_date", "short_day"]


def iso_date(text: str | dt.date) -> dt.date:
    """A date out of a document; one that is a date already stays.

    Raises
    ------
    ValueError
        If the text is no ISO date.
    """
    return text if isinstance(text, dt.date) else dt.date.fromisoformat(text)


def short_day(day: str | dt.date) -> str:
    """A day in the reader's language; an ISO date will do.

    Raises
    ------
    ValueError
        As :func:`iso_date`.
    """
    return _in(day, get_language())


@lru_cache(maxsize=4096)
def _in(day: str | dt.date, _language: str | None) -> str:
    # Made hundreds of times for one page.
    return date_format(iso_date(day), "DATE_FORMAT")
