"""Blocked days, practices, matches and free time: they go into the record, and the plan follows."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.text import capfirst
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_POST

from saltus.record import Record
from saltus.record.entries import BlockedDays, Sport
from saltus.training.situation import EventKind, Weekday
from saltus.web.access import athlete_for, may_edit, user_of
from saltus.web.editing.views import revision_seen
from saltus.web.models import Athlete
from saltus.web.plans.asking import refuse_while_running
from saltus.web.plans.forms import DAYS, BlockForm, MinutesForm, SportForm
from saltus.web.plans.stored import held, method_of_plan, plan_of, proposed
from saltus.web.plans.working_out import Asked, begin
from saltus.web.records import change_record, record_of

__all__ = ["block", "calendar", "minutes", "remove", "sport"]

_LISTS = ("blocked", "sport")


@login_required
@require_GET
def calendar(request: HttpRequest, athlete_id: object) -> HttpResponse:
    """What the plan has to fit round, with forms to change it."""
    athlete = athlete_for(request, athlete_id)
    return _page(request, athlete)


@login_required
@require_POST
def block(request: HttpRequest, athlete_id: object) -> HttpResponse:
    """Block a day or several."""
    athlete = athlete_for(request, athlete_id, edit=True)
    seen = revision_seen(request, athlete)
    form = BlockForm(request.POST)
    if not form.is_valid():
        return _page(request, athlete, block=form)
    given = form.cleaned_data
    days = BlockedDays(given["start"], given["end"] or given["start"], given["why"])
    return _changed(
        request,
        athlete,
        lambda record: replace(record, blocked=(*record.blocked, days)),
        _("%(days)s blocked") % {"days": _span(days)},
        seen,
    )


@login_required
@require_POST
def sport(request: HttpRequest, athlete_id: object) -> HttpResponse:
    """Add a practice or a match."""
    athlete = athlete_for(request, athlete_id, edit=True)
    seen = revision_seen(request, athlete)
    known = record_of(athlete, recordings=False).sport
    form = SportForm(request.POST, known=known, auto_id="sport_%s")
    if not form.is_valid():
        return _page(request, athlete, sport=form)
    given = form.cleaned_data
    kind = EventKind(given["kind"])
    entry = Sport(
        kind=kind,
        weekdays=tuple(Weekday(day) for day in given["weekdays"]),
        date=given["date"],
        landings=float(given["landings"]),
        what=given["what"],
    )
    what = _("a match added") if kind is EventKind.MATCH else _("a practice added")
    return _changed(
        request,
        athlete,
        lambda record: replace(record, sport=(*record.sport, entry)),
        what,
        seen,
    )


@login_required
@require_POST
def minutes(request: HttpRequest, athlete_id: object) -> HttpResponse:
    """Change the free time of the week."""
    athlete = athlete_for(request, athlete_id, edit=True)
    seen = revision_seen(request, athlete)
    form = MinutesForm(request.POST)
    if not form.is_valid():
        return _page(request, athlete, minutes=form)
    given = form.minutes()
    return _changed(
        request,
        athlete,
        lambda record: replace(record, minutes=given),
        _("free time changed"),
        seen,
    )


@login_required
@require_POST
def remove(request: HttpRequest, athlete_id: object) -> HttpResponse:
    """Take away a blocked stretch, a practice or a match."""
    athlete = athlete_for(request, athlete_id, edit=True)
    seen = revision_seen(request, athlete)
    which = request.POST.get("list", "")
    record = record_of(athlete, recordings=False)
    place = request.POST.get("place", "")
    if which not in _LISTS or not place.isdecimal():
        raise Http404
    entries: tuple[Any, ...] = getattr(record, which)
    if int(place) >= len(entries):
        raise Http404
    gone = int(place)
    left = (*entries[:gone], *entries[gone + 1 :])

    def without(before: Record) -> Record:
        return replace(before, blocked=left) if which == "blocked" else replace(before, sport=left)

    what = _("blocked days opened") if which == "blocked" else _("a practice or match removed")
    return _changed(request, athlete, without, what, seen)


def _changed(
    request: HttpRequest,
    athlete: Athlete,
    change: Callable[[Record], Record],
    what: str,
    seen: int,
) -> HttpResponse:
    """Write a change into the record, and have the plan repaired where there is one."""
    refuse_while_running(athlete)
    user, today = user_of(request), timezone.localdate()
    athlete = change_record(athlete, user, change, what=what, revision=seen)
    stored = proposed(athlete) or held(athlete)
    plan = None if stored is None else plan_of(stored, method_of_plan(athlete, stored))
    if stored is None or plan is None or plan.goal_date < today:
        messages.success(request, _("Saved."))
        return redirect("plan-calendar", athlete_id=athlete.pk)
    asked = Asked(
        what=capfirst(what),
        start=max(today, plan.start),
        pins=plan.pins,
        shipped=not stored.method_name,
    )
    begin(athlete, user, asked)
    messages.success(request, _("Saved in the record; the plan is being repaired."))
    return redirect("plan", athlete_id=athlete.pk)


def _page(request: HttpRequest, athlete: Athlete, **forms: Any) -> HttpResponse:
    record = record_of(athlete, recordings=False)
    today = timezone.localdate()
    initial = {day.value: n for day, n in record.minutes.items()}
    context = {
        "athlete": athlete,
        "may_edit": may_edit(user_of(request), athlete),
        "block_form": forms.get("block") or BlockForm(auto_id="block_%s"),
        "sport_form": forms.get("sport") or SportForm(auto_id="sport_%s"),
        "minutes_form": forms.get("minutes") or MinutesForm(initial=initial, auto_id="free_%s"),
        "blocked": [
            {"place": i, "words": _span(b), "why": b.why, "over": b.end < today}
            for i, b in enumerate(record.blocked)
        ],
        "sport": [
            {
                "place": i,
                "words": _sport_words(s),
                "over": (s.date or s.end or today) < today,
            }
            for i, s in enumerate(record.sport)
        ],
    }
    return render(request, "plans/calendar.html", context, status=422 if forms else 200)


def _span(days: BlockedDays) -> str:
    first = date_format(days.start, "WEEKDAY_DATE_FORMAT")
    if days.start == days.end:
        return first
    return _("%(first)s to %(last)s") % {
        "first": first,
        "last": date_format(days.end, "WEEKDAY_DATE_FORMAT"),
    }


def _sport_words(sport: Sport) -> str:
    name = _("Match") if sport.kind is EventKind.MATCH else _("Practice")
    if sport.date is not None:
        when = date_format(sport.date, "WEEKDAY_DATE_FORMAT")
    else:
        days = ", ".join(str(DAYS[day]) for day in Weekday if day in sport.weekdays)
        when = _("every %(days)s") % {"days": days}
        if sport.end is not None:
            when = _("%(when)s until %(day)s") % {
                "when": when,
                "day": date_format(sport.end, "DATE_FORMAT"),
            }
    parts = [f"{name}: {when}"]
    if sport.what:
        parts.append(sport.what)
    if sport.landings:
        parts.append(_("%(count)d landings") % {"count": round(sport.landings)})
    return ", ".join(parts)
