"""The coach's own hand in a plan: move a session, swap an exercise, or let go of it again."""

import datetime as dt

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from saltus.errors import PlanError, UsageError
from saltus.training.pins import move_session, swap_exercise, without_pins
from saltus.training.plan import Pin, Plan
from saltus.training.stand_ins import StandIn, stand_ins
from saltus.web import sentences
from saltus.web.access import athlete_for, sees_health, user_of
from saltus.web.models import Athlete, StoredPlan
from saltus.web.plans.asking import seen_plan
from saltus.web.plans.forms import MoveForm, SwapForm
from saltus.web.plans.health import shown
from saltus.web.plans.stored import earlier_weeks, method_of_plan, plan_of
from saltus.web.plans.words import day_words, exercise_name, moved_words
from saltus.web.plans.working_out import Asked, assessed, begin
from saltus.web.records import record_of

__all__ = ["let_go", "move", "swap"]


@login_required
@require_POST
def move(request: HttpRequest, athlete_id: object, number: int) -> HttpResponse:
    """Move a session to another day; the planner repairs the rest."""
    athlete = athlete_for(request, athlete_id, edit=True)
    stored = seen_plan(athlete, number)
    form = MoveForm(request.POST)
    if not form.is_valid():
        messages.error(request, _("Give the day to which the session moves."))
        return redirect("plan", athlete_id=athlete.pk)
    date, to = form.cleaned_data["date"], form.cleaned_data["to"]
    plan = plan_of(stored, method_of_plan(athlete, stored))
    record = record_of(athlete, recordings=False)
    try:
        _refuse_past(date, to)
        pins = move_session(plan, date, to, record.situation_from(plan.start))
    except (PlanError, UsageError) as error:
        messages.error(request, sentences.told(str(error)))
        return redirect("plan", athlete_id=athlete.pk)
    return _worked_out(request, athlete, stored, plan, pins, moved_words(date, to))


@login_required
@require_http_methods(["GET", "POST"])
def swap(request: HttpRequest, athlete_id: object, number: int) -> HttpResponse:
    """Choose another exercise, out of those that may be given; the planner repairs the rest."""
    athlete = athlete_for(request, athlete_id, edit=True)
    stored = seen_plan(athlete, number)
    try:
        date = dt.date.fromisoformat(request.GET.get("date", ""))
    except ValueError:
        raise Http404 from None
    name = request.GET.get("exercise", "")
    method = method_of_plan(athlete, stored)
    plan = plan_of(stored, method)
    session = next((s for s in plan.sessions if s.date == date), None)
    if session is None or name not in {item.exercise for item in session.items}:
        raise Http404
    record = record_of(athlete)
    found = stand_ins(
        plan,
        date,
        name,
        record.person,
        assessed(athlete, record),
        record.situation_from(plan.start),
        method,
        earlier=earlier_weeks(athlete, plan, method),
    )
    form = SwapForm(request.POST or None, found=found)
    if request.method == "POST" and form.is_valid():
        _refuse_past(date)
        by, onward = form.cleaned_data["by"], bool(form.cleaned_data["onward"])
        days = next(s.days for s in found if s.exercise.id == by)
        pins = swap_exercise(plan, date, name, by, onward=onward, allowed=days)
        names = {"new": exercise_name(by, method), "old": exercise_name(name, method)}
        words = (
            _("%(new)s instead of %(old)s from %(day)s on")
            if onward
            else _("%(new)s instead of %(old)s on %(day)s")
        )
        what = words % {**names, "day": day_words(date)}
        return _worked_out(request, athlete, stored, plan, pins, what)
    context = {
        "athlete": athlete,
        "stored": stored,
        "form": form,
        "date": date,
        "name": exercise_name(name, method),
        "exercise": method.exercises.get(name),
        "closed": _closed(found, sees_health(user_of(request), athlete)),
    }
    return render(request, "plans/swap.html", context, status=422 if form.is_bound else 200)


@login_required
@require_POST
def let_go(request: HttpRequest, athlete_id: object, number: int) -> HttpResponse:
    """Leave a day, or all of them, to the planner again."""
    athlete = athlete_for(request, athlete_id, edit=True)
    stored = seen_plan(athlete, number)
    plan = plan_of(stored, method_of_plan(athlete, stored))
    given = request.POST.get("date", "")
    try:
        date = dt.date.fromisoformat(given) if given else None
    except ValueError:
        raise UsageError(_("The form is incomplete: reload the page.")) from None
    if date is None:
        pins: tuple[Pin, ...] = ()
        what = _("Everything settled by hand left to the planner again")
    else:
        # What was taken from other days for this one goes back with it.
        mine = next((pin.stands for pin in plan.pins if pin.date == date), frozenset())
        days = {
            pin.date
            for pin in plan.pins
            if pin.date == date or (pin.absent and pin.absent <= mine and _near(pin.date, date))
        }
        pins = without_pins(plan.pins, days)
        what = _("%(day)s left to the planner again") % {"day": day_words(date)}
    return _worked_out(request, athlete, stored, plan, pins, what)


def _near(a: dt.date, b: dt.date) -> bool:
    return abs((a - b).days) < 7


def _worked_out(
    request: HttpRequest,
    athlete: Athlete,
    stored: StoredPlan,
    plan: Plan,
    pins: tuple[Pin, ...],
    what: str,
) -> HttpResponse:
    """Have the plan repaired round what was settled."""
    start = max(timezone.localdate(), plan.start)
    asked = Asked(what=what, start=start, pins=pins, shipped=not stored.method_name)
    begin(athlete, user_of(request), asked)
    return redirect("plan", athlete_id=athlete.pk)


def _refuse_past(*days: dt.date) -> None:
    if any(day < timezone.localdate() for day in days):
        raise UsageError(_("This day is over: what stands before today stays as it was."))


def _closed(found: tuple[StandIn, ...], health: bool) -> list[str]:
    """Why others may not be given."""
    closed = [s.why_not for s in found if s.why_not]
    told = shown(closed, sees_health=health)
    hidden = [_("Others may not be given for reasons that are not shown to you.")]
    return [*dict.fromkeys(told.lines), *(hidden if told.hidden else [])]
