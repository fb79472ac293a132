"""Numbers, dates and measures as people type them into a form or a cell."""

import datetime as dt
import re
from fractions import Fraction

from saltus.errors import UsageError

__all__ = ["Measure", "date_typed", "measure_typed", "number_typed"]

_MIXED = re.compile(r"^\s*(?:(\d+)\s+)?(\d+)\s*/\s*(\d+)\s*$")
_DECIMAL = re.compile(r"^\s*[+-]?\d+(?:[.,]\d+)?\s*$")
_WITH_UNIT = re.compile(
    r"^\s*(.*?[\d])\s*(cm|m|in|inch|inches|\"|″|kg|lb|lbs|pounds)?\.?\s*$", re.IGNORECASE
)
_FEET = re.compile(
    r"^\s*(\d+)\s*(?:'|′|ft\.?|feet)\s*(?:(\d[\d\s./,]*?)\s*(?:''|\"|″|in\.?|inches)?)?\s*$",
    re.IGNORECASE,
)
_UNITS = {'"': "in", "″": "in", "inch": "in", "inches": "in", "lbs": "lb", "pounds": "lb"}
_ISO = re.compile(r"^(\d{4})-(\d{1,2})-(\d{1,2})(?:[T ]00:00(?::00(?:\.0+)?)?)?$")
_PARTS = re.compile(r"^(\d{1,2})([./-])(\d{1,2})\2(\d{4})$")
_INCHES_IN_FOOT = 12

Measure = tuple[float, str | None]
"""A number with its unit ("cm", "m", "in", "kg" or "lb"), None where none was typed."""


def number_typed(text: str) -> float:
    """A number as people type it: ``27``, ``27.5``, ``27,5``, ``27 1/2``, ``1/2``.

    Raises
    ------
    UsageError
        If it is none of these.
    """
    mixed = _MIXED.match(text)
    if mixed and int(mixed[3]) != 0:
        return float(int(mixed[1] or 0) + Fraction(int(mixed[2]), int(mixed[3])))
    if _DECIMAL.match(text):
        return float(text.strip().replace(",", "."))
    raise UsageError(f"{text.strip()!r} is no number: write 27, 27.5 or 27 1/2.")


def measure_typed(text: str, examples: str = "178, 178 cm or 5'10\"") -> Measure:
    """A number with or without its unit: ``178``, ``178 cm``, ``1.78 m``, ``5'10"``, ``154 lb``.

    Parameters
    ----------
    text : str
        As typed.
    examples : str
        What is proposed where it is no number.

    Raises
    ------
    UsageError
        If there is no number in it, or a unit of another kind.
    """
    feet = _FEET.match(text)
    if feet:
        inches = number_typed(feet[2]) if feet[2] else 0.0
        return int(feet[1]) * _INCHES_IN_FOOT + inches, "in"
    found = _WITH_UNIT.match(text)
    if not found:
        raise UsageError(f"{text.strip()!r} is no number: write {examples}.")
    unit = found[2].lower() if found[2] else None
    return number_typed(found[1]), _UNITS.get(unit, unit) if unit else None


def date_typed(text: str, *, day_first: bool | None = None) -> dt.date:
    """A date: ``2003-05-17``, ``17.05.2003``, ``17/05/2003`` or, month first, ``05/17/2003``.

    Parameters
    ----------
    text : str
        As typed. With points the day comes first.
    day_first : bool or None
        Which comes first where slashes or dashes leave it open; None refuses to guess.

    Raises
    ------
    UsageError
        If it is no date, or could be two.
    """
    text = text.strip()
    iso = _ISO.match(text)
    parts = _PARTS.match(text)
    try:
        if iso:
            return dt.date(int(iso[1]), int(iso[2]), int(iso[3]))
        if parts:
            first, second, year = int(parts[1]), int(parts[3]), int(parts[4])
            if parts[2] == "." or first > 12 or first == second:
                day_first = True
            elif second > 12:
                day_first = False
            if day_first is None:
                raise UsageError(
                    f"{text!r} could be two dates: say whether the day or the month comes first."
                )
            day, month = (first, second) if day_first else (second, first)
            return dt.date(year, month, day)
    except ValueError as error:
        if isinstance(error, UsageError):
            raise
        raise UsageError(f"{text!r} is no day of the calendar.") from error
    raise UsageError(f"{text!r} is no date: write year-month-day, such as 2003-05-17.")
