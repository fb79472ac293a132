"""Values of a record's rows, as a person reads and types them."""

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _

from saltus.record.editing import RawRow
from saltus.record.fields import CM, IN, KG, LB, Field, Kind, Table, Unit
from saltus.web.days import short_day
from saltus.web.decimals import decimals
from saltus.web.editing.words import choice, label, said
from saltus.web.methods.words import exercise_called
from saltus.web.units import current_units, in_units, without_false_digits

__all__ = ["day_words", "facts", "given", "number", "text_of", "unit_for"]

_DIGITS = 6
_DIGITS_OF_A_LENGTH = 3
"""Such as 1.125 kg: of a length or a mass that somebody typed so."""


def unit_for(table: Table, field: Field, row: RawRow) -> Unit | None:
    """The unit in which a person meets a field: their own, or the gym's for its weights."""
    if not field.units:
        return None
    units = current_units.get()
    wanted = {units.length, units.mass}
    if table.name == "gym":
        wanted = {units.length, row.get("unit", "kg")}
    return next((unit for unit in field.units if unit.ending in wanted), field.units[0])


def given(field: Field, row: RawRow) -> tuple[str, Unit | None, Any] | None:
    """Key, unit and raw value under which a row gives a field, or None."""
    for key, unit in field.units_by_key().items():
        if key in row:
            return key, unit, row[key]
    return None


def number(value: float, have: Unit | None, want: Unit | None) -> str:
    """A number in the unit that is wanted, as short as it can be."""
    if have is not None and want is not None and have != want:
        value = want.from_si(have.to_si(value))
    if want in (CM, IN, KG, LB):
        return without_false_digits(value, want, _DIGITS_OF_A_LENGTH)
    return decimals(f"{value:.{_DIGITS}g}" if abs(value) < 10**_DIGITS else str(value))


def text_of(field: Field, row: RawRow, want: Unit | None) -> str:
    """A field's numbers as one would type them; empty where there are none."""
    found = given(field, row)
    if found is None:
        return ""
    _key, have, raw = found
    match field.kind:
        case Kind.NUMBERS:
            values = raw if isinstance(raw, list) else [raw]
            return "; ".join(number(each, have, want) for each in values)
        case Kind.COUNTS:
            return "\n".join(f"{number(each, have, want)} x {count}" for each, count in raw)
        case Kind.AFTER_MS:
            return "\n".join(f"{after}: {number(n, have, want)}" for after, n in raw.items())
        case Kind.NUMBER | Kind.WHOLE:
            return number(raw, have, want)
        case _:
            return str(raw)


def facts(
    table: Table,
    row: RawRow,
    *,
    without: frozenset[str] = frozenset(),
    names: Mapping[str, str] | None = None,
) -> list[dict[str, str]]:
    """What a row says: the label of each field that is given, and its value in words.

    Parameters
    ----------
    table : Table
        Of the record's schema.
    row : dict
        Raw values.
    without : set of str
        Names of fields that are not told.
    names : mapping of str to str, optional
        What the coach called each recording, by the name under which it is kept.
    """
    told = []
    for field in table.fields:
        if field.name in without or given(field, row) is None:
            continue
        words = _in_words(table, field, row)
        if field.kind is Kind.FILE:
            words = (names or {}).get(words.rpartition("/")[2], words)
        told.append({"label": label(field), "value": words})
    return told


def day_words(row: RawRow) -> str:
    """The day of a row, or its first; empty where it has none."""
    day = row.get("date") or row.get("start")
    return short_day(day) if day else ""


def _in_words(table: Table, field: Field, row: RawRow) -> str:
    want = unit_for(table, field, row)
    found = given(field, row)
    assert found is not None
    raw = found[2]
    match field.kind:
        case Kind.DATE:
            return short_day(raw)
        case Kind.YES_NO:
            return _("yes") if raw else _("no")
        case Kind.CHOICE:
            return choice(field, raw)
        case Kind.CHOICES:
            return "; ".join(
                choice(field, word) for word in ([raw] if isinstance(raw, str) else raw)
            )
        case Kind.ROWS:
            return "; ".join(_inner(each) for each in raw)
        case Kind.TEXT | Kind.FILE:
            if field.name == "kind":
                return choice(field, raw)
            return said(table.name, field, str(raw))
        case _:
            text = text_of(field, row, want).replace("\n", "; ")
            return f"{text} {want.sign}" if want else text


def _inner(row: RawRow) -> str:
    words = [exercise_called(row["exercise"])] if "exercise" in row else [str(row.get("jump", ""))]
    if "reps" in row:
        words.append(f"{row.get('sets', 1)} × {row['reps']}")
    words += [
        f"{decimals(str(row[key]))} {key.split('_')[-1]}"
        for key in ("load_kg", "load_lb", "box_cm", "drop_cm")
        if key in row
    ]
    return in_units(" ".join(words))
