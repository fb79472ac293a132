"""The record of one athlete: who they are, what was tested and trained, what a plan must fit."""

import datetime as dt
from dataclasses import dataclass, field
from pathlib import Path

from saltus.athlete.assessment import Goal
from saltus.athlete.health import Pain, Restriction
from saltus.athlete.history import TrainingBlock
from saltus.athlete.observations import Observation
from saltus.athlete.person import Person
from saltus.record.entries import Agreement, BlockedDays, RecordedTest, Sport
from saltus.training.log import LoggedSession
from saltus.training.situation import Event, Gym, Situation, TargetDate, Weekday

__all__ = ["Record"]

_AFTER_LAST_TARGET = dt.timedelta(weeks=4)
_WITHOUT_TARGET = dt.timedelta(weeks=52)


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """Everything that one file says of one athlete.

    Parameters
    ----------
    person : Person
        The athlete.
    tests : tuple of Observation or RecordedTest
        In the order of the file.
    goal : Goal or None
        What the athlete wants.
    blocks : tuple of TrainingBlock
        Training already done.
    start : date or None
        First day that may be planned, where the record says so.
    targets : tuple of TargetDate
        Days that count.
    minutes : dict of Weekday to int
        Minutes free for training.
    sport : tuple of Sport
        Practices and matches.
    blocked : tuple of BlockedDays
        Days on which nothing may be planned.
    gym : Gym
        What there is to train with.
    pains, restrictions : tuple
        Reported pains, and what may not be done.
    landing_practice_weeks : float
        Weeks of landing practice behind the athlete.
    soft_surface : bool
        Whether a forgiving surface is at hand.
    method : str or None
        Path of the coach's own method, relative to the record.
    plan : str or None
        Path of the plan that the athlete has now, relative to the record.
    log : tuple of LoggedSession
        Sessions that were done.
    agreed : tuple of Agreement
        Cautions that were agreed to.
    remark : str
        The coach's remark on the athlete.
    source : Path or None
        The file it was read from.
    notes : tuple of str
        What the coach should know of the reading: recordings left out or doubtful.
    """

    person: Person
    tests: tuple[Observation | RecordedTest, ...] = ()
    goal: Goal | None = None
    blocks: tuple[TrainingBlock, ...] = ()
    start: dt.date | None = None
    targets: tuple[TargetDate, ...] = ()
    minutes: dict[Weekday, int] = field(default_factory=dict)
    sport: tuple[Sport, ...] = ()
    blocked: tuple[BlockedDays, ...] = ()
    gym: Gym = field(default_factory=Gym)
    pains: tuple[Pain, ...] = ()
    restrictions: tuple[Restriction, ...] = ()
    landing_practice_weeks: float = 0.0
    soft_surface: bool = False
    method: str | None = None
    plan: str | None = None
    log: tuple[LoggedSession, ...] = ()
    agreed: tuple[Agreement, ...] = ()
    remark: str = ""
    source: Path | None = field(default=None, compare=False)
    notes: tuple[str, ...] = field(default=(), compare=False)

    @property
    def observations(self) -> tuple[Observation, ...]:
        """Every test, those that came out of recordings included, in the order of the file."""
        found: list[Observation] = []
        for test in self.tests:
            if isinstance(test, RecordedTest):
                found.extend(test.observations)
            else:
                found.append(test)
        return tuple(found)

    @property
    def method_path(self) -> Path | None:
        """The coach's own method, or None for the one that ships."""
        return self._beside(self.method)

    @property
    def plan_path(self) -> Path | None:
        """The plan that the athlete has now, or None."""
        return self._beside(self.plan)

    def _beside(self, relative: str | None) -> Path | None:
        if relative is None:
            return None
        return self.source.parent / relative if self.source else Path(relative)

    @property
    def latest(self) -> dt.date:
        """Day of the latest test, or of the latest weighing where nothing was tested."""
        days = [test.date for test in self.tests] or [m.date for m in self.person.body_masses]
        return max(days)

    @property
    def situation(self) -> Situation:
        """What a plan must fit into; its start may be replaced."""
        return self.situation_from(self.start or self.latest + dt.timedelta(days=1))

    def situation_from(self, start: dt.date) -> Situation:
        """What a plan from that day on must fit into.

        Weekly practices and matches are spelt out from the earlier of that day and the first
        test, up to four weeks after the last target (a year on, where there is none); those
        that fall on blocked days are left out.
        """
        blocked = frozenset(day for stretch in self.blocked for day in stretch.days())
        return Situation(
            start=start,
            targets=self.targets,
            minutes=self.minutes,
            blocked=blocked,
            events=self._events(start, blocked),
            gym=self.gym,
            pains=self.pains,
            restrictions=self.restrictions,
            landing_practice_weeks=self.landing_practice_weeks,
            soft_surface=self.soft_surface,
            trained=self._trained(),
            in_blocks=self._in_blocks(),
        )

    def _trained(self) -> dict[dt.date, dict[str, float]]:
        """Logged days with lifts or jumps, each with the heaviest load of each exercise, kg.

        Of sessions outside the plan those count whose sets were written down.
        """
        trained: dict[dt.date, dict[str, float]] = {}
        for session in self.log:
            done = [s for s in session.sets if not s.skipped and s.reps + s.missed > 0]
            if not done and (session.sets or session.free):
                continue
            loads = trained.setdefault(session.date, {})
            for each in done:
                if each.load_kg is not None:
                    loads[each.exercise] = max(each.load_kg, loads.get(each.exercise, 0.0))
        return trained

    def _in_blocks(self) -> frozenset[dt.date]:
        """Days of blocks of training: whole, as nobody knows which of them were rest."""
        return frozenset(
            block.start + dt.timedelta(days=i)
            for block in self.blocks
            if any(share > 0 for share in block.emphasis.values())
            for i in range((block.end - block.start).days + 1)
        )

    def _events(self, start: dt.date, blocked: frozenset[dt.date]) -> tuple[Event, ...]:
        first = min([start, *(test.date for test in self.tests)])
        last = (
            max(target.date for target in self.targets) + _AFTER_LAST_TARGET
            if self.targets
            else start + _WITHOUT_TARGET
        )
        events: list[Event] = []
        for sport in self.sport:
            if sport.date is not None:
                events.append(Event(sport.date, sport.kind, sport.landings))
                continue
            day, end = sport.start or first, sport.end or last
            while day <= end:
                if Weekday.of(day) in sport.weekdays and day not in blocked:
                    events.append(Event(day, sport.kind, sport.landings))
                day += dt.timedelta(days=1)
        return tuple(sorted(events, key=lambda event: (event.date, event.kind)))
