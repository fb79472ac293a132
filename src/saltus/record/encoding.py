"""From a record back to the plain values of its tables, by field name and in SI.

Only what differs from the default is given, so that two records are alike if and only if
their plain values are.
"""

import math
from collections.abc import Mapping
from dataclasses import fields
from typing import Any

from saltus.athlete.observations import (
    BarSpeedSet,
    BroadJump,
    DropJump,
    IsometricPull,
    Jump,
    JumpMethod,
    JumpStyle,
    Maximum,
    Observation,
    RepSet,
)
from saltus.record import schema
from saltus.record.entries import RecordedTest, Sport
from saltus.record.fields import Table
from saltus.record.record import Record
from saltus.training.log import LoggedSession
from saltus.training.situation import EventKind

__all__ = ["PlainRow", "alike", "kind_of", "plain"]

PlainRow = dict[str, Any]

_KINDS: dict[type, str] = {
    DropJump: "drop_jump",
    BroadJump: "broad_jump",
    Maximum: "maximum",
    RepSet: "rep_set",
    BarSpeedSet: "bar_speed",
    IsometricPull: "isometric_pull",
    RecordedTest: "recording",
}
_STYLES = {style: kind for kind, style in schema.JUMP_KINDS.items()}
_RENAMED = {"drop_m": "box"}
_SAME = 1e-9
"""Relative difference that no tape, scale or clock can see."""
_SUFFIXES = ("_m_s", "_kg", "_m", "_s", "_n", "_hz")


def kind_of(test: Observation | RecordedTest) -> str:
    """Return the kind of test, as the record names it."""
    return _STYLES[test.style.value] if isinstance(test, Jump) else _KINDS[type(test)]


def plain(record: Record) -> dict[str, list[PlainRow]]:
    """Return every table's rows; a table that comes once has one row or none."""
    person, gym, goal = record.person, record.gym, record.goal
    athlete = {
        **_named(person, without=("body_masses",)),
        "testing_tools": tuple(sorted(person.testing_tools)),
        "landing_practice_weeks": record.landing_practice_weeks,
        "remark": record.remark,
    }
    if set(athlete["testing_tools"]) == set(schema.ATHLETE.field("testing_tools").default):  # type: ignore[call-overload]
        del athlete["testing_tools"]
    gym_row = {
        **_named(gym),
        "equipment": tuple(sorted(gym.equipment)),
        "plates": dict(gym.plates_kg),
        "soft_surface": record.soft_surface,
    }
    plan = {"start": record.start, "method": record.method, "current": record.plan}
    rows: dict[str, list[PlainRow]] = {
        "athlete": [_given(schema.ATHLETE, athlete)],
        "body_mass": [_named(mass) for mass in person.body_masses],
        "goal": [_given(schema.GOAL, _named(goal))] if goal else [],
        "test": [_test(test) for test in record.tests],
        "block": [
            _given(schema.BLOCK, {"start": b.start, "end": b.end, **_words(b.emphasis)})
            for b in record.blocks
        ],
        "plan": _if_any(_given(schema.PLAN, plan)),
        "target": [_given(schema.TARGET, _named(target)) for target in record.targets],
        "week": _if_any(_given(schema.WEEK, _words(record.minutes))),
        "practice": [_sport(s) for s in record.sport if s.kind is EventKind.PRACTICE],
        "match": [_sport(s) for s in record.sport if s.kind is EventKind.MATCH],
        "blocked": [_given(schema.BLOCKED, _named(stretch)) for stretch in record.blocked],
        "gym": _if_any(_given(schema.GYM, gym_row)),
        "pain": [_given(schema.PAIN, _named(pain)) for pain in record.pains],
        "restriction": [_given(schema.RESTRICTION, _named(r)) for r in record.restrictions],
        "agreed": [_named(agreement) for agreement in record.agreed],
        "session": [_session(session) for session in record.log],
    }
    for stretch in rows["blocked"]:
        if stretch["end"] == stretch["start"]:
            del stretch["end"]
    return rows


def _if_any(row: PlainRow) -> list[PlainRow]:
    return [row] if row else []


def _words(mapping: Mapping[Any, Any]) -> PlainRow:
    return {str(key): value for key, value in mapping.items()}


def _field_name(attribute: str) -> str:
    """Name of the field that holds an attribute: ``stature_m`` is ``stature``."""
    if attribute in _RENAMED:
        return _RENAMED[attribute]
    for suffix in _SUFFIXES:
        if attribute.endswith(suffix):
            return attribute.removesuffix(suffix)
    return attribute


def _named(thing: Any, without: tuple[str, ...] = ()) -> PlainRow:
    """Values of a dataclass by field name."""
    return {
        _field_name(f.name): getattr(thing, f.name) for f in fields(thing) if f.name not in without
    }


def _given(table: Table, values: Mapping[str, Any]) -> PlainRow:
    """Only what differs from the default, in the order of the table, words as plain text."""
    row: PlainRow = {}
    for each in table.fields:
        value = values.get(each.name)
        if value is None or value in (each.default, (), {}):
            continue
        row[each.name] = str(value) if isinstance(value, str) else value
    return row


def _test(test: Observation | RecordedTest) -> PlainRow:
    kind = kind_of(test)
    values = _named(test, without=("label", "style", "observations"))
    if isinstance(test, Jump):
        swings = test.method is JumpMethod.REACH or test.style is JumpStyle.APPROACH
        values["arms"] = None if test.arms is swings else test.arms
    if isinstance(test, RecordedTest):
        values["file"] = str(test.file)
        values["decisions"] = tuple(_named(decision) for decision in test.decisions)
    row = _given(schema.TESTS[kind], {**values, "kind": kind})
    if isinstance(test, Jump) and "arms" not in row and values["arms"] is not None:
        row["arms"] = test.arms
    return row


def _sport(sport: Sport) -> PlainRow:
    values = _named(sport, without=("kind",))
    values["weekdays"] = tuple(str(day) for day in sport.weekdays)
    return _given(schema.PRACTICE, values)


def _session(session: LoggedSession) -> PlainRow:
    values = _named(session)
    values["soreness"] = tuple(_named(each) for each in session.soreness)
    values["sets"] = tuple(_given(schema.SETS, _logged(done)) for done in session.sets)
    return _given(schema.SESSION, values)


def _logged(done: Any) -> PlainRow:
    values = _named(done)
    values["drop"] = values.pop("box") if done.drop_m is not None else None
    values["box"] = done.box_m
    return values


def alike(a: Any, b: Any) -> bool:
    """Whether two plain values are the same, numbers to the digits that are written."""
    if isinstance(a, Mapping) and isinstance(b, Mapping):
        if len(a) != len(b):
            return False
        if all(key in b for key in a):
            return all(alike(a[key], b[key]) for key in a)
        pairs = zip(sorted(a.items()), sorted(b.items()), strict=True)  # keys are weights
        return all(alike(left, right) for left, right in pairs)
    if isinstance(a, list | tuple) and isinstance(b, list | tuple):
        return len(a) == len(b) and all(alike(x, y) for x, y in zip(a, b, strict=True))
    if isinstance(a, float | int) and isinstance(b, float | int):
        return math.isclose(a, b, rel_tol=_SAME, abs_tol=_SAME)
    return bool(a == b)
