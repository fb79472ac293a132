"""A whole squad from the cells of a spreadsheet: one row for each athlete.

Columns are recognised by their names and can be named otherwise; each cell is turned into
what the record's own table of fields (:mod:`saltus.record.schema`) wants, and each row is
then checked as a file would be. A fault is told at its cell.
"""

import datetime as dt
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from saltus.errors import RecordError, UsageError
from saltus.record import schema
from saltus.record.editing import built, table_of
from saltus.record.fields import Field, Kind
from saltus.record.record import Record
from saltus.record.typed import date_typed, measure_typed

__all__ = [
    "GROUP",
    "TARGETS",
    "RosterRow",
    "columns_of",
    "header_row",
    "read_roster",
    "unit_in",
]

GROUP = "group"
"""The target of a column that holds no part of the record: the coach's own grouping."""

_METRE_CM = 100.0
_BRACKETS = re.compile(
    r"[(\[{]\s*([^)\]}]*)[)\]}]|\bin\s+(cm|m|inches|inch|kg|lbs?)\s*$|_(cm|in|kg|lb|m)$",
    re.IGNORECASE,
)
_UNITS = {
    "cm": "cm",
    "m": "m",
    "in": "in",
    "inch": "in",
    "inches": "in",
    '"': "in",
    "kg": "kg",
    "lb": "lb",
    "lbs": "lb",
    "pounds": "lb",
}

TARGETS: dict[str, tuple[str, ...]] = {
    "athlete.name": (
        "name",
        "athlete",
        "full name",
        "player",
        "athletin",
        "athlet",
        "sportler",
        "spieler",
    ),
    "first_name": ("first name", "given name", "forename", "vorname"),
    "last_name": ("last name", "surname", "family name", "nachname", "familienname"),
    "athlete.sex": ("sex", "gender", "geschlecht"),
    "athlete.born": (
        "born",
        "date of birth",
        "birth date",
        "birthdate",
        "birthday",
        "dob",
        "geburtsdatum",
        "geboren",
    ),
    "athlete.stature": (
        "stature",
        "height",
        "body height",
        "grösse",
        "größe",
        "körpergrösse",
        "körpergröße",
    ),
    "body_mass.mass": (
        "body mass",
        "mass",
        "weight",
        "body weight",
        "bodyweight",
        "gewicht",
        "körpergewicht",
        "masse",
    ),
    "body_mass.date": ("weighed on", "date of weighing", "weighing", "gewogen am", "weighed"),
    "athlete.standing_reach": ("standing reach", "reach", "reichhöhe"),
    "athlete.push_off_distance": ("push off distance", "push-off distance"),
    "athlete.sport": ("sport",),
    "athlete.training_age_years": (
        "training years",
        "training age",
        "years of training",
        "training age years",
        "trainingsjahre",
        "trainingsalter",
    ),
    "athlete.testing_tools": ("testing tools", "to test with", "tools", "equipment"),
    "athlete.landing_practice_weeks": (
        "weeks of landing practice",
        "landing practice weeks",
        "landing practice",
    ),
    "athlete.remark": ("remark", "remarks", "note", "notes", "bemerkung", "notiz"),
    GROUP: ("group", "team", "gruppe", "mannschaft"),
    "goal.jump": ("goal", "goal jump", "wanted jump", "target jump", "ziel"),
    "goal.date": ("goal date", "by", "zieldatum"),
    "week.mon": ("monday", "mon", "montag", "mo"),
    "week.tue": ("tuesday", "tue", "dienstag", "di"),
    "week.wed": ("wednesday", "wed", "mittwoch", "mi"),
    "week.thu": ("thursday", "thu", "donnerstag", "do"),
    "week.fri": ("friday", "fri", "freitag", "fr"),
    "week.sat": ("saturday", "sat", "samstag", "sa"),
    "week.sun": ("sunday", "sun", "sonntag", "so"),
}
"""What a column may hold, with the names by which it is recognised."""

