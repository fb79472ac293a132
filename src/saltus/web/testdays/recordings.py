"""Recordings of an athlete: upload, look at each jump, keep or drop it."""

import json
from collections.abc import Mapping
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import FileResponse, Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from saltus.errors import SaltusError
from saltus.figures.darkened import darkened
from saltus.record.entries import JumpDecision
from saltus.web.access import athlete_for, may_edit, user_of
from saltus.web.chart_locale import localised
from saltus.web.models import Athlete, IncomingRecording, StoredRecording
from saltus.web.records import record_of
from saltus.web.sentences import told
from saltus.web.testdays.reader import MOST_FIGURES
from saltus.web.testdays.recording_forms import DecisionForm, OptionsForm, UploadForm
from saltus.web.testdays.recording_words import incoming_row, jump_rows
from saltus.web.testdays.trace_told import trace_told
from saltus.web.testdays.uploads import (
    accept,
    decide,
    discard,
    figure_path,
    file_path,
    look_again,
    read_again,
    receive,
    reread,
    take_out,
    test_in,
    weight_remark,
)

__all__ = [
    "decision",
    "figure",
    "incoming_discard",
    "incoming_options",
    "options",
    "original",
    "recording",
    "recordings",
    "remove",
]


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def recordings(request: HttpRequest, athlete_id: UUID) -> HttpResponse:
    """All recordings of an athlete, those not read yet, and the upload."""
    athlete = athlete_for(request, athlete_id, edit=request.method == "POST")
    user = user_of(request)
    form = UploadForm(request.POST or None, initial={"date": timezone.localdate()})
    if request.method == "POST":
        if not form.is_valid():
            return _list(request, athlete, form, 422)
        outcomes = [
            _taken_in(upload, athlete, request, form) for upload in request.FILES.getlist("files")
        ]
        if request.headers.get("X-Upload"):
            return JsonResponse({"files": outcomes})
        if not outcomes:
            messages.error(request, _("No file was chosen."))
        for outcome in outcomes:
            tell = messages.success if outcome["good"] else messages.warning
            tell(request, f"{outcome['name']}: {outcome['sentence']}")
        return redirect("recordings", athlete.pk)
    del user
    return _list(request, athlete, form, 200)


def _taken_in(
    upload: Any, athlete: Athlete, request: HttpRequest, form: UploadForm
) -> dict[str, Any]:
    """One file received and, where it can be read, put into the record."""
    user = user_of(request)
    try:
        incoming = receive(
            upload,
            athlete.squad,
            user,
            form.cleaned_data["date"],
            form.options(),
            athlete=athlete,
        )
        if incoming.error:
            return {"name": incoming.name, "good": False, "sentence": incoming.error}
        try:
            stored = accept(incoming, athlete, user)
        except SaltusError:
            discard(incoming)
            raise
    except SaltusError as error:
        return {"name": str(upload.name), "good": False, "sentence": told(str(error))}
    found = len(stored.analysis["jumps"])
    sentence = _("in the record; jumps found: %(number)s") % {"number": found}
    return {"name": stored.name, "good": True, "sentence": sentence}


def _list(request: HttpRequest, athlete: Athlete, form: UploadForm, status: int) -> HttpResponse:
    user = user_of(request)
    record = record_of(athlete, recordings=False)
    stored = []
    for each in StoredRecording.objects.filter(athlete=athlete).select_related("athlete"):
        test = test_in(record, each)
        stored.append({"recording": each, "jumps": jump_rows(each, test), "test": test})
    waiting = IncomingRecording.objects.filter(athlete=athlete, test_day=None)
    context = {
        "athlete": athlete,
        "form": form,
        "stored": stored,
        "waiting": [incoming_row(each) for each in waiting],
        "may_edit": may_edit(user, athlete),
    }
    return render(request, "testdays/recordings.html", context, status=status)


def _recording_for(
    request: HttpRequest, recording_id: int, *, edit: bool = False
) -> StoredRecording:
    """A recording by its number; 404 where its athlete is not this person's."""
    found = StoredRecording.objects.filter(pk=recording_id).first()
    if found is None:
        raise Http404
    found.athlete = athlete_for(request, found.athlete_id, edit=edit)
    return found


@login_required
@require_safe
def recording(request: HttpRequest, recording_id: int) -> HttpResponse:
    """One recording: its jumps with phases and trust, and what was decided on them."""
    found = _recording_for(request, recording_id)
    if "figures" not in found.analysis:
        look_again(found)
    return _page(request, found, None, 200)


def _page(
    request: HttpRequest, found: StoredRecording, form: OptionsForm | None, status: int
) -> HttpResponse:
    record = record_of(found.athlete, recordings=False)
    test = test_in(record, found)
    rows = jump_rows(found, test)
    figures = [
        {
            "number": number,
            "jumps": [rows[jump - 1] for jump in jumps],
            "feet": any(_has_feet(found.analysis["jumps"][jump - 1]) for jump in jumps),
        }
        for number, jumps in enumerate(found.analysis.get("figures", []), start=1)
    ]
    load = float(found.options.get("load_kg", 0.0))
    context = {
        "athlete": found.athlete,
        "recording": found,
        "in_record": test is not None,
        "rows": rows,
        "figures": figures,
        "most_figures": MOST_FIGURES,
        "weight": weight_remark(found.analysis, found.athlete, found.date, load),
        "form": form or OptionsForm(initial=OptionsForm.initial_of(found.options)),
        "may_edit": may_edit(user_of(request), found.athlete),
    }
    return render(request, "testdays/recording.html", context, status=status)


