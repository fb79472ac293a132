"""A fault of ours becomes a page with its sentence; one table says which status."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from saltus.errors import (
    MethodError,
    PlanError,
    RecordError,
    RecordingError,
    SaltusError,
    TestError,
    UsageError,
)
from saltus.web.records import EditedMeanwhile
from saltus.web.sentences import told

__all__ = ["STATUS", "FaultsMiddleware"]

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
        return render(request, "fault.html", {"sentence": told(str(exception))}, status=status)
