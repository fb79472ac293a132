"""Gates: what must be true before an exercise may be given, and what would open them.

Depth jumps are the case in point: strength, landing practice, no pain, age, body mass and
a forgiving surface. An unknown age is treated as that of a minor. Saltus gives no medical
advice; a closed gate says whom to see where pain is the reason.
"""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from saltus.athlete.assessment import Assessment
from saltus.athlete.health import (
    JUMPING,
    LANDING,
    Pain,
    PainBand,
    Restriction,
    identifier_of,
    pain_band,
)
from saltus.athlete.observations import Lift
from saltus.athlete.person import Person
from saltus.training.exercises import JUMP, Carrier, Exercise
from saltus.training.situation import Situation

__all__ = [
    "Closed",
    "check_gates",
    "closed_by_pain",
    "is_known",
    "pain_caution",
    "standing_pains",
    "supervision_cautions",
    "treated_as_minor",
    "unknown_restrictions",
]

_REPORT_STANDS_DAYS = 42
"""Days before the start of a plan after which an old report of slight pain has lapsed."""
_NARROW = 0.10
"""An interval within this share of its value was tested; wider ones are read at the low end."""
_WEEK_DAYS = 7
_UPPER_LIMB = frozenset(
    {"arm", "arms", "elbow", "finger", "fingers", "forearm", "hand", "hands", "shoulder", "wrist"}
)


@dataclass(frozen=True, slots=True)
class Closed:
    """A gate that is closed.

    Parameters
    ----------
    exercise : str
        Identifier of the exercise.
    gate : str
        Which one: "age", "training_age", "strength", "landing_practice", "pain",
        "surface", or "restriction".
    reason : str
        Why, in words.
    opens_when : str
        What would open it, in words.
    """

    exercise: str
    gate: str
    reason: str
    opens_when: str

    def __str__(self) -> str:
        return f"{self.reason} It opens {self.opens_when}"


def treated_as_minor(person: Person, on: dt.date) -> bool:
    """Whether the caution due to a minor applies: under 18, or of unknown age."""
    return person.born is None or person.is_minor(on)


def check_gates(
    exercise: Exercise,
    assessment: Assessment,
    person: Person,
    situation: Situation,
    on: dt.date,
    *,
    practised_weeks: float | None = None,
) -> tuple[Closed, ...]:
    """Check every gate of an exercise for a day.

    Parameters
    ----------
    exercise : Exercise
        What is to be given.
    assessment, person, situation
        To whom, and in which circumstances.
    on : date
        The day.
    practised_weeks : float, optional
        Weeks of landing practice by then. Left out, the weeks from the start of the plan
        are taken to bring one each on top of what the situation says.

    Returns
    -------
    tuple of Closed
        Every closed gate; empty where the exercise may be given.
    """
    if practised_weeks is None:
        ahead = max((on - situation.start).days, 0) // _WEEK_DAYS
        practised_weeks = situation.landing_practice_weeks + ahead
    return (
        *_age(exercise, person, on),
        *_training_age(exercise, person),
        *_strength(exercise, assessment),
        *_practice(exercise, practised_weeks),
        *_surface(exercise, situation),
        *_pain(exercise, situation, on),
        *_restricted(exercise, situation.restrictions, on),
    )


def _age(exercise: Exercise, person: Person, on: dt.date) -> Iterator[Closed]:
    needed = exercise.needs.age_years
    if not needed:
        return
    age = person.age(on)
    if age is None:
        yield Closed(
            exercise.id,
            "age",
            f"{exercise.name} is for athletes from {needed} years, and the age is not known.",
            "once the date of birth is on record.",
        )
    elif age < needed:
        yield Closed(
            exercise.id,
            "age",
            f"{exercise.name} is for athletes from {needed} years; {person.name} is {age}.",
            f"on the {needed}th birthday.",
        )


def _training_age(exercise: Exercise, person: Person) -> Iterator[Closed]:
    needed = exercise.needs.training_age_years
    if person.training_age_years < needed:
        yield Closed(
            exercise.id,
            "training_age",
            f"{exercise.name} needs {_years(needed)} of regular training; so far it is "
            f"{_years(person.training_age_years)}.",
            f"after {_years(needed)} of regular training.",
        )


def _strength(exercise: Exercise, assessment: Assessment) -> Iterator[Closed]:
    needed = exercise.needs.squat_per_mass
    if not needed:
        return
    wanted = needed * assessment.mass_kg
    squat = assessment.maxima_kg.get(Lift.BACK_SQUAT)
    opens = f"when a squat of {needed:g} x body mass ({wanted:.0f} kg) has been shown."
    if squat is None:
        reason = f"{exercise.name} needs a squat of {needed:g} x body mass; none is known."
        yield Closed(exercise.id, "strength", reason, opens)
        return
    narrow = squat.value - squat.low <= _NARROW * squat.value
    shown = squat.value if narrow else squat.low
    if shown < wanted:
        sure = "" if narrow else f", perhaps only {squat.low:.0f} kg: test it"
        yield Closed(
            exercise.id,
            "strength",
            f"{exercise.name} needs a squat of {needed:g} x body mass ({wanted:.0f} kg); the "
            f"estimate is {squat.value:.0f} kg{sure}.",
            opens,
        )


def _practice(exercise: Exercise, practised_weeks: float) -> Iterator[Closed]:
    needed = exercise.needs.landing_practice_weeks
    if practised_weeks < needed:
        yield Closed(
            exercise.id,
            "landing_practice",
            f"{exercise.name} needs {needed:g} weeks of landing practice; by then there are "
            f"{practised_weeks:g}.",
            f"after {needed - practised_weeks:g} more weeks of landing practice.",
        )


