"""What a page about one athlete tells beside the estimates: plain values out of a record.

Everything is a string, a number, a list or a dict that JSON can hold, in SI units, so that
it can be kept beside an assessment and told without reading the record again.
"""

from collections.abc import Iterable
from typing import Any

from saltus.athlete.observations import (
    BarSpeedSet,
    BroadJump,
    DropJump,
    IsometricPull,
    Jump,
    JumpStyle,
    Maximum,
    Observation,
    RepSet,
)
from saltus.record.entries import RecordedTest
from saltus.record.record import Record

__all__ = ["about"]

_JUMPS = {
    JumpStyle.SQUAT: "squat jump",
    JumpStyle.COUNTERMOVEMENT: "countermovement jump",
    JumpStyle.APPROACH: "approach jump",
}


def about(record: Record) -> dict[str, Any]:
    """Person, tests, health, equipment and training of a record.

    Parameters
    ----------
    record : Record
        With or without its recordings analysed.

    Returns
    -------
    dict
        ``person``, ``tests`` (the latest first), ``blocks``, ``pains``, ``restrictions``,
        ``gym``, ``remark``, and ``notes`` on the reading of recordings. The last but two and
        the remark are for those who may see health remarks.
    """
    person = record.person
    latest = person.body_masses[-1] if person.body_masses else None
    return {
        "person": {
            "sex": person.sex.value,
            "born": None if person.born is None else person.born.isoformat(),
            "stature_m": person.stature_m,
            "standing_reach_m": person.standing_reach_m,
            "push_off_distance_m": person.push_off_distance_m,
            "training_age_years": person.training_age_years,
            "sport": person.sport,
            "testing_tools": sorted(tool.value for tool in person.testing_tools),
            "mass_kg": None if latest is None else latest.mass_kg,
            "weighed": None if latest is None else latest.date.isoformat(),
        },
        "tests": sorted(_tests(record), key=lambda test: str(test["date"]), reverse=True),
        "blocks": [
            {
                "start": block.start.isoformat(),
                "end": block.end.isoformat(),
                "emphasis": {q.value: share for q, share in block.emphasis.items() if share > 0},
            }
            for block in sorted(record.blocks, key=lambda block: block.start, reverse=True)
        ],
        "pains": [
            {
                "date": pain.date.isoformat(),
                "place": pain.place,
                "level": pain.level,
                "settled": pain.settled_next_morning,
            }
            for pain in sorted(record.pains, key=lambda pain: pain.date, reverse=True)
        ],
        "restrictions": [
            {
                "what": each.what,
                "start": each.start.isoformat(),
                "end": None if each.end is None else each.end.isoformat(),
                "why": each.why,
            }
            for each in sorted(record.restrictions, key=lambda each: each.start, reverse=True)
        ],
        "gym": {
            "equipment": sorted(record.gym.equipment),
            "unit": record.gym.unit,
            "bar_kg": record.gym.bar_kg,
            "plates_kg": [[kg, n] for kg, n in sorted(record.gym.plates_kg.items())],
            "boxes_m": list(record.gym.boxes_m),
            "dumbbells_kg": list(record.gym.dumbbells_kg),
            "kettlebells_kg": list(record.gym.kettlebells_kg),
        },
        "remark": record.remark,
        "notes": list(record.notes),
    }


def _tests(record: Record) -> Iterable[dict[str, Any]]:
    for test in record.tests:
        if not isinstance(test, RecordedTest):
            yield {**_told(test), "file": None}
        elif test.observations:
            for observation in test.observations:
                yield {**_told(observation), "file": test.file.name}
        else:
            yield {
                "date": test.date.isoformat(),
                "what": (test.jump or "recording").replace("_", " "),
                "method": "",
                "values": [],
                "unit": "",
                "note": test.note,
                "file": test.file.name,
            }


def _told(test: Observation) -> dict[str, Any]:
    what, method, values, unit = _result(test)
    return {
        "date": test.date.isoformat(),
        "what": what,
        "method": method,
        "values": [float(f"{value:.5g}") for value in values],
        "unit": unit,
        "note": test.note,
    }


def _result(test: Observation) -> tuple[str, str, tuple[float, ...], str]:
    """In words what it was, the method of a jump, the results and their SI unit."""
    match test:
        case Jump():
            words = _JUMPS[test.style]
            if test.load_kg > 0:
                words += f" with {test.load_kg:g} kg"
            elif test.arms and test.style is not JumpStyle.APPROACH:
                words += " with arms"
            return words, test.method.value, test.heights_m, "m"
        case DropJump():
            words = f"drop jump from {100 * test.drop_m:.0f} cm"
            return words, test.method.value, test.heights_m, "m"
        case BroadJump():
            return "broad jump", "", test.distances_m, "m"
        case Maximum():
            return f"{_lift(test)}, maximum", "", (test.load_kg,), "kg"
        case RepSet():
            left = f", {test.reserve:g} in reserve" if test.reserve else ""
            return f"{_lift(test)}, {test.reps} repetitions{left}", "", (test.load_kg,), "kg"
        case BarSpeedSet():
            loads = ", ".join(f"{load:g}" for load in test.loads_kg)
            return f"{_lift(test)}, bar speed at {loads} kg", "", test.speeds_m_s, "m/s"
        case IsometricPull():
            return "isometric pull, peak", "", (test.peak_n,), "N"


def _lift(test: Maximum | RepSet | BarSpeedSet) -> str:
    return test.lift.value.replace("_", " ")
