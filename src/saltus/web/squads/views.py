"""The squad page, and what is done to several athletes at once."""

from collections.abc import Sequence
from typing import Any
from urllib.parse import urlencode
from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_GET, require_POST
from django_htmx.http import replace_url

from saltus.errors import UsageError
from saltus.web import background
from saltus.web.access import athletes_of, squads_of, user_of
from saltus.web.models import Athlete, AuditEntry, Squad, User
from saltus.web.squads.forms import SearchForm
from saltus.web.squads.rows import Row, rows_for

__all__ = ["bring_back", "deleted", "rows", "squad", "ticked"]

_UNDO = "undo_delete"


@login_required
@require_GET
def squad(request: HttpRequest) -> HttpResponse:
    """Who they are, how they jump, what comes next, and who needs the coach's eye."""
    user = user_of(request)
    squads = list(squads_of(user))
    groups = sorted(
        set(athletes_of(user).exclude(group="").order_by().values_list("group", flat=True))
    )
    form = SearchForm(request.GET, groups=groups, squads=squads)
    found = _asked(user, form)
    context = {
        "form": form,
        **_table(request, found),
        "squads": squads,
        "groups": groups,
        "archived": form.wanted().archived,
        "may_add": squads_of(user, edit=True).exists(),
        "undo": request.session.pop(_UNDO, None),
    }
    return render(request, "squads/squad.html", context)


@login_required
@require_GET
def rows(request: HttpRequest) -> HttpResponse:
    """The table alone, while somebody types a search or an assessment is being worked out."""
    user = user_of(request)
    squads = list(squads_of(user))
    form = SearchForm(request.GET, groups=[], squads=squads)
    found = _asked(user, form)
    context = {**_table(request, found), "squads": squads}
    table = render(request, "squads/_rows.html", context)
    if not request.htmx or request.htmx.trigger == "squad-rows":  # type: ignore[attr-defined]
        return table
    # Somebody asked for others: the button below fits them, and the address leads back to them.
    if squads_of(user, edit=True).exists():
        archiving = {"archived": form.wanted().archived, "anew": True}
        table.write(render_to_string("squads/_archiving.html", archiving, request))
    asked = urlencode(
        {name: text for name, text in request.GET.items() if text and name != "athlete"}
    )
    return replace_url(table, reverse("squad") + (f"?{asked}" if asked else ""))


@login_required
@require_POST
def ticked(request: HttpRequest) -> HttpResponse:
    """Put the ticked athletes into a group, archive, unarchive or delete them."""
    user = user_of(request)
    chosen = _ticked(request, athletes_of(user, edit=True))
    if not chosen:
        messages.warning(request, _("Nobody was ticked: tick those whom you mean first."))
        return redirect("squad")
    ids = [athlete.pk for athlete in chosen]
    named = _names(chosen)
    these = Athlete.objects.filter(pk__in=ids)
    action = request.POST.get("action")
    if action == "group":
        group = request.POST.get("group", "").replace("\0", "").strip()[:80]
        these.update(group=group)
        _audit(user, chosen, AuditEntry.Action.ATHLETE_GROUPED, detail=group)
        said = (
            _("%(names)s: now in %(group)s.") % {"names": named, "group": group}
            if group
            else _("%(names)s: in no group now.") % {"names": named}
        )
    elif action == "archive":
        these.update(archived=timezone.now())
        _audit(user, chosen, AuditEntry.Action.ATHLETE_ARCHIVED)
        said = _("%(names)s: archived. Choose “archived athletes” to see them.") % {"names": named}
    elif action == "unarchive":
        these.update(archived=None)
        _audit(user, chosen, AuditEntry.Action.ATHLETE_UNARCHIVED)
        said = _("%(names)s: back from the archive.") % {"names": named}
    elif action == "delete":
        these.update(deleted=timezone.now())
        _audit(user, chosen, AuditEntry.Action.ATHLETE_DELETED)
        request.session[_UNDO] = {"ids": [str(pk) for pk in ids], "names": named}
        return redirect("squad")
    else:
        raise UsageError(_("Choose what to do with them: group, archive or delete."))
    messages.success(request, said)
    return redirect("squad")


@login_required
@require_GET
def deleted(request: HttpRequest) -> HttpResponse:
    """Athletes that were deleted and can be brought back."""
    gone = _deleted_of(user_of(request)).select_related("squad").defer("text", "summary")
    return render(request, "squads/deleted.html", {"athletes": gone})


@login_required
@require_POST
def bring_back(request: HttpRequest) -> HttpResponse:
    """Undo a deletion."""
    user = user_of(request)
    chosen = _ticked(request, _deleted_of(user))
    Athlete.objects.filter(pk__in=[athlete.pk for athlete in chosen]).update(deleted=None)
    _audit(user, chosen, AuditEntry.Action.ATHLETE_BROUGHT_BACK)
    if chosen:
        messages.success(request, _("%(names)s: back in the squad.") % {"names": _names(chosen)})
    return redirect("squad")


def _asked(user: User, form: SearchForm) -> list[Row]:
    found = rows_for(user, form.wanted())
    background.ask(row.pk for row in found if row.stale)
    return found


def _table(request: HttpRequest, found: Sequence[Row]) -> dict[str, Any]:
    """What the table needs; ticks stay while it is drawn anew."""
    query = request.GET.copy()
    query.pop("athlete", None)
    return {
        "rows": found,
        "pending": sum(row.stale for row in found),
        "ticked": set(request.GET.getlist("athlete")),
        "query": query.urlencode(),
        "narrowed": any(query.values()),
    }


def _ticked(request: HttpRequest, among: QuerySet[Athlete]) -> list[Athlete]:
    ids = []
    for text in request.POST.getlist("athlete"):
        try:
            ids.append(UUID(text))
        except ValueError:
            continue
    return list(among.filter(pk__in=ids).defer("text", "summary")) if ids else []


def _names(athletes: Sequence[Athlete]) -> str:
    if len(athletes) <= 3:
        return ", ".join(athlete.name for athlete in athletes)
    return ngettext("%(count)s athlete", "%(count)s athletes", len(athletes)) % {
        "count": len(athletes)
    }


def _deleted_of(user: User) -> QuerySet[Athlete]:
    squads: QuerySet[Squad] = squads_of(user, edit=True)
    return Athlete.objects.filter(squad__in=squads, deleted__isnull=False)


def _audit(user: User, athletes: Sequence[Athlete], action: str, detail: str = "") -> None:
    AuditEntry.objects.bulk_create(
        AuditEntry(
            by=user, action=action, squad_id=athlete.squad_id, athlete=athlete, detail=detail
        )
        for athlete in athletes
    )
