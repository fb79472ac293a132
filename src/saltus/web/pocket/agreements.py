"""The usual cautions, that an athlete reads and agrees to before the first time."""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from django.utils.translation import gettext_noop

from saltus.record.entries import Agreement
from saltus.record.record import Record

__all__ = [
    "CAUTIONS",
    "MINORS",
    "agree",
    "agreement_of",
    "cautions_for",
    "is_agreed",
    "signed",
]

CAUTIONS: Mapping[str, str] = {
    "advice": gettext_noop(
        "Saltus gives no medical advice. What your coach, your doctor and your local rules say "
        "comes first."
    ),
    "stop": gettext_noop(
        "Stop an exercise that hurts, and tell how much. With pain above 5 of 10, or pain that has "
        "not settled by the next morning: no jumping and no landings until a physiotherapist or "
        "doctor has seen it."
    ),
    "healthy": gettext_noop(
        "Heavy lifting and hard landings are for healthy people. With an injury, an illness or "
        "in pregnancy, ask a doctor first."
    ),
    "technique": gettext_noop(
        "Warm up, lift with somebody beside you who can help, and land quietly on bent legs. "
        "Leave out whatever you have not been taught."
    ),
}
"""By the name under which the phone knows them."""

MINORS: Mapping[str, str] = {
    "minor": gettext_noop(
        "Under 18: train under supervision, technique first, no maximal attempts, and depth jumps "
        "only with someone qualified watching. A parent or guardian knows of it and agrees."
    ),
}
"""For whoever is under 18, or may be."""


def cautions_for(*, minor: bool) -> dict[str, str]:
    """Cautions by name, in English, as they are written into the record."""
    return {**CAUTIONS, **(MINORS if minor else {})}


def is_agreed(text: str, agreed: Iterable[Agreement]) -> bool:
    """Whether a caution was agreed to as it reads now."""
    return any(each.caution == text for each in agreed)


def agree(record: Record, agreements: Iterable[Agreement]) -> Record:
    """A record with agreements added, each once."""
    new = [each for each in agreements if each not in record.agreed]
    return replace(record, agreed=(*record.agreed, *new))


def signed(name: str, guardian: str = "") -> str:
    """Who agreed."""
    return f"{name}, and {guardian} as parent or guardian" if guardian else name


def agreement_of(data: Mapping[str, Any], date: dt.date, name: str) -> Agreement:
    """The agreement that an entry of the phone tells of."""
    text = cautions_for(minor=True)[data["caution"]]
    return Agreement(text, date, signed(name, data.get("guardian") or ""))
