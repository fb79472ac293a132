"""Have a plan worked out, and accept it or not."""

import datetime as dt
from dataclasses import replace

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from saltus.errors import SaltusError, UsageError
from saltus.training.situation import Priority, TargetDate
from saltus.web.access import athlete_for, may_edit, sees_health, user_of
from saltus.web.models import Athlete, StoredPlan
from saltus.web.plans.forms import AgainForm, NewPlanForm
from saltus.web.plans.stored import (
    accept,
    decline,
    held,
    meanwhile,
    method_of_plan,
    plan_of,
    proposed,
)
from saltus.web.plans.views import fault_words, past_sessions
from saltus.web.plans.working_out import Asked, begin, running, stop
from saltus.web.records import change_record, record_of

__all__ = [
    "accept_plan",
    "again",
    "decline_plan",
    "new",
    "progress",
    "refuse_while_running",
    "seen_plan",
    "stop_run",
]


def seen_plan(athlete: Athlete, number: int) -> StoredPlan:
    """The plan that a person's page shows, which must be the newest.

    Raises
    ------
    EditedMeanwhile
        If there is a newer one.
    """
    newest = proposed(athlete) or held(athlete)
    if newest is None or newest.number != number:
        raise meanwhile(athlete)
    return newest


@login_required
@require_http_methods(["GET", "POST"])
def new(request: HttpRequest, athlete_id: object) -> HttpResponse:
    """Have a plan made from a day on."""
    athlete = athlete_for(request, athlete_id, edit=True)
    user, today = user_of(request), timezone.localdate()
    try:
        record = record_of(athlete, recordings=False)
    except SaltusError as error:
        fault = fault_words(str(error), sees_health=sees_health(user, athlete))
        return render(request, "plans/new.html", {"athlete": athlete, "fault": fault})
    has_plan = held(athlete) is not None
    start = record.start if record.start and record.start > today else _next_monday(today)
    form = NewPlanForm(
        request.POST or None,
        copy=athlete.squad.method,
        ask_target=not any(target.date > today for target in record.targets),
        has_plan=has_plan,
        initial={"start": start},
    )
    if request.method == "POST" and form.is_valid():
        refuse_while_running(athlete)
        given = form.cleaned_data
        if given.get("target"):
            change_record(
                athlete,
                user,
                lambda before: replace(
                    before,
                    targets=(
                        *before.targets,
                        TargetDate(given["target"], Priority.MAIN, given["target_what"]),
                    ),
                ),
                what=_("day that counts set"),
            )
        day = date_format(given["start"], "DATE_FORMAT")
        begin(
            athlete,
            user,
            Asked(
                what=_("A plan from %(day)s on") % {"day": day},
                start=given["start"],
                afresh=bool(given.get("afresh")),
                shipped=given["method"] == "shipped",
            ),
        )
        return redirect("plan", athlete_id=athlete.pk)
    context = {
        "athlete": athlete,
        "form": form,
        "no_minutes": not record.minutes,
        "no_equipment": not record.gym.equipment,
        "targets": sorted((t for t in record.targets if t.date > today), key=lambda t: t.date),
    }
    return render(request, "plans/new.html", context, status=422 if form.is_bound else 200)


def _next_monday(today: dt.date) -> dt.date:
    return today + dt.timedelta(days=-today.weekday() % 7)


def refuse_while_running(athlete: Athlete) -> None:
    """Leave everything as it is while a plan is being worked out.

    Raises
    ------
    UsageError
        If one is.
    """
    run = running(athlete)
    if run is not None and run.finished is None:
        raise UsageError(
            _("A plan for %(name)s is being worked out already: wait for it, or stop it.")
            % {"name": athlete.name}
        )


@login_required
@require_POST
def again(request: HttpRequest, athlete_id: object, number: int) -> HttpResponse:
    """Have the plan repaired from today on: after missed sessions, or when the record changed."""
    athlete = athlete_for(request, athlete_id, edit=True)
    stored = seen_plan(athlete, number)
    today = timezone.localdate()
    method = method_of_plan(athlete, stored)
    plan = plan_of(stored, method)
    record = record_of(athlete, recordings=False)
    # What was missed is told of the plan that holds, not of a proposal.
    form = AgainForm(request.POST, past=past_sessions(plan, record, today))
    if not form.is_valid():
        raise UsageError(_("The form is incomplete: reload the page."))
    missed = tuple(dt.date.fromisoformat(day) for day in form.cleaned_data.get("missed", ()))
    what = _("Planned again after missed sessions") if missed else _("Planned again")
    asked = Asked(
        what=what,
        start=max(today, plan.start),
        missed=missed,
        shipped=not stored.method_name,
        pins=plan.pins,
    )
    begin(athlete, user_of(request), asked)
    return redirect("plan", athlete_id=athlete.pk)


@login_required
@require_GET
def progress(request: HttpRequest, athlete_id: object) -> HttpResponse:
    """How far a plan is: a part of the page, or a page that says so."""
    athlete = athlete_for(request, athlete_id)
    run = running(athlete)
    if not getattr(request, "htmx", False):
        return redirect("plan", athlete_id=athlete.pk)
    if run is None or run.finished is not None:
        answer = HttpResponse()
        answer["HX-Refresh"] = "true"
        return answer
    context = {"athlete": athlete, "run": run, "may_edit": may_edit(user_of(request), athlete)}
    return render(request, "plans/_run.html", context)


@login_required
@require_POST
def stop_run(request: HttpRequest, athlete_id: object) -> HttpResponse:
    """Stop what is being worked out, or put its fault away."""
    athlete = athlete_for(request, athlete_id, edit=True)
    run = running(athlete)
    if stop(athlete) and run is not None and run.finished is None:
        messages.success(request, _("Stopped. Nothing was changed."))
    return redirect("plan", athlete_id=athlete.pk)


@login_required
@require_POST
def accept_plan(request: HttpRequest, athlete_id: object, number: int) -> HttpResponse:
    """Let the proposal hold."""
    athlete = athlete_for(request, athlete_id, edit=True)
    refuse_while_running(athlete)
    accept(athlete, number, user_of(request))
    messages.success(request, _("Accepted: this plan holds now."))
    return redirect("plan", athlete_id=athlete.pk)


@login_required
@require_POST
def decline_plan(request: HttpRequest, athlete_id: object, number: int) -> HttpResponse:
    """Put the proposal away."""
    athlete = athlete_for(request, athlete_id, edit=True)
    decline(athlete, number, user_of(request))
    messages.success(
        request,
        _("Put away: the plan from before still holds.")
        if held(athlete)
        else _("Put away: no plan holds."),
    )
    return redirect("plan", athlete_id=athlete.pk)