_WORDS: dict[str, dict[str, str]] = {
    "sex": {
        "f": "female",
        "female": "female",
        "w": "female",
        "woman": "female",
        "girl": "female",
        "weiblich": "female",
        "women": "female",
        "m": "male",
        "male": "male",
        "man": "male",
        "boy": "male",
        "männlich": "male",
        "men": "male",
        "": "unstated",
        "d": "unstated",
        "x": "unstated",
        "unstated": "unstated",
        "other": "unstated",
    },
    "testing_tools": {
        "tape": "tape",
        "phone": "phone",
        "film": "phone",
        "video": "phone",
        "mat": "mat",
        "jump mat": "mat",
        "contact mat": "mat",
        "bar sensor": "bar_sensor",
        "force plate": "force_plate",
        "plate": "force_plate",
        "barbell": "barbell",
        "bar": "barbell",
        "boxes": "boxes",
        "box": "boxes",
    },
}


@dataclass(slots=True)
class RosterRow:
    """One athlete of the sheet.

    Parameters
    ----------
    row : int
        In the sheet, from 0.
    name : str
        As far as it can be read.
    group : str
        The coach's own grouping.
    record : Record or None
        None where anything is at fault.
    faults : dict of int to list of str
        By column; -1 for those of the whole row.
    """

    row: int
    name: str = ""
    group: str = ""
    record: Record | None = None
    faults: dict[int, list[str]] = field(default_factory=dict)

    def fault(self, column: int, what: str) -> None:
        """Note a fault at a cell."""
        self.faults.setdefault(column, []).append(what[:1].upper() + what[1:])


def header_row(cells: Sequence[Sequence[str]]) -> int:
    """The row that names the columns: the first in which two names are known, or the first."""
    for row, texts in enumerate(cells[:20]):
        if len([target for target in columns_of(texts) if target]) >= 2:
            return row
    return next((row for row, texts in enumerate(cells) if any(texts)), 0)


def columns_of(header: Sequence[str]) -> list[str]:
    """What each column holds, by its name; empty for what is not known, or known already."""
    known = {_bare(word): target for target, words in TARGETS.items() for word in words}
    taken: set[str] = set()
    found = []
    for text in header:
        target = known.get(_bare(text), "")
        found.append("" if target in taken else target)
        taken.add(target)
    return found


def unit_in(header: str) -> str | None:
    """Unit that a column's name gives, such as "cm" of "Height (cm)"."""
    found = _BRACKETS.search(header.strip())
    if not found:
        return None
    return _UNITS.get((found[1] or found[2] or found[3] or "").strip().casefold())


def read_roster(
    cells: Sequence[Sequence[str]],
    header: int,
    columns: Sequence[str],
    *,
    length: str = "cm",
    mass: str = "kg",
    day_first: bool | None = None,
    today: dt.date,
) -> list[RosterRow]:
    """Every athlete of a sheet.

    Parameters
    ----------
    cells : sequence of sequence of str
        By row.
    header : int
        Row of the columns' names; the athletes stand below.
    columns : sequence of str
        What each column holds, a key of :data:`TARGETS`, or empty to leave it out.
    length, mass : str
        Units where neither cell nor column gives one: "cm", "m" or "in"; "kg" or "lb".
    day_first : bool or None
        See :func:`saltus.record.typed.date_typed`.
    today : date
        Day of weighings without one.

    Returns
    -------
    list of RosterRow
        One for each row that holds anything; what cannot be used stands in its faults.
    """
    units = [unit_in(text) for text in cells[header]] if cells else []
    found = []
    for number, texts in enumerate(cells[header + 1 :], start=header + 1):
        if any(text and target for text, target in zip(texts, columns, strict=False)):
            row = RosterRow(number)
            _fill(row, texts, columns, units, _Ways(length, mass, day_first, today))
            found.append(row)
    return found


@dataclass(frozen=True, slots=True)
class _Ways:
    length: str
    mass: str
    day_first: bool | None
    today: dt.date


def _fill(
    row: RosterRow,
    texts: Sequence[str],
    columns: Sequence[str],
    units: Sequence[str | None],
    ways: _Ways,
) -> None:
    data: dict[str, Any] = {schema.VERSION_FIELD: schema.VERSION, "athlete": {}}
    places: dict[str, int] = {}
    names = {"first_name": "", "last_name": ""}
    for column, (text, target) in enumerate(zip(texts, columns, strict=False)):
        if not text or not target:
            continue
        if target in names:
            names[target] = text
            places.setdefault("athlete.name", column)
        elif target == GROUP:
            row.group = text[:80]
        else:
            table, name = target.split(".")
            wanted = table_of(table).field(name)
            try:
                key, value = _value(wanted, text, units[column], ways)
            except UsageError as error:
                row.fault(column, str(error))
                places[target] = column
                continue
            data.setdefault(table, {})[key] = value
            places[target] = column
    whole = f"{names['first_name']} {names['last_name']}".strip()
    if whole and "name" not in data["athlete"]:
        data["athlete"]["name"] = whole
    row.name = str(data["athlete"].get("name", ""))
    if "body_mass" in data:
        data["body_mass"] = [{"date": ways.today} | data["body_mass"]]
    _check(row, data, places, columns)


