"""Pain on the day: what stops, what may go on, and whom to see.

The limits are those of the published monitoring scale (:mod:`saltus.athlete.health`); which
exercise needs which band is the method's. Saltus gives no medical advice.
"""

from collections.abc import Iterable, Mapping

from saltus.athlete.health import PLACES, Pain, PainBand, pain_band
from saltus.training.exercises import Exercise
from saltus.training.gates import check_gates, closed_by_pain, treated_as_minor
from saltus.training.today.facts import Facts

__all__ = ["cautions_of", "closed_today", "stops_at_pain", "stops_by_place"]

_LEVELS = range(11)
_ON_THE_DAY = frozenset({"pain", "restriction", "age"})
# The other gates were held when the plan was made; these can change by the day.

_SEE_SOMEONE = "Have a physiotherapist or doctor look at it before you go on."


def stops_at_pain(exercise: Exercise, facts: Facts, place: str = "left knee") -> int | None:
    """Lowest pain, 0 to 10, that stops an exercise; None where none does."""
    for level in _LEVELS:
        if closed_by_pain(exercise, Pain(facts.date, place, level)) is not None:
            return level
    return None


def stops_by_place(exercise: Exercise, facts: Facts) -> Mapping[str, int | None]:
    """The same for the places where it is another figure than :func:`stops_at_pain`."""
    usual = stops_at_pain(exercise, facts)
    found = {place: stops_at_pain(exercise, facts, place) for place in PLACES}
    return {place: level for place, level in found.items() if level != usual}


def closed_today(exercise: Exercise, facts: Facts) -> str | None:
    """Why an exercise must not be done today, and whom to see; None where it may."""
    told = [
        closed
        for closed in check_gates(
            exercise, facts.assessment, facts.person, facts.situation, facts.date
        )
        if closed.gate in _ON_THE_DAY
    ]
    if not told:
        return None
    sentence = str(told[0])
    bad = any(
        pain_band(pain) is PainBand.STOP
        for pain in facts.situation.pains
        if pain.date == facts.date
    )
    if told[0].gate == "pain" and bad:
        sentence += f" {_SEE_SOMEONE}"
    return sentence


def cautions_of(exercise: Exercise, facts: Facts) -> tuple[str, ...]:
    """What matters for safety in an exercise today, in sentences.

    Parameters
    ----------
    exercise : Exercise
        What is done.
    facts : Facts
        By whom; an unknown age is treated as that of a minor.
    """
    said = [f"Not for: {text}" for text in exercise.not_for]
    if treated_as_minor(facts.person, facts.date):
        if exercise.needs.adult_supervision:
            said.insert(0, "Only with someone qualified watching every jump.")
        elif exercise.load is not None:
            said.insert(0, "Under 18: technique before load, and never a maximal attempt.")
        elif exercise.lands:
            said.insert(0, "Under 18: land softly, and stop when you tire.")
    said.extend(_going_on(exercise, facts.situation.pains, facts))
    return tuple(said)


def _going_on(exercise: Exercise, pains: Iterable[Pain], facts: Facts) -> list[str]:
    """What is said where it may go on although something hurts."""
    if closed_today(exercise, facts) is not None:
        return []
    felt = [p for p in pains if p.date == facts.date and p.level > 0]
    return [
        f"This may go on with pain of {p.level} out of 10 ({p.place}). Stop if it rises"
        + (
            f" to {limit}, and see that it is back to usual by tomorrow morning."
            if (limit := stops_at_pain(exercise, facts, p.place)) is not None
            else "."
        )
        for p in felt
    ]
