"""Athletes get at their own page and nothing else, whatever addresses there are."""

from collections.abc import Callable
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect

from saltus.web.models import User

__all__ = ["AthletesMiddleware"]

_OPEN = frozenset({"sign-in", "sign-out", "first-account", "athlete-invitation", "one-time"})
_OWN = "pocket"
_DOOR = "squad"


class AthletesMiddleware:
    """Closes every page that is not an athlete's own to those who are no coaches."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]):
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Handle a request."""
        return self.get_response(request)

    def process_view(
        self, request: HttpRequest, _view: Any, _args: Any, _kwargs: Any
    ) -> HttpResponse | None:
        """Refuse a view to whom it is not for."""
        user = request.user
        if not isinstance(user, User) or user.is_coach:
            return None
        name = request.resolver_match.url_name or "" if request.resolver_match else ""
        if name in _OPEN or name == _OWN or name.startswith(f"{_OWN}-"):
            return None
        if name == _DOOR:
            return redirect(_OWN)
        raise Http404
