"""For the coach: invite an athlete to their own page, take it away, and read their log."""

import datetime as dt
from io import BytesIO
from ipaddress import ip_address
from typing import Any
from uuid import UUID

import segno
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.http.request import split_domain_port
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from saltus.errors import SaltusError
from saltus.training.gates import treated_as_minor
from saltus.training.phases import monday_of
from saltus.web.access import athlete_for, own_athlete_for, sees_health, user_of
from saltus.web.audit import note
from saltus.web.faults import record_fault_words
from saltus.web.methods.using import method_of
from saltus.web.models import Athlete, AuditEntry
from saltus.web.plans.held_then import planned_between
from saltus.web.pocket import invitations
from saltus.web.pocket.logtold import weeks_told
from saltus.web.records import record_of

__all__ = ["code", "end_account", "invite", "log", "withdraw"]

_WEEKS_ON_A_PAGE = 12


@login_required
@require_http_methods(["GET", "POST"])
def invite(request: HttpRequest, athlete_id: UUID) -> HttpResponse:
    """The link and the code for an athlete, or who has taken it up."""
    athlete = own_athlete_for(request, athlete_id)
    if athlete.archived is not None:
        raise Http404
    if request.method == "POST":
        invitations.invite(athlete, user_of(request))
        return redirect("invite-athlete", athlete.pk)
    invitation = invitations.open_of(athlete) if athlete.account_id is None else None
    return render(
        request,
        "pocket/invite.html",
        {
            "athlete": athlete,
            "invitation": invitation,
            "link": invitations.link_of(request, invitation) if invitation else "",
            "minor": _minor(athlete),
            "here_only": _here_only(request),
        },
    )


def _here_only(request: HttpRequest) -> bool:
    """Whether the page is open at an address that only this machine knows."""
    host = split_domain_port(request.get_host())[0].strip("[]")
    if host == "localhost" or host.endswith(".localhost"):
        return True
    try:
        return ip_address(host).is_loopback
    except ValueError:
        return False


def _minor(athlete: Athlete) -> bool:
    try:
        person = record_of(athlete, recordings=False).person
    except SaltusError:
        return True
    return treated_as_minor(person, timezone.localdate())


@login_required
@require_safe
def code(request: HttpRequest, athlete_id: UUID, invitation_id: int) -> HttpResponse:
    """The link as a QR code (ISO/IEC 18004), as a picture of its own."""
    athlete = own_athlete_for(request, athlete_id)
    invitation = get_object_or_404(athlete.invitations, pk=invitation_id)
    if not invitation.holds:
        raise Http404
    drawn = BytesIO()
    segno.make_qr(invitations.link_of(request, invitation), error="m").save(
        drawn, kind="svg", scale=6, border=4, dark="#000", light="#fff", xmldecl=True
    )
    return HttpResponse(
        drawn.getvalue(),
        content_type="image/svg+xml",
        headers={"Cache-Control": "private, no-store"},
    )


@login_required
@require_POST
def withdraw(request: HttpRequest, athlete_id: UUID, invitation_id: int) -> HttpResponse:
    """Make a link useless."""
    athlete = own_athlete_for(request, athlete_id)
    found = get_object_or_404(athlete.invitations, pk=invitation_id, used=None, withdrawn=None)
    found.withdrawn = timezone.now()
    found.save(update_fields=["withdrawn"])
    note(user_of(request), AuditEntry.Action.ATHLETE_INVITATION_WITHDRAWN, athlete=athlete)
    messages.success(request, _("The link no longer works."))
    return redirect("invite-athlete", athlete.pk)


@login_required
@require_POST
def end_account(request: HttpRequest, athlete_id: UUID) -> HttpResponse:
    """Take an athlete's sign-in away."""
    athlete = own_athlete_for(request, athlete_id)
    invitations.end_account(athlete, user_of(request))
    messages.success(request, _("%(athlete)s can no longer sign in.") % {"athlete": athlete.name})
    return redirect("invite-athlete", athlete.pk)


@login_required
@require_safe
def log(request: HttpRequest, athlete_id: UUID) -> HttpResponse:
    """What was planned and what was done, week by week, the latest first."""
    athlete = athlete_for(request, athlete_id)
    user = user_of(request)
    health = sees_health(user, athlete)
    start = max(int(request.GET["from"]), 0) if request.GET.get("from", "").isdecimal() else 0
    context: dict[str, Any] = {"athlete": athlete, "sees_health": health}
    try:
        context |= _weeks(athlete, start, health=health)
    except SaltusError as error:
        context["fault"] = record_fault_words(str(error), sees_health=health)
    return render(request, "pocket/log.html", context)


def _weeks(athlete: Athlete, start: int, *, health: bool) -> dict[str, Any]:
    record, today = record_of(athlete, recordings=False), timezone.localdate()
    if not record.log:
        return {"weeks": []}
    dates = [each.date for each in record.log]
    newest = monday_of(max([today, *dates]))
    count = (newest - monday_of(min(dates))).days // 7 + 1
    mondays = [
        newest - dt.timedelta(weeks=each)
        for each in range(start, min(start + _WEEKS_ON_A_PAGE, count))
    ]
    method = method_of(athlete.squad)
    planned = {}
    if mondays:
        # A session may have been moved from the week before, or from the one after.
        planned = planned_between(
            athlete,
            mondays[-1] - dt.timedelta(weeks=1),
            mondays[0] + dt.timedelta(weeks=2),
            logged=[each.planned for each in record.log if each.planned is not None],
        )
    later = max(start - _WEEKS_ON_A_PAGE, 0) if start else None
    earlier = start + _WEEKS_ON_A_PAGE
    return {
        "weeks": weeks_told(mondays, record, planned, method, today=today, health=health),
        "later": later,
        "earlier": earlier if earlier < count else None,
    }
