"""Figures in the units of whoever reads them, and back to SI as they are typed."""

from contextvars import ContextVar
from dataclasses import dataclass

from saltus.quantities import CENTIMETRE, INCH, POUND
from saltus.record.typed import number_typed

__all__ = ["Units", "current_units", "number_typed"]


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
