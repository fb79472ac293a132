"""Results of a test day's trials, out of a record and into it.

On a day an athlete has one test of each trial: results given again take the place of those
before.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from saltus.athlete.observations import (
    BarSpeedSet,
    BroadJump,
    DropJump,
    IsometricPull,
    Maximum,
    RepSet,
)
from saltus.athlete.person import BodyMass
from saltus.errors import TestError
from saltus.record.record import Record
from saltus.record.trials import EARLY_MS, Trial

__all__ = ["results_of", "with_results"]


def _place(record: Record, trial: Trial, date: dt.date) -> int | None:
    for i, test in enumerate(record.tests):
        if test.date == date and trial.matches(test):
            return i
    return None


def results_of(record: Record, trial: Trial, date: dt.date) -> dict[str, float]:
    """Figures of a trial that the record holds, by key of column, in SI."""
    person = record.person
    if trial.kind == "body_mass":
        masses = [mass.mass_kg for mass in person.body_masses if mass.date == date]
        return {"mass.0": masses[-1]} if masses else {}
    if trial.kind == "standing_reach":
        reach = person.standing_reach_m
        return {} if reach is None else {"standing_reach.0": reach}
    place = _place(record, trial, date)
    if place is None:
        return {}
    test: Any = record.tests[place]
    match test:
        case Maximum():
            return {"load.0": test.load_kg}
        case RepSet():
            found = {"load.0": test.load_kg, "reps.0": float(test.reps)}
            return found | ({"reserve.0": test.reserve} if test.reserve else {})
        case IsometricPull():
            early = {f"force_at.{ms}": force for ms, force in test.force_at_n.items()}
            return {"peak.0": test.peak_n, **early}
        case BroadJump():
            return _numbered("distances", test.distances_m)
        case BarSpeedSet():
            return _numbered("loads", test.loads_kg) | _numbered("speeds", test.speeds_m_s)
        case _:
            read = [trial.as_read(height, person.standing_reach_m) for height in test.heights_m]
            found = _numbered(trial.way, [value for value in read if value is not None])
            contacts = test.contacts_s if isinstance(test, DropJump) else ()
            return found | _numbered("contacts", contacts)


def _numbered(name: str, figures: Any) -> dict[str, float]:
    return {f"{name}.{i}": float(value) for i, value in enumerate(figures, start=1)}


def with_results(
    record: Record,
    trial: Trial,
    date: dt.date,
    values: Mapping[str, float],
    *,
    note: str = "",
) -> Record:
    """Put the figures of a trial into a record, in place of those of the same day.

    Parameters
    ----------
    record : Record
        Of the athlete.
    trial : Trial
        What was done.
    date : date
        The day.
    values : mapping of str to float
        By key of column, in SI; none at all takes the test out.
    note : str
        Remark of a test that was not there before; one that was keeps its own.

    Returns
    -------
    Record

    Raises
    ------
    TestError
        If the figures are no whole test, or cannot be one.
    """
    if trial.missing(values):
        raise TestError("Some figures of this test are missing: fill them in.")
    if trial.kind == "body_mass":
        return _weighed(record, date, values)
    if trial.kind == "standing_reach":
        if not values:
            raise TestError("A standing reach cannot be taken back here, only corrected.")
        person = replace(record.person, standing_reach_m=values["standing_reach.0"])
        return replace(record, person=person)
    place = _place(record, trial, date)
    tests = list(record.tests)
    if not values:
        if place is not None:
            del tests[place]
        return replace(record, tests=tuple(tests))
    before = None if place is None else tests[place]
    test = trial.observation(
        values,
        date,
        standing_reach_m=record.person.standing_reach_m,
        note=before.note if before else note,
    )
    if isinstance(test, IsometricPull) and isinstance(before, IsometricPull):
        # Early forces at other times than those that are asked for stay.
        others = {ms: n for ms, n in before.force_at_n.items() if ms not in EARLY_MS}
        test = replace(test, force_at_n=dict(sorted((others | test.force_at_n).items())))
    if place is None:
        tests.append(test)
    else:
        tests[place] = test
    return replace(record, tests=tuple(tests))


def _weighed(record: Record, date: dt.date, values: Mapping[str, float]) -> Record:
    masses = [mass for mass in record.person.body_masses if mass.date != date]
    if values:
        masses.append(BodyMass(date, values["mass.0"]))
    if not masses:
        raise TestError("This is the only weighing on record: correct it, or keep it.")
    person = replace(record.person, body_masses=tuple(sorted(masses, key=lambda mass: mass.date)))
    return replace(record, person=person)
