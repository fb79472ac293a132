"""One planned session as the document that a phone shows, with everything it needs offline."""

from dataclasses import replace
from math import floor
from typing import Any

from saltus.quantities import CENTIMETRE
from saltus.training.exercises import DEPTH_JUMP, Exercise, Place
from saltus.training.gym_loads import put_together
from saltus.training.log import LoggedSet
from saltus.training.method import Method
from saltus.training.plan import Item, Session
from saltus.training.situation import Gym
from saltus.training.today.answers import answers, plates_of, told_load
from saltus.training.today.caps import as_loaded, load_cap
from saltus.training.today.facts import Facts, FormState
from saltus.training.today.form import MEASURED, expected_jump, states
from saltus.training.today.maximum import lift_of
from saltus.training.today.next_set import next_set
from saltus.training.today.pain import (
    cautions_of,
    closed_today,
    stops_at_pain,
    stops_by_place,
)
from saltus.training.today.planned import Planned, planned_today

__all__ = ["form_sheet", "item_sheet", "session_sheet"]


def session_sheet(
    session: Session, facts: Facts, method: Method, *, ahead: bool = True
) -> dict[str, Any]:
    """The items of a session as they stand today, with answers worked out ahead.

    Parameters
    ----------
    session : Session
        Of the plan.
    facts : Facts
        Of the day of the session, or of today for one to come.
    method : Method
        By which rules.
    ahead : bool
        Whether to work answers out; a session that is over needs none.

    Returns
    -------
    dict
        ``items`` and ``form``; only strings, numbers, lists, dicts, bools and None, SI. Items
        whose exercise the method does not know (any more) are given without answers.
    """
    return {
        "items": [
            item_sheet(number, item, facts, method, ahead=ahead)
            for number, item in enumerate(session.items)
        ],
        "form": form_sheet(session, facts, method),
    }


def item_sheet(
    number: int, item: Item, facts: Facts, method: Method, *, ahead: bool = True
) -> dict[str, Any]:
    """One item of the document.

    Parameters
    ----------
    number : int
        Its place in the session.
    item : Item
        As the plan has it.
    facts, method, ahead
        As for :func:`session_sheet`.
    """
    exercise = method.exercises.get(item.exercise)
    if exercise is None:
        return _unknown(number, item)
    gym = facts.situation.gym
    planned = planned_today(item, facts, method)
    # Before the first set, and before anything of the day is known.
    fresh = replace(facts, log=facts.earlier)
    first = next_set(item, (), fresh, method)
    # Where the gym is not on record, the plan's load stands.
    load = planned.item.load_kg if first.load_kg is None else first.load_kg
    now = replace(planned.item, load_kg=load, box_m=first.box_m, drop_m=first.drop_m)
    closed = closed_today(exercise, facts) or (planned.why if planned.ended else None)
    return {
        "item": number,
        "exercise": item.exercise,
        "name": exercise.name,
        "cue": item.cue,
        "sets": item.sets,
        "reps": item.reps,
        **_as_made(exercise, now, gym),
        "rest_s": item.rest_s,
        "rest_between_reps_s": item.rest_between_reps_s,
        "why": item.why.text if closed else first.why,
        "last": last_time(item.exercise, facts),
        "cautions": list(cautions_of(exercise, facts)),
        "stops_at_pain": stops_at_pain(exercise, facts),
        "stops_at_pain_places": dict(stops_by_place(exercise, facts)),
        "asks": asks(exercise, item),
        "closed": closed,
        "answers": [] if closed or not ahead else answers(planned.item, fresh, method, first=now),
        "if_below": None if closed else _if_form(now, planned, FormState.BELOW, fresh, method),
        "if_well_below": None
        if closed
        else _if_form(now, planned, FormState.WELL_BELOW, fresh, method),
    }


def _as_made(exercise: Exercise, item: Item, gym: Gym) -> dict[str, Any]:
    loading = None if item.load_kg is None else put_together(exercise, item.load_kg, gym)
    words = told_load(loading, gym)
    if item.load_kg is not None and loading is None:
        words = gym.told(item.load_kg)  # the gym has changed since
    return {
        "load_kg": item.load_kg,
        "load_words": words,
        "plates": plates_of(loading, gym),
        "box_m": item.box_m,
        "drop_m": item.drop_m,
    }


