"""Who did what."""

from itertools import islice

from django.contrib.auth.decorators import login_required
from django.db.models import Q
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from saltus.web.access import user_of
from saltus.web.models import AuditEntry, Revision

__all__ = ["history"]

_ON_A_PAGE = 100


@login_required
@require_GET
def history(request: HttpRequest) -> HttpResponse:
    """Changes to the records of own squads, and actions on them or by this person."""
    user = user_of(request)
    entries = AuditEntry.objects.filter(Q(squad__owner=user) | Q(by=user)).select_related(
        "by", "squad", "athlete", "about"
    )
    revisions = (
        Revision.objects.filter(athlete__squad__owner=user)
        .select_related("by", "athlete", "athlete__squad")
        .defer("text", "athlete__text")
        .order_by("-at", "-pk")
    )
    start = max(int(request.GET["from"]), 0) if request.GET.get("from", "").isdecimal() else 0
    # Two sorted lists, merged; neither is read further than this page needs.
    end = start + _ON_A_PAGE
    merged = sorted(
        [*entries[: end + 1], *revisions[: end + 1]], key=lambda row: row.at, reverse=True
    )
    rows = [
        {"entry": row} if isinstance(row, AuditEntry) else {"revision": row}
        for row in islice(merged, start, end)
    ]
    return render(
        request,
        "preferences/history.html",
        {
            "rows": rows,
            "later": max(start - _ON_A_PAGE, 0) if start else None,
            "earlier": end if len(merged) > end else None,
        },
    )
