"""Tests turned into readings: single numbers with an error, that the model can predict.

A test may give several readings (a drop jump its height and its contact time). A reading
is positive; heights are compared in metres, everything else by its logarithm.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import hypot, log

from saltus.athlete.broad_jump import broad_jump_height
from saltus.athlete.measurement_error import (
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

__all__ = ["READING_UNITS", "Reading", "ReadingKind", "readings_of"]


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


def readings_of(observations: Sequence[Observation], person: Person) -> tuple[Reading, ...]:
    """All readings that the model can use, in order of date.

    Parameters
    ----------
    observations : sequence of Observation
        Tests of any kind, on any dates.
    person : Person
        For stature.

    Returns
    -------
    tuple of Reading
        Tests that say nothing about the push-off (a press, a pull of unknown ratio to the
        squat) give none.
    """
    found = [reading for observation in observations for reading in _readings(observation, person)]
    return tuple(sorted(found, key=lambda reading: reading.date))


def _called(observation: Observation, words: str) -> str:
    label = f" ({observation.label})" if observation.label else ""
    return f"{words} of {observation.date.isoformat()}{label}"


def _readings(observation: Observation, person: Person) -> list[Reading]:
    match observation:
        case Jump():
            return [_jump(observation)]
        case DropJump():
            return _drop_jump(observation)
        case BroadJump():
            return [_broad_jump(observation, person)]
        case Maximum() | RepSet() | BarSpeedSet():
            return _maximum(observation)
        case IsometricPull():
            return _pull(observation)


def _jump(observation: Jump) -> Reading:
    error = jump_error(observation)
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
