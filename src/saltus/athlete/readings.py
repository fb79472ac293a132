"""Tests turned into readings: single numbers with an error, that the model can predict.

A test may give several readings (a drop jump its height and its contact time). A reading
is positive; heights are compared in metres, everything else by its logarithm.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from math import hypot, log, sqrt

from saltus.athlete.broad_jump import broad_jump_height
from saltus.athlete.measurement_error import (
    attempt_sd_m,
    drop_jump_error,
    isometric_error,
    jump_error,
    maximum_from,
    summary_m,
)
from saltus.athlete.observations import (
    BarSpeedSet,
    BroadJump,
    DropJump,
    IsometricPull,
    Jump,
    JumpStyle,
    Lift,
    Maximum,
    Observation,
    RepSet,
)
from saltus.athlete.person import Person
from saltus.athlete.prior import BIAS, Constant
from saltus.athlete.strength import LIFT_RATIO
from saltus.athlete.typical_error import ENOUGH, OwnError, own_attempts, own_error

__all__ = ["READING_UNITS", "Reading", "ReadingKind", "own_errors", "readings_of"]


_EARLIEST_MS = 50
_BEST_MS = 150
_HEIGHT_PER_DROP = 0.38
_CONTACT_PER_DROP_S_M = 0.47
# What a metre more of true drop does to rebound height and contact: design figures of 12.0 to
# 28.6 cm and 0.143 to 0.355 s between drops of 0.15 and 0.60 m.


class ReadingKind(StrEnum):
    """What a reading is a reading of."""

    SQUAT_JUMP = "squat_jump"
    COUNTERMOVEMENT_JUMP = "countermovement_jump"
    REBOUND_HEIGHT = "rebound_height"
    REBOUND_CONTACT = "rebound_contact"
    SQUAT_MAXIMUM = "squat_maximum"
    PULL_PEAK = "pull_peak"
    PULL_EARLY = "pull_early"
    DISTANCE = "push_off_distance"


READING_UNITS = {
    ReadingKind.SQUAT_JUMP: "m",
    ReadingKind.COUNTERMOVEMENT_JUMP: "m",
    ReadingKind.REBOUND_HEIGHT: "m",
    ReadingKind.REBOUND_CONTACT: "s",
    ReadingKind.SQUAT_MAXIMUM: "kg",
    ReadingKind.PULL_PEAK: "N",
    ReadingKind.PULL_EARLY: "N",
    ReadingKind.DISTANCE: "m",
}
"""Unit of each kind of reading."""


@dataclass(frozen=True, slots=True)
class Reading:
    """A number with its error, and what the model needs to predict it.

    Parameters
    ----------
    date : date
        The day.
    source : str
        Which test it came from, in words.
    kind : ReadingKind
        What it is a reading of.
    value : float
        m, kg, N or s.
    sd : float
        Error that is new at every test: of the value in m, or of its logarithm.
    is_log : bool
        Whether `sd` is that of the logarithm.
    shift : float
        Known bias, added to what the model predicts (m, or log).
    load_kg, drop_m, after_s : float
        External load, true drop, time after the onset.
    log_terms, add_terms : tuple of Constant
        Constants whose exponential multiplies, and which are added to, the prediction.
    bias_sd : float
        Standard deviation of the method's bias for this athlete, m.
    """

    date: dt.date
    source: str
    kind: ReadingKind
    value: float
    sd: float
    is_log: bool
    shift: float = 0.0
    load_kg: float = 0.0
    drop_m: float = 0.0
    after_s: float = float("inf")
    log_terms: tuple[Constant, ...] = ()
    add_terms: tuple[Constant, ...] = ()
    bias_sd: float = 0.0


_REPEATED = dt.timedelta(days=10)
# The same test again within this time is a repeat: what a week or so of training brings is small
# beside the error, and a steady trend is taken out.


def readings_of(
    observations: Sequence[Observation], person: Person, *, published: bool = False
) -> tuple[Reading, ...]:
    """All readings that the model can use, in order of date.

    Parameters
    ----------
    observations : sequence of Observation
        Tests of any kind, on any dates.
    person : Person
        For stature.
    published : bool
        Leave every error as published, however many repeats there are.

    Returns
    -------
    tuple of Reading
        Tests that say nothing about the push-off (a press, a pull of unknown ratio to the
        squat) give none. The error of a test of which there are enough repeats is the athlete's
        own (:mod:`saltus.athlete.typical_error`).
    """
    attempts = 1.0 if published else _own_attempts(observations).ratio.value
    found = [
        reading
        for observation in observations
        for reading in _readings(observation, person, attempts)
    ]
    ordered = tuple(sorted(found, key=lambda reading: reading.date))
    if published:
        return ordered
    ratios = {test: error.ratio.value for test, error in _from_day_to_day(ordered).items()}
    return tuple(replace(reading, sd=reading.sd * ratios[_same(reading)]) for reading in ordered)


def own_errors(
    observations: Sequence[Observation], person: Person
) -> tuple[tuple[str, OwnError], ...]:
    """Typical errors that the athlete's own repeats tell.

    Returns
    -------
    tuple of (str, OwnError)
        Which test, in words, and its error; only tests of which there are enough repeats.
    """
    attempts = _own_attempts(observations)
    told = [("attempts of one day", attempts)] if attempts.freedom >= ENOUGH else []
    found = [r for test in observations for r in _readings(test, person, attempts.ratio.value)]
    ordered = sorted(found, key=lambda reading: reading.date)
    for test, error in _from_day_to_day(ordered).items():
        if error.freedom >= ENOUGH:
            latest = next(r for r in reversed(ordered) if _same(r) == test)
            told.append((latest.source.split(" of ")[0], error))
    return tuple(told)


def _own_attempts(observations: Sequence[Observation]) -> OwnError:
    return own_attempts(
        (test.heights_m, attempt_sd_m(summary_m(test), test.method, test.frame_rate_hz))
        for test in observations
        if isinstance(test, Jump) and test.load_kg == 0
    )


_Test = tuple[ReadingKind, float, float, float, tuple[Constant, ...], tuple[Constant, ...]]


def _same(reading: Reading) -> _Test:
    """What makes two readings repeats of one test."""
    return (
        reading.kind,
        reading.load_kg,
        reading.drop_m,
        reading.after_s,
        reading.log_terms,
        reading.add_terms,
    )


def _from_day_to_day(ordered: Sequence[Reading]) -> dict[_Test, OwnError]:
    """Error of each test against the published one, of readings in order of date."""
    repeats: dict[_Test, list[Reading]] = {}
    for reading in ordered:
        repeats.setdefault(_same(reading), []).append(reading)
    return {test: own_error(_chains(readings)) for test, readings in repeats.items()}


def _chains(readings: Sequence[Reading]) -> list[list[tuple[float, float]]]:
    """Readings that follow each other closely: days, and values in units of the published error."""
    published = sqrt(sum(r.sd**2 for r in readings) / len(readings))
    chains: list[list[tuple[float, float]]] = []
    before: dt.date | None = None
    for reading in readings:
        if before == reading.date:
            continue  # two tests of one day share its form
        if before is None or reading.date - before > _REPEATED:
            chains.append([])
        value = log(reading.value) if reading.is_log else reading.value
        chains[-1].append((float(reading.date.toordinal()), value / published))
        before = reading.date
    return chains


def _called(observation: Observation, words: str) -> str:
    label = f" ({observation.label})" if observation.label else ""
    return f"{words} of {observation.date.isoformat()}{label}"


def _readings(observation: Observation, person: Person, attempts: float) -> list[Reading]:
    match observation:
        case Jump():
            return [_jump(observation, attempts)]
        case DropJump():
            return _drop_jump(observation)
        case BroadJump():
            return [_broad_jump(observation, person)]
        case Maximum() | RepSet() | BarSpeedSet():
            return _maximum(observation)
        case IsometricPull():
            return _pull(observation)


def _jump(observation: Jump, attempts: float) -> Reading:
    error = jump_error(observation, own_attempts=attempts)
    log_terms: list[Constant] = []
    if observation.style is JumpStyle.SQUAT:
        kind = ReadingKind.SQUAT_JUMP
        log_terms.append(Constant.SQUAT_START)
    else:
        kind = ReadingKind.COUNTERMOVEMENT_JUMP
    approach = observation.style is JumpStyle.APPROACH
    if observation.arms or approach:
        log_terms.append(Constant.ARMS)
    if approach:
        log_terms.append(Constant.APPROACH)
    words = f"{observation.style.value.replace('_', ' ')} jump"
    if observation.load_kg > 0:
        words += f" with {observation.load_kg:g} kg"
    return Reading(
        date=observation.date,
        source=_called(observation, words),
        kind=kind,
        value=summary_m(observation),
        sd=error.sd_m,
        is_log=False,
        shift=error.bias_m,
        load_kg=observation.load_kg,
        log_terms=tuple(log_terms),
        add_terms=(BIAS[observation.method],),
        bias_sd=error.bias_sd_m,
    )


def _drop_jump(observation: DropJump) -> list[Reading]:
    error = drop_jump_error(observation)
    words = _called(observation, f"drop jump from {100 * observation.drop_m:.0f} cm")
    arms = (Constant.ARMS,) if observation.arms else ()
    found = [
        Reading(
            date=observation.date,
            source=words,
            kind=ReadingKind.REBOUND_HEIGHT,
            value=error.height_m,
            sd=hypot(error.height.sd_m, _HEIGHT_PER_DROP * error.drop_sd_m),
            is_log=False,
            shift=error.height.bias_m,
            drop_m=error.drop_m,
            log_terms=(Constant.REBOUND_HEIGHT, *arms),
            add_terms=(BIAS[observation.method],),
            bias_sd=error.height.bias_sd_m,
        )
    ]
    if error.contact_s is not None:
        sd_s = hypot(error.contact_sd_s, _CONTACT_PER_DROP_S_M * error.drop_sd_m)
        found.append(
            Reading(
                date=observation.date,
                source=words,
                kind=ReadingKind.REBOUND_CONTACT,
                value=error.contact_s,
                sd=sd_s / error.contact_s,
                is_log=True,
                drop_m=error.drop_m,
                log_terms=(Constant.REBOUND_CONTACT,),
            )
        )
    return found


def _broad_jump(observation: BroadJump, person: Person) -> Reading:
    height, error = broad_jump_height(observation, person.stature_m)
    return Reading(
        date=observation.date,
        source=_called(observation, "broad jump"),
        kind=ReadingKind.COUNTERMOVEMENT_JUMP,
        value=height,
        sd=error.sd_m,
        is_log=False,
        shift=error.bias_m,
        log_terms=(Constant.ARMS,) if observation.arms else (),
        add_terms=(Constant.BIAS_BROAD,),
        bias_sd=error.bias_sd_m,
    )


_SQUATS = (Lift.BACK_SQUAT, Lift.FRONT_SQUAT)


def _maximum(observation: Maximum | RepSet | BarSpeedSet) -> list[Reading]:
    if observation.lift not in _SQUATS:
        return []
    one_rm_kg, sd_log = maximum_from(observation)
    shift, spread = 0.0, 0.0
    if observation.lift is not Lift.BACK_SQUAT:
        ratio = LIFT_RATIO[observation.lift]
        shift, spread = log(ratio.mean), ratio.sd_log
    return [
        Reading(
            date=observation.date,
            source=_called(observation, observation.lift.value.replace("_", " ")),
            kind=ReadingKind.SQUAT_MAXIMUM,
            value=one_rm_kg,
            sd=hypot(sd_log, spread),
            is_log=True,
            shift=shift,
            log_terms=(Constant.SQUAT_SKILL,),
        )
    ]


def _pull(observation: IsometricPull) -> list[Reading]:
    found = [
        Reading(
            date=observation.date,
            source=_called(observation, "isometric pull"),
            kind=ReadingKind.PULL_PEAK,
            value=observation.peak_n,
            sd=isometric_error(),
            is_log=True,
            log_terms=(Constant.PULL_EFFICIENCY,),
        )
    ]
    # The early forces of one pull share their onset and intent: one of them, not all, is new
    # information. The one nearest to 150 ms is the steepest that is still repeatable.
    early = {ms: force for ms, force in observation.force_at_n.items() if ms >= _EARLIEST_MS}
    if early:
        ms = min(early, key=lambda each: abs(each - _BEST_MS))
        found.append(
            Reading(
                date=observation.date,
                source=_called(observation, f"isometric pull, force at {ms} ms"),
                kind=ReadingKind.PULL_EARLY,
                value=early[ms],
                sd=isometric_error(ms),
                is_log=True,
                after_s=ms / 1000,
                log_terms=(Constant.PULL_EFFICIENCY, Constant.PULL_EARLY),
            )
        )
    return found
