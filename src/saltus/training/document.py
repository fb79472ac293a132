"""A plan as one JSON document, and back again."""

import datetime as dt
import json
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from saltus.athlete.qualities import Quality
from saltus.errors import PlanError, UsageError
from saltus.quantities import CENTIMETRE
from saltus.training.exercises import Exercise
from saltus.training.plan import Item, Pin, Plan, Session, SolverReport, Week, Why

__all__ = [
    "pins_document",
    "plan_document",
    "read_pins",
    "read_plan_document",
    "read_plan_file",
]

_PLACES = 6


def plan_document(plan: Plan) -> dict[str, Any]:
    """The document that ``saltus plan --json`` prints.

    Returns
    -------
    dict
        Only strings, numbers, lists, dicts and None. Loads in kg, heights in cm, times in
        minutes and seconds, dates as text.
    """
    return {
        "athlete": plan.athlete,
        "start": plan.start.isoformat(),
        "goal_date": plan.goal_date.isoformat(),
        "counted_from": (plan.counted_from or plan.start).isoformat(),
        "landing_practice_weeks": plan.landing_practice_weeks,
        "landing_practice_told": plan.landing_practice_told,
        "solver": {
            "status": plan.solver.status,
            "gap": plan.solver.gap,
            "seconds": plan.solver.seconds,
        },
        "unmet": list(plan.unmet),
        "unmet_rules": sorted(plan.unmet_rules),
        "cautions": list(plan.cautions),
        "changes": list(plan.changes),
        "pins": pins_document(plan.pins),
        "weeks": [
            {
                "start": week.start.isoformat(),
                "phase": week.phase,
                "back_off": week.back_off,
                "eased_after_days": week.eased_after,
                "sessions": [
                    {
                        "date": session.date.isoformat(),
                        "minutes": round(session.minutes, 1),
                        "landings": _rounded(session.landings),
                        "items": [_item(item) for item in session.items],
                    }
                    for session in week.sessions
                ],
            }
            for week in plan.weeks
        ],
    }


def pins_document(pins: Iterable[Pin]) -> list[dict[str, Any]]:
    """What a coach settled by hand, as the document of a plan says it."""
    return [
        {
            "date": pin.date.isoformat(),
            "stands": sorted(pin.stands),
            "absent": sorted(pin.absent),
            "minutes": pin.minutes,
        }
        for pin in pins
    ]


def read_pins(rows: Iterable[Mapping[str, Any]]) -> tuple[Pin, ...]:
    """Read back what :func:`pins_document` makes."""
    return tuple(_read_pin(row) for row in rows)


def _item(item: Item) -> dict[str, Any]:
    return {
        "exercise": item.exercise,
        "sets": item.sets,
        "reps": item.reps,
        "load_kg": _rounded(item.load_kg),
        "percent_of": item.percent_of,
        "percent": _rounded(item.percent),
        "box_cm": _centimetres(item.box_m),
        "drop_cm": _centimetres(item.drop_m),
        "rest_s": item.rest_s,
        "rest_between_reps_s": item.rest_between_reps_s,
        "cue": item.cue,
        "why": item.why.text,
        "rule": item.why.rule,
        "quality": item.why.quality,
    }


def _rounded(number: float | None) -> float | None:
    return None if number is None else round(number, _PLACES)


def _centimetres(height_m: float | None) -> float | None:
    return None if height_m is None else round(height_m / CENTIMETRE, _PLACES)


def _metres(height_cm: float | None) -> float | None:
    return None if height_cm is None else height_cm * CENTIMETRE


