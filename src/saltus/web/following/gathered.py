"""What there is to tell of how an athlete is doing, gathered for the page."""

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from saltus.athlete.qualities import Quality
from saltus.progress.load import Rise, WeekLoad, rises, weekly_load
from saltus.progress.replanning import Proposal, replan_proposals
from saltus.progress.soreness import PlaceOverTime, places_over_time
from saltus.record import Record
from saltus.training.method import Method
from saltus.training.plan import Plan
from saltus.web.methods.using import method_of
from saltus.web.models import Athlete, StoredPlan
from saltus.web.plans.stored import held, plan_of
from saltus.web.records import record_of

__all__ = ["Gathered", "levelled"]


@dataclass(frozen=True)
class Gathered:
    """The record of an athlete on a day, with what is worked out of it when it is asked for.

    Parameters
    ----------
    athlete : Athlete
        Whose.
    today : date
        The day.
    told : mapping
        The part of the kept assessment that follows the athlete; empty where there is none.
    """

    athlete: Athlete
    today: dt.date
    told: Mapping[str, Any]

    @cached_property
    def record(self) -> Record:
        """Without its recordings.

        Raises
        ------
        RecordError
            If the text is at fault.
        """
        return record_of(self.athlete, recordings=False)

    @cached_property
    def method(self) -> Method:
        """The method that the squad uses."""
        return method_of(self.athlete.squad)

    @cached_property
    def stored(self) -> StoredPlan | None:
        """The plan that holds, as it is kept."""
        return held(self.athlete)

    @cached_property
    def plan(self) -> Plan | None:
        """The plan that holds."""
        return None if self.stored is None else plan_of(self.stored, self.method)

    @cached_property
    def weeks(self) -> tuple[WeekLoad, ...]:
        """Load of every week of the log."""
        first = min((session.date for session in self.record.log), default=self.today)
        return weekly_load(
            self.record.log,
            self.method.exercises,
            events=self.record.situation_from(first).events,
            steps=self.method.landing_steps,
            until=self.today,
        )

    @cached_property
    def rises(self) -> tuple[Rise, ...]:
        """Weeks that held much more than those before, the latest last."""
        return rises(self.weeks, self.method.landing_steps)

    @cached_property
    def places(self) -> tuple[PlaceOverTime, ...]:
        """Soreness and pain by place."""
        return places_over_time(self.record.log, self.record.pains, on=self.today)

    @cached_property
    def proposals(self) -> tuple[Proposal, ...]:
        """Reasons to plan anew; none without a plan."""
        if self.plan is None or self.stored is None:
            return ()
        record = self.record
        return replan_proposals(
            self.plan,
            made=(self.stored.accepted or self.stored.at).date(),
            on=self.today,
            log=record.log,
            tested={test.date for test in record.tests},
            pains=record.pains,
            restrictions=record.restrictions,
            targets=record.targets,
            blocked=frozenset(day for stretch in record.blocked for day in stretch.days()),
            levelled=dict(levelled(self.told)),
        )


def levelled(told: Mapping[str, Any]) -> Iterator[tuple[Quality, str]]:
    """Qualities in training that have stopped rising, each with the sentence that says so."""
    for name, each in told.get("plateau", {}).items():
        if each["plateau"]:
            yield Quality(name), each["text"]
