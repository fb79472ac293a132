"""What there is to tell of how an athlete is doing, gathered for the page."""

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from saltus.athlete.qualities import Quality
from saltus.progress.load import Rise, WeekLoad, rises, weekly_load
from saltus.progress.replanning import Proposal, replan_proposals
from saltus.progress.retest import HORIZON as RETEST_HORIZON
from saltus.progress.retest import USUAL_MINUTES, RetestDay, next_retest
from saltus.progress.soreness import PlaceOverTime, places_over_time
from saltus.record import Record
from saltus.record.following import next_main_day, open_test_days
from saltus.training.emphasis import planned_blocks
from saltus.training.method import Method
from saltus.training.plan import Plan
from saltus.web.assessments import kept_posterior
from saltus.web.methods.using import method_of
from saltus.web.models import Athlete, StoredAssessment, StoredPlan
from saltus.web.plans.stored import held, plan_of
from saltus.web.records import record_of

__all__ = ["Gathered", "levelled"]

_LATELY = dt.timedelta(weeks=5)
# What is longer past asks for nothing any more.


@dataclass(frozen=True)
class Gathered:
    """The record of an athlete on a day, with what is worked out of it when it is asked for.

    Parameters
    ----------
    athlete : Athlete
        Whose.
    today : date
        The day.
    kept : StoredAssessment or None
        The assessment that is kept of them.
    """

    athlete: Athlete
    today: dt.date
    kept: StoredAssessment | None

    @property
    def told(self) -> Mapping[str, Any]:
        """The part of the assessment that follows the athlete; empty where there is none."""
        return {} if self.kept is None else self.kept.document.get("follow") or {}

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
        """Weeks lately that held much more than those before, the latest last."""
        lately = self.today - _LATELY
        found = rises(self.weeks, self.method.landing_steps)
        return tuple(each for each in found if each.week >= lately)

    @cached_property
    def places(self) -> tuple[PlaceOverTime, ...]:
        """Soreness and pain by place."""
        return places_over_time(self.record.log, self.record.pains, on=self.today)

    @cached_property
    def retest(self) -> RetestDay | None:
        """The day on which testing the jump again is worth most; None where that is not known."""
        kept, record = self.kept, self.record
        if kept is None or not kept.document["provenance"]["readings"]:
            return None
        posterior = kept_posterior(kept, record)
        until = next_main_day(record, self.today)
        last = until or self.today + RETEST_HORIZON
        return next_retest(
            posterior,
            () if self.plan is None else planned_blocks(self.plan, self.method.exercises),
            open_test_days(record, self.today, last, self.plan),
            until=until,
            weekly_minutes=float(sum(record.minutes.values())) or USUAL_MINUTES,
        )

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
