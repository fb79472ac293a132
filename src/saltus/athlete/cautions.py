"""What matters for safety, and for reading the figures, in sentences.

Saltus gives no medical advice; local rules and licensed practice come first.
"""

import datetime as dt
from collections.abc import Sequence

from saltus.athlete.health import Pain, PainBand, pain_band
from saltus.athlete.person import Person
from saltus.athlete.posterior import Posterior

__all__ = ["NO_MEDICAL_ADVICE", "about_pain", "cautions", "outlying_in_words"]

NO_MEDICAL_ADVICE = "Saltus gives no medical advice; local rules and licensed practice come first."
"""The last of the cautions, always; a page may have it at its foot instead."""

_PAIN_DAYS = 28
_MASTER_AGE = 50
_STALE_DAYS = 84
_LOW_SAMPLE = 200


def cautions(person: Person, posterior: Posterior, pains: Sequence[Pain]) -> tuple[str, ...]:
    """Sentences that belong beside the figures of this athlete, the most serious first.

    Parameters
    ----------
    person : Person
        For age and training age.
    posterior : Posterior
        For what the figures rest on.
    pains : sequence of Pain
        Those of the last four weeks count.
    """
    on = posterior.dates[-1]
    return (
        *about_pain(pains, on),
        *_about_age(person, on),
        *_about_figures(person, posterior),
        NO_MEDICAL_ADVICE,
    )


def outlying_in_words(posterior: Posterior) -> tuple[str, ...]:
    """Tests that hardly counted, each as a sentence."""
    return tuple(
        f"The {reading.source} fits nothing else that was tested and was given little weight: "
        "check what was written down, or test again."
        for reading in posterior.outlying
    )


def about_pain(pains: Sequence[Pain], on: dt.date) -> list[str]:
    """Those of the sentences that tell of pains, for whom may not read them."""
    said = []
    latest = {p.place: p for p in sorted(pains, key=lambda p: p.date)}
    for pain in latest.values():
        if not 0 <= (on - pain.date).days <= _PAIN_DAYS:
            continue
        band = pain_band(pain)
        where = f"Pain of {pain.level}/10, {pain.place}, on {pain.date.isoformat()}"
        if band is PainBand.STOP:
            said.append(
                f"{where}: no jumping and no landings until a physiotherapist or doctor has "
                "seen it (published pain-monitoring scale, above 5 or not settled)."
            )
        elif band is PainBand.ACCEPTABLE:
            said.append(
                f"{where}: acceptable on the published scale only if it is back to usual by the "
                "next morning and does not rise from week to week; no depth jumps."
            )
    return said


def _about_age(person: Person, on: dt.date) -> list[str]:
    age = person.age(on)
    if age is None:
        return ["The date of birth is not on record: Saltus is as careful as with a minor."]
    if person.is_minor(on):
        young = (
            f"{age} years old: supervised, technique first, few landings (published advice: 50 to "
            "60 a session to begin with, two days a week, 72 h apart), no maximal attempts. "
            "Figures about body mass are left out."
        )
        return [young]
    if age >= _MASTER_AGE:
        return [f"{age} years old: allow more days between hard landings, and have new pains seen."]
    return []


def _about_figures(person: Person, posterior: Posterior) -> list[str]:
    said = []
    on = posterior.dates[-1]
    readings = posterior.problem.readings
    if not readings:
        said.append("No tests are on record: every figure is what is usual for such a person.")
    elif (on - readings[-1].date).days > _STALE_DAYS:
        said.append(
            f"The latest test is of {readings[-1].date.isoformat()}: the figures have grown vague."
        )
    if person.stature_m is None:
        said.append("Stature is not on record: leg length is a guess, and the intervals are wider.")
    if posterior.effective_sample_size < _LOW_SAMPLE:
        said.append(
            "The intervals rest on few effective draws "
            f"({posterior.effective_sample_size:.0f}) and are rough."
        )
    return said
