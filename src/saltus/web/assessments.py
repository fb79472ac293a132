"""Assessments of athletes, kept until what they depend on changes."""

import hashlib
import io
from typing import Any

import numpy as np
from django.utils import timezone

import saltus
from saltus.athlete.assess import assess_posterior, latest_day
from saltus.athlete.change import Change, change_since, compared_with
from saltus.athlete.document import assessment_document
from saltus.athlete.posterior import Posterior, Problem, fit
from saltus.athlete.usable import usable_tests
from saltus.web.models import Athlete, StoredAssessment
from saltus.web.records import record_of

__all__ = ["assess_now", "inputs_of", "stored"]

_DRAWS_KEPT = 400


def inputs_of(athlete: Athlete) -> str:
    """Hash of everything that the assessment of an athlete depends on, the day included."""
    parts = (saltus.__version__, athlete.text, timezone.localdate().isoformat()[:7])
    return hashlib.sha256("\0".join(parts).encode()).hexdigest()


def stored(athlete: Athlete) -> StoredAssessment | None:
    """The kept assessment, or None where there is none or its inputs have changed."""
    kept = getattr(athlete, "assessment", None)
    return kept if kept is not None and kept.inputs == inputs_of(athlete) else None


def assess_now(athlete: Athlete) -> StoredAssessment:
    """Assess an athlete and keep the result.

    Raises
    ------
    SaltusError
        If the record cannot be assessed; the sentence says why.
    """
    record = record_of(athlete)
    tests, _left_out = usable_tests(record.observations)
    on = latest_day(record.person, tests)
    posterior = fit(Problem(record.person, tests, record.blocks, on))
    assessment = assess_posterior(
        posterior,
        tests,
        goal=record.goal,
        pains=record.pains,
        restrictions=record.restrictions,
    )
    document: dict[str, Any] = assessment_document(assessment)
    document["history"] = []
    since = compared_with(posterior, record.blocks)
    document["change"] = None if since is None else _change(change_since(posterior, since))
    kept, _ = StoredAssessment.objects.update_or_create(
        athlete=athlete,
        defaults={
            "inputs": inputs_of(athlete),
            "document": document,
            "draws": _packed(posterior),
        },
    )
    return kept


def _change(change: Change) -> dict[str, Any]:
    return {
        "since": change.since.isoformat(),
        "estimate": change.change_m.value,
        "low": change.change_m.low,
        "high": change.change_m.high,
        "probability_up": change.probability_up,
        "probability_worthwhile": change.probability_worthwhile,
        "probability_worse": change.probability_worse,
        "verdict": change.verdict,
    }


def _packed(posterior: Posterior) -> bytes:
    index = posterior.resampled(_DRAWS_KEPT)
    buffer = io.BytesIO()
    np.savez_compressed(
        buffer,
        now=posterior.now[index].astype(np.float32),
        constants=posterior.constants[index].astype(np.float32),
    )
    return buffer.getvalue()
