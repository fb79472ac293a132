"""Entering results: the grid for a keyboard, one athlete and one test for a phone."""

from typing import Any
from urllib.parse import parse_qsl
from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.http import require_http_methods, require_POST, require_safe
from django_htmx.http import HttpResponseClientRefresh

from saltus.record.trials import Trial
from saltus.web.access import athlete_for, squads_of, test_day_for, user_of
from saltus.web.models import Athlete, TestDay, UnfinishedResult
from saltus.web.records import record_of
from saltus.web.testdays.cells import Cell, State, cell_of, save_cell, trial_of, trials_of
from saltus.web.testdays.day import athletes_on, objections_on, rows_of
from saltus.web.testdays.words import how_words, trial_title
from saltus.web.units import current_units

__all__ = ["grid", "one", "save"]

_MOST_ATTEMPTS = 12
_MOST_SENT = 4
"""Of what a page sent without an answer, that is looked at."""


@login_required
@require_safe
def grid(request: HttpRequest, day_id: int) -> HttpResponse:
    """Athletes by tests."""
    day = test_day_for(request, day_id)
    user, units = user_of(request), current_units.get()
    trials = trials_of(day)
    only = request.GET.get("test", "")
    shown = [trial for trial in trials if trial.key == only] or trials
    rows = rows_of(day, shown, user, units)
    context = {
        "day": day,
        "rows": rows,
        "heads": [_head(trial) for trial in shown],
        "trials": [_head(trial) for trial in trials],
        "only": only if len(shown) == 1 and len(trials) > 1 else "",
        "may_edit": squads_of(user, edit=True).filter(pk=day.squad_id).exists(),
        "first": (rows[0].athlete.pk, shown[0].key) if rows and shown else None,
    }
    return render(request, "testdays/day.html", context)


def _head(trial: Trial) -> dict[str, Any]:
    return {
        "trial": trial,
        "title": trial_title(trial, current_units.get()),
        "how": how_words(trial),
    }


@login_required
@require_http_methods(["GET", "HEAD"])
def one(request: HttpRequest, day_id: int, athlete_id: UUID, key: str) -> HttpResponse:
    """One athlete and one test, with big inputs."""
    day, athlete, trial = _found(request, day_id, athlete_id, key, edit=False)
    return _one_page(request, day, athlete, trial)


def _one_page(
    request: HttpRequest,
    day: TestDay,
    athlete: Athlete,
    trial: Trial,
    cell: Cell | None = None,
    status: int = 200,
) -> HttpResponse:
    user, units = user_of(request), current_units.get()
    record = record_of(athlete, recordings=False)
    asked = request.GET.get("attempts", "")
    attempts = min(int(asked), _MOST_ATTEMPTS) if asked.isdecimal() else None
    if cell is None:
        unfinished = UnfinishedResult.objects.filter(
            test_day=day, athlete=athlete, trial=trial.key
        ).first()
        cell = cell_of(day, athlete, record, trial, units, unfinished, attempts=attempts)
    people, trials = athletes_on(day), trials_of(day)
    return render(
        request,
        "testdays/one.html",
        {
            "day": day,
            "cell": cell,
            "how": how_words(trial),
            "objections": objections_on(day, athlete, record, trial, user),
            "athletes": people,
            "trials": [_head(each) for each in trials],
            "before": _beside(people, athlete, -1),
            "after": _beside(people, athlete, 1),
            "test_before": _beside(trials, trial, -1),
            "test_after": _beside(trials, trial, 1),
            "place": [a.pk for a in people].index(athlete.pk) + 1,
            "may_edit": squads_of(user, edit=True).filter(pk=day.squad_id).exists(),
            "more": len(cell.figures) + 1 if _takes_more(cell) else None,
        },
        status=status,
    )


def _takes_more(cell: Cell) -> bool:
    """Whether another attempt can be asked for."""
    highest = max(figure.column.attempt for figure in cell.figures)
    return (
        cell.trial.kind
        not in ("body_mass", "standing_reach", "maximum", "rep_set", "isometric_pull")
        and highest < _MOST_ATTEMPTS
    )


def _beside(things: list[Any], thing: Any, step: int) -> Any:
    place = things.index(thing) + step
    return things[place] if 0 <= place < len(things) else None


@login_required
@require_POST
def save(request: HttpRequest, day_id: int, athlete_id: UUID, key: str) -> HttpResponse:
    """Save one cell: a piece of the page for htmx, a page without JavaScript."""
    day, athlete, trial = _found(request, day_id, athlete_id, key, edit=True)
    if "theirs" in request.POST:
        if request.htmx:  # type: ignore[attr-defined]
            return HttpResponseClientRefresh()
        return _back(request, day, athlete, trial)
    keys = {column.key for column in trial.columns(_MOST_ATTEMPTS)}
    typed = {name: text for name, text in request.POST.items() if name in keys}
    cell = save_cell(
        day,
        athlete,
        trial,
        {name: str(text) for name, text in typed.items()},
        user_of(request),
        current_units.get(),
        seen=request.POST.get("mine") or request.POST.get("seen", ""),
        sent=[dict(parse_qsl(each)) for each in request.POST.getlist("sent")[-_MOST_SENT:]],
        keep="keep" in request.POST,
    )
    if request.htmx:  # type: ignore[attr-defined]
        return render(request, "testdays/_state.html", {"day": day, "cell": cell})
    if cell.state in (State.SAVED, State.EMPTY):
        return _back(request, day, athlete, trial, said=cell)
    return _one_page(
        request, day, athlete, trial, cell, 409 if cell.state is State.CHANGED else 422
    )


def _back(
    request: HttpRequest, day: TestDay, athlete: Athlete, trial: Trial, said: Cell | None = None
) -> HttpResponse:
    """Where the person goes on: to the next athlete, to the grid, or the same page again."""
    if said is not None and said.summary:
        messages.success(
            request,
            f"{athlete.name}: {said.summary} {said.figures[0].unit}".rstrip(),
        )
    goes_on = request.POST.get("then", "")
    if goes_on == "next":
        after = _beside(athletes_on(day), athlete, 1)
        if after is not None:
            return redirect("test-day-one", day.pk, after.pk, trial.key)
        return redirect("test-day", day.pk)
    if goes_on == "same" or "theirs" in request.POST:
        return redirect("test-day-one", day.pk, athlete.pk, trial.key)
    only = request.POST.get("only", "")
    query = f"?{urlencode({'test': only})}" if only else ""
    return redirect(f"{reverse('test-day', args=[day.pk])}{query}#a{athlete.pk}")


def _found(
    request: HttpRequest, day_id: int, athlete_id: UUID, key: str, *, edit: bool
) -> tuple[TestDay, Athlete, Trial]:
    day = test_day_for(request, day_id, edit=edit)
    athlete = athlete_for(request, athlete_id, edit=edit)
    trial = trial_of(day, key)
    if trial is None or athlete not in athletes_on(day):
        raise Http404
    return day, athlete, trial
