"""The record as text, and as it was before."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods

from saltus.errors import Fault, RecordError
from saltus.record import parse
from saltus.web.access import athlete_for, may_edit, sees_health, user_of
from saltus.web.editing.forms import TextForm
from saltus.web.editing.views import revision_seen
from saltus.web.models import Athlete
from saltus.web.records import change_text, restore_revision
from saltus.web.texts import difference, with_lines

__all__ = ["revision", "revisions", "text"]


@login_required
@require_http_methods(["GET", "POST"])
def text(request: HttpRequest, athlete_id: object) -> HttpResponse:
    """Read the text; whoever may edit also changes it, with every fault told by its line."""
    athlete = _whole(request, athlete_id)
    user = user_of(request)
    editable = may_edit(user, athlete)
    if request.method == "POST" and not editable:
        raise Http404
    form = TextForm(request.POST or None, initial={"text": athlete.text})
    faults: list[tuple[Fault, str]] = []
    if request.method == "POST":
        seen = revision_seen(request, athlete)
        if form.is_valid():
            new = form.cleaned_data["text"]
            try:
                what = form.cleaned_data["what"] or _("text changed")
                change_text(athlete, user, new, what=what, revision=seen)
            except RecordError as error:
                faults = with_lines(error, new)
            else:
                messages.success(request, _("The record is saved."))
                return redirect("record", athlete_id=athlete.pk)
    elif editable:
        try:
            parse(athlete.text, recordings=False)
        except RecordError as error:
            faults = with_lines(error, athlete.text)
    context = {"athlete": athlete, "form": form, "faults": faults, "may_edit": editable}
    status = 422 if form.is_bound else 200
    return render(request, "editing/text.html", context, status=status)


@login_required
@require_GET
def revisions(request: HttpRequest, athlete_id: object) -> HttpResponse:
    """Who changed the record, when, and what they did."""
    athlete = _whole(request, athlete_id)
    found = athlete.revisions.select_related("by").defer("text")
    return render(request, "editing/history.html", {"athlete": athlete, "revisions": found})


@login_required
@require_http_methods(["GET", "POST"])
def revision(request: HttpRequest, athlete_id: object, number: int) -> HttpResponse:
    """What a revision changed and how it differs from the record of today; have it back."""
    athlete = _whole(request, athlete_id)
    user = user_of(request)
    editable = may_edit(user, athlete)
    found = athlete.revisions.select_related("by").filter(number=number).first()
    if found is None:
        raise Http404
    if request.method == "POST":
        if not editable:
            raise Http404
        revision_seen(request, athlete)
        restore_revision(athlete, number, user)
        messages.success(
            request, _("The record says again what it said in revision %(n)s.") % {"n": number}
        )
        return redirect("record", athlete_id=athlete.pk)
    before = athlete.revisions.filter(number__lt=number).first()
    context = {
        "athlete": athlete,
        "revision": found,
        "changed": difference(before.text if before else "", found.text),
        "since": difference(found.text, athlete.text),
        "may_edit": editable and number != athlete.revision,
    }
    return render(request, "editing/revision.html", context)


def _whole(request: HttpRequest, athlete_id: object) -> Athlete:
    """An athlete whose text this person may read: health remarks stand in it."""
    athlete = athlete_for(request, athlete_id)
    if not sees_health(user_of(request), athlete):
        raise Http404
    return athlete
