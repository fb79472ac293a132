"""What was expected of an athlete, from the assessment that is kept, and the question to ask."""

import datetime as dt

from django.utils.translation import gettext as _

from saltus.athlete.observations import Observation
from saltus.athlete.plausible import Expectation, Knowledge, expectations, knowledge_before
from saltus.athlete.readings import ReadingKind
from saltus.errors import SaltusError
from saltus.record import Record
from saltus.record.trials import Quantity, Trial
from saltus.web.assessments import unpacked
from saltus.web.kept import Kept
from saltus.web.models import Athlete
from saltus.web.testdays.typed import shown, sign_of
from saltus.web.units import Units

__all__ = ["WORKED_OUT", "knowledge_of", "questions", "questions_about"]

WORKED_OUT = frozenset({"touched", "flight", "frames"})
"""Fields that a height is worked out from."""

_remembered: Kept[str, Knowledge] = Kept(100)

_QUANTITIES = {
    "m": Quantity.LENGTH,
    "s": Quantity.MILLISECONDS,
    "kg": Quantity.MASS,
    "N": Quantity.FORCE,
}


def knowledge_of(athlete: Athlete, record: Record, on: dt.date) -> Knowledge:
    """What was known when the athlete was last assessed, or from the tests before the day.

    An assessment that is out of date will do: it speaks of what was known before today's results.
    """
    kept = getattr(athlete, "assessment", None)
    if kept is not None:
        return Knowledge(*unpacked(kept), dt.date.fromisoformat(kept.document["date"]))
    before = tuple(test for test in record.observations if test.date < on)
    key = repr((athlete.pk, record.person, before, record.blocks, on))
    return _remembered.get(key, lambda: knowledge_before(record.person, on, before, record.blocks))


def questions(
    athlete: Athlete, record: Record, trial: Trial, test: Observation, units: Units
) -> dict[int, list[str]]:
    """Sentences about results that were not expected, by place of the attempt from 1."""
    return questions_about(
        athlete,
        record,
        test,
        units,
        derived=trial.way in WORKED_OUT,
        estimated=trial.kind != "maximum",
    )


def questions_about(
    athlete: Athlete,
    record: Record,
    test: Observation,
    units: Units,
    *,
    derived: bool,
    estimated: bool,
) -> dict[int, list[str]]:
    """The same of any test.

    Parameters
    ----------
    athlete, record, test, units
        Whose, what is known, what came of it, and in whose units to speak of it.
    derived : bool
        Whether a height was worked out from what was read off.
    estimated : bool
        Whether a maximum was, from a set or from bar speeds.
    """
    try:
        found = expectations(record.person, knowledge_of(athlete, record, test.date), test)
    except SaltusError:
        return {}  # what no equation can use, nothing is expected of; saving it says why
    asked: dict[int, list[str]] = {}
    for each in found:
        if each.excess:
            sentence = _question(each, units, derived=derived, estimated=estimated)
            asked.setdefault(each.attempt, []).append(sentence)
    return asked


def _question(each: Expectation, units: Units, *, derived: bool, estimated: bool) -> str:
    quantity = _QUANTITIES[each.unit]

    def figure(value: float) -> str:
        digits = 0 if quantity in (Quantity.MILLISECONDS, Quantity.FORCE) else 1
        return shown(value, quantity, units, digits=digits)

    values = {
        "value": figure(each.value),
        "far": figure(abs(each.excess)),
        "low": figure(each.low),
        "high": figure(each.high),
        "unit": sign_of(quantity, units),
    }
    derived = derived and each.unit == "m"
    estimated = estimated and each.kind is ReadingKind.SQUAT_MAXIMUM
    if each.excess > 0:
        off = _("%(far)s %(unit)s above what was expected (%(low)s to %(high)s)")
    else:
        off = _("%(far)s %(unit)s below what was expected (%(low)s to %(high)s)")
    off = off % values
    if derived:
        return _("That makes a jump of %(value)s %(unit)s, %(off)s: keep it?") % {
            **values,
            "off": off,
        }
    if estimated:
        return _("That points to a maximum of %(value)s %(unit)s, %(off)s: keep it?") % {
            **values,
            "off": off,
        }
    return _("%(value)s %(unit)s is %(off)s: keep it?") % {**values, "off": off}
