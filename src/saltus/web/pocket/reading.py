"""What an athlete reads of themselves: results with their trend, and the plan."""

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from saltus.errors import SaltusError
from saltus.web.access import own_record_for
from saltus.web.assessments import latest
from saltus.web.athletes.about_now import about_now
from saltus.web.athletes.figures_told import qualities_told
from saltus.web.athletes.record_told import record_told
from saltus.web.athletes.recording_names import names_of
from saltus.web.athletes.tables import jump_table
from saltus.web.athletes.views import chart_of
from saltus.web.models import Athlete
from saltus.web.plans.stored import held, method_of_plan, plan_of
from saltus.web.plans.told import tell
from saltus.web.records import record_of
from saltus.web.units import current_units

__all__ = ["chart", "plan", "results"]

_ROWS_SHOWN = 12
_CHARTS = frozenset({"jump"})


@login_required
@require_safe
def results(request: HttpRequest) -> HttpResponse:
    """Own tests, and how the jump goes."""
    athlete = own_record_for(request)
    kept = latest(athlete)
    context: dict[str, Any] = {"athlete": athlete, "kept": kept}
    try:
        # What the coach notes beside a test is the coach's.
        told = about_now(athlete, kept)
        names = names_of(athlete)
        context |= record_told(told, health=False, names=names)
    except SaltusError:
        context["fault"] = _("Your results could not be read: tell your coach.")
    if kept is not None:
        context |= {
            "document": kept.document,
            "jump_table": jump_table(kept.document, _ROWS_SHOWN),
            "qualities": qualities_told(kept.document),
        }
    return render(request, "pocket/results.html", context)


@login_required
@require_safe
def chart(request: HttpRequest, name: str) -> HttpResponse:
    """Specification of a chart of one's own."""
    athlete = own_record_for(request)
    if name not in _CHARTS:
        raise Http404
    return chart_of(request, athlete, name)


@login_required
@require_safe
def plan(request: HttpRequest) -> HttpResponse:
    """The plan that holds, from this week on."""
    athlete = own_record_for(request)
    return render(request, "pocket/plan.html", {"athlete": athlete} | _plan(athlete))


def _plan(athlete: Athlete) -> dict[str, Any]:
    stored, today = held(athlete), timezone.localdate()
    if stored is None:
        return {}
    try:
        method = method_of_plan(athlete, stored)
        found = plan_of(stored, method)
        record = record_of(athlete, recordings=False)
        phases = tell(found, method, record, units=current_units.get(), today=today)
    except SaltusError:
        return {"fault": _("The plan could not be read: tell your coach.")}
    return {"stored": stored, "phases": phases, "cautions": found.cautions, "today": today}
