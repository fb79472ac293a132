"""From checked rows to a record, with what must fit together across tables."""

import datetime as dt
import difflib
from collections.abc import Mapping
from pathlib import Path
from typing import Any, TypeVar

from saltus.athlete.assessment import Goal
from saltus.athlete.health import Pain, Restriction
from saltus.athlete.history import TrainingBlock
from saltus.athlete.observations import Observation
from saltus.athlete.person import BodyMass, Person, Sex, TestingTool
from saltus.athlete.qualities import TRAINABLE
from saltus.record import schema
from saltus.record.checking import Checker, Row
from saltus.record.entries import Agreement, BlockedDays, RecordedTest, Sport
from saltus.record.fields import Table
from saltus.record.record import Record
from saltus.record.testrows import test_of
from saltus.training.log import LoggedSession, LoggedSet, Soreness
from saltus.training.situation import EventKind, Gym, Priority, TargetDate, Weekday

__all__ = ["build"]

T = TypeVar("T")

_YOUNGEST_TESTED = 5
_LONGEST_BLOCKED_DAYS = 731
_REACH_PER_STATURE = (1.1, 1.55)
"""Reach with a stretched arm is 1.28 to 1.35 of stature (from memory); far outside it, one of
the two is in another unit."""


def build(data: Mapping[str, Any], checker: Checker, source: Path | None) -> Record | None:
    """Check a parsed record whole.

    Parameters
    ----------
    data : mapping
        The parsed TOML.
    checker : Checker
        Collects every fault.
    source : Path or None
        The file, for the record's own use.

    Returns
    -------
    Record or None
        None where anything is at fault.
    """
    _version(data, checker)
    singles, many = _rows(data, checker)
    person = _person(singles, many, checker)
    tests = _tests(data.get("test", []), checker, person)
    athlete, gym, plan = singles["athlete"], singles["gym"], singles["plan"]
    parts: dict[str, Any] = {
        "goal": _goal(singles["goal"], checker, person),
        "blocks": _blocks(many["block"], checker),
        "targets": tuple(
            TargetDate(row["date"], Priority(row["priority"]), row["what"])
            for row in many["target"]
            if "date" in row
        ),
        "sport": (
            *_sport(many["practice"], EventKind.PRACTICE, checker),
            *_sport(many["match"], EventKind.MATCH, checker),
        ),
        "blocked": _blocked(many["blocked"], checker),
        "pains": tuple(_whole(many["pain"], Pain)),
        "restrictions": _restrictions(many["restriction"], checker),
        "agreed": tuple(_whole(many["agreed"], Agreement)),
        "log": _log(many["session"]),
    }
    if checker.faults or person is None:
        return None
    return Record(
        person=person,
        tests=tests,
        start=plan["start"],
        minutes={day: singles["week"][day] for day in Weekday if singles["week"][day]},
        gym=_gym(gym),
        soft_surface=gym["soft_surface"],
        landing_practice_weeks=athlete["landing_practice_weeks"],
        method=plan["method"],
        plan=plan["current"],
        remark=athlete["remark"],
        source=source,
        **parts,
    )


def _version(data: Mapping[str, Any], checker: Checker) -> None:
    name, known = schema.VERSION_FIELD, schema.VERSION
    version = data.get(name)
    if version is None:
        checker.fault((name,), f"is missing: put {name} = {known} at the top of the file.")
    elif type(version) is not int or version < 1:
        checker.fault((name,), f"must be {known}, the version of this format.")
    elif version > known:
        checker.fault(
            (name,),
            f"{version} is newer than this Saltus knows ({known}): install a newer Saltus.",
        )


def _rows(data: Mapping[str, Any], checker: Checker) -> tuple[dict[str, Row], dict[str, list[Row]]]:
    """Check every table except ``test``: single ones, and repeated ones."""
    tables = {table.name: table for table in schema.TABLES if table.name != "test"}
    known = [schema.VERSION_FIELD, "test", *tables]
    for key in data:
        if key not in known:
            near = difflib.get_close_matches(key.lower(), known, n=1, cutoff=0.6)
            hint = f"did you mean [{near[0]}]?" if near else f"known are: {', '.join(known[1:])}."
            checker.fault((key,), f"unknown table; {hint}")
    singles: dict[str, Row] = {}
    many: dict[str, list[Row]] = {}
    for name, table in tables.items():
        if table.required and name not in data:
            brackets = f"[[{name}]]" if table.repeated else f"[{name}]"
            checker.fault((name,), f"{brackets} is missing: {_lower_first(table.help)}")
        if table.repeated:
            many[name] = checker.rows(table, data.get(name, []), (name,))
        else:
            row = checker.row(table, data[name], (name,)) if name in data else None
            singles[name] = row or Row(table, (name,))
    return singles, many


