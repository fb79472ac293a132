"""Test days: the list, setting one up, and its deletion."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from saltus.web.access import squads_of, test_day_for, user_of
from saltus.web.models import Athlete, TestDay
from saltus.web.testdays.cells import trials_of
from saltus.web.testdays.day import first_trials
from saltus.web.testdays.forms import NewDayForm, SetUpForm, TrialForm
from saltus.web.testdays.words import default_warm_up, how_words, trial_title
from saltus.web.units import current_units

__all__ = ["add_trial", "days", "delete", "move_trial", "new", "remove_trial", "set_up"]


@login_required
@require_safe
def days(request: HttpRequest) -> HttpResponse:
    """All test days, the newest first."""
    user = user_of(request)
    found = list(
        TestDay.objects.filter(squad__in=squads_of(user))
        .select_related("squad")
        .prefetch_related("athletes")[:200]
    )
    editable = set(squads_of(user, edit=True).values_list("pk", flat=True))
    units = current_units.get()
    rows = [
        {
            "day": day,
            "tests": [trial_title(trial, units) for trial in trials_of(day)],
            "people": len([a for a in day.athletes.all() if a.deleted is None]),
            "may_edit": day.squad_id in editable,
        }
        for day in found
    ]
    return render(request, "testdays/days.html", {"rows": rows, "may_add": bool(editable)})


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def new(request: HttpRequest) -> HttpResponse:
    """Begin a test day, with the tests of the last one."""
    user = user_of(request)
    if not squads_of(user, edit=True).exists():
        raise Http404
    form = NewDayForm(user, request.POST or None, initial={"date": timezone.localdate()})
    if request.method == "POST" and form.is_valid():
        with transaction.atomic():
            day = form.save(commit=False)
            day.by = user
            day.warm_up = default_warm_up()
            day.tests = first_trials(day.squad)
            day.save()
            day.athletes.set(Athlete.objects.filter(squad=day.squad, deleted=None, archived=None))
        return redirect("test-day-set-up", day.pk)
    return render(request, "testdays/new.html", {"form": form})


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def set_up(request: HttpRequest, day_id: int) -> HttpResponse:
    """Who, which tests in which order, and the warm-up."""
    day = test_day_for(request, day_id, edit=True)
    form = SetUpForm(request.POST or None, instance=day, initial={"date": day.date})
    if request.method == "POST" and form.is_valid():
        form.save()
        messages.success(request, _("Saved."))
        return redirect("test-day", day.pk)
    return _set_up_page(request, day, form, TrialForm(), 200)


def _set_up_page(
    request: HttpRequest, day: TestDay, form: SetUpForm, trial_form: TrialForm, status: int
) -> HttpResponse:
    units = current_units.get()
    trials = [
        {"trial": trial, "title": trial_title(trial, units), "how": how_words(trial)}
        for trial in trials_of(day)
    ]
    context = {"day": day, "form": form, "trial_form": trial_form, "trials": trials}
    return render(request, "testdays/set_up.html", context, status=status)


@login_required
@require_POST
def add_trial(request: HttpRequest, day_id: int) -> HttpResponse:
    """Put one test more on the list."""
    form = TrialForm(request.POST)
    with transaction.atomic():
        day = _locked(request, day_id)
        if not form.is_valid():
            set_up_form = SetUpForm(instance=day, initial={"date": day.date})
            return _set_up_page(request, day, set_up_form, form, 422)
        day.tests = [*day.tests, form.cleaned_data["trial"].as_row()]
        day.save(update_fields=["tests"])
    return redirect("test-day-set-up", day.pk)


@login_required
@require_POST
def move_trial(request: HttpRequest, day_id: int, key: str) -> HttpResponse:
    """Move a test one place up or down the list."""
    with transaction.atomic():
        day = _locked(request, day_id)
        place = _place(day, key)
        other = place + (1 if request.POST.get("to") == "down" else -1)
        if 0 <= other < len(day.tests):
            day.tests[place], day.tests[other] = day.tests[other], day.tests[place]
            day.save(update_fields=["tests"])
    return redirect("test-day-set-up", day.pk)


@login_required
@require_POST
def remove_trial(request: HttpRequest, day_id: int, key: str) -> HttpResponse:
    """Take a test off the list; results stay in the records."""
    with transaction.atomic():
        day = _locked(request, day_id)
        del day.tests[_place(day, key)]
        day.save(update_fields=["tests"])
    messages.success(request, _("Taken off the list; results stay in the records."))
    return redirect("test-day-set-up", day.pk)


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def delete(request: HttpRequest, day_id: int) -> HttpResponse:
    """Delete the day, not its results."""
    day = test_day_for(request, day_id, edit=True)
    if request.method == "POST":
        day.delete()
        messages.success(
            request, _("The test day was deleted; its results stay in the athletes' records.")
        )
        return redirect("test-days")
    unfinished = day.unfinished.count() + day.incoming.count()
    return render(request, "testdays/delete.html", {"day": day, "unfinished": unfinished})


def _locked(request: HttpRequest, day_id: int) -> TestDay:
    """The day, to change its list while nobody else does."""
    test_day_for(request, day_id, edit=True)
    return TestDay.objects.select_for_update().get(pk=day_id)


def _place(day: TestDay, key: str) -> int:
    for i, row in enumerate(day.tests):
        if row.get("key") == key:
            return i
    raise Http404
