"""A test day as a whole: its first tests, its results at a glance."""

import datetime as dt
import secrets
from collections.abc import Sequence
from dataclasses import dataclass, replace

from saltus.athlete.clearance import objections
from saltus.record import Record
from saltus.record.trialresults import results_of
from saltus.record.trials import Trial
from saltus.web.access import sees_health
from saltus.web.models import Athlete, Squad, TestDay, UnfinishedResult, User
from saltus.web.records import record_of
from saltus.web.testdays.cells import Cell, cell_of, trials_of
from saltus.web.testdays.words import objection_words
from saltus.web.units import Units

__all__ = ["Row", "athletes_on", "first_trials", "has_results", "objections_on", "rows_of"]


@dataclass(frozen=True, slots=True)
class Row:
    """One athlete on the day: their cells, and why they should not do some tests."""

    athlete: Athlete
    cells: tuple[tuple[Cell, tuple[str, ...]], ...]


def first_trials(squad: Squad) -> list[dict[str, object]]:
    """Tests of the squad's latest day, or weighing and a jump-and-reach."""
    latest = TestDay.objects.filter(squad=squad).exclude(tests=[]).first()
    if latest is not None:
        trials = trials_of(latest)
    else:
        trials = [
            Trial(kind="body_mass", attempts=1),
            Trial(kind="standing_reach", attempts=1),
            Trial(kind="countermovement_jump", method="reach", way="touched", arms=True),
        ]
    return [replace(trial, key=secrets.token_hex(4)).as_row() for trial in trials]


def athletes_on(day: TestDay) -> list[Athlete]:
    """Who is tested, by name."""
    return list(day.athletes.filter(deleted=None, squad=day.squad).select_related("squad"))


def has_results(day: TestDay, date: dt.date, trials: Sequence[Trial]) -> bool:
    """Whether anybody has a result of these tests on that day."""
    kept = [trial for trial in trials if trial.kind != "standing_reach"]
    return any(
        results_of(record_of(athlete, recordings=False), trial, date)
        for athlete in athletes_on(day)
        for trial in kept
    )


def objections_on(
    day: TestDay, athlete: Athlete, record: Record, trial: Trial, user: User
) -> tuple[str, ...]:
    """Why an athlete should not do a test of the day, as far as this person may know."""
    found = objections(
        trial.kind,
        record.person,
        day.date,
        lift=trial.lift,
        pains=record.pains,
        restrictions=record.restrictions,
    )
    if not found:
        return ()
    seen = sees_health(user, athlete)
    return tuple(dict.fromkeys(objection_words(each, sees_health=seen) for each in found))


def rows_of(day: TestDay, trials: Sequence[Trial], user: User, units: Units) -> list[Row]:
    """Every athlete with the cells of these tests."""
    unfinished = {
        (each.athlete_id, each.trial): each
        for each in UnfinishedResult.objects.filter(test_day=day)
    }
    rows = []
    for athlete in athletes_on(day):
        record = record_of(athlete, recordings=False)
        rows.append(
            Row(
                athlete,
                tuple(
                    (
                        cell_of(
                            day,
                            athlete,
                            record,
                            trial,
                            units,
                            unfinished.get((athlete.pk, trial.key)),
                        ),
                        objections_on(day, athlete, record, trial, user),
                    )
                    for trial in trials
                ),
            )
        )
    return rows
