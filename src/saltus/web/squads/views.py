"""The squad page."""

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from saltus.web.access import athletes_of, user_of

__all__ = ["squad"]


@login_required
def squad(request: HttpRequest) -> HttpResponse:
    """Who they are."""
    athletes = athletes_of(user_of(request)).select_related("squad", "assessment")
    return render(request, "squads/squad.html", {"athletes": athletes})
