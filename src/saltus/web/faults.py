"""A fault of ours becomes a page with its sentence; one table says which status."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _

from saltus.errors import (
    MethodError,
    PlanError,
    RecordError,
    RecordingError,
    SaltusError,
    TestError,
    UsageError,
)
from saltus.web.access import athlete_for, sees_health, user_of
from saltus.web.records import EditedMeanwhile
from saltus.web.sentences import told

__all__ = ["STATUS", "FaultsMiddleware", "record_fault_words"]

STATUS: dict[type[SaltusError], int] = {
    EditedMeanwhile: 409,
    RecordError: 422,
    MethodError: 422,
    RecordingError: 422,
    TestError: 422,
    PlanError: 422,
    UsageError: 400,
    SaltusError: 500,
}


class FaultsMiddleware:
    """Turns a SaltusError that no view caught into a page."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]):
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Pass the request on."""
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, exception: Exception) -> HttpResponse | None:
        """Say what is wrong and what to do."""
        if not isinstance(exception, SaltusError):
            return None
        status = next(code for kind, code in STATUS.items() if isinstance(exception, kind))
        sentence = told(str(exception))
        if isinstance(exception, RecordError):
            sentence = _of_the_record(request, exception)
        number = request.resolver_match.kwargs.get("athlete_id") if request.resolver_match else None
        edited = number if isinstance(exception, EditedMeanwhile) else None
        context = {"sentence": sentence, "edited": edited}
        return render(request, "fault.html", context, status=status)


def _of_the_record(request: HttpRequest, error: RecordError) -> str:
    """Faults of a record, which may quote any part of it, for those who may read all of it.

    Where the file lies on this machine is nobody's business.
    """
    match = request.resolver_match
    number = match.kwargs.get("athlete_id") if match else None
    if number is not None and sees_health(user_of(request), athlete_for(request, number)):
        return "\n".join(told(str(fault)) for fault in error.faults)
    return record_fault_words("", sees_health=False)


def record_fault_words(fault: str, *, sees_health: bool) -> str:
    """A fault of a record, which may quote any part of it, for those who may read all of it."""
    if sees_health:
        return fault
    return _("The record cannot be used as it is: whose squad this is can see why.")
