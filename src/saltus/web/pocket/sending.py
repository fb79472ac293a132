"""What the phone asks for and sends: the bundle, and entries."""

from collections.abc import Callable
from functools import wraps
from typing import Concatenate, ParamSpec

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.views.decorators.csrf import ensure_csrf_cookie
from django.views.decorators.http import require_POST, require_safe

from saltus.web.access import own_record_for, user_of
from saltus.web.pocket.bundle import bundle
from saltus.web.pocket.entries import MOST_BYTES, Refusal, keep, read_request

__all__ = ["bundle_json", "entries"]

P = ParamSpec("P")


def _signed_in(
    view: Callable[Concatenate[HttpRequest, P], HttpResponse],
) -> Callable[Concatenate[HttpRequest, P], HttpResponse]:
    """Tell a script that nobody is signed in, rather than send it to the door."""

    @wraps(view)
    def told(request: HttpRequest, *args: P.args, **kwargs: P.kwargs) -> HttpResponse:
        if not request.user.is_authenticated:
            return JsonResponse({"why": "signed out"}, status=401)
        return view(request, *args, **kwargs)

    return told


@_signed_in
@require_safe
@ensure_csrf_cookie
def bundle_json(request: HttpRequest) -> HttpResponse:
    """Everything for the days around today."""
    return JsonResponse(
        bundle(own_record_for(request)), headers={"Cache-Control": "private, no-store"}
    )


@_signed_in
@require_POST
def entries(request: HttpRequest) -> HttpResponse:
    """Keep what a phone sends; what is named under ``kept`` is in the database."""
    if int(request.META.get("CONTENT_LENGTH") or 0) > MOST_BYTES:
        return JsonResponse({"why": "too large"}, status=413)
    athlete = own_record_for(request)
    try:
        device, sent, whose = read_request(request.body)
    except Refusal as error:
        return JsonResponse({"why": str(error)}, status=400)
    if whose not in (None, str(athlete.pk)):
        # Somebody else has signed in on this phone since: their entries are not these.
        return JsonResponse({"why": "another account"}, status=409)
    kept = keep(athlete, user_of(request), device, sent)
    return JsonResponse({"kept": kept.kept, "refused": kept.refused})