def read_plan_document(
    document: Mapping[str, Any], exercises: Mapping[str, Exercise], source: str = "the plan"
) -> Plan:
    """Read a plan back from its document.

    Parameters
    ----------
    document : mapping
        As :func:`plan_document` makes it.
    exercises : mapping of str to Exercise
        For the minutes and landings of each item.
    source : str
        Where it came from, for messages.

    Raises
    ------
    PlanError
        If a field is missing or of the wrong kind: names it.
    """
    try:
        start = dt.date.fromisoformat(document["start"])
        counted = dt.date.fromisoformat(document.get("counted_from", document["start"]))
        solver = document["solver"]
        told = document.get("landing_practice_told")
        return Plan(
            athlete=str(document["athlete"]),
            start=start,
            goal_date=dt.date.fromisoformat(document["goal_date"]),
            weeks=tuple(_read_week(week, exercises) for week in document["weeks"]),
            unmet=tuple(document["unmet"]),
            unmet_rules=frozenset(document.get("unmet_rules", ())),
            solver=SolverReport(
                str(solver["status"]), float(solver["gap"]), float(solver["seconds"])
            ),
            cautions=tuple(document.get("cautions", ())),
            changes=tuple(document.get("changes", ())),
            counted_from=counted if counted != start else None,
            landing_practice_weeks=float(document.get("landing_practice_weeks", 0.0)),
            pins=read_pins(document.get("pins", ())),
            landing_practice_told=None if told is None else float(told),
        )
    except KeyError as error:
        raise PlanError(
            f"{source}: the field {error} is missing. Give a plan as `saltus plan --json` "
            "printed it."
        ) from error
    except (TypeError, ValueError, AttributeError) as error:
        raise PlanError(
            f"{source}: not a plan ({error}). Give one as `saltus plan --json` printed it."
        ) from error


def read_plan_file(path: Path, exercises: Mapping[str, Exercise]) -> Plan:
    """Read a plan from the file that ``saltus plan --json`` was written to.

    Raises
    ------
    UsageError
        If the file cannot be read or is no JSON document.
    PlanError
        As :func:`read_plan_document`.
    """
    try:
        document = json.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        raise UsageError(
            f"The current plan {path} cannot be read ({error.strerror}): write one with "
            "`saltus plan RECORD.toml --json`, or leave it out."
        ) from error
    except ValueError as error:
        raise UsageError(
            f"The current plan {path} is no JSON document ({error}): give it as `saltus plan "
            "RECORD.toml --json` printed it."
        ) from error
    return read_plan_document(document, exercises, str(path))


def _read_pin(pin: Mapping[str, Any]) -> Pin:
    minutes = pin.get("minutes")
    return Pin(
        dt.date.fromisoformat(pin["date"]),
        frozenset(str(name) for name in pin["stands"]),
        frozenset(str(name) for name in pin["absent"]),
        None if minutes is None else int(minutes),
    )


def _read_week(week: Mapping[str, Any], exercises: Mapping[str, Exercise]) -> Week:
    return Week(
        dt.date.fromisoformat(week["start"]),
        str(week["phase"]),
        tuple(
            Session(
                dt.date.fromisoformat(session["date"]),
                tuple(_read_item(item, exercises) for item in session["items"]),
            )
            for session in week["sessions"]
        ),
        bool(week.get("back_off", False)),
        int(week.get("eased_after_days", 0)),
    )


def _read_item(item: Mapping[str, Any], exercises: Mapping[str, Exercise]) -> Item:
    exercise = exercises.get(item["exercise"])
    sets, reps = int(item["sets"]), int(item["reps"])
    drop = _metres(item["drop_cm"])
    quality = item.get("quality")
    return Item(
        exercise=str(item["exercise"]),
        sets=sets,
        reps=reps,
        load_kg=item["load_kg"],
        percent_of=item["percent_of"],
        percent=item["percent"],
        box_m=_metres(item["box_cm"]),
        drop_m=drop,
        rest_s=float(item.get("rest_s", 0.0)),
        rest_between_reps_s=float(item.get("rest_between_reps_s", 0.0)),
        cue=str(item["cue"]),
        why=Why(
            str(item.get("rule", "")), None if quality is None else Quality(quality), item["why"]
        ),
        landings=0.0 if exercise is None else exercise.landings(sets, reps),
        landing_load=0.0 if exercise is None else exercise.landing_load(sets, reps, drop),
        minutes=0.0 if exercise is None else exercise.minutes(sets, reps),
    )