def _if_form(
    now: Item, planned: Planned, state: FormState, facts: Facts, method: Method
) -> dict[str, Any] | None:
    """What the item becomes when the day's form is that; None where it stays."""
    day = method.day
    exercise = method.exercises[now.exercise]
    if exercise.place is Place.PREPARATION:
        return None
    well = state is FormState.WELL_BELOW
    gone = well and DEPTH_JUMP in exercise.families
    sets = max(floor(now.sets * day.well_below_sets), 1) if well else now.sets
    lighter = day.well_below_lighter if well else day.below_lighter
    load = now.load_kg
    if load is not None and planned.item.load_kg is not None:
        cap = load_cap(planned.item, facts, method) or load
        made = as_loaded(
            exercise,
            min(load, cap, planned.item.load_kg * (1 - lighter)),
            facts.situation.gym,
        )
        load = None if made is None else made.total_kg
    why = "Well below usual: lighter, and half the sets." if well else "Below usual: lighter."
    if gone:
        why = "Well below usual: no depth jumps today."
    elif now.load_kg is None:
        why = "Well below usual: half the sets." if well else "Below usual: only what feels crisp."
    return {
        **_as_made(exercise, replace(now, load_kg=load), facts.situation.gym),
        "sets": 0 if gone else sets,
        "why": why,
    }


def form_sheet(session: Session, facts: Facts, method: Method) -> dict[str, Any] | None:
    """At which first jump the day is below usual, and well below; None where none is measured.

    The first jump of the session that is measured without a load; where it has none, a vertical
    jump for height as part of the warm-up. Heights are in metres, and None before any is known.
    """
    measured = [
        item.exercise
        for item in session.items
        if item.exercise in method.exercises
        and item.load_kg is None
        and item.drop_m is None
        and method.exercises[item.exercise].families & MEASURED
    ]
    free = [each.id for each in method.family("free_jump")]
    name = next(iter([*measured, *free]), None)
    jumps = any(
        method.exercises[item.exercise].lands
        for item in session.items
        if item.exercise in method.exercises
    )
    if name is None or not (measured or jumps):
        return None
    if closed_today(method.exercises[name], facts) is not None:
        return None
    level = expected_jump(LoggedSet(exercise=name, reps=1), facts, method)
    if level is None:
        return None
    below, well = states(level, method)
    known = level.n > 0
    return {
        "exercise": name,
        "expected_m": round(level.mean, 4) if known else None,
        "below_m": round(below, 4) if known else None,
        "well_below_m": round(well, 4) if known else None,
        "why_usual": "As on your ordinary days: go as planned.",
        "why_below": "Lower than on nine of ten of your ordinary days."
        if method.day.below == 0.10
        else "Below your ordinary days.",
        "why_well_below": "Well below your ordinary days.",
    }


def asks(exercise: Exercise, item: Item) -> list[str]:
    """What is worth writing down of a set."""
    asked = ["reps"]
    if item.load_kg is not None or exercise.height is not None:
        asked.append("missed")
    if item.load_kg is not None and not exercise.lands:
        asked.append("reserve")
        if lift_of(exercise) is not None:
            asked.append("speed")
    if exercise.families & MEASURED:
        asked.append("jump")
    if DEPTH_JUMP in exercise.families:
        asked.append("contact")
    if exercise.height is not None or (exercise.lands and "landing_practice" in exercise.families):
        asked.append("landing")
    return asked


def last_time(exercise: str, facts: Facts) -> list[str]:
    """Sets of the last session that held the exercise, in words; the day first."""
    for session in reversed(facts.earlier):
        sets = [one for one in session.sets if one.exercise == exercise and not one.skipped]
        if sets:
            day = session.date.isoformat()
            return [day, *(_told(one, facts.situation.gym) for one in sets)]
    return []


def _told(one: LoggedSet, gym: Gym) -> str:
    parts = [f"{one.sets} x {one.reps}" if one.sets > 1 else f"{one.reps}"]
    if one.load_kg:
        parts[0] += f" x {gym.told(one.load_kg)}"
    parts.extend(
        f"{round(height / CENTIMETRE, 1):g} cm"
        for height in (one.box_m, one.drop_m)
        if height is not None
    )
    if one.missed:
        parts.append(f"{one.missed} missed")
    if one.reserve is not None:
        parts.append(f"{one.reserve:g} left")
    if one.speed_m_s is not None:
        parts.append(f"{one.speed_m_s:.2f} m/s")
    if one.jump_m is not None:
        parts.append(f"jump {one.jump_m / CENTIMETRE:.0f} cm")
    if one.soft_landings is False:
        parts.append("landing not soft")
    return ", ".join(parts)


def _unknown(number: int, item: Item) -> dict[str, Any]:
    return {
        "item": number,
        "exercise": item.exercise,
        "name": item.exercise.replace("_", " "),
        "cue": item.cue,
        "sets": item.sets,
        "reps": item.reps,
        "load_kg": item.load_kg,
        "load_words": "",
        "plates": None,
        "box_m": item.box_m,
        "drop_m": item.drop_m,
        "rest_s": item.rest_s,
        "rest_between_reps_s": item.rest_between_reps_s,
        "why": item.why.text,
        "last": [],
        "cautions": ["The method does not know this exercise any more: ask your coach."],
        "stops_at_pain": 3,
        "stops_at_pain_places": {},
        "asks": ["reps"],
        "closed": None,
        "answers": [],
        "if_below": None,
        "if_well_below": None,
    }
