"""From a record with question marks to one with results.

The squad's records are written by hand; where a result belongs, they hold a question mark
with the number of attempts: ``touched_cm = "?3"``. What was tested, how and when is read
from the same text, so that nothing is told twice.
"""

import re
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from saltus.athlete.jump_height import flight_time_from_height
from saltus.athlete.observations import Observation
from saltus.record import schema
from saltus.record.fields import Unit
from saltus.record.reading import parse
from saltus.record.record import Record
from saltus.tomltext import Lines

__all__ = ["Blank", "blanks", "filled", "sketch"]

_MARK = re.compile(r"^\?(\d*)$")
_RATE_HZ = 240
_STEPS = {
    "heights_cm": 0.1,
    "heights_in": 0.1,
    "touched_cm": 1,
    "touched_in": 0.5,
    "flight_s": 0.001,
    "flight_ms": 1,
    "frames": 1,
    "contacts_ms": 1,
    "contacts_s": 0.001,
    "load_kg": 2.5,
    "load_lb": 5,
    "speeds_m_s": 0.01,
    "peak_n": 10,
    "force_at_n": 10,
    "distances_cm": 1,
    "distances_in": 1,
}
"""How finely each result is read off."""


@dataclass(frozen=True, slots=True)
class Blank:
    """A result to be filled in.

    Parameters
    ----------
    number : int
        Of the test, from 0.
    key : str
        Name of the field, unit included.
    name : str
        Name of the field.
    unit : Unit or None
        Unit of the field.
    attempts : int
        How many there are to be.
    test : mapping
        The test as it stands in the template.
    """

    number: int
    key: str
    name: str
    unit: Unit | None
    attempts: int
    test: Mapping[str, Any]


def blanks(template: str) -> list[Blank]:
    """Return every result that a template leaves open."""
    found: list[Blank] = []
    for i, test in enumerate(tomllib.loads(template).get("test", [])):
        by_key = schema.TESTS[test["kind"]].by_key()
        for key, value in test.items():
            mark = _MARK.match(value) if isinstance(value, str) else None
            if mark:
                field, unit = by_key[key]
                found.append(Blank(i, key, field.name, unit, int(mark[1] or 1), test))
    return found


def sketch(template: str) -> Record:
    """Read a template as a record, with made-up results of the right number."""
    athlete = tomllib.loads(template)["athlete"]
    reach_m = athlete.get("standing_reach_cm", athlete.get("standing_reach_in", 0) * 2.54) / 100

    def stand_in(blank: Blank) -> str:
        loads = blank.test.get("loads_kg") or blank.test.get("loads_lb") or []
        values: dict[str, Any] = {
            "heights": [0.4] * blank.attempts,
            "touched": [reach_m + 0.4] * blank.attempts,
            "flight": [0.5] * blank.attempts,
            "frames": [0.5 * blank.test.get("frame_rate_hz", _RATE_HZ)] * blank.attempts,
            "contacts": [0.25] * blank.attempts,
            "distances": [2.0] * blank.attempts,
            "speeds": [1.0 - 0.2 * i for i in range(len(loads))],
            "load": 60.0,
            "peak": 2500.0,
            "force_at": {150: 1500.0},
        }
        return _words(values[blank.name], blank.unit, 1e-6)

    return parse(_replaced(template, stand_in), recordings=False)


def filled(template: str, results: Mapping[int, Observation], reach_m: float | None) -> str:
    """Fill in what was read off.

    Parameters
    ----------
    template : str
        With question marks.
    results : mapping of int to Observation
        By the number of the test.
    reach_m : float or None
        Standing reach, m, for touched heights.

    Raises
    ------
    KeyError
        If a test of the template has no result, or holds a question mark that nothing fills.
    """

    def result(blank: Blank) -> str:
        value = _value(blank, results[blank.number], reach_m or 0.0)
        return _words(value, blank.unit, _STEPS[blank.key])

    return _replaced(template, result)


def _value(blank: Blank, test: Any, reach_m: float) -> Any:
    """What belongs into a blank, in SI."""
    match blank.name:
        case "heights":
            return test.heights_m
        case "touched":
            return [reach_m + height for height in test.heights_m]
        case "flight":
            return [flight_time_from_height(height) for height in test.heights_m]
        case "frames":
            rate = blank.test["frame_rate_hz"]
            return [rate * flight_time_from_height(height) for height in test.heights_m]
        case "contacts":
            return test.contacts_s
        case "distances":
            return test.distances_m
        case "speeds":
            return test.speeds_m_s
        case "load":
            return test.load_kg
        case "peak":
            return test.peak_n
        case "force_at":
            return test.force_at_n
        case name:
            raise KeyError(name)


def _replaced(template: str, text_of: Callable[[Blank], str]) -> str:
    """The template with each blank replaced by a text."""
    lines = template.split("\n")
    where = Lines(template)
    for blank in blanks(template):
        line = where.of(("test", blank.number, blank.key))
        assert line is not None
        lines[line - 1] = re.sub(r'"\?\d*"', text_of(blank), lines[line - 1], count=1)
    return "\n".join(lines)


def _words(value: Any, unit: Unit | None, step: float) -> str:
    """A value in SI as it stands in a record, in whole steps of its unit."""
    if isinstance(value, Mapping):
        forces = ", ".join(f"{ms} = {_words(n, unit, step)}" for ms, n in value.items())
        return f"{{ {forces} }}"
    if isinstance(value, float | int):
        shown = unit.from_si(value) if unit else value
        return f"{round(shown / step) * step:.6f}".rstrip("0").rstrip(".")
    return "[" + ", ".join(_words(each, unit, step) for each in value) + "]"
