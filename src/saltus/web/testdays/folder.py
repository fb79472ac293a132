"""Recordings of a whole test day: files matched to athletes by name, looked at, then saved."""

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods, require_POST

from saltus.errors import SaltusError
from saltus.web.access import athletes_of, test_day_for, user_of
from saltus.web.models import Athlete, IncomingRecording, TestDay
from saltus.web.sentences import told
from saltus.web.testdays.day import athletes_on
from saltus.web.testdays.matching import matched
from saltus.web.testdays.named import said_by_name
from saltus.web.testdays.recording_forms import UploadForm
from saltus.web.testdays.recording_words import incoming_row
from saltus.web.testdays.uploads import AlreadyThere, accept, receive, weight_remark

__all__ = ["save_all", "uploads"]


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def uploads(request: HttpRequest, day_id: int) -> HttpResponse:
    """Upload many files; nothing is in a record before it was looked at."""
    day = test_day_for(request, day_id, edit=True)
    form = UploadForm(request.POST or None, initial={"date": day.date})
    if request.method != "POST":
        return _preview(request, day, form, 200)
    if not form.is_valid():
        return _preview(request, day, form, 422)
    people = athletes_on(day) or list(
        Athlete.objects.filter(squad=day.squad, deleted=None, archived=None)
    )
    outcomes = []
    for upload in request.FILES.getlist("files"):
        path = request.POST.get("path") or str(upload.name)
        try:
            incoming = receive(
                upload,
                day.squad,
                user_of(request),
                form.cleaned_data["date"],
                said_by_name(path) | form.options(),
                athlete=matched(path, people),
                day=day,
            )
        except SaltusError as error:
            outcomes.append({"name": str(upload.name), "good": False, "sentence": told(str(error))})
            continue
        whose = incoming.athlete.name if incoming.athlete else _("not clear whose")
        sentence = incoming.error or _("%(who)s; jumps found: %(number)s") % {
            "who": whose,
            "number": len(incoming.analysis["jumps"]),
        }
        good = not incoming.error
        outcomes.append({"name": incoming.name, "good": good, "sentence": sentence})
    if request.headers.get("X-Upload"):
        return JsonResponse({"files": outcomes})
    if not outcomes:
        messages.error(request, _("No file was chosen."))
    for outcome in outcomes:
        if not outcome["good"]:
            messages.warning(request, f"{outcome['name']}: {outcome['sentence']}")
    return redirect("test-day-recordings", day.pk)


def _preview(request: HttpRequest, day: TestDay, form: UploadForm, status: int) -> HttpResponse:
    people = list(athletes_of(user_of(request), edit=True).filter(squad=day.squad, archived=None))
    rows = []
    for incoming in day.incoming.select_related("athlete"):
        row = incoming_row(incoming)
        if incoming.athlete is not None and not incoming.error:
            load = float(incoming.options.get("load_kg", 0.0))
            row["weight"] = weight_remark(incoming.analysis, incoming.athlete, incoming.date, load)
        rows.append(row)
    context: dict[str, Any] = {
        "day": day,
        "form": form,
        "readable": [row for row in rows if not row["incoming"].error],
        "waiting": [row for row in rows if row["incoming"].error],
        "people": people,
    }
    return render(request, "testdays/folder.html", context, status=status)


@login_required
@require_POST
def save_all(request: HttpRequest, day_id: int) -> HttpResponse:
    """Put every file with an athlete into that athlete's record."""
    day = test_day_for(request, day_id, edit=True)
    user = user_of(request)
    people = {
        str(athlete.pk): athlete
        for athlete in athletes_of(user, edit=True).filter(squad=day.squad, archived=None)
    }
    saved = 0
    for incoming in IncomingRecording.objects.filter(test_day=day, error=""):
        athlete = people.get(request.POST.get(f"athlete-{incoming.pk}", ""))
        if athlete is None:
            continue
        try:
            accept(incoming, athlete, user)
        except SaltusError as error:
            named = isinstance(error, AlreadyThere)  # says itself which file it is
            words = told(str(error))
            messages.warning(request, words if named else f"{incoming.name}: {words}")
            continue
        saved += 1
    if saved:
        messages.success(
            request,
            ngettext(
                "%(number)d recording is in the record now.",
                "%(number)d recordings are in the records now.",
                saved,
            )
            % {"number": saved},
        )
    return redirect("test-day-recordings", day.pk)
