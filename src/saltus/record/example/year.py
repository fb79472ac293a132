"""A year in the life of the invented squad: moved to the present, with a log of its sessions."""

import datetime as dt
import re
from collections.abc import Iterator, Sequence

import numpy as np

from saltus.quantities import POUND
from saltus.record.example.truth import Athlete
from saltus.record.record import Record
from saltus.training.log import LoggedSession, LoggedSet
from saltus.training.plan import Item, Plan, Session

__all__ = ["WRITTEN_ON", "logged", "moved", "weeks_since"]

WRITTEN_ON = dt.date(2026, 11, 25)
"""The day on which the squad's records take place."""

_DATE = re.compile(r"\b\d{4}-\d{2}-\d{2}\b")
_DONE = 0.93
_MISSED_LATELY_DAYS = 15
_DETAILED_DAYS = 60
_ITEMS_OF_OLD = 3
_STEPS_KG = {"kg": 2.5, "lb": 5 * POUND}


def weeks_since(today: dt.date) -> int:
    """Whole weeks from the day of the records to a day; weekdays stay what they are."""
    return (today - WRITTEN_ON).days // 7


def moved(text: str, weeks: int) -> str:
    """A record, or the name of a recording, with every date so many weeks later.

    Dates of birth move too, so that nobody gets older by it.
    """
    by = dt.timedelta(weeks=weeks)
    return _DATE.sub(lambda m: (dt.date.fromisoformat(m[0]) + by).isoformat(), text)


def logged(
    athlete: Athlete,
    record: Record,
    plan: Plan,
    today: dt.date,
    rng: np.random.Generator,
    *,
    missed_lately: bool = False,
    days: int = 365,
) -> tuple[LoggedSession, ...]:
    """Sessions that the athlete did in the year before a day, with those of the record.

    Parameters
    ----------
    athlete : Athlete
        What they truly are: the loads of earlier weeks follow from it.
    record : Record
        Training blocks, the gym's unit, and sessions that are logged already.
    plan : Plan
        Its sessions before `today` are done as planned, or missed. Weeks before it that lie
        in a training block look like its own, with the loads of that time.
    today : date
        The day after the log's last.
    rng : Generator
        Which sessions were missed, and how hard the others felt.
    missed_lately : bool
        Whether the sessions of the last two weeks were missed.
    days : int
        How far back the log goes.

    Returns
    -------
    tuple of LoggedSession
        In order of date.
    """
    known = {session.date for session in record.log}
    log = list(record.log)
    unit = record.gym.unit
    for session in _sessions(record, plan, today, days):
        late = (today - session.date).days < _MISSED_LATELY_DAYS
        done = not missed_lately if late else bool(rng.random() < _DONE)
        if done and session.date not in known:
            log.append(_done(athlete, session, today, unit, rng))
    return tuple(sorted(log, key=lambda each: each.date))


def _sessions(record: Record, plan: Plan, today: dt.date, days: int) -> Iterator[Session]:
    """What was planned on each day of the year."""
    blocked = {day for each in record.blocked for day in each.days()}
    pattern = [week for week in plan.weeks if week.sessions and not week.back_off]
    number = 0
    first = plan.start - dt.timedelta(days=plan.start.weekday())
    monday = first - dt.timedelta(weeks=max((days - (today - first).days) // 7, 0))
    while monday < first and pattern:
        week = pattern[number % min(len(pattern), 6)]
        number += 1
        for session in week.sessions:
            day = monday + dt.timedelta(days=session.date.weekday())
            trained = any(block.start <= day <= block.end for block in record.blocks)
            if trained and day not in blocked:
                yield Session(day, session.items)
        monday += dt.timedelta(weeks=1)
    yield from _before(plan.sessions, today)


def _before(sessions: Sequence[Session], today: dt.date) -> Iterator[Session]:
    return (session for session in sessions if session.date < today)


def _done(
    athlete: Athlete, session: Session, today: dt.date, unit: str, rng: np.random.Generator
) -> LoggedSession:
    stronger = athlete.squat_kg(session.date) / athlete.squat_kg(today)
    items = session.items
    if (today - session.date).days > _DETAILED_DAYS:
        items = items[:_ITEMS_OF_OLD]
    effort = float(np.clip(np.round(rng.normal(6.0, 1.2)), 2, 9))
    return LoggedSession(
        date=session.date,
        minutes=float(max(round(session.minutes * rng.normal(1.0, 0.06) / 5) * 5, 10)),
        effort=effort,
        landings=float(round(session.landings)),
        sets=tuple(_set(item, stronger, _STEPS_KG[unit], effort) for item in items),
    )


def _set(item: Item, stronger: float, step_kg: float, effort: float) -> LoggedSet:
    load = item.load_kg
    if load is not None:
        load = max(round(load * stronger / step_kg), 1) * step_kg
    return LoggedSet(
        exercise=item.exercise,
        sets=item.sets,
        reps=item.reps,
        load_kg=load,
        box_m=item.box_m,
        drop_m=item.drop_m,
        reserve=float(np.clip(np.round(8 - effort), 0, 4)) if load is not None else None,
    )