def _check(
    row: RosterRow, data: Mapping[str, Any], places: Mapping[str, int], columns: Sequence[str]
) -> None:
    """Build the record, and put each of its faults at its cell."""
    try:
        record = built(data)
    except RecordError as error:
        by_target = {target: column for column, target in enumerate(columns) if target}
        for fault in error.faults:
            target = _target(fault.where)
            if target in places and places[target] in row.faults:
                continue  # told already: the cell could not even be read
            if target in ("body_mass", "body_mass.mass") and "body_mass.mass" not in places:
                row.fault(by_target.get("body_mass.mass", -1), "a body mass is needed.")
            elif target == "athlete" and not row.name:
                column = by_target.get("athlete.name", by_target.get("last_name", -1))
                row.fault(column, "a name is needed.")
            elif target not in ("body_mass", "athlete"):
                row.fault(places.get(target, -1), fault.what)
            elif not row.faults:
                row.fault(-1, fault.what)
    else:
        row.record = record if not row.faults else None


def _target(where: str) -> str:
    """Target of the field that a fault names: ``body_mass[0].mass_kg`` is body_mass.mass."""
    table, _, key = re.sub(r"\[\d+\]", "", where).partition(".")
    try:
        by_key = table_of(table).by_key()
    except KeyError:
        return table
    return f"{table}.{by_key[key][0].name}" if key in by_key else table


def _value(wanted: Field, text: str, unit: str | None, ways: _Ways) -> tuple[str, Any]:
    """Key and raw value of a cell."""
    match wanted.kind:
        case Kind.DATE:
            return wanted.key, date_typed(text, day_first=ways.day_first)
        case Kind.NUMBER | Kind.WHOLE:
            return _measure(wanted, text, unit, ways)
        case Kind.CHOICE:
            return wanted.key, _word(wanted, text)
        case Kind.CHOICES:
            parts = [part for part in re.split(r"[,;/+\n]", text) if part.strip()]
            return wanted.key, [_word(wanted, part) for part in parts]
        case _:
            return wanted.key, text


def _word(wanted: Field, text: str) -> str:
    plain = text.strip().casefold().replace("_", " ")
    word = _WORDS.get(wanted.name, {}).get(plain)
    if word is None:
        allowed = ", ".join(str(choice).replace("_", " ") for choice in wanted.choices)
        raise UsageError(f"{text.strip()!r} is not known here; known are {allowed}.")
    return word


def _measure(wanted: Field, text: str, unit: str | None, ways: _Ways) -> tuple[str, Any]:
    endings = [each.ending for each in wanted.units]
    if "kg" in endings:
        number, own = measure_typed(text, "72.5, 72.5 kg or 160 lb")
    elif endings:
        number, own = measure_typed(text)
    else:
        number, own = measure_typed(text, "2 or 2.5")
    if not wanted.units:
        if own is not None:
            raise UsageError(f"{text!r}: a plain number belongs here.")
        whole = wanted.kind is Kind.WHOLE and number == int(number)
        return wanted.key, int(number) if whole else number
    usual = ways.length if "cm" in endings else ways.mass
    chosen = own or (unit if unit in (*endings, "m") else None) or usual
    if chosen == "m" and "cm" in endings:
        return f"{wanted.name}_cm", round(number * _METRE_CM, 6)
    if chosen not in endings:
        raise UsageError(f"{text!r}: write it in {' or '.join(endings)}.")
    return f"{wanted.name}_{chosen}", number


def _bare(text: str) -> str:
    """A column's name without its unit, case and marks."""
    return re.sub(
        r"[^\w]+", " ", _BRACKETS.sub("", text.strip()).casefold().replace("_", " ")
    ).strip()
