"""What a copy of the method said before, and having it again."""

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods

from saltus.errors import Fault, MethodError
from saltus.web.access import method_for
from saltus.web.methods.saving import Outcome, saved
from saltus.web.texts import difference, with_lines

__all__ = ["revision", "revisions"]


@login_required
@require_GET
def revisions(request: HttpRequest, method_id: int) -> HttpResponse:
    """What was changed in a copy, and when."""
    found = method_for(request, method_id)
    context = {"copy": found, "revisions": found.revisions.defer("text")}
    return render(request, "methods/history.html", context)


@login_required
@require_http_methods(["GET", "POST"])
def revision(request: HttpRequest, method_id: int, number: int) -> HttpResponse:
    """What a revision changed and how it differs from the copy of today; have it back."""
    found = method_for(request, method_id)
    old = found.revisions.filter(number=number).first()
    if old is None:
        raise Http404
    outcome: Outcome | None = None
    faults: list[tuple[Fault, str]] = []
    if request.method == "POST":

        def blame(error: MethodError) -> None:
            faults.extend(with_lines(error, old.text))

        outcome = saved(
            request,
            found,
            lambda: old.text,
            blame,
            what=_("back to revision %(n)s") % {"n": number},
        )
        if outcome.saved:
            return redirect("method", found.pk)
    before = found.revisions.filter(number__lt=number).first()
    context = {
        "copy": found,
        "revision": old,
        "changed": difference(before.text, old.text) if before else [],
        "since": difference(old.text, found.text),
        "faults": faults,
        "brings": outcome and outcome.brings,
        "seen": outcome.seen if outcome else "",
    }
    return render(request, "methods/revision.html", context, status=422 if faults else 200)
