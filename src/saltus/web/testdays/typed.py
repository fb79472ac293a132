"""Figures as they are typed and shown, in the units of a person, and in SI."""

from django.utils.translation import gettext as _

from saltus.errors import UsageError
from saltus.record.fields import CM, IN, KG, LB, MS, Unit, one_unit
from saltus.record.trials import Quantity
from saltus.record.typed import measure_typed
from saltus.web.decimals import decimals
from saltus.web.units import Units, number_typed, without_false_digits

__all__ = ["shown", "sign_of", "to_si"]

_DIGITS = {
    Quantity.LENGTH: 2,
    Quantity.MASS: 2,
    Quantity.MILLISECONDS: 1,
    Quantity.FORCE: 0,
    Quantity.SPEED: 3,
    Quantity.COUNT: 1,
}


_OWN = {
    Quantity.LENGTH: {"cm": CM, "m": one_unit("m", "m")[0], "in": IN},
    Quantity.MASS: {"kg": KG, "lb": LB},
}
"""Units that a figure may be typed with, whatever the person's own."""


def _unit(quantity: Quantity, units: Units) -> Unit | None:
    match quantity:
        case Quantity.LENGTH:
            return CM if units.length == "cm" else IN
        case Quantity.MASS:
            return KG if units.mass == "kg" else LB
        case Quantity.MILLISECONDS:
            return MS
        case _:
            return None


def sign_of(quantity: Quantity, units: Units) -> str:
    """Sign of the unit in which a figure is asked for; empty for a count."""
    unit = _unit(quantity, units)
    if unit is not None:
        return unit.sign
    return {Quantity.FORCE: "N", Quantity.SPEED: "m/s"}.get(quantity, "")


def to_si(text: str, quantity: Quantity, units: Units) -> float:
    """A figure as typed, in SI: ``34.5``, ``27 1/2``, or with a unit of its own, ``265 lb``.

    Raises
    ------
    UsageError
        If it is no number, or has a unit of something else.
    """
    if quantity in _OWN:
        number, sign = measure_typed(text, "27, 27.5 or 27 1/2")
        if sign is None:
            unit = _unit(quantity, units)
            assert unit is not None
            return unit.to_si(number)
        own = _OWN[quantity].get(sign)
        if own is None:
            raise UsageError(
                _("%(text)s has the unit of something else: write it in %(unit)s.")
                % {"text": text.strip(), "unit": sign_of(quantity, units)}
            )
        return own.to_si(number)
    number = number_typed(text.strip().removesuffix(sign_of(quantity, units)))
    if quantity is Quantity.COUNT and number < 0:
        raise UsageError(f"{text.strip()!r} is below nought.")
    unit = _unit(quantity, units)
    return number if unit is None else unit.to_si(number)


def shown(value: float, quantity: Quantity, units: Units, *, digits: int | None = None) -> str:
    """A figure in a person's unit: with so many digits, or without noughts that say nothing."""
    unit = _unit(quantity, units)
    number = value if unit is None else unit.from_si(value)
    if digits is not None:
        return decimals(f"{number:.{digits}f}")
    if unit is not None and quantity in (Quantity.LENGTH, Quantity.MASS):
        return without_false_digits(number, unit, _DIGITS[quantity])
    text = f"{number:.{_DIGITS[quantity]}f}"
    return decimals(text.rstrip("0").rstrip(".") if "." in text else text)
