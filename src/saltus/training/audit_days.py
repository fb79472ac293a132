"""Checks of a finished plan, day by day: the calendar, the time, the tests, the matches."""

import datetime as dt
from collections.abc import Iterator
from itertools import pairwise

from saltus.training.audit_case import LANDING, Breach, Case
from saltus.training.exercises import Place
from saltus.training.plan import Session
from saltus.training.situation import EventKind

__all__ = ["check_calendar", "check_days", "check_matches", "check_spacing", "check_tests"]

_WARM_UP = "warm_up"
_MINUTE = 0.05
"""Rounding allowed in a session's time, min."""


def check_calendar(case: Case) -> Iterator[Breach]:
    """Weeks follow one another from the start to the goal, and sessions lie within them."""
    plan = case.plan
    if not plan.weeks:
        yield Breach("calendar", plan.start.isoformat(), "the plan has no weeks.")
        return
    first, last = plan.weeks[0], plan.weeks[-1]
    if not first.start <= plan.start <= first.end:
        yield Breach("calendar", first.start.isoformat(), "the first week does not hold the start.")
    if not last.start <= plan.goal_date <= last.end:
        yield Breach("calendar", last.start.isoformat(), "the last week does not hold the goal.")
    for a, b in pairwise(plan.weeks):
        if b.start - a.start != dt.timedelta(days=7):
            yield Breach("calendar", b.start.isoformat(), "weeks are left out or overlap.")
    for week in plan.weeks:
        for session in week.sessions:
            if not week.start <= session.date <= week.end:
                yield Breach("calendar", session.date.isoformat(), "a session in another week.")
    dates = [session.date for session in plan.sessions]
    for a_date, b_date in pairwise(dates):
        if b_date <= a_date:
            yield Breach("calendar", b_date.isoformat(), "sessions out of order, or two on a day.")
    for session in plan.sessions:
        for item in session.items:
            if item.exercise not in case.method.exercises:
                what = f'there is no exercise "{item.exercise}".'
                yield Breach("calendar", session.date.isoformat(), what)


def check_days(case: Case) -> Iterator[Breach]:
    """Sessions stand on free days, are no longer than these allow, and are worth the way."""
    for session in case.plan.sessions:
        where = session.date.isoformat()
        if session.date < case.plan.start:
            if case.plan.counted_from is None or session.date < case.plan.counted_from:
                yield Breach("days", where, "a session before the start of the plan.")
            continue
        if session.date > case.plan.goal_date:
            yield Breach("days", where, "a session after the goal.")
        free = case.situation.minutes_on(session.date)
        if not free:
            yield Breach("days", where, "no time is set aside for training on this weekday.")
        elif session.minutes > free + _MINUTE:
            what = f"the session takes {session.minutes:.0f} minutes, and there are {free}."
            yield Breach("days", where, what)
        if session.date in case.situation.blocked:
            yield Breach("days", where, "the day is blocked.")
        yield from _shape(case, session)


def _shape(case: Case, session: Session) -> Iterator[Breach]:
    week, where = case.method.week, session.date.isoformat()
    if len(session.items) not in week.items:
        what = f"{len(session.items)} exercises; the method wants {week.items}."
        yield Breach(week.rule, where, what)
    exercises = case.method.exercises
    known = [item for item in session.items if item.exercise in exercises]
    sets = sum(i.sets for i in known if exercises[i.exercise].place is not Place.PREPARATION)
    if sets > week.sets:
        yield Breach(week.rule, where, f"{sets} working sets; at most {week.sets}.")
    if session.minutes < week.shortest_min - _MINUTE:
        what = f"{session.minutes:.0f} minutes; at least {week.shortest_min:g} are worth the way."
        yield Breach(week.rule, where, what)
    names = [item.exercise for item in session.items]
    for name in sorted(set(names)):
        if names.count(name) > 1:
            yield Breach(week.rule, where, f"{name} stands twice.")
    warm_ups = {use.rule for p in case.method.phases for use in p.uses if use.family == _WARM_UP}
    if warm_ups and known and _WARM_UP not in exercises[known[0].exercise].families:
        yield Breach(min(warm_ups), where, "the session does not begin with a warm-up.")


def check_tests(case: Case) -> Iterator[Breach]:
    """No session on a test day or just before it, and no jumps in the days before it."""
    unloading = case.method.unloading
    yield from _before_test(
        case, case.plan.goal_date, unloading.rule, unloading.rest_days, unloading.no_jump_days.low
    )
    for date in case.second_tests():
        yield from _before_test(
            case,
            date,
            unloading.second_rule,
            unloading.second_rest_days,
            unloading.second_no_jump_days,
        )
    targets = {target.date for target in case.situation.targets} | {case.plan.goal_date}
    for session in case.plan.sessions:
        if session.date >= case.plan.start and session.date in targets:
            yield Breach("days", session.date.isoformat(), "a session on the day of a test.")


def _before_test(
    case: Case, test: dt.date, rule: str, rest: int, no_jumps: int
) -> Iterator[Breach]:
    for session in case.plan.sessions:
        days = (test - session.date).days
        if session.date >= case.plan.start and 0 < days <= rest:
            what = f"a session {days} days before the test of {test}; {rest} are to be free."
            yield Breach(rule, session.date.isoformat(), what)
    for placed in case.placed:
        days = (test - placed.session.date).days
        if 0 < days <= no_jumps and case.belongs(placed.exercise, LANDING):
            what = f"jumps {days} days before the test of {test}; {no_jumps} are to be without."
            yield Breach(rule, placed.where, what)


def check_spacing(case: Case) -> Iterator[Breach]:
    """Days enough between two sessions that hold the same family."""
    weeks = (*case.earlier, *case.plan.weeks)
    for spacing in case.method.spacings:
        wanted = spacing.days_minors if case.minor else spacing.days
        dates = sorted(
            {
                placed.session.date
                for week in weeks
                for placed in case.in_week(week)
                if case.belongs(placed.exercise, spacing.family)
            }
        )
        for before, after in pairwise(dates):
            apart = (after - before).days
            if apart < wanted and after >= case.plan.start:
                what = (
                    f"{spacing.family} {apart} days after {before.isoformat()}; "
                    f"{wanted} are wanted."
                )
                yield Breach(spacing.rule, after.isoformat(), what)


def check_matches(case: Case) -> Iterator[Breach]:
    """Heavy legs and jumps stay clear of matches."""
    matches = [e.date for e in case.situation.events if e.kind is EventKind.MATCH]
    for gap in case.method.match_gaps:
        for placed in case.placed:
            if not case.belongs(placed.exercise, gap.family):
                continue
            for match in matches:
                days = (match - placed.session.date).days
                if -gap.days_after <= days <= gap.days_before:
                    what = f"{gap.family} too near the match of {match.isoformat()}."
                    yield Breach(gap.rule, placed.where, what)
