"""Assessments of athletes, kept until what they depend on changes."""

import datetime as dt
import hashlib
import io
import threading
import uuid
import weakref
from typing import Any

import numpy as np
from django.utils import timezone
from numpy.typing import NDArray

import saltus
from saltus.athlete.cautions import about_pain
from saltus.athlete.document import assessment_document
from saltus.athlete.known import Known
from saltus.athlete.posterior import Posterior, Problem
from saltus.athlete.prior import Constant
from saltus.athlete.provenance import provenance_document
from saltus.athlete.timeline import timeline_document
from saltus.progress.change import Change, change_since, compared_with
from saltus.progress.document import following_document
from saltus.record import Record
from saltus.record.about import about
from saltus.record.following import follow_record
from saltus.record.known import assessment_of, posterior_of
from saltus.training.method import Method
from saltus.web.methods.using import copy_read, method_of
from saltus.web.models import Athlete, StoredAssessment
from saltus.web.records import record_of

__all__ = [
    "assess_now",
    "basis",
    "inputs_of",
    "kept_draws",
    "kept_posterior",
    "known_of",
    "latest",
    "stored",
    "unpacked",
    "up_to_date",
]

_SHAPE = 7
"""Of what is kept; to be raised with every change of it, or pages look for what is not there."""

_DRAWS_KEPT = 400
_LOG = "session"
_locks: "weakref.WeakValueDictionary[uuid.UUID, _Lock]" = weakref.WeakValueDictionary()
_locks_lock = threading.Lock()


class _Lock:
    """A lock that goes away with its last user."""

    def __init__(self) -> None:
        self.lock = threading.Lock()


def basis() -> list[str]:
    """What every assessment depends on beside the record: how it is made and kept, and when."""
    return [saltus.__version__, str(_SHAPE), timezone.localdate().isoformat()[:7]]


def inputs_of(athlete: Athlete) -> str:
    """Hash of everything that the assessment of an athlete depends on, the day included.

    The squad's method says what the exercises of a log are for; without a log it says nothing.
    """
    parts = [*basis(), athlete.text]
    if _LOG in athlete.text and athlete.squad.method is not None:
        parts.append(athlete.squad.method.text)
    return hashlib.sha256("\0".join(parts).encode()).hexdigest()


def known_of(athlete: Athlete, record: Record) -> Known:
    """The posterior of an athlete, the log read by the method that the squad uses.

    Raises
    ------
    SaltusError
        If the record cannot be assessed, or the method has faults.
    """
    return posterior_of(record, method=_method(athlete, record))


def stored(athlete: Athlete) -> StoredAssessment | None:
    """The kept assessment, or None where there is none or its inputs have changed."""
    kept = getattr(athlete, "assessment", None)
    return kept if kept is not None and kept.inputs == inputs_of(athlete) else None


def latest(athlete: Athlete) -> StoredAssessment | None:
    """The kept assessment, out of date or not; None where there is none that can be shown."""
    kept = getattr(athlete, "assessment", None)
    return kept if kept is not None and kept.document.get("shape") == _SHAPE else None


def assess_now(athlete: Athlete) -> StoredAssessment:
    """Assess an athlete and keep the result.

    Raises
    ------
    SaltusError
        If the record cannot be assessed; the sentence says why.
    """
    record = record_of(athlete)
    method = _method(athlete, record)
    known = posterior_of(record, method=method)
    posterior, on = known.posterior, known.posterior.dates[-1]
    document: dict[str, Any] = assessment_document(assessment_of(record, known))
    document["history"] = timeline_document(posterior)
    document["provenance"] = provenance_document(posterior)
    document["about"] = about(record)
    document["revision"], document["shape"] = athlete.revision, _SHAPE
    document["follow"] = following_document(follow_record(record, known, method, next_test=False))
    document["health_cautions"] = about_pain(record.pains, on)
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


def up_to_date(athlete: Athlete) -> StoredAssessment:
    """The kept assessment, worked out now if it is missing or its inputs have changed.

    Several who ask at once wait for one to work it out.

    Raises
    ------
    SaltusError
        As :func:`assess_now`.
    """
    with _locks_lock:
        lock = _locks.setdefault(athlete.pk, _Lock())
    with lock.lock:
        kept = StoredAssessment.objects.filter(athlete=athlete).first()
        if kept is not None and kept.inputs == inputs_of(athlete):
            return kept
        return assess_now(athlete)


def unpacked(kept: StoredAssessment) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Draws that were kept, equally likely: log-qualities (n, 5), and all constants (n, 19)."""
    with np.load(io.BytesIO(kept.draws)) as arrays:
        return arrays["now"].astype(float), arrays["constants"].astype(float)


def kept_draws(kept: StoredAssessment) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Draws of the present, equally likely: log-qualities (n, 5), and half the leg, m, (n,)."""
    now, constants = unpacked(kept)
    return now, np.exp(constants[:, Constant.SEGMENT])


def kept_posterior(kept: StoredAssessment, record: Record) -> Posterior:
    """The posterior of the day of the latest test alone, out of the draws that were kept.

    Parameters
    ----------
    kept : StoredAssessment
        Of this record.
    record : Record
        For the person.
    """
    now, constants = unpacked(kept)
    problem = Problem(record.person, (), (), dt.date.fromisoformat(kept.document["date"]))
    return Posterior(
        problem=problem,
        states=now[:, None],
        constants=constants,
        weights=np.full(len(now), 1 / len(now)),
        mode=np.zeros(problem.trajectory.size),
        reading_weights=np.empty(0),
        effective_sample_size=float(len(now)),
        refined=False,
    )


def _method(athlete: Athlete, record: Record) -> Method:
    """The method that says what a log trained; without a log, any will do."""
    return method_of(athlete.squad) if record.log else copy_read(None)


def _change(change: Change) -> dict[str, Any]:
    return {
        "since": change.since.isoformat(),
        "estimate": change.change.value,
        "low": change.change.low,
        "high": change.change.high,
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
