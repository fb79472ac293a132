"""What the squad page tells of each athlete, kept in `Athlete.summary`.

It is retold whenever the record changes, a plan is accepted or an assessment is kept, and
carries what it was told from; where that is out of date, :mod:`saltus.web.background` sees
to it.
"""

from typing import Any

from django.db.models import F, OuterRef, QuerySet, Subquery

from saltus.errors import FaultyFile, SaltusError
from saltus.record.glance import glance, plan_glance
from saltus.web.models import Athlete, Revision, StoredAssessment, StoredPlan
from saltus.web.records import record_of

__all__ = [
    "is_stale",
    "on_assessment",
    "on_plan",
    "on_revision",
    "retell",
    "tell_failure",
    "with_stamps",
]


def with_stamps(athletes: QuerySet[Athlete]) -> QuerySet[Athlete]:
    """Athletes with what :func:`is_stale` compares, and without what a squad page can spare."""
    newest = StoredPlan.objects.filter(athlete=OuterRef("pk"), accepted__isnull=False)
    return athletes.annotate(
        plan_number=Subquery(newest.order_by("-number").values("number")[:1]),
        assessed_at=F("assessment__at"),
    ).defer("text")


def is_stale(athlete: Athlete) -> bool:
    """Whether the summary speaks of an earlier record, plan or assessment.

    Parameters
    ----------
    athlete : Athlete
        From :func:`with_stamps`.
    """
    told = athlete.summary
    if told.get("revision") != athlete.revision or told.get("plan_number") != athlete.plan_number:  # type: ignore[attr-defined]
        return True
    if told.get("failed_on") == _stamp(athlete):
        return False
    at = athlete.assessed_at  # type: ignore[attr-defined]
    return at is None or told.get("assessed_on") != [*_stamp(athlete), at.isoformat()]


def retell(
    athlete: Athlete, *, record: bool = True, plan: bool = True, assessment: bool = True
) -> None:
    """Tell anew what is asked for, from the record, the plan and the assessment as they are."""
    told = dict(Athlete.objects.values_list("summary", flat=True).get(pk=athlete.pk))
    if record:
        told |= _record(athlete)
    if plan:
        told |= _plan(athlete)
    if assessment:
        told |= _assessment(athlete)
    _keep(athlete, told)


def tell_failure(athlete: Athlete, error: Exception) -> None:
    """Keep why an athlete could not be assessed, so that it is not tried over and over."""
    told = dict(athlete.summary)
    _keep(athlete, told | {"failed_on": _stamp(athlete), "failed": _in_short(error)})


def _in_short(error: Exception) -> str:
    """One sentence for a table: of several faults the first, and never where files are kept."""
    if not isinstance(error, FaultyFile) or not error.faults:
        return str(error)
    more = len(error.faults) - 1
    return f"{error.faults[0]}" + (f" (+{more})" if more else "")


def _keep(athlete: Athlete, told: dict[str, Any]) -> None:
    athlete.summary = told
    # Not save(): what is derived is no change of the athlete.
    Athlete.objects.filter(pk=athlete.pk).update(summary=told)


def _stamp(athlete: Athlete) -> list[Any]:
    """What an assessment depends on, the record told by its revision."""
    from saltus.web.assessments import basis

    return [athlete.revision, *basis()]


def _record(athlete: Athlete) -> dict[str, Any]:
    try:
        facts = glance(record_of(athlete, recordings=False))
    except SaltusError as error:
        return {"revision": athlete.revision, "fault": _in_short(error)}
    return {"revision": athlete.revision, "fault": "", "facts": facts}


def _plan(athlete: Athlete) -> dict[str, Any]:
    accepted = athlete.plans.filter(accepted__isnull=False)
    held = accepted.order_by("-number").only("number", "plan").first()
    if held is None:
        return {"plan_number": None, "plan": None}
    return {"plan_number": held.number, "plan": plan_glance(held.plan)}


def _assessment(athlete: Athlete) -> dict[str, Any]:
    kept = StoredAssessment.objects.filter(athlete=athlete).defer("draws").first()
    if kept is None:
        return {"assessed_on": None, "assessed": None}
    from saltus.web.assessments import inputs_of

    current = kept.inputs == inputs_of(athlete)
    document = kept.document
    return {
        "assessed_on": [*_stamp(athlete), kept.at.isoformat()] if current else None,
        "assessed": {
            "date": document["date"],
            "jump": document["jump"],
            "change": document.get("change"),
            "limiting": document["limiting"],
            "next_test": next((test["title"] for test in document["next_tests"]), ""),
        },
    }


def on_revision(instance: Revision, created: bool, raw: bool = False, **_: Any) -> None:
    """A record was written."""
    if created and not raw:
        retell(instance.athlete, plan=False, assessment=False)


def on_plan(instance: StoredPlan, raw: bool = False, **_: Any) -> None:
    """A plan was made or accepted."""
    if not raw:
        retell(instance.athlete, record=False, assessment=False)


def on_assessment(instance: StoredAssessment, raw: bool = False, **_: Any) -> None:
    """An assessment was kept."""
    if not raw:
        retell(instance.athlete, record=False, plan=False)
