"""What was planned for days that are over: by the plan that held on each of them."""

import datetime as dt

from django.utils import timezone

from saltus.training.plan import Session
from saltus.web.models import Athlete
from saltus.web.plans.stored import method_of_plan, plan_of

__all__ = ["planned_between"]


def planned_between(athlete: Athlete, first: dt.date, last: dt.date) -> dict[dt.date, Session]:
    """Sessions of the plans that held from one day to another, by their day.

    Parameters
    ----------
    athlete : Athlete
        Whose.
    first, last : date
        Both included. Days before the first plan was accepted are told by that plan.

    Raises
    ------
    PlanError, MethodError
        If a plan, or the method it follows, cannot be read.
    """
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
