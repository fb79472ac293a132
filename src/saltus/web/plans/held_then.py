"""What was planned for days that are over: by the plan that held on each of them."""

import datetime as dt
from collections.abc import Iterable

from django.utils import timezone

from saltus.training.plan import Session
from saltus.web.models import Athlete
from saltus.web.plans.stored import method_of_plan, plan_of

__all__ = ["planned_between"]


def planned_between(
    athlete: Athlete, first: dt.date, last: dt.date, *, logged: Iterable[dt.date] = ()
) -> dict[dt.date, Session]:
    """Sessions of the plans that held from one day to another, by their day.

    Parameters
    ----------
    athlete : Athlete
        Whose.
    first, last : date
        Both included. Days before the first plan was accepted are told by that plan.
    logged : iterable of date, optional
        Days whose planned session was logged as such. Where the plan that held has none, because
        it was accepted later on that day, say, the newest before it that had one tells it.

    Raises
    ------
    PlanError, MethodError
        If a plan, or the method it follows, cannot be read.
    """
    found = _by_what_held(athlete, first, last)
    gone = {day for day in logged if first <= day <= last and day not in found}
    earlier = athlete.plans.filter(accepted__isnull=False).order_by("-number") if gone else ()
    for stored in earlier:
        assert stored.accepted is not None
        since = timezone.localdate(stored.accepted)
        asked = {day for day in gone if day >= since}
        if asked:
            sessions = plan_of(stored, method_of_plan(athlete, stored)).sessions
            here = {s.date: s for s in sessions if s.date in asked}
            found |= here
            gone -= here.keys()
        if not gone:
            break
    return found


def _by_what_held(athlete: Athlete, first: dt.date, last: dt.date) -> dict[dt.date, Session]:
    found: dict[dt.date, Session] = {}
    until = last + dt.timedelta(days=1)
    oldest: tuple[Session, ...] = ()
    for stored in athlete.plans.filter(accepted__isnull=False).order_by("-number"):
        assert stored.accepted is not None
        since = timezone.localdate(stored.accepted)
        if since < until:
            oldest = plan_of(stored, method_of_plan(athlete, stored)).sessions
            found |= {s.date: s for s in oldest if max(since, first) <= s.date < until}
            until = since
        if until <= first:
            return found
    return {s.date: s for s in oldest if first <= s.date < until} | found
