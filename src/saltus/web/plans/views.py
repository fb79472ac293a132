"""A plan on a page, on the screen and on paper."""

import datetime as dt
from collections.abc import Iterable
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET

from saltus.errors import SaltusError
from saltus.record import Record
from saltus.training.plan import Plan
from saltus.web.access import athlete_for, may_edit, sees_health, user_of
from saltus.web.decimals import decimals
from saltus.web.models import Athlete, StoredPlan
from saltus.web.plans.checked import breaches_now
from saltus.web.plans.forms import AgainForm
from saltus.web.plans.health import shown
from saltus.web.plans.stored import changed_since, held, method_of_plan, plan_of, proposed
from saltus.web.plans.told import tell
from saltus.web.plans.words import day_words
from saltus.web.plans.working_out import running
from saltus.web.records import record_of
from saltus.web.units import current_units

__all__ = ["fault_words", "page", "past_sessions", "printed", "told_beside"]

_ASKED_AFTER_DAYS = 14


@login_required
@require_GET
def page(request: HttpRequest, athlete_id: object) -> HttpResponse:
    """The plan that holds, or the proposal with what it would change."""
    athlete = athlete_for(request, athlete_id)
    return render(request, "plans/plan.html", _context(request, athlete))


@login_required
@require_GET
def printed(request: HttpRequest, athlete_id: object) -> HttpResponse:
    """The plan for paper: everything open, boxes to tick, on few pages."""
    athlete = athlete_for(request, athlete_id)
    return render(request, "plans/print.html", _context(request, athlete, on_paper=True))


def _context(request: HttpRequest, athlete: Athlete, *, on_paper: bool = False) -> dict[str, Any]:
    user, today = user_of(request), timezone.localdate()
    editable = may_edit(user, athlete)
    holds, proposal = held(athlete), proposed(athlete)
    run = running(athlete)
    health = sees_health(user, athlete)
    newest = (holds or proposal) if on_paper else (proposal or holds)
    context: dict[str, Any] = {
        "athlete": athlete,
        "may_edit": editable,
        "run": run,
        "run_fault": fault_words(run.fault if run else "", sees_health=health),
        "holds": holds,
        "proposal": None if on_paper else proposal,
        "stored": newest,
        "today": today,
        "on_paper": on_paper,
    }
    if newest is None:
        return context
    try:
        record = record_of(athlete, recordings=False)
        method = method_of_plan(athlete, newest)
        plan = plan_of(newest, method)
        before = plan_of(holds, method) if newest is proposal and holds is not None else None
        broken = breaches_now(athlete, newest, plan, method, record, today=today)
    except SaltusError as error:
        return context | {"fault": fault_words(str(error), sees_health=health)}
    idle = run is None or run.finished is not None
    phases = tell(
        plan,
        method,
        record,
        units=current_units.get(),
        today=today,
        before=before,
        editable=editable and idle and not on_paper,
    )
    past = past_sessions(plan, record, today) if newest is holds else []
    context |= told_beside(plan, newest, broken, sees_health=health)
    return context | {
        "plan": plan,
        "phases": phases,
        "targets": [
            (mark.words, day.date, (day.date - today).days)
            for phase in phases
            for week in phase.weeks
            for day in week.days
            for mark in day.marks
            if mark.kind == "test"
        ],
        "record_changed": changed_since(athlete, newest),
        "over": plan.goal_date < today,
        "earliest": max(today, plan.start),
        "begun": plan.weeks and plan.weeks[0].start <= today,
        "settled": [pin for pin in plan.pins if pin.stands and pin.date >= today],
        "again": AgainForm(past=past),
        "idle": idle,
        "other_method": athlete.squad.method
        if athlete.squad.method is not None and not newest.method_name
        else None,
        "gap": decimals(f"{100 * plan.solver.gap:.1f}"),
    }


def fault_words(fault: str, *, sees_health: bool) -> str:
    """A fault, which may quote any part of the record, for those who may read all of it."""
    if sees_health or not fault:
        return fault
    return _("The record or the plan has a fault: ask whose squad this is.")


def told_beside(
    plan: Plan, stored: StoredPlan, broken: Iterable[str], *, sees_health: bool
) -> dict[str, Any]:
    """What is told beside a plan, and whether any of it is hidden from the reader.

    Parameters
    ----------
    plan, stored : Plan, StoredPlan
        The plan, and as it is kept.
    broken : iterable of str
        Rules that it breaks, in words.
    sees_health : bool
        Whether the reader may read of pains and restrictions.
    """
    unmet, cautions, breaches = (
        shown(lines, sees_health=sees_health) for lines in (plan.unmet, plan.cautions, broken)
    )
    changes, changes_hidden = _changes_told(stored, sees_health=sees_health)
    return {
        "unmet": unmet.lines,
        "cautions": cautions.lines,
        "breaches": breaches.lines,
        "changes": changes,
        "hidden": unmet.hidden or cautions.hidden or breaches.hidden or changes_hidden,
    }


def _changes_told(stored: StoredPlan, *, sees_health: bool) -> tuple[list[dict[str, Any]], bool]:
    """What a proposal would change, without health reasons where these are not to be read."""
    told, hidden = [], False
    for change in stored.changes:
        if shown([change["what"]], sees_health=sees_health).hidden:
            hidden = True
            continue
        why = change["why"]
        if shown([why], sees_health=sees_health).hidden:
            hidden, why = True, _("for a reason that is not shown to you")
        date = dt.date.fromisoformat(change["date"])
        told.append({"date": date, "what": change["what"], "why": why})
    return told, hidden


def past_sessions(plan: Plan, record: Record, today: dt.date) -> list[tuple[str, str]]:
    """Days of sessions lately planned that no log tells of: as ISO dates, and in words."""
    logged = {session.date for session in record.log}
    return [
        (session.date.isoformat(), day_words(session.date))
        for session in plan.sessions
        if today - dt.timedelta(days=_ASKED_AFTER_DAYS) <= session.date < today
        and session.date not in logged
    ]
