"""The page of one athlete."""

import hashlib
import logging
from typing import Any
from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseNotModified, JsonResponse
from django.shortcuts import render
from django.utils.translation import get_language
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from saltus.athlete.cautions import NO_MEDICAL_ADVICE
from saltus.athlete.provenance import WORTH
from saltus.athlete.qualities import Quality
from saltus.athlete.worth import what_if_draws
from saltus.errors import SaltusError
from saltus.web.access import athlete_for, may_edit, sees_health, user_of
from saltus.web.assessments import inputs_of, kept_draws, latest, up_to_date
from saltus.web.athletes.about_now import about_now
from saltus.web.athletes.figures_told import qualities_told
from saltus.web.athletes.forms import WhatIfForm
from saltus.web.athletes.record_told import record_told
from saltus.web.athletes.recording_names import names_of, with_names
from saltus.web.athletes.tables import (
    force_velocity_table,
    jump_table,
    provenance_table,
    quality_table,
    table_named,
    worth_table,
)
from saltus.web.faults import record_fault_words
from saltus.web.models import Athlete, StoredAssessment
from saltus.web.units import current_units

__all__ = ["assessment", "athlete", "chart", "chart_of", "table", "tests", "what_if"]

_log = logging.getLogger(__name__)

_REVISIONS_SHOWN = 8
_ROWS_SHOWN = 12
_TESTS_SHOWN = 12
_TESTS_SHOWN_OF_WORTH = 4


@login_required
@require_safe
def athlete(request: HttpRequest, athlete_id: UUID) -> HttpResponse:
    """Everything about one athlete."""
    found = athlete_for(request, athlete_id)
    return render(request, "athletes/athlete.html", _page(request, found, latest(found)))


@login_required
@require_safe
def assessment(request: HttpRequest, athlete_id: UUID) -> HttpResponse:
    """The assessment, worked out now where it is out of date: in part for htmx, else the page."""
    found = athlete_for(request, athlete_id)
    fault = ""
    try:
        kept: StoredAssessment | None = up_to_date(found)
    except SaltusError as error:
        kept, fault = latest(found), _sentence(request, found, error)
    except (ValueError, ArithmeticError):
        _log.exception("An assessment failed")
        kept = latest(found)
        fault = _("The figures could not be worked out. The fault is ours, and was noted.")
    if request.htmx:  # type: ignore[attr-defined]
        context = _assessed(request, found, kept) | {"fault": fault}
        return render(request, "athletes/_assessment.html", context)
    context = _page(request, found, kept) | {"fault": fault}
    return render(request, "athletes/athlete.html", context)


@login_required
@require_safe
def what_if(request: HttpRequest, athlete_id: UUID) -> HttpResponse:
    """The jump if qualities were other than they are."""
    found = athlete_for(request, athlete_id)
    kept = latest(found)
    if kept is None:
        raise Http404
    if request.htmx:  # type: ignore[attr-defined]
        context = {"athlete": found} | _supposed(request, kept)
        return render(request, "athletes/_what_if_answer.html", context)
    return render(request, "athletes/athlete.html", _page(request, found, kept))


@login_required
@require_safe
def chart(request: HttpRequest, athlete_id: UUID, name: str) -> HttpResponse:
    """Specification of a chart; a browser that has it already is told so."""
    return chart_of(request, athlete_for(request, athlete_id), name)


def chart_of(request: HttpRequest, found: Athlete, name: str) -> HttpResponse:
    """The same of an athlete whom the reader may see."""
    from saltus.web.athletes.charts import chart_specification

    kept = latest(found)
    if kept is None:
        raise Http404
    dark = request.GET.get("dark") == "1"
    parts = (kept.inputs, kept.at.isoformat(), name, dark, current_units.get(), get_language())
    tag = f'"{hashlib.sha256(repr(parts).encode()).hexdigest()[:32]}"'
    if request.headers.get("If-None-Match") == tag:
        return HttpResponseNotModified(headers={"ETag": tag})
    specified = chart_specification(name, kept.document, dark=dark)
    if specified is None:
        raise Http404
    return JsonResponse(specified, headers={"ETag": tag, "Cache-Control": "private, no-cache"})


@login_required
@require_safe
def table(request: HttpRequest, athlete_id: UUID, name: str) -> HttpResponse:
    """All rows of a table of which the page shows the first."""
    found = athlete_for(request, athlete_id)
    kept = latest(found)
    told = None if kept is None else table_named(kept.document, name)
    if told is None:
        raise Http404
    return render(request, "athletes/table.html", {"athlete": found, "table": told})


