"""Earlier plans: which there were, what one said, and how the plan that holds differs from it."""

from dataclasses import dataclass

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET

from saltus.errors import SaltusError
from saltus.web.access import athlete_for, sees_health, user_of
from saltus.web.models import Athlete, StoredPlan
from saltus.web.plans.health import shown
from saltus.web.plans.stored import held, method_of_plan, plan_of, proposed
from saltus.web.plans.told import PhaseTold, tell
from saltus.web.plans.views import fault_words, told_beside
from saltus.web.records import record_of
from saltus.web.units import current_units

__all__ = ["Differences", "compared", "earlier", "earlier_plan"]


@dataclass(frozen=True, slots=True)
class Differences:
    """How many days differ between two plans."""

    new: int
    changed: int
    gone: int

    @property
    def any(self) -> bool:
        """Whether anything differs."""
        return bool(self.new or self.changed or self.gone)


@login_required
@require_GET
def earlier(request: HttpRequest, athlete_id: object) -> HttpResponse:
    """Every plan there was, the newest first."""
    athlete = athlete_for(request, athlete_id)
    health = sees_health(user_of(request), athlete)
    holds, proposal = held(athlete), proposed(athlete)
    rows = [
        {
            "plan": stored,
            "what": _asked_words(stored, sees_health=health),
            "holds": stored == holds,
            "open": stored == proposal,
        }
        for stored in athlete.plans.defer("plan", "changes", "breaches").select_related("by")
    ]
    return render(request, "plans/earlier.html", {"athlete": athlete, "rows": rows})


@login_required
@require_GET
def earlier_plan(request: HttpRequest, athlete_id: object, number: int) -> HttpResponse:
    """A plan as it was, to read."""
    return _page(request, athlete_for(request, athlete_id), number, against_held=False)


@login_required
@require_GET
def compared(request: HttpRequest, athlete_id: object, number: int) -> HttpResponse:
    """What differs between a plan of before and the one that holds."""
    return _page(request, athlete_for(request, athlete_id), number, against_held=True)


def _page(
    request: HttpRequest, athlete: Athlete, number: int, *, against_held: bool
) -> HttpResponse:
    stored = athlete.plans.filter(number=number).select_related("by").first()
    if stored is None:
        raise Http404
    holds, today = held(athlete), timezone.localdate()
    if stored in (holds, proposed(athlete)):
        return redirect("plan", athlete_id=athlete.pk)
    if against_held and holds is None:
        return redirect("earlier-plan", athlete_id=athlete.pk, number=number)
    health = sees_health(user_of(request), athlete)
    # What came later is laid out, and what differs from the one before is marked.
    later, before = stored, None
    if against_held and holds is not None:
        later, before = (stored, holds) if stored.number > holds.number else (holds, stored)
    context = {
        "athlete": athlete,
        "stored": stored,
        "what": _asked_words(stored, sees_health=health),
        "holds": holds,
        "against_held": against_held,
        "later_holds": later is holds,
        "today": today,
    }
    try:
        record = record_of(athlete, recordings=False)
        method = method_of_plan(athlete, later)
        plan = plan_of(later, method)
        phases = tell(
            plan,
            method,
            record,
            units=current_units.get(),
            today=today,
            before=None if before is None else plan_of(before, method_of_plan(athlete, before)),
        )
    except SaltusError as error:
        fault = fault_words(str(error), sees_health=health)
        return render(request, "plans/earlier_plan.html", context | {"fault": fault})
    context |= {"plan": plan, "phases": phases}
    if against_held:
        context["differences"] = _differences(phases)
        return render(request, "plans/earlier_plan.html", context)
    broken = [each["text"] for each in stored.breaches]
    context |= told_beside(plan, stored, broken, sees_health=health)
    return render(request, "plans/earlier_plan.html", context)


def _asked_words(stored: StoredPlan, *, sees_health: bool) -> str:
    """What was asked for, where a person may read it."""
    if shown([stored.what], sees_health=sees_health).hidden:
        return _("for a reason that is not shown to you")
    return stored.what


def _differences(phases: tuple[PhaseTold, ...]) -> Differences:
    days = [day for phase in phases for week in phase.weeks for day in week.days]
    changes = [day.session.change for day in days if day.session is not None]
    return Differences(
        new=changes.count("new"),
        changed=changes.count("changed"),
        gone=sum(bool(day.gone) for day in days),
    )
