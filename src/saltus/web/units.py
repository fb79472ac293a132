"""Figures in the units of whoever reads them, and back to SI as they are typed."""

import re
from contextvars import ContextVar
from dataclasses import dataclass
from fractions import Fraction

from saltus.errors import UsageError
from saltus.quantities import CENTIMETRE, INCH, POUND

__all__ = ["Units", "current_units", "number_typed"]

_MIXED = re.compile(r"^\s*(?:(\d+)\s+)?(\d+)\s*/\s*(\d+)\s*$")
_DECIMAL = re.compile(r"^\s*[+-]?\d+(?:[.,]\d+)?\s*$")


@dataclass(frozen=True, slots=True)
class Units:
    """Units in which a person thinks.

    Parameters
    ----------
    length : str
        "cm" or "in".
    mass : str
        "kg" or "lb".
    """

    length: str = "cm"
    mass: str = "kg"

    @property
    def metre(self) -> float:
        """Length units in a metre."""
        return 1 / (CENTIMETRE if self.length == "cm" else INCH)

    @property
    def kilogram(self) -> float:
        """Mass units in a kilogram."""
        return 1.0 if self.mass == "kg" else 1 / POUND


_METRIC = Units()

current_units: ContextVar[Units] = ContextVar("current_units", default=_METRIC)
"""Units of the request that is being handled."""


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