def _surface(exercise: Exercise, situation: Situation) -> Iterator[Closed]:
    if exercise.needs.soft_surface and not situation.soft_surface:
        yield Closed(
            exercise.id,
            "surface",
            f"{exercise.name} needs a forgiving surface, and none is at hand.",
            "with a sprung floor, turf or mats (soft_surface = true).",
        )


def standing_pains(situation: Situation, on: dt.date) -> tuple[Pain, ...]:
    """Latest report of each place up to a day.

    A report of pain that is to stop training stands until a newer one of the same place;
    others lapse six weeks before the start of the plan.
    """
    latest: dict[str, Pain] = {}
    for pain in sorted(situation.pains, key=lambda p: p.date):
        if pain.date <= max(on, situation.start):
            latest[pain.place.strip().casefold()] = pain
    oldest = situation.start - dt.timedelta(days=_REPORT_STANDS_DAYS)
    return tuple(
        pain for pain in latest.values() if pain.date >= oldest or pain_band(pain) is PainBand.STOP
    )


def _pain(exercise: Exercise, situation: Situation, on: dt.date) -> Iterator[Closed]:
    for pain in standing_pains(situation, on):
        closed = closed_by_pain(exercise, pain)
        if closed is not None:
            yield closed


def pain_caution(pain: Pain) -> str | None:
    """What a plan that heeds a pain says of it; None where there is none any more."""
    if pain_band(pain) is PainBand.STOP:
        return (
            f"Pain of {pain.level} out of 10 ({pain.place}, {pain.date.isoformat()}): have "
            "someone qualified look at it before training goes on."
        )
    if pain.level > 0:
        return (
            f"Pain of {pain.level} out of 10 ({pain.place}, {pain.date.isoformat()}): note it "
            "before and the morning after each session; it must not rise from week to week."
        )
    return None


def closed_by_pain(exercise: Exercise, pain: Pain) -> Closed | None:
    """What a pain closes of an exercise; None where the exercise may go on with it."""
    worst = exercise.needs.pain
    band = pain_band(pain)
    if band <= worst or not _concerns(pain, band, exercise):
        return None
    unsettled = ", not settled by the next morning" if pain.settled_next_morning is False else ""
    reason = (
        f"Pain of {pain.level} out of 10 ({pain.place}, {pain.date.isoformat()}{unsettled}) "
        f"closes {exercise.name}."
    )
    limit = "2" if worst is PainBand.SAFE else "5"
    opens = f"when it is down to {limit} or less and settled by the next morning."
    if band is PainBand.STOP:
        opens += " Have someone qualified look at it first."
    return Closed(exercise.id, "pain", reason, opens)


def _concerns(pain: Pain, band: PainBand, exercise: Exercise) -> bool:
    """Whether a pain matters: a sore arm to what is held, and to landings if it is bad."""
    words = set(pain.place.casefold().replace("-", " ").split())
    if not words & _UPPER_LIMB or (band is PainBand.STOP and exercise.lands):
        return True
    load = exercise.load
    return load is not None and any(carrier is not Carrier.MACHINE for carrier in load.on)


def _restricted(
    exercise: Exercise, restrictions: Iterable[Restriction], on: dt.date
) -> Iterator[Closed]:
    for restriction in restrictions:
        if restriction.holds(on) and _speaks_of(restriction, exercise):
            why = f" ({restriction.why})" if restriction.why else ""
            opens = (
                "when the restriction is lifted."
                if restriction.end is None
                else f"after {restriction.end.isoformat()}."
            )
            yield Closed(
                exercise.id,
                "restriction",
                f"{exercise.name} is restricted: {restriction.what.replace('_', ' ')}{why}.",
                opens,
            )


def _speaks_of(restriction: Restriction, exercise: Exercise) -> bool:
    word = identifier_of(restriction.what)
    if word in JUMPING | LANDING and (exercise.lands or JUMP in exercise.families):
        return True
    return word in {exercise.id, identifier_of(exercise.name), str(exercise.place)} or (
        word in exercise.families
    )


def unknown_restrictions(
    situation: Situation, exercises: Mapping[str, Exercise]
) -> tuple[Restriction, ...]:
    """Restrictions that speak of no exercise: to be told, as they cannot be kept."""
    return tuple(
        restriction
        for restriction in situation.restrictions
        if not is_known(restriction, exercises)
    )


def is_known(restriction: Restriction, exercises: Mapping[str, Exercise]) -> bool:
    """Whether a restriction speaks of any of the exercises, so that it can be kept."""
    return any(_speaks_of(restriction, exercise) for exercise in exercises.values())


def supervision_cautions(
    exercises: Iterable[Exercise], person: Person, on: dt.date
) -> tuple[str, ...]:
    """What a minor's plan says of supervision.

    Youth resistance training is safe when supervised and technique-led (Faigenbaum et al. 2009,
    JSCR 23(5 Suppl):S60-S79).
    """
    if not treated_as_minor(person, on):
        return ()
    known = "is under 18" if person.born is not None else "is of unknown age"
    names = sorted({e.name for e in exercises if e.needs.adult_supervision})
    above_all = f"; above all {', '.join(names)}" if names else ""
    said = (
        f"{person.name} {known}: every session under the eyes of someone qualified, technique "
        f"before load, no maximal attempts{above_all}."
    )
    return (said,)


def _years(years: float) -> str:
    if years < 1:
        return f"{round(12 * years)} months"
    return f"{years:g} year{'' if years == 1 else 's'}"
