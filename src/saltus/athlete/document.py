"""An assessment as one JSON document: SI units, every interval 80 %."""

from typing import Any

from saltus.athlete.assessment import Assessment, GoalOutlook
from saltus.athlete.profile import ForceVelocityProfile
from saltus.athlete.qualities import UNITS
from saltus.quantities import INTERVAL, Estimate

__all__ = ["assessment_document"]

_CENTIMETRES = 100


def assessment_document(
    assessment: Assessment, *, what_if: tuple[Estimate, Estimate] | None = None
) -> dict[str, Any]:
    """The document that ``saltus assess --json`` prints.

    Parameters
    ----------
    assessment : Assessment
        Of one athlete.
    what_if : (jump_m, change_m) or None
        From :func:`saltus.athlete.worth.what_if`, where it was asked.

    Returns
    -------
    dict
        Only strings, numbers, lists, dicts and None.
    """
    return {
        "athlete": assessment.name,
        "date": assessment.date.isoformat(),
        "interval": INTERVAL,
        "body_mass_kg": assessment.mass_kg,
        "jump": _interval(assessment.jump_m),
        "squat_jump": _interval(assessment.squat_jump_m),
        "approach_jump": _interval(assessment.approach_jump_m),
        "qualities": [
            {"name": quality.value, "unit": UNITS[quality], **_ends(estimate)}
            for quality, estimate in assessment.qualities.items()
        ],
        "worth": [
            {
                "quality": worth.quality.value,
                "estimate_cm": worth.gain_m.value * _CENTIMETRES,
                "low_cm": worth.gain_m.low * _CENTIMETRES,
                "high_cm": worth.gain_m.high * _CENTIMETRES,
                "probability_largest": worth.probability_largest,
            }
            for worth in assessment.worth
        ],
        "limiting": {
            "quality": assessment.limiting.quality,
            "probability": assessment.limiting.probability,
            "leading": assessment.limiting.leading.value,
        },
        "next_tests": [
            {
                "test": test.test,
                "title": test.title,
                "information_bits": test.information_bits,
                "minutes": test.minutes,
                "risk": test.risk,
                "why": test.why,
            }
            for test in assessment.next_tests
        ],
        "goal": _goal(assessment.goal),
        "force_velocity": _profile(assessment.force_velocity, assessment.force_velocity_why),
        "force_velocity_why": assessment.force_velocity_why,
        "maxima_kg": {
            lift.value: _ends(estimate) for lift, estimate in assessment.maxima_kg.items()
        },
        "best_drop_m": _interval(assessment.best_drop_m),
        "body_mass_effect_m": None
        if assessment.body_mass is None
        else {
            "per_kg_more": _ends(assessment.body_mass.per_kg_more_m),
            "per_kg_less": _ends(assessment.body_mass.per_kg_less_m),
        },
        "what_if": None
        if what_if is None
        else {"jump_m": _ends(what_if[0]), "change_m": _ends(what_if[1])},
        "fit": {
            "draws": assessment.fit.draws,
            "effective_sample_size": assessment.fit.effective_sample_size,
            "outlying": list(assessment.fit.outlying),
        },
        "cautions": list(assessment.cautions),
    }


def _ends(estimate: Estimate) -> dict[str, float]:
    return {"estimate": estimate.value, "low": estimate.low, "high": estimate.high}


def _interval(estimate: Estimate | None) -> dict[str, float] | None:
    return None if estimate is None else _ends(estimate)


def _goal(outlook: GoalOutlook | None) -> dict[str, Any] | None:
    if outlook is None:
        return None
    return {
        "what": outlook.goal.what,
        "needed_m": outlook.needed_m,
        "date": None if outlook.goal.date is None else outlook.goal.date.isoformat(),
        "probability": outlook.probability,
        "now_m": _ends(outlook.now_m),
        "missing_m": _ends(outlook.missing_m),
        "expected_m": _interval(outlook.expected_m),
    }


def _profile(profile: ForceVelocityProfile | None, why: str) -> dict[str, Any] | None:
    if profile is None:
        return None
    return {
        "F0_n_kg": _ends(profile.F0_n_kg),
        "v0_m_s": _ends(profile.v0_m_s),
        "Pmax_w_kg": _ends(profile.Pmax_w_kg),
        "slope": _ends(profile.slope),
        "optimal_slope": _ends(profile.optimal_slope),
        "balance": _ends(profile.balance),
        "points": [
            {
                "load_kg": point.load_kg,
                "force_n_kg": _ends(point.force_n_kg),
                "velocity_m_s": _ends(point.velocity_m_s),
            }
            for point in profile.points
        ],
        "line": [
            {"velocity_m_s": at.velocity_m_s, "force_n_kg": _ends(at.force_n_kg)}
            for at in profile.line
        ],
        "why": why,
    }
