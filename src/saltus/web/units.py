"""Figures in the units of whoever reads them, and back to SI as they are typed."""

import re
from contextvars import ContextVar
from dataclasses import dataclass

from saltus.quantities import CENTIMETRE, INCH, POUND
from saltus.record.fields import CM, IN, KG, LB, Unit
from saltus.record.typed import number_typed
from saltus.web.decimals import decimals

__all__ = ["Units", "current_units", "in_units", "number_typed", "without_false_digits"]

_FIGURE = r"[-−+]?\d+(?:[.,]\d+)?"
_FIGURES = rf"{_FIGURE}(?:(?:, |; | and | to | und | bis ){_FIGURE})*"
_MEASURE = re.compile(rf"(?<![\d.,]){_FIGURES} (cm|kg)(?![\w·/])(?: \({_FIGURES}\))?")
_OTHER = {CM: IN, IN: CM, KG: LB, LB: KG}
_SMALL = 10
_SLACK = 1e-6


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


def in_units(sentence: str) -> str:
    """A sentence of the core, whose heights are in cm and masses in kg, in the reader's units.

    Parameters
    ----------
    sentence : str
        In the reader's language: "squat jump with 20 kg", "+0,4 cm (-0,3 bis +1,0)".
    """
    if current_units.get() == _METRIC:
        return sentence
    return _MEASURE.sub(_converted, sentence)


def _converted(measure: re.Match[str]) -> str:
    units = current_units.get()
    unit, wanted = measure[1], units.length if measure[1] == "cm" else units.mass
    if unit == wanted:
        return measure[0]
    factor = units.metre * CENTIMETRE if unit == "cm" else units.kilogram

    def figure(found: re.Match[str]) -> str:
        value = float(found[0].replace(",", ".").replace("−", "-")) * factor
        sign = "+" if found[0].startswith("+") else ""
        return decimals(f"{value:{sign}z.1f}".removesuffix(".0"))

    return re.sub(_FIGURE, figure, measure[0]).replace(f" {unit}", f" {wanted}")


def without_false_digits(value: float, unit: Unit, digits: int = 2) -> str:
    """A length or a mass as somebody typed it, or as finely as it can have been measured.

    15.6 in are 39.624 cm: whoever reads centimetres reads 39.6, and whoever typed 39.62 cm
    reads that. What is round in neither unit was worked out, and is told to a tenth too.

    Parameters
    ----------
    value : float
        In `unit`.
    unit : Unit
        CM, IN, KG or LB.
    digits : int
        So many are shown of what was typed in this unit.
    """
    other = _OTHER[unit]
    converted = other.from_si(unit.to_si(value))
    if unit == IN and _is_round(value * 8):
        digits = 3  # 27 1/8
    typed_here = _is_round(value * 10**digits)
    typed_there = any(_is_round(converted * parts) for parts in (8, 10))
    if (not typed_here or (typed_there and not _is_round(value * 10))) and abs(value) >= _SMALL:
        digits = 1
    text = f"{value:.{digits}f}"
    return decimals(text.rstrip("0").rstrip(".") if "." in text else text)


def _is_round(value: float) -> bool:
    return abs(value - round(value)) < _SLACK