@login_required
@require_safe
def tests(request: HttpRequest, athlete_id: UUID) -> HttpResponse:
    """Every test on record."""
    found = athlete_for(request, athlete_id)
    health = sees_health(user_of(request), found)
    facts, fault = _about(request, found, latest(found))
    names = names_of(found)
    told = {} if facts is None else record_told(facts, health=health, names=names)
    context = {"athlete": found, "record_fault": fault, "sees_health": health} | told
    return render(request, "athletes/tests.html", context)


def _page(request: HttpRequest, found: Athlete, kept: StoredAssessment | None) -> dict[str, Any]:
    """What the whole page shows."""
    person = user_of(request)
    facts, fault = _about(request, found, kept)
    health = sees_health(person, found)
    recordings = list(found.recordings.defer("analysis", "decisions", "options"))
    told = {}
    if facts is not None:
        told = record_told(
            facts, health=health, most=_TESTS_SHOWN, names=names_of(found, recordings)
        )
    return (
        {
            "record_fault": fault,
            "recordings": recordings,
            "revisions": found.revisions.defer("text").select_related("by")[:_REVISIONS_SHOWN],
        }
        | told
        | _assessed(request, found, kept)
    )


def _about(
    request: HttpRequest, found: Athlete, kept: StoredAssessment | None
) -> tuple[dict[str, Any] | None, str]:
    """What the record tells, from what was kept if that is of this revision."""
    try:
        return about_now(found, kept), ""
    except SaltusError as error:
        return None, _sentence(request, found, error)


def _sentence(request: HttpRequest, found: Athlete, error: SaltusError) -> str:
    """What is wrong, as far as the reader may know."""
    return record_fault_words(str(error), sees_health=sees_health(user_of(request), found))


def _assessed(
    request: HttpRequest, found: Athlete, kept: StoredAssessment | None
) -> dict[str, Any]:
    """What the partial of the assessment shows."""
    health = sees_health(user_of(request), found)
    context = {
        "athlete": found,
        "kept": kept,
        "stale": True,
        "sees_health": health,
        "may_edit": may_edit(user_of(request), found),
    }
    if kept is None:
        return context
    document = kept.document
    # The foot of every page says the first; the others are not for everybody.
    hidden = {NO_MEDICAL_ADVICE} | (set() if health else set(document["health_cautions"]))
    named = document["limiting"]["quality"] or document["limiting"]["leading"]
    return (
        context
        | {
            "stale": kept.inputs != inputs_of(found),
            "document": document,
            "cautions": with_names(
                (caution for caution in document["cautions"] if caution not in hidden), found
            ),
            "outlying": with_names(document["fit"]["outlying"], found),
            "leading": next(each for each in document["worth"] if each["quality"] == named),
            "second": next(each for each in document["worth"] if each["quality"] != named),
            "best_test": next(iter(document["next_tests"]), None),
            "jump_from": provenance_table(document, "jump", _TESTS_SHOWN),
            "qualities": [
                each
                | {
                    "table": quality_table(document, Quality(each["name"]), _ROWS_SHOWN),
                    "from": provenance_table(document, each["name"], _TESTS_SHOWN),
                }
                for each in qualities_told(document)
            ],
            "jump_table": jump_table(document, _ROWS_SHOWN),
            "worth_table": worth_table(document),
            "worth_from": [
                {
                    "quality": each["quality"],
                    "table": provenance_table(
                        document, f"{WORTH}{each['quality']}", _TESTS_SHOWN_OF_WORTH
                    ),
                }
                for each in document["worth"]
            ],
            "untested": not document["provenance"]["readings"],
            "force_velocity_table": force_velocity_table(document),
        }
        | _supposed(request, kept)
    )


def _supposed(request: HttpRequest, kept: StoredAssessment) -> dict[str, Any]:
    """The question "what if" as it was put, and its answer where there is one."""
    document = kept.document
    form = WhatIfForm(request.GET, body_mass=document["body_mass_effect_m"] is not None)
    if not form.asked or not form.is_valid():
        return {"what_if": form, "supposed": None}
    state, segment = kept_draws(kept)
    jump, change = what_if_draws(
        state,
        segment,
        document["body_mass_kg"],
        form.factors,
        mass_change_kg=form.mass_change_kg,
    )
    return {
        "what_if": form,
        "supposed": {
            name: {"estimate": told.value, "low": told.low, "high": told.high}
            for name, told in (("jump", jump), ("change", change))
        },
    }
