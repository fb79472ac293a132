"""What a field of the record is: its name, its kind of value, its units and its limits.

One table of such fields (:mod:`saltus.record.schema`) serves reading, checking, writing and
the reference page, so that the four cannot disagree.
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import Enum

__all__ = ["CM", "IN", "KG", "LB", "MS", "Field", "Kind", "Table", "Unit", "one_unit"]


class Kind(Enum):
    """Kinds of value, each with the words in which a fault or the reference page names it."""

    TEXT = "text in quotes"
    DATE = "a date such as 2026-11-25"
    NUMBER = "a number"
    NUMBERS = "a list of numbers such as [41.5, 42.0]"
    WHOLE = "a whole number"
    YES_NO = "true or false"
    CHOICE = "one of the words listed"
    CHOICES = "a list of the words listed"
    FILE = "a path relative to the record, in quotes"
    COUNTS = "a list of pairs [weight, how many] such as [[20, 4], [2.5, 2]]"
    AFTER_MS = "forces by milliseconds after the onset such as { 100 = 1450, 200 = 1900 }"
    ROWS = "a list of tables such as [{ ... }, { ... }]"


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit at the edge: the ending of the field's name, and its size in SI.

    Parameters
    ----------
    ending : str
        Such as "cm" in ``stature_cm``.
    size : Decimal
        SI units in one of it.
    sign : str
        As a person writes it.
    """

    ending: str
    size: Decimal
    sign: str

    def to_si(self, value: float) -> float:
        """Turn a value in this unit into SI.

        The product is taken in decimals: 34.7 cm is read as the number nearest to 0.347,
        so that a record read and written back says the same.
        """
        return float(Decimal(repr(float(value))) * self.size)

    def from_si(self, value: float) -> float:
        """Turn an SI value into this unit."""
        return float(Decimal(repr(float(value))) / self.size)


CM = Unit("cm", Decimal("0.01"), "cm")
IN = Unit("in", Decimal("0.0254"), "in")
KG = Unit("kg", Decimal(1), "kg")
LB = Unit("lb", Decimal("0.45359237"), "lb")
MS = Unit("ms", Decimal("0.001"), "ms")


def one_unit(ending: str, sign: str) -> tuple[Unit, ...]:
    """Return an SI unit that has no second form, such as ``_hz``."""
    return (Unit(ending, Decimal(1), sign),)


@dataclass(frozen=True, slots=True)
class Field:
    """One field of a table.

    Parameters
    ----------
    name : str
        Without the ending of a unit.
    kind : Kind
        What may stand there.
    help : str
        A sentence or two for the reference page.
    units : tuple of Unit
        The endings that the name may have; the first is the one that is written.
    low, high : float or None
        Limits of each number, in the first unit.
    default : object
        What is taken where the field is absent; None for unknown.
    default_words : str
        The default in words, where the bare value would not tell.
    required : bool
        Whether it must stand there.
    choices : tuple of str
        The words allowed.
    gives : str or None
        Name of the field that this one is another way of giving.
    rows : Table or None
        The fields of each inner table, for ROWS.
    """

    name: str
    kind: Kind
    help: str
    units: tuple[Unit, ...] = ()
    low: float | None = None
    high: float | None = None
    default: object = None
    default_words: str = ""
    required: bool = False
    choices: tuple[str, ...] = ()
    gives: str | None = None
    rows: "Table | None" = None

    def units_by_key(self) -> dict[str, Unit | None]:
        """Return the names it may have in a file, each with its unit."""
        if not self.units:
            return {self.name: None}
        return {f"{self.name}_{unit.ending}": unit for unit in self.units}

    @property
    def key(self) -> str:
        """The name under which it is written."""
        return next(iter(self.units_by_key()))


@dataclass(frozen=True, slots=True)
class Table:
    """A table of the record.

    Parameters
    ----------
    name : str
        As in ``[name]`` or ``[[name]]``.
    help : str
        What it holds, for the reference page.
    fields : tuple of Field
        In the order in which they are written.
    repeated : bool
        Whether there may be several, ``[[name]]``.
    required : bool
        Whether there must be one.
    title : str
        Heading on the reference page, where it is not the name.
    """

    name: str
    help: str
    fields: tuple[Field, ...]
    repeated: bool = False
    required: bool = False
    title: str = ""

    def field(self, name: str) -> Field:
        """Return the field of that name (without unit)."""
        return next(f for f in self.fields if f.name == name)

    def by_key(self) -> dict[str, tuple[Field, Unit | None]]:
        """Return each name that may stand in a file, with its field and unit."""
        return {key: (f, unit) for f in self.fields for key, unit in f.units_by_key().items()}
