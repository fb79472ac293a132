"""Exercises out of a TOML file: the ones that ship, changed and extended by a coach's own."""

import re
from collections.abc import Iterable, Mapping
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Any

from saltus.athlete.health import PainBand
from saltus.athlete.observations import Lift
from saltus.athlete.qualities import Quality
from saltus.errors import Fault, MethodError
from saltus.tomltable import Table
from saltus.tomltext import Lines, parse_toml, read_toml
from saltus.training.exercises import (
    EQUIPMENT,
    BodyLimit,
    Carrier,
    Exercise,
    Height,
    HeightKind,
    LoadRule,
    Needs,
    Place,
    Substitute,
)
from saltus.training.spans import Count, Span

__all__ = [
    "FIELDS",
    "IDENTIFIER",
    "load_exercises",
    "read_exercises",
    "shipped_text",
    "shipped_toml",
]

_SHIPPED = "exercises.toml"
IDENTIFIER = re.compile(r"[A-Za-z0-9_-]{1,80}")
"""What an exercise, a rule, a phase or a family may be called in a file."""
FIELDS = [
    "name",
    "place",
    "families",
    "adds",
    "load",
    "height",
    "sets",
    "reps",
    "per_week",
    "rep_s",
    "rest_between_reps_s",
    "rest_s",
    "set_up_min",
    "per_side",
    "landing",
    "equipment",
    "needs",
    "stand_ins",
    "cues",
    "not_for",
    "source",
]
_BODY_MASS = "body_mass"
_HEAVIEST_PERCENT = 130.0
_HIGHEST_M = 1.5
_LONGEST_REST_S = 900.0


def shipped_text(name: str) -> str:
    """Text of a data file that ships with Saltus."""
    return resources.files("saltus.training").joinpath("data", name).read_text(encoding="utf-8")


@cache
def shipped_toml(name: str) -> tuple[Mapping[str, Any], Lines]:
    """What a data file that ships says, not to be changed, and where it says it."""
    return parse_toml(shipped_text(name), name, MethodError)


def load_exercises(path: Path | str | None = None) -> dict[str, Exercise]:
    """Read the exercises that ship, changed and extended by a file of one's own.

    Parameters
    ----------
    path : Path or str, optional
        A TOML file with tables ``[exercise.ID]``; the fields given there replace those of
        the exercise of that identifier, or describe a new one.

    Returns
    -------
    dict of str to Exercise
        By identifier, in the order of the files.

    Raises
    ------
    MethodError
        If the file has faults: all of them, each with its line.
    """
    if path is None:
        return read_exercises({}, Lines(""), _SHIPPED)
    data, lines = read_toml(path, MethodError)
    return read_exercises(data, lines, path)


def read_exercises(
    data: Mapping[str, Any], lines: Lines, source: Path | str
) -> dict[str, Exercise]:
    """Read the exercises from parsed data, on top of those that ship.

    Parameters
    ----------
    data : mapping
        The parsed file; only its table "exercise" is looked at.
    lines : Lines
        Of the file.
    source : Path or str
        Named in messages.

    Raises
    ------
    MethodError
        If there are faults.
    """
    shipped, shipped_lines = shipped_toml(_SHIPPED)
    faults: list[Fault] = []
    own = data.get("exercise", {})
    if not isinstance(own, dict) or not all(isinstance(table, dict) for table in own.values()):
        what = "exercises are written as tables [exercise.ID], one for each."
        raise MethodError(source, [lines.fault(("exercise",), what)])
    exercises: dict[str, Exercise] = {}
    for name, table in shipped["exercise"].items():
        mine = own.get(name)
        fields = table if mine is None else {**table, **mine}
        where = shipped_lines if mine is None else lines
        exercises[name] = _exercise(name, Table(fields, ("exercise", name), where, faults))
    for name, fields in own.items():
        if name not in exercises:
            if not IDENTIFIER.fullmatch(name):
                what = f'"{name}" has other marks than letters a to z, digits, _ and -.'
                faults.append(lines.fault(("exercise", name), what))
            exercises[name] = _exercise(name, Table(fields, ("exercise", name), lines, faults))
    faults.extend(_dangling(exercises, lines if own else shipped_lines))
    if faults:
        raise MethodError(source, faults)
    return exercises


def _dangling(exercises: Mapping[str, Exercise], lines: Lines) -> Iterable[Fault]:
    """Stand-ins that are no exercises."""
    for exercise in exercises.values():
        for name in exercise.stand_ins:
            if name not in exercises:
                path = ("exercise", exercise.id, "stand_ins")
                yield lines.fault(path, f'"{name}" is no exercise: name one that exists.')


