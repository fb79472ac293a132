"""One test of any kind, added to a record in a form: no test day, no text."""

import hashlib
import json
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods

from saltus.errors import RecordError
from saltus.record import Record, schema
from saltus.record.editing import raw_rows, with_row
from saltus.web.access import athlete_for, user_of
from saltus.web.editing.forms import RowForm
from saltus.web.editing.views import revision_seen
from saltus.web.models import Athlete
from saltus.web.records import change_record, record_of
from saltus.web.testdays.expected import WORKED_OUT, questions_about
from saltus.web.testdays.words import KINDS
from saltus.web.units import current_units

__all__ = ["add_test", "choose_test"]


@login_required
@require_GET
def choose_test(request: HttpRequest, athlete_id: object) -> HttpResponse:
    """Which kind of test it was."""
    athlete = athlete_for(request, athlete_id, edit=True)
    kinds = [
        {"kind": kind, "title": KINDS[kind], "help": _(table.help)}
        for kind, table in schema.TESTS.items()
        if kind in KINDS
    ]
    return render(request, "editing/choose_test.html", {"athlete": athlete, "kinds": kinds})


@login_required
@require_http_methods(["GET", "POST"])
def add_test(request: HttpRequest, athlete_id: object, kind: str) -> HttpResponse:
    """Its day and its results; what was not expected is asked about first."""
    athlete = athlete_for(request, athlete_id, edit=True)
    if kind not in schema.TESTS or kind not in KINDS:
        raise Http404
    row = {"kind": kind, "date": timezone.localdate()}
    form = RowForm(request.POST or None, table=schema.TESTS[kind], row=row)
    asked: list[str] = []
    if request.method == "POST":
        revision_seen(request, athlete)
        if form.is_valid():
            asked = _added(request, athlete, form)
            if not asked and not form.errors:
                messages.success(
                    request, _("%(test)s: added to the record.") % {"test": KINDS[kind]}
                )
                return redirect("athlete", athlete_id=athlete.pk)
    context = {
        "athlete": athlete,
        "form": form,
        "title": KINDS[kind],
        "intro": _(schema.TESTS[kind].help),
        "asked": asked,
        "typed": _mark(form) if asked else "",
    }
    return render(request, "editing/add_test.html", context, status=422 if form.is_bound else 200)


def _added(request: HttpRequest, athlete: Athlete, form: RowForm) -> list[str]:
    """Add the test; gives what has to be asked first, if anything has."""
    place = len(raw_rows(athlete.text, "test"))
    try:
        new = with_row(athlete.text, "test", form.raw())
        if request.POST.get("keep") != _mark(form):
            asked = _questions(athlete, new, form)
            if asked:
                return asked
        change_record(
            athlete,
            user_of(request),
            lambda _before: new,
            what=_("test added: %(test)s") % {"test": KINDS[form.row["kind"]]},
            revision=athlete.revision,
        )
    except RecordError as error:
        form.blame(error.faults, place)
    return []


def _questions(athlete: Athlete, new: Record, form: RowForm) -> list[str]:
    before = list(record_of(athlete, recordings=False).tests)
    added = next((test for test in new.observations if test not in before), None)
    if added is None:
        return []
    found = questions_about(
        athlete,
        new,
        added,
        current_units.get(),
        derived=any(form.cleaned_data.get(name) for name in WORKED_OUT),
        estimated=form.row["kind"] != "maximum",
    )
    return [
        (_("Attempt %(number)s: ") % {"number": attempt} if len(found) > 1 else "") + sentence
        for attempt, sentences in sorted(found.items())
        for sentence in sentences
    ]


def _mark(form: RowForm) -> str:
    """Stands for exactly these results: another figure is asked about anew."""
    told: dict[str, Any] = {key: str(value) for key, value in form.raw().items()}
    return hashlib.sha256(json.dumps(told, sort_keys=True).encode()).hexdigest()[:16]
