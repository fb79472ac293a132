"""How an athlete is doing: what really changed, what training brought and cost, what to do now."""

from typing import Any
from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_POST, require_safe

from saltus.errors import SaltusError, UsageError
from saltus.progress.replanning import Cause
from saltus.web.access import athlete_for, may_edit, sees_health, user_of
from saltus.web.assessments import latest
from saltus.web.following.gathered import Gathered
from saltus.web.following.tables import (
    changes_told,
    landings_table,
    place_table,
    response_table,
    session_load_table,
)
from saltus.web.models import Athlete
from saltus.web.plans.views import fault_words
from saltus.web.plans.working_out import Asked, begin

__all__ = ["chart", "follow", "plan_again"]

_RISES_SHOWN = 3
_CHANGES_SHOWN = 6
_PLACES_SHOWN = 6


@login_required
@require_safe
def follow(request: HttpRequest, athlete_id: UUID) -> HttpResponse:
    """Everything that follows an athlete, on one page."""
    athlete = athlete_for(request, athlete_id)
    health = sees_health(user_of(request), athlete)
    context = {
        "athlete": athlete,
        "may_edit": may_edit(user_of(request), athlete),
        "sees_health": health,
    }
    try:
        return render(request, "following/follow.html", context | _page(athlete, health=health))
    except SaltusError as error:
        fault = fault_words(str(error), sees_health=health)
        return render(request, "following/follow.html", context | {"fault": fault})


@login_required
@require_safe
def chart(request: HttpRequest, athlete_id: UUID, name: str) -> HttpResponse:
    """Specification of a chart."""
    from saltus.web.following.charts import chart_specification

    athlete = athlete_for(request, athlete_id)
    health = sees_health(user_of(request), athlete)
    try:
        specified = chart_specification(
            name, _gathered(athlete), health=health, dark=request.GET.get("dark") == "1"
        )
    except SaltusError as error:
        raise Http404 from error
    if specified is None:
        raise Http404
    return JsonResponse(specified, headers={"Cache-Control": "private, no-cache"})


@login_required
@require_POST
def plan_again(request: HttpRequest, athlete_id: UUID) -> HttpResponse:
    """Have the plan worked out anew for every reason there is; the coach decides on the result."""
    athlete = athlete_for(request, athlete_id, edit=True)
    gathered = _gathered(athlete)
    plan = gathered.plan
    if plan is None or gathered.stored is None:
        raise UsageError(_("There is no plan to work out anew: make one first."))
    missed = tuple(day for each in gathered.proposals for day in each.missed)
    today = gathered.today
    begin(
        athlete,
        user_of(request),
        Asked(
            what=_what(gathered),
            start=max(today, plan.start),
            missed=missed,
            shipped=not gathered.stored.method_name,
            pins=plan.pins,
        ),
    )
    return redirect("plan", athlete_id=athlete.pk)


_CAUSES = {
    Cause.MOVED_DATE: gettext_lazy("the day that counts moved"),
    Cause.BLOCKED: gettext_lazy("blocked days"),
    Cause.MISSED: gettext_lazy("missed sessions"),
    Cause.PLATEAU: gettext_lazy("a plateau"),
    Cause.TESTED: gettext_lazy("new tests"),
}


def _what(gathered: Gathered) -> str:
    """Why it is worked out anew, in words that everybody may read."""
    causes = dict.fromkeys(each.cause for each in gathered.proposals)
    told = [str(_CAUSES[cause]) for cause in causes if cause in _CAUSES]
    if not told:
        return _("Planned again")
    return _("Planned again: %(causes)s") % {"causes": ", ".join(told)}


def _gathered(athlete: Athlete) -> Gathered:
    return Gathered(athlete, timezone.localdate(), latest(athlete))


def _page(athlete: Athlete, *, health: bool) -> dict[str, Any]:
    gathered = _gathered(athlete)
    told, weeks = gathered.told, gathered.weeks
    proposals = gathered.proposals
    changes = changes_told(told.get("changes", ()))
    shown = [each for each in proposals if health or not each.cause.health]
    places = gathered.places[:_PLACES_SHOWN] if health else ()
    return {
        "told": told,
        "changes": changes[:_CHANGES_SHOWN],
        "more_changes": changes[_CHANGES_SHOWN:],
        "whole": next(iter(changes_told([told["since_first"]])), None)
        if len(changes) > 1 and told.get("since_first")
        else None,
        "plateaus": list(told.get("plateau", {}).items()),
        "learnt": [each["text"] for each in told.get("learnt", {}).values()],
        "errors": told.get("errors", ()),
        "response": response_table(told["response"]) if told.get("response") else None,
        "retest": gathered.retest,
        "weeks": weeks,
        "rated": any(week.session_load is not None for week in weeks),
        "load_table": session_load_table(weeks),
        "landed": any(week.landings for week in weeks),
        "landings_table": landings_table(weeks),
        "rises": [each.text for each in gathered.rises[-_RISES_SHOWN:]][::-1],
        "places": [(place, place_table(place)) for place in places],
        "plan": gathered.stored,
        "proposals": shown,
        "hidden": len(shown) < len(proposals),
    }
