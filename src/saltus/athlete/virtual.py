"""Virtual athletes drawn from the prior, with tests that have the published errors.

They serve calibration (do intervals hold the truth as often as they say?), trials of test
batteries, and invented examples. The same code that reads a real athlete's tests reads
theirs.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from saltus.athlete.history import TrainingBlock
from saltus.athlete.observations import (
    BarSpeedSet,
    BroadJump,
    DropJump,
    IsometricPull,
    Jump,
    Maximum,
    Observation,
    RepSet,
)
from saltus.athlete.person import BodyMass, Person, Sex
from saltus.athlete.posterior import FREEDOM, Problem
from saltus.athlete.prior import Prior
from saltus.athlete.readings import readings_of

__all__ = ["VirtualAthlete", "random_person", "virtual_athlete"]

_LOWEST_HEIGHT_M = 0.03


@dataclass(frozen=True, eq=False)
class VirtualAthlete:
    """A person with tests, and the truth behind them.

    Parameters
    ----------
    person : Person
        Who.
    observations : tuple of Observation
        Tests with errors.
    blocks : tuple of TrainingBlock
        Training done.
    states : ndarray, shape (k, 5)
        True log-qualities at each date of the tests and on the last day.
    constants : ndarray, shape (19,)
        True constants.
    """

    person: Person
    observations: tuple[Observation, ...]
    blocks: tuple[TrainingBlock, ...]
    states: NDArray[np.float64]
    constants: NDArray[np.float64]


def random_person(rng: np.random.Generator, on: dt.date) -> Person:
    """A person of ordinary build and training age, without tests."""
    female = bool(rng.random() < 0.5)
    stature = rng.normal(1.68, 0.065) if female else rng.normal(1.80, 0.07)
    index = rng.normal(22.5, 2.0)
    return Person(
        name="virtual athlete",
        body_masses=(BodyMass(on, float(index * stature**2)),),
        sex=Sex.FEMALE if female else Sex.MALE,
        born=dt.date(on.year - 24, 1, 1),
        stature_m=float(stature),
        training_age_years=float(rng.uniform(0, 8)),
    )


def virtual_athlete(
    person: Person,
    battery: Sequence[Observation],
    rng: np.random.Generator,
    *,
    on: dt.date,
    blocks: Sequence[TrainingBlock] = (),
    prior: Prior | None = None,
) -> VirtualAthlete:
    """An athlete drawn from this person's prior who did these tests.

    Parameters
    ----------
    person : Person
        Decides the prior.
    battery : sequence of Observation
        Which tests on which dates; their values are replaced.
    rng : Generator
        Of the draw.
    on : date
        Last day.
    blocks : sequence of TrainingBlock
        Training done.
    prior : Prior, optional
        To draw from in place of this person's, such as one whose qualities do not wander.

    Returns
    -------
    VirtualAthlete

    Raises
    ------
    TypeError
        If a test of the battery is of a kind whose results are not drawn.
    """
    ordered = tuple(sorted(battery, key=lambda test: test.date))
    problem = Problem(person, ordered, blocks, on, prior)
    unknowns = rng.standard_normal((1, problem.trajectory.size))
    truth = problem.predict(unknowns)[0]
    natural = np.where(problem.predictor.is_log, np.exp(truth), truth)
    # Errors grow with what is measured: take them where the truth is, not at the placeholders.
    exact = _with_values(ordered, person, natural)
    sd = np.array([reading.sd for reading in readings_of(exact, person, published=True)])
    noise = rng.standard_t(FREEDOM, size=sd.size) * np.sqrt((FREEDOM - 2) / FREEDOM)
    read = truth + sd * noise
    values = np.where(problem.predictor.is_log, np.exp(read), read)
    return VirtualAthlete(
        person=person,
        observations=_with_values(ordered, person, values),
        blocks=tuple(blocks),
        states=problem.trajectory.states(unknowns)[0],
        constants=problem.trajectory.constants(unknowns)[0],
    )


def _with_values(
    battery: Sequence[Observation], person: Person, values: NDArray[np.float64]
) -> tuple[Observation, ...]:
    """The same tests with the given readings, in the order of :func:`readings_of`."""
    filled = []
    rest = list(values)
    for test in battery:
        taken = [rest.pop(0) for _ in readings_of((test,), person)]
        filled.append(_with_value(test, taken))
    return tuple(filled)


def _with_value(test: Observation, values: Sequence[float]) -> Observation:
    match test:
        case Jump():
            height = max(float(values[0]), _LOWEST_HEIGHT_M)
            return replace(test, heights_m=(height,) * len(test.heights_m))
        case DropJump():
            height = max(float(values[0]), _LOWEST_HEIGHT_M)
            filled = replace(test, heights_m=(height,) * len(test.heights_m))
            if test.contacts_s:
                contact = min(float(values[1]), 1.4)
                return replace(filled, contacts_s=(contact,) * len(test.contacts_s))
            return filled
        case Maximum():
            return replace(test, load_kg=float(values[0])) if values else test
        case IsometricPull():
            early = dict.fromkeys(test.force_at_n, float(values[-1]))
            return replace(test, peak_n=float(values[0]), force_at_n=early)
        case BroadJump() | RepSet() | BarSpeedSet():
            raise TypeError(f"a virtual {type(test).__name__} is not drawn yet; use its like")
