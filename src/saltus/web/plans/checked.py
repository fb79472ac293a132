"""Whether a plan still keeps the rules after the record has changed since it was made."""

import datetime as dt
from dataclasses import replace

from saltus.record import Record
from saltus.training.audit import audit
from saltus.training.method import Method
from saltus.training.plan import Plan
from saltus.web.assessments import inputs_of
from saltus.web.kept import Kept
from saltus.web.models import Athlete, StoredPlan
from saltus.web.plans.stored import earlier_weeks
from saltus.web.plans.working_out import assessed

__all__ = ["breaches_now"]

_kept: Kept[tuple[object, ...], list[str]] = Kept(200)


def breaches_now(
    athlete: Athlete,
    stored: StoredPlan,
    plan: Plan,
    method: Method,
    record: Record,
    *,
    today: dt.date,
) -> list[str]:
    """Rules that the days from today on break, by what the record says now.

    What was found when the plan was worked out is taken as long as the record is the same;
    otherwise the plan is looked at anew, once for each state of the record and each day.

    Raises
    ------
    SaltusError
        If the athlete cannot be assessed any more.
    """
    if stored.made_from_revision == athlete.revision or plan.goal_date < today:
        return [f"{each['where']}: {each['text']}" for each in stored.breaches]
    key = (inputs_of(athlete), stored.pk, repr(method), today)
    return _kept.get(key, lambda: _looked_at(athlete, plan, method, record, today))


def _looked_at(
    athlete: Athlete, plan: Plan, method: Method, record: Record, today: dt.date
) -> list[str]:
    over = tuple(week for week in plan.weeks if week.end < today)
    left = tuple(week for week in plan.weeks if week.end >= today)
    start = max(today, plan.start)
    practised = sum(any(session.landings for session in week.sessions) for week in over)
    rest = replace(plan, weeks=left, start=start, counted_from=plan.counted_from or plan.start)
    situation = replace(
        record.situation_from(start),
        landing_practice_weeks=plan.landing_practice_weeks + practised,
    )
    breaches = audit(
        rest,
        method,
        situation,
        record.person,
        assessed(athlete, record),
        earlier=(*earlier_weeks(athlete, plan, method), *over),
        since_planned=True,
    )
    return [f"{each.where}: {each.text}" for each in breaches]
