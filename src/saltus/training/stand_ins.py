"""What may stand in for an exercise of a plan on a day: for the coach who wants another."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from saltus.athlete.assessment import Assessment
from saltus.athlete.person import Person
from saltus.training.eligibility import Eligibility
from saltus.training.exercises import Exercise
from saltus.training.frame import belongs
from saltus.training.method import Method, Phase
from saltus.training.phases import monday_of
from saltus.training.pins import pinned_situation
from saltus.training.plan import Plan, Week
from saltus.training.situation import EventKind, Situation

__all__ = ["StandIn", "stand_ins"]


@dataclass(frozen=True, slots=True)
class StandIn:
    """An exercise that could stand in for another.

    Parameters
    ----------
    exercise : Exercise
        What it is.
    why_not : str
        Why it may not be given on that day; empty if it may.
    days : frozenset of date
        Later days with the same exercise to replace on which it may be given too.
    """

    exercise: Exercise
    why_not: str
    days: frozenset[dt.date]


def stand_ins(
    plan: Plan,
    date: dt.date,
    exercise: str,
    person: Person,
    assessment: Assessment,
    situation: Situation,
    method: Method,
    *,
    earlier: Sequence[Week] = (),
) -> tuple[StandIn, ...]:
    """List what could stand in for an exercise on a day, the nearest first.

    These are the stand-ins that the exercise names and the others of the same use in the
    phase, without those that stand in the session already.

    Parameters
    ----------
    plan : Plan
        The plan.
    date : date
        Day of the session.
    exercise : str
        What is to be replaced.
    person, assessment, situation, method
        As they are now.
    earlier : sequence of Week, optional
        Weeks before the plan, the latest last: loads climb from there on.
    """
    weeks = (*(w for w in earlier if w.start < plan.weeks[0].start), *plan.weeks)
    here = next((s for w in plan.weeks for s in w.sessions if s.date == date), None)
    old = method.exercises.get(exercise)
    phases = {phase.id: phase for phase in method.phases}
    if here is None or old is None or any(week.phase not in phases for week in weeks):
        return ()
    timeline = tuple(phases[week.phase] for week in weeks)
    eligibility = Eligibility(
        person, assessment, pinned_situation(situation, plan.pins), method, timeline
    )
    case = _Case(weeks, plan, eligibility)
    number = case.number(date)
    present = {item.exercise for item in here.items}
    names = dict.fromkeys((*old.stand_ins, *_of_same_use(old, timeline[number], method)))
    later = [
        s.date
        for s in plan.sessions
        if s.date > date and any(i.exercise == exercise for i in s.items)
    ]
    return tuple(
        StandIn(
            method.exercises[name],
            case.why_not(method.exercises[name], date),
            frozenset(d for d in later if not case.why_not(method.exercises[name], d)),
        )
        for name in names
        if name in method.exercises and name not in present
    )


def _of_same_use(exercise: Exercise, phase: Phase, method: Method) -> list[str]:
    use = phase.use_of(exercise)
    if use is None:
        return []
    return [e.id for e in method.exercises.values() if phase.use_of(e) is use]


@dataclass(frozen=True, slots=True)
class _Case:
    weeks: Sequence[Week]
    plan: Plan
    eligibility: Eligibility

    def number(self, date: dt.date) -> int:
        return (monday_of(date) - monday_of(self.weeks[0].start)).days // 7

    def why_not(self, exercise: Exercise, date: dt.date) -> str:
        """Why an exercise may not be given on a day; empty if it may."""
        number, situation = self.number(date), self.eligibility.situation
        ahead = (monday_of(date) - monday_of(self.plan.start)).days // 7
        practised = self.plan.landing_practice_weeks + ahead
        reasons = self.eligibility.why_not([exercise], number, date, practised)
        if reasons:
            return reasons[0]
        gaps = self.eligibility.method.match_gaps
        matches = [e.date for e in situation.events if e.kind is EventKind.MATCH]
        for gap in gaps:
            near = any(-gap.days_before <= (date - m).days <= gap.days_after for m in matches)
            if near and belongs(exercise, gap.family):
                return f"{exercise.name}: too near a match."
        return ""
