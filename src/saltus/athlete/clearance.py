"""Who should not do which test on a day, and why.

The same bands as everywhere: pain that is to stop stops jumping, any pain worth the name stops
drop jumps, and maximal attempts are for grown-ups who have learnt the lift. Saltus gives no
medical advice; local rules and licensed practice come first.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from saltus.athlete.health import (
    JUMPING,
    LANDING,
    Pain,
    PainBand,
    Restriction,
    identifier_of,
    pain_band,
)
from saltus.athlete.person import Person

__all__ = ["LIFT_WORDS", "Objection", "Why", "objections"]

_PAIN_DAYS = 28
_NOVICE_YEARS = 1.0
_JUMPS = frozenset(
    {"countermovement_jump", "squat_jump", "approach_jump", "drop_jump", "broad_jump"}
)
_DROP_WORDS = frozenset({"depth_jump", "drop_jump", "drop_landing"})
_LEGS = frozenset({"squat", "heavy_legs"})
_HINGES = frozenset({"hinge", "heavy_legs"})
LIFT_WORDS = {
    "back_squat": _LEGS,
    "front_squat": _LEGS,
    "leg_press": _LEGS,
    "deadlift": _HINGES,
    "trap_bar_deadlift": _HINGES,
    "romanian_deadlift": frozenset({"hinge"}),
    "power_clean": frozenset({"weightlifting"}),
    "power_snatch": frozenset({"weightlifting"}),
    "jerk": frozenset({"jerk", "push_jerk"}),
}
"""Kinds of work to which a tested lift belongs, as a restriction may name them."""


class Why(StrEnum):
    """Kinds of reason."""

    PAIN = "pain"
    """No jumping until somebody licensed has seen it."""
    PAIN_BEFORE_DROPS = "pain_before_drops"
    """Pain that allows ordinary jumps, not drop jumps."""
    RESTRICTED = "restricted"
    MINOR = "minor"
    """No maximal attempts under 18."""
    AGE_UNKNOWN = "age_unknown"
    NOVICE = "novice"
    """No maximal attempts in the first year."""


@dataclass(frozen=True, slots=True)
class Objection:
    """One reason against a test.

    Parameters
    ----------
    why : Why
        Kind of reason.
    pain : Pain or None
        The pain it rests on.
    restriction : Restriction or None
        The restriction it rests on.
    """

    why: Why
    pain: Pain | None = None
    restriction: Restriction | None = None

    @property
    def is_health(self) -> bool:
        """Whether it tells of somebody's health."""
        return self.pain is not None or self.restriction is not None


def objections(
    kind: str,
    person: Person,
    on: dt.date,
    *,
    lift: str | None = None,
    pains: Sequence[Pain] = (),
    restrictions: Sequence[Restriction] = (),
) -> tuple[Objection, ...]:
    """Reasons why an athlete should not do a test on a day, the most serious first.

    Parameters
    ----------
    kind : str
        Kind of test, as the record names it.
    person : Person
        Who.
    on : date
        The day.
    lift : str or None
        Of a test of strength.
    pains, restrictions : sequences
        What was reported; the latest pain of each place counts, for four weeks.
    """
    found: list[Objection] = []
    latest = {pain.place: pain for pain in sorted(pains, key=lambda pain: pain.date)}
    if kind in _JUMPS:
        for pain in latest.values():
            if not 0 <= (on - pain.date).days <= _PAIN_DAYS:
                continue
            band = pain_band(pain)
            if band is PainBand.STOP:
                found.append(Objection(Why.PAIN, pain=pain))
            elif band is PainBand.ACCEPTABLE and kind == "drop_jump":
                found.append(Objection(Why.PAIN_BEFORE_DROPS, pain=pain))
    banned = {kind}
    if kind in _JUMPS:
        banned |= JUMPING | LANDING
    if kind == "drop_jump":
        banned |= _DROP_WORDS
    if lift is not None:
        banned |= {lift} | LIFT_WORDS.get(lift, frozenset())
    found += [
        Objection(Why.RESTRICTED, restriction=each)
        for each in restrictions
        if each.holds(on) and identifier_of(each.what) in banned
    ]
    if kind == "maximum":
        age = person.age(on)
        if age is None:
            found.append(Objection(Why.AGE_UNKNOWN))
        elif person.is_minor(on):
            found.append(Objection(Why.MINOR))
        if person.training_age_years < _NOVICE_YEARS:
            found.append(Objection(Why.NOVICE))
    return tuple(found)