@login_required
@require_safe
def figure(request: HttpRequest, recording_id: int, number: int) -> HttpResponse:
    """Specification of one figure of a recording."""
    found = _recording_for(request, recording_id)
    path = figure_path(found, number)
    if not path.is_file() and number <= min(len(found.analysis.get("figures", [])), MOST_FIGURES):
        look_again(found)
    if not path.is_file():
        raise Http404
    specification = json.loads(path.read_text(encoding="utf-8"))
    if request.GET.get("dark"):
        specification = darkened(specification)
    return JsonResponse(localised(trace_told(specification)))


@login_required
@require_safe
def original(request: HttpRequest, recording_id: int) -> FileResponse:
    """The file as it came."""
    found = _recording_for(request, recording_id)
    path = file_path(found)
    if not path.is_file():
        raise Http404
    return FileResponse(
        path.open("rb"),
        as_attachment=True,
        filename=found.name,
        content_type="application/octet-stream",
    )


@login_required
@require_POST
def options(request: HttpRequest, recording_id: int) -> HttpResponse:
    """Read a recording in another way."""
    found = _recording_for(request, recording_id, edit=True)
    form = OptionsForm(request.POST)
    if not form.is_valid():
        return _page(request, found, form, 422)
    error = reread(found, form.options(), user_of(request))
    if error:
        form.add_error(None, error)
        return _page(request, found, form, 422)
    messages.success(request, _("Read again."))
    return redirect("recording", found.pk)


@login_required
@require_POST
def decision(request: HttpRequest, recording_id: int, number: int) -> HttpResponse:
    """Keep or drop one jump, or take the decision back."""
    found = _recording_for(request, recording_id, edit=True)
    jumps = found.analysis.get("jumps", [])
    if not 1 <= number <= len(jumps):
        raise Http404
    if "undo" in request.POST:
        decide(found, number, None, user_of(request), seen=request.POST.get("seen", ""))
        return _to_jump(found, number)
    form = DecisionForm(request.POST)
    if not form.is_valid():
        messages.error(request, _("Give a reason in a few words, please."))
        return _to_jump(found, number)
    keep = form.cleaned_data["keep"] == "yes"
    if keep and jumps[number - 1]["trust"] == "rejected":
        messages.error(request, _("This jump was rejected: it cannot count."))
        return _to_jump(found, number)
    decided = JumpDecision(number, keep, form.cleaned_data["why"])
    decide(found, number, decided, user_of(request), seen=form.cleaned_data["seen"])
    return _to_jump(found, number)


def _has_feet(jump: Mapping[str, Any]) -> bool:
    """Whether each foot stood on a plate of its own."""
    return any(name.startswith("left_right_") for name in jump["measures"])


def _to_jump(found: StoredRecording, number: int) -> HttpResponse:
    response = redirect("recording", found.pk)
    response["Location"] += f"#jump-{number}"
    return response


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def remove(request: HttpRequest, recording_id: int) -> HttpResponse:
    """Take a recording out of the record."""
    found = _recording_for(request, recording_id, edit=True)
    if request.method == "POST":
        athlete = found.athlete
        take_out(found, user_of(request))
        messages.success(request, _("The recording was taken out of the record."))
        return redirect("recordings", athlete.pk)
    return render(
        request, "testdays/recording_remove.html", {"recording": found, "athlete": found.athlete}
    )


def _incoming_for(request: HttpRequest, incoming_id: UUID) -> IncomingRecording:
    """A waiting file of a squad that this person may change; 404 otherwise."""
    from saltus.web.access import squads_of

    found = IncomingRecording.objects.filter(
        pk=incoming_id, squad__in=squads_of(user_of(request), edit=True)
    ).first()
    if found is None:
        raise Http404
    return found


def _home_of(incoming: IncomingRecording) -> HttpResponse:
    if incoming.test_day_id:
        return redirect("test-day-recordings", incoming.test_day_id)
    if incoming.athlete_id:
        return redirect("recordings", incoming.athlete_id)
    return redirect("test-days")


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def incoming_options(request: HttpRequest, incoming_id: UUID) -> HttpResponse:
    """Say how a file is to be read that does not say it itself."""
    found = _incoming_for(request, incoming_id)
    form = OptionsForm(request.POST or None, initial=OptionsForm.initial_of(found.options))
    if request.method == "POST" and form.is_valid():
        read_again(found, form.options())
        if not found.error:
            if found.test_day_id is None and found.athlete is not None:
                athlete_for(request, found.athlete_id, edit=True)
                stored = accept(found, found.athlete, user_of(request))
                messages.success(request, _("Read, and in the record."))
                return redirect("recording", stored.pk)
            messages.success(request, _("It can be read now."))
            return _home_of(found)
    context = {"form": form, "row": incoming_row(found), "incoming": found}
    status = 422 if request.method == "POST" else 200
    return render(request, "testdays/incoming.html", context, status=status)


@login_required
@require_POST
def incoming_discard(request: HttpRequest, incoming_id: UUID) -> HttpResponse:
    """Throw a waiting file away."""
    found = _incoming_for(request, incoming_id)
    home = _home_of(found)
    discard(found)
    messages.success(request, _("Thrown away: %(name)s") % {"name": found.name})
    return home
