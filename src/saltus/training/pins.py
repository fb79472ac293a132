"""What a coach settles by hand in a plan: a session moved to another day, an exercise swapped.

A pin says of one day which exercises stand on it, which do not, and how many minutes it has
where those of its weekday do not hold. The planner keeps to the pins as far as the rules
allow, repairs the rest round them, and tells the ones that it could not keep to.
"""

import datetime as dt
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace

from saltus.errors import PlanError
from saltus.training.plan import Pin, Plan, Session
from saltus.training.situation import Situation

__all__ = [
    "move_session",
    "pinned_sets",
    "pinned_situation",
    "swap_exercise",
    "with_pins",
    "without_pins",
]


def pinned_situation(situation: Situation, pins: Iterable[Pin]) -> Situation:
    """Give the situation with the minutes of pinned days."""
    minutes = {pin.date: pin.minutes for pin in pins if pin.minutes is not None}
    return replace(situation, on_days={**situation.on_days, **minutes}) if minutes else situation


def move_session(plan: Plan, date: dt.date, to: dt.date, situation: Situation) -> tuple[Pin, ...]:
    """Move a session to another day; with a session there already, the two trade places.

    Parameters
    ----------
    plan : Plan
        The plan that holds the session.
    date, to : date
        From where, and to where.
    situation : Situation
        Blocked days, tests, and minutes of the weekdays.

    Returns
    -------
    tuple of Pin
        All pins of the plan, those of the move included.

    Raises
    ------
    PlanError
        If there is no such session, or the day cannot hold one.
    """
    session, other = _session_on(plan, date), _session_on(plan, to)
    if session is None:
        raise PlanError(f"There is no session on {_day(date)} in this plan.")
    if date == to:
        raise PlanError(f"The session stands on {_day(date)} already.")
    if to < plan.start or to >= plan.goal_date:
        raise PlanError(
            f"{_day(to)} lies outside the plan, which runs from {_day(plan.start)} to the day "
            f"before {_day(plan.goal_date)}."
        )
    if to in situation.blocked:
        raise PlanError(f"{_day(to)} is blocked: open the day first.")
    if any(target.date == to for target in situation.targets):
        raise PlanError(f"On {_day(to)} there is a test or a competition: no session then.")
    mine, theirs = _names(session), _names(other)
    minutes = pinned_situation(situation, plan.pins).minutes_on
    there = minutes(to) or minutes(date)
    moved = [Pin(to, mine, theirs - mine, there if there != situation.minutes_on(to) else None)]
    moved.append(Pin(date, theirs, mine - theirs))
    return with_pins(plan.pins, moved)


def swap_exercise(
    plan: Plan,
    date: dt.date,
    exercise: str,
    by: str,
    *,
    onward: bool = False,
    allowed: Collection[dt.date] | None = None,
) -> tuple[Pin, ...]:
    """Put another exercise in the place of one, on a day or from that day on.

    Parameters
    ----------
    plan : Plan
        The plan that holds the exercise.
    date : date
        The day, or the first.
    exercise, by : str
        Identifiers of what goes and what comes.
    onward : bool
        Whether it goes on every later day too.
    allowed : collection of date, optional
        Days on which what comes may be given; with `onward`, other days are left alone.

    Returns
    -------
    tuple of Pin
        All pins of the plan, those of the swap included.

    Raises
    ------
    PlanError
        If the exercise does not stand on that day, or the other stands there already.
    """
    here = _names(_session_on(plan, date))
    if exercise not in here:
        raise PlanError(f"This exercise does not stand in the plan on {_day(date)}.")
    if by in here:
        raise PlanError(f"The other exercise stands on {_day(date)} already: choose another.")
    days = [
        session.date
        for session in plan.sessions
        if (session.date == date or (onward and session.date > date))
        and exercise in _names(session)
        and by not in _names(session)
        and (session.date == date or allowed is None or session.date in allowed)
    ]
    return with_pins(plan.pins, [Pin(day, frozenset({by}), frozenset({exercise})) for day in days])


def with_pins(pins: Sequence[Pin], more: Iterable[Pin]) -> tuple[Pin, ...]:
    """Add pins; what is settled later about an exercise on a day holds."""
    by_date = {pin.date: pin for pin in pins}
    for pin in more:
        old = by_date.get(pin.date, Pin(pin.date))
        by_date[pin.date] = Pin(
            pin.date,
            (old.stands - pin.absent) | pin.stands,
            (old.absent - pin.stands) | pin.absent,
            old.minutes if pin.minutes is None else pin.minutes,
        )
    return tuple(by_date[date] for date in sorted(by_date))


def without_pins(pins: Sequence[Pin], dates: Collection[dt.date]) -> tuple[Pin, ...]:
    """Leave days to the planner again."""
    return tuple(pin for pin in pins if pin.date not in dates)


def pinned_sets(
    sets: Mapping[dt.date, Mapping[str, int]], pins: Iterable[Pin]
) -> Mapping[dt.date, Mapping[str, int]]:
    """Give the sets of a plan by date and exercise as they are once pins are kept to.

    What is moved keeps its sets, and what comes in by a swap gets those of what went.
    """
    found = {date: dict(day) for date, day in sets.items()}
    for pin in pins:
        day = found.setdefault(pin.date, {})
        freed = [day.pop(name) for name in sorted(pin.absent) if name in day]
        for name in sorted(pin.stands - day.keys()):
            known = _sets_in_week(sets, pin.date, name)
            if known is None and freed:
                known = freed[0]
            if known is not None:
                day[name] = known
    return {date: day for date, day in found.items() if day}


def _sets_in_week(
    sets: Mapping[dt.date, Mapping[str, int]], date: dt.date, name: str
) -> int | None:
    """Sets of an exercise on the nearest day within a week."""
    near = [d for d, day in sets.items() if name in day and abs((d - date).days) < 7]
    return sets[min(near, key=lambda d: (abs((d - date).days), d))][name] if near else None


def _session_on(plan: Plan, date: dt.date) -> Session | None:
    return next((s for s in plan.sessions if s.date == date and date >= plan.start), None)


def _names(session: Session | None) -> frozenset[str]:
    return frozenset() if session is None else frozenset(i.exercise for i in session.items)


def _day(date: dt.date) -> str:
    return f"{date:%A} {date.isoformat()}"
