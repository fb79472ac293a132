"""A record followed: its tests, training, log and plan gathered for :mod:`saltus.progress`."""

import datetime as dt

from saltus.athlete.assessment import Assessment
from saltus.athlete.known import Known
from saltus.progress.follow import Ahead, Done, Follow, follow
from saltus.progress.plateau import plateaus
from saltus.progress.replanning import with_plateaus
from saltus.progress.response import joined
from saltus.progress.retest import HORIZON
from saltus.record.known import assessment_of
from saltus.record.record import Record
from saltus.training.emphasis import planned_blocks
from saltus.training.method import Method
from saltus.training.method_file import load_method
from saltus.training.plan import Plan
from saltus.training.situation import Priority
from saltus.training.today.maximum import sets_as_tests

__all__ = ["assessment_for_planning", "follow_record", "next_main_day", "open_test_days"]

_DAY = dt.timedelta(days=1)


def follow_record(
    record: Record,
    known: Known,
    method: Method,
    *,
    plan: Plan | None = None,
    next_test: bool = True,
) -> Follow:
    """Follow the athlete of a record.

    Parameters
    ----------
    record : Record
        Of one athlete.
    known : Known
        Its posterior (:func:`saltus.record.known.posterior_of`).
    method : Method
        What its log was read by.
    plan : Plan or None
        The plan that the athlete has, for the training ahead.
    next_test : bool
        Whether to look for the day of the next test, which makes sense where the posterior
        speaks of today.
    """
    on = known.posterior.dates[-1]
    first = min((session.date for session in record.log), default=on)
    done = Done(
        blocks=record.blocks,
        from_log=known.blocks[len(record.blocks) :],
        log=record.log,
        events=record.situation_from(first).events,
        pains=record.pains,
        tests=tuple(test for test in known.usable if test.date <= on),
    )
    if not next_test:
        return follow(known.posterior, done, method)
    until = next_main_day(record, on)
    ahead = Ahead(
        blocks=() if plan is None else planned_blocks(plan, method.exercises),
        test_days=open_test_days(record, on, until or on + HORIZON, plan),
        until=until,
    )
    return follow(known.posterior, done, method, ahead)


def assessment_for_planning(record: Record, known: Known) -> Assessment:
    """The assessment that a plan is made from: what has stopped rising is worth less.

    Parameters
    ----------
    record : Record
        Of one athlete.
    known : Known
        Its posterior (:func:`saltus.record.known.posterior_of`).
    """
    told = (*record.blocks, *joined(known.blocks[len(record.blocks) :]))
    lifts = sets_as_tests(record.log, load_method(record.method_path)) if record.log else ()
    found = plateaus(known.posterior, told, lifts) if told else ()
    rising = {each.quality: each.probability_rising for each in found if each.plateau}
    return with_plateaus(assessment_of(record, known), rising)


def open_test_days(
    record: Record, after: dt.date, until: dt.date, plan: Plan | None = None
) -> tuple[dt.date, ...]:
    """Days that could hold a test: not blocked, and rested.

    A day is rested where neither it nor the day before holds a practice, a match or a planned
    session (common practice).

    Parameters
    ----------
    record : Record
        Of one athlete.
    after, until : date
        First and last day, both left out.
    plan : Plan or None
        With its sessions.
    """
    situation = record.situation_from(after)
    busy = {event.date for event in situation.events}
    busy |= {session.date for session in plan.sessions if session.items} if plan else set()
    days = (after + i * _DAY for i in range(1, (until - after).days))
    return tuple(
        day for day in days if day not in situation.blocked and not {day, day - _DAY} & busy
    )


def next_main_day(record: Record, on: dt.date) -> dt.date | None:
    """The first main day that counts, or that of the goal; None where none lies ahead."""
    main = [t.date for t in record.targets if t.priority is Priority.MAIN and t.date > on]
    if record.goal is not None and record.goal.date is not None and record.goal.date > on:
        main.append(record.goal.date)
    return min(main, default=None)