def _lower_first(words: str) -> str:
    return words[0].lower() + words[1:]


def _order(row: Row, checker: Checker) -> bool:
    """Whether the end is not before the start, where both are given."""
    if "start" in row and "end" in row and row["end"] < row["start"]:
        checker.fault_in(
            row, "end", f"{row['end']} is before the start, {row['start']}: swap or correct them."
        )
        return False
    return True


def _whole(rows: list[Row], cls: type[T]) -> list[T]:
    """Build plain rows whose fields are those of a class."""
    return [
        cls(**{f.name: row[f.name] for f in row.table.fields})
        for row in rows
        if all(f.name in row for f in row.table.fields if f.required)
    ]


def _person(
    singles: Mapping[str, Row], many: Mapping[str, list[Row]], checker: Checker
) -> Person | None:
    row = singles["athlete"]
    masses = [
        BodyMass(each["date"], each["mass"])
        for each in many["body_mass"]
        if "date" in each and "mass" in each
    ]
    days = [mass.date for mass in masses]
    for each in many["body_mass"]:
        if "date" in each and days.count(each["date"]) > 1:
            checker.fault_in(each, "date", f"two weighings on {each['date']}: keep one.")
    born = row["born"]
    if born is not None and days and min(days).year - born.year < _YOUNGEST_TESTED:
        checker.fault_in(
            row, "born", f"{born} is too late for somebody weighed on {min(days)}: check both."
        )
    stature, reach = row["stature"], row["standing_reach"]
    if stature and reach:
        low, high = (share * stature for share in _REACH_PER_STATURE)
        if not low <= reach <= high:
            checker.fault_in(
                row,
                "standing_reach",
                f"{100 * reach:.0f} cm does not go with a stature of {100 * stature:.0f} cm: "
                f"expected between {100 * low:.0f} and {100 * high:.0f} cm; check both.",
            )
    if "name" not in row:
        return None
    return Person(
        name=row["name"],
        body_masses=tuple(sorted(masses, key=lambda mass: mass.date)),
        sex=Sex(row["sex"]),
        born=born,
        stature_m=stature,
        standing_reach_m=reach,
        push_off_distance_m=row["push_off_distance"],
        training_age_years=row["training_age_years"],
        sport=row["sport"],
        testing_tools=frozenset(TestingTool(tool) for tool in row["testing_tools"]),
    )


def _tests(
    raw: object, checker: Checker, person: Person | None
) -> tuple[Observation | RecordedTest, ...]:
    if not isinstance(raw, list):
        checker.fault(("test",), "may come several times: write [[test]], in two brackets.")
        return ()
    tests = []
    for i, each in enumerate(raw):
        path = ("test", i)
        table = _kind(each, path, checker)
        row = checker.row(table, each, path) if table else None
        if row is None or table is None:
            continue
        date: dt.date | None = row["date"]
        if person is not None and person.born is not None and date is not None:
            age = person.age(date)
            if age is not None and age < _YOUNGEST_TESTED:
                checker.fault_in(
                    row, "date", f"{date} is too early for somebody born on {person.born}."
                )
        mass = person.mass_kg(date) if person and person.body_masses and date else None
        test = test_of(
            row,
            table.title,
            checker,
            stature_m=person.stature_m if person else None,
            standing_reach_m=person.standing_reach_m if person else None,
            mass_kg=mass,
        )
        if test is not None:
            tests.append(test)
    return tuple(tests)


def _kind(raw: object, path: tuple[str | int, ...], checker: Checker) -> Table | None:
    kinds = schema.TESTS
    kind = raw.get("kind") if isinstance(raw, Mapping) else None
    if isinstance(kind, str) and kind in kinds:
        return kinds[kind]
    if kind is None:
        what = f"kind is missing: one of {', '.join(kinds)}."
    else:
        near = difflib.get_close_matches(str(kind).lower(), list(kinds), n=1)
        hint = f"did you mean {near[0]}?" if near else f"known are: {', '.join(kinds)}."
        what = f'"{kind}" is no kind of test; {hint}'
    checker.fault((*path, "kind"), what)
    return None