def _exercise(name: str, table: Table) -> Exercise:
    table.known(FIELDS)
    landing = table.table("landing", optional=True) or Table({}, table.path, table.lines, [])
    landing.known(("per_rep", "cost", "cost_per_drop_m"))
    exercise = Exercise(
        id=name,
        name=table.text("name"),
        place=table.choice("place", Place),
        families=frozenset(table.texts("families", None)),
        adds=table.shares("adds", Quality, high=1.0),
        load=_load(table),
        height=_height(table),
        sets=_count(table, "sets", 1, 12),
        reps=_count(table, "reps", 1, 40),
        per_week=_count(table, "per_week", 0, 7),
        rep_s=table.number("rep_s", low=0.2, high=900, unit="s"),
        rest_between_reps_s=table.number("rest_between_reps_s", 0.0, high=300, unit="s"),
        rest_s=table.number("rest_s", high=_LONGEST_REST_S, unit="s"),
        set_up_min=table.number("set_up_min", 0.0, high=30, unit="min"),
        per_side=table.flag("per_side"),
        landings_per_rep=landing.number("per_rep", 0.0, high=20),
        landing_cost=landing.number("cost", 0.0, high=5),
        landing_cost_per_drop_m=landing.number("cost_per_drop_m", 0.0, high=5),
        equipment=_equipment(table),
        needs=_needs(table),
        stand_ins=table.texts("stand_ins"),
        cues=table.texts("cues"),
        not_for=table.texts("not_for"),
        source=table.text("source", "judgement"),
    )
    _agree(exercise, table)
    return exercise


def _agree(exercise: Exercise, table: Table) -> None:
    """Note what contradicts itself within one exercise."""
    if "families" in table.data and not exercise.families:
        table.fault("families", 'it is empty: name at least one family, such as "squat".')
    for family in sorted(exercise.families):
        if not IDENTIFIER.fullmatch(family):
            table.fault(
                "families", f'"{family}" has other marks than letters a to z, digits, _ and -.'
            )
    if exercise.lands and exercise.landing_cost <= 0:
        table.fault(
            "landing", "landings without a cost: give cost, 1 for a vertical jump's landing."
        )
    drops = exercise.height is not None and exercise.height.kind is HeightKind.DROP
    if exercise.landing_cost_per_drop_m > 0 and not drops:
        table.fault("landing", 'cost_per_drop_m needs a height of kind "drop".')
    if drops and not exercise.lands:
        table.fault("height", "who drops also lands: give landing = { per_rep = ..., cost = ... }.")
    if Quality.PUSH_OFF_DISTANCE in exercise.adds:
        table.fault("adds", "push_off_distance is measured, not trained: leave it out.")


def _count(table: Table, key: str, low: int, high: int) -> Count:
    ends = table.pair(key, low=low, high=high, whole=True)
    return Count(int(ends[0]), int(ends[1]))


def _load(table: Table) -> LoadRule | None:
    load = table.table("load", optional=True)
    if load is None:
        return None
    load.known(("of", "percent", "on", "else_of", "may_be_none"))
    of = None if load.data.get("of") == _BODY_MASS else load.choice("of", Lift)
    carriers = load.choices("on", Carrier, None)
    if "on" in load.data and not carriers:
        load.fault("on", 'it is empty: name what holds the load, such as "barbell".')
    return LoadRule(
        of=of,
        percent=Span(*load.pair("percent", high=_HEAVIEST_PERCENT, unit="%")),
        on=carriers,
        else_of=tuple(
            Substitute(lift, ratio) for lift, ratio in load.shares("else_of", Lift, high=5).items()
        ),
        may_be_none=load.flag("may_be_none"),
    )


def _height(table: Table) -> Height | None:
    height = table.table("height", optional=True)
    if height is None:
        return None
    height.known(("kind", "range_m", "limits", "start_m"))
    limits = []
    for limit in height.tables("limits"):
        limit.known(("over_kg", "minors", "max_m"))
        over = (
            limit.number("over_kg", low=30, high=250, unit="kg")
            if "over_kg" in limit.data
            else None
        )
        minors = limit.flag("minors")
        if over is None and not minors:
            limit.fault(None, "say whom it limits: over_kg = ... or minors = true.")
        highest = limit.number("max_m", high=_HIGHEST_M, unit="m")
        limits.append(BodyLimit(max_m=highest, over_kg=over, minors=minors))
    return Height(
        kind=height.choice("kind", HeightKind),
        range_m=Span(*height.pair("range_m", high=_HIGHEST_M, unit="m")),
        limits=tuple(limits),
        start_m=height.number("start_m", high=_HIGHEST_M, unit="m")
        if "start_m" in height.data
        else None,
    )


def _equipment(table: Table) -> frozenset[str]:
    names = table.texts("equipment")
    for name in names:
        if name not in EQUIPMENT:
            table.fault("equipment", f'"{name}" is not one of: {", ".join(EQUIPMENT)}.')
    return frozenset(names)


def _needs(table: Table) -> Needs:
    needs = table.table("needs", optional=True)
    if needs is None:
        return Needs()
    needs.known(
        (
            "squat_per_mass",
            "landing_practice_weeks",
            "training_age_years",
            "age_years",
            "pain",
            "soft_surface",
            "adult_supervision",
        )
    )
    bands = {"safe": PainBand.SAFE, "acceptable": PainBand.ACCEPTABLE, "any": PainBand.STOP}
    word = needs.text("pain", "acceptable")
    if word not in bands:
        needs.fault("pain", f'"{word}" is not one of: {", ".join(bands)}.')
    return Needs(
        squat_per_mass=needs.number("squat_per_mass", 0.0, high=4),
        landing_practice_weeks=needs.number("landing_practice_weeks", 0.0, high=104, unit="weeks"),
        training_age_years=needs.number("training_age_years", 0.0, high=20, unit="years"),
        age_years=needs.count("age_years", 0, high=30),
        pain=bands.get(word, PainBand.SAFE),
        soft_surface=needs.flag("soft_surface"),
        adult_supervision=needs.flag("adult_supervision"),
    )
