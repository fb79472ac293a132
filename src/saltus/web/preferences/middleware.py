"""Each person's language and units, for the length of a request."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.utils import translation
from django.utils.translation import get_language_from_request

from saltus.web.models import User
from saltus.web.units import Units, current_units

__all__ = ["PreferencesMiddleware"]


class PreferencesMiddleware:
    """Activates the language and the units of whoever is signed in."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]):
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Handle a request in this person's words."""
        user = request.user
        known = isinstance(user, User)
        language = user.language if known and user.language else get_language_from_request(request)
        units = Units(user.length_unit, user.mass_unit) if known else Units()
        token = current_units.set(units)
        try:
            with translation.override(language):
                response = self.get_response(request)
            response.headers.setdefault("Content-Language", language)
            return response
        finally:
            current_units.reset(token)