def _goal(row: Row, checker: Checker, person: Person | None) -> Goal | None:
    if not row.keys:
        return None
    if ("jump" in row.keys) == ("touch" in row.keys):
        checker.fault(row.path, "give one of jump_cm (a jump height) and touch_cm (a height).")
        return None
    touch, hand = row["touch"], row["hand_above"]
    reach = person.standing_reach_m if person else None
    if touch is not None:
        if reach is None:
            checker.fault_in(row, "touch", "needs standing_reach_cm under [athlete].")
        elif touch + hand <= reach:
            checker.fault_in(
                row,
                "touch",
                f"{100 * (touch + hand):.0f} cm is within the standing reach of "
                f"{100 * reach:.0f} cm: check both and their units.",
            )
    return Goal(
        date=row["date"],
        jump_m=row["jump"],
        touch_m=touch,
        hand_above_m=hand,
        approach=row["approach"],
        arms=row["arms"],
        what=row["what"],
    )


def _blocks(rows: list[Row], checker: Checker) -> tuple[TrainingBlock, ...]:
    return tuple(
        TrainingBlock(row["start"], row["end"], {q: row[q] for q in TRAINABLE if row[q]})
        for row in rows
        if _order(row, checker) and "start" in row and "end" in row
    )


def _sport(rows: list[Row], kind: EventKind, checker: Checker) -> tuple[Sport, ...]:
    sport = []
    for row in rows:
        if ("weekdays" in row.keys) == ("date" in row.keys):
            checker.fault(
                row.path,
                'give one of weekdays (such as ["tue", "thu"], every week) and date (one day).',
            )
            continue
        if "date" in row.keys and ("start" in row.keys or "end" in row.keys):
            checker.fault(row.path, "start and end go with weekdays, not with a single date.")
            continue
        if not _order(row, checker):
            continue
        sport.append(
            Sport(
                kind=kind,
                weekdays=tuple(Weekday(day) for day in row["weekdays"] or ()),
                date=row["date"],
                start=row["start"],
                end=row["end"],
                landings=row["landings"],
                what=row["what"],
            )
        )
    return tuple(sport)


def _blocked(rows: list[Row], checker: Checker) -> tuple[BlockedDays, ...]:
    stretches = []
    for row in rows:
        if "start" not in row or not _order(row, checker):
            continue
        stretch = BlockedDays(row["start"], row["end"] or row["start"], row["why"])
        length = (stretch.end - stretch.start).days + 1
        if length > _LONGEST_BLOCKED_DAYS:
            checker.fault_in(
                row,
                "end",
                f"{length} days are blocked at one stretch, at most {_LONGEST_BLOCKED_DAYS} can "
                "be: check the year.",
            )
            continue
        stretches.append(stretch)
    return tuple(stretches)


def _restrictions(rows: list[Row], checker: Checker) -> tuple[Restriction, ...]:
    return tuple(_whole([row for row in rows if _order(row, checker)], Restriction))


def _gym(row: Row) -> Gym:
    return Gym(
        equipment=frozenset(row["equipment"]),
        bar_kg=row["bar"],
        plates_kg=row["plates"] or {},
        boxes_m=row["boxes"] or (),
        dumbbells_kg=row["dumbbells"] or (),
        kettlebells_kg=row["kettlebells"] or (),
        unit=row["unit"],
    )


def _log(rows: list[Row]) -> tuple[LoggedSession, ...]:
    return tuple(
        LoggedSession(
            date=row["date"],
            id=row["id"],
            planned=row["planned"],
            free=row["free"],
            what=row["what"],
            minutes=row["minutes"],
            effort=row["effort"],
            landings=row["landings"],
            sleep_hours=row["sleep_hours"],
            soreness=tuple(_whole(row["soreness"] or [], Soreness)),
            pain=row["pain"],
            sets=tuple(_logged_set(each) for each in row["sets"] or () if _is_whole(each)),
            note=row["note"],
        )
        for row in rows
        if "date" in row
    )


def _is_whole(row: Row) -> bool:
    return "exercise" in row and "reps" in row


def _logged_set(row: Row) -> LoggedSet:
    return LoggedSet(
        exercise=row["exercise"],
        sets=row["sets"],
        reps=row["reps"],
        missed=row["missed"],
        load_kg=row["load"],
        box_m=row["box"],
        drop_m=row["drop"],
        reserve=row["reserve"],
        speed_m_s=row["speed"],
        jump_m=row["jump"],
        contact_s=row["contact"],
        soft_landings=row["soft_landings"],
        skipped=row["skipped"],
        note=row["note"],
    )
