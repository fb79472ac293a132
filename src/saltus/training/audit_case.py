"""What the checks of a finished plan share: the breach, and the case looked at.

Nothing here or in the other ``audit_*`` modules knows the planner: a plan from anywhere,
also one written by hand, is held against the method, the situation and the athlete.
"""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from saltus.athlete.assessment import Assessment
from saltus.athlete.person import Person
from saltus.training.breaks import Break, Eased, eased_in_week, find_breaks
from saltus.training.exercises import Exercise, Place
from saltus.training.method import Method, Phase, Use
from saltus.training.plan import Item, Plan, Session, Week
from saltus.training.situation import EventKind, Priority, Situation

__all__ = ["LANDING", "Breach", "Case", "Placed"]

LANDING = "landing"


@dataclass(frozen=True, slots=True)
class Breach:
    """A rule that a plan breaks.

    Parameters
    ----------
    rule : str
        Identifier of a rule of the method, or the name of what else is broken, such as
        "days", "equipment", "gates", "loads".
    where : str
        Date, and exercise where it matters.
    text : str
        What is wrong, in words.
    """

    rule: str
    where: str
    text: str

    def __str__(self) -> str:
        return f"{self.where}: {self.text} ({self.rule})"


@dataclass(frozen=True, slots=True)
class Placed:
    """An item with where it stands and what it is."""

    week: Week
    session: Session
    item: Item
    exercise: Exercise

    @property
    def where(self) -> str:
        """Date and exercise."""
        return f"{self.session.date.isoformat()}, {self.exercise.name}"


@dataclass(frozen=True)
class Case:
    """A plan with everything that it has to agree with.

    Parameters
    ----------
    plan, method, situation, person, assessment
        As in :func:`saltus.training.audit.audit`.
    earlier : tuple of Week
        Weeks before the plan, the latest last.
    """

    plan: Plan
    method: Method
    situation: Situation
    person: Person
    assessment: Assessment
    earlier: tuple[Week, ...] = ()

    @cached_property
    def minor(self) -> bool:
        """Whether the caution due to a minor applies; an unknown age counts as one."""
        age = self.person.age(self.plan.start)
        return age is None or age < 18

    @cached_property
    def placed(self) -> tuple[Placed, ...]:
        """Every planned item with a known exercise, from the start of the plan on."""
        return tuple(p for week in self.plan.weeks for p in self.in_week(week) if self.is_new(p))

    def in_week(self, week: Week) -> tuple[Placed, ...]:
        """Every item of a week whose exercise is known, those done already included."""
        return tuple(
            Placed(week, session, item, self.method.exercises[item.exercise])
            for session in week.sessions
            for item in session.items
            if item.exercise in self.method.exercises
        )

    def is_new(self, placed: Placed) -> bool:
        """Whether an item is planned, not already behind the athlete."""
        return placed.session.date >= self.plan.start

    def phase(self, week: Week) -> Phase | None:
        """Phase of a week; None where the method has none of that name."""
        return next((p for p in self.method.phases if p.id == week.phase), None)

    @cached_property
    def breaks(self) -> tuple[Break, ...]:
        """Breaks before the plan: what stood before its start counts as done."""
        done = [s for week in (*self.earlier, *self.plan.weeks) for s in week.sessions]
        situation = replace(self.situation, start=self.plan.start)
        return find_breaks(situation, self.method.easing, done)

    def eased(self, week: Week) -> Eased | None:
        """How a week is to be eased after days without training; None for an ordinary one."""
        return eased_in_week(self.breaks, week.start, self.method.easing)

    def asked(self, use: Use, week: Week) -> Use:
        """A use of a phase as a week asks for it."""
        eased = self.eased(week)
        if eased is not None:
            return use.eased(eased.volume)
        return use.lighter if week.back_off else use

    def whole(self, week: Week) -> bool:
        """Whether all seven days of a week lie within the plan."""
        return week.start >= self.plan.start and week.end <= self.plan.goal_date

    def belongs(self, exercise: Exercise, family: str) -> bool:
        """Whether an exercise is of a family; "landing" is all that lands but preparation."""
        if family == LANDING:
            return exercise.lands and exercise.place is not Place.PREPARATION
        return family in exercise.families

    def working_sets(self, week: Week) -> int:
        """Sets of a week, preparation left out."""
        return sum(
            p.item.sets for p in self.in_week(week) if p.exercise.place is not Place.PREPARATION
        )

    def sport(self, first: dt.date, last: dt.date) -> float:
        """Landing load of practices and matches from one day to another, both included."""
        steps = self.method.landing_steps
        cost = {EventKind.PRACTICE: steps.practice_cost, EventKind.MATCH: steps.match_cost}
        return sum(
            event.landings * cost[event.kind]
            for event in self.situation.events
            if first <= event.date <= last
        )

    def second_tests(self) -> Iterator[dt.date]:
        """Tests that get a few easy days: all before the goal but trials."""
        for target in self.situation.targets:
            if target.priority is not Priority.TRIAL and target.date < self.plan.goal_date:
                yield target.date
