"""Simulated seasons whose truth is known, to see whether bands hold and calls are right.

Three questions. Do the bands of the jump and of each quality hold the truth over a year? How often
is an athlete who does not change at all told a real change? And is a plateau found soon after it
began, and not before?
"""

import datetime as dt
from dataclasses import dataclass, replace

import numpy as np

from saltus.athlete.assess import quality_draws
from saltus.athlete.calibration import battery
from saltus.athlete.history import TrainingBlock
from saltus.athlete.observations import Observation
from saltus.athlete.posterior import Posterior, Problem, fit
from saltus.athlete.prediction import jump_height_m
from saltus.athlete.prior import prior_for
from saltus.athlete.pushoff import Start
from saltus.athlete.qualities import TRAINABLE, Quality
from saltus.athlete.timeline import moments
from saltus.athlete.virtual import VirtualAthlete, random_person, virtual_athlete
from saltus.progress.change import changes, since_first
from saltus.progress.plateau import plateaus
from saltus.quantities import Estimate
from saltus.training.emphasis import UPKEEP

__all__ = [
    "JUMP",
    "PlateauOutcome",
    "Schedule",
    "band_outcome",
    "false_alarm_outcome",
    "plateau_outcome",
]

JUMP = "jump"

_BLOCK_WEEKS = 6
_LOOKS_FROM, _FOUND_WITHIN = 3, 4


@dataclass(frozen=True, slots=True)
class Schedule:
    """How often an athlete is tested while a quality is trained.

    Parameters
    ----------
    jumps_per_week : int
        Days of three countermovement jumps each.
    own_per_week : float
        Readings of the quality itself: a maximum (or bar speeds that tell it), an isometric pull,
        jumps with load, squat jumps.
    """

    jumps_per_week: int
    own_per_week: float


@dataclass(frozen=True, slots=True)
class PlateauOutcome:
    """What was called in a simulated block.

    Parameters
    ----------
    onset_week : float or None
        When the gain truly stopped; None where it went on.
    called_week : int or None
        First week in which a plateau was called; looked at every week from the third on, up to
        four weeks after the onset, or for twelve weeks.
    """

    onset_week: float | None
    called_week: int | None

    @property
    def found(self) -> bool:
        """Whether a plateau that was there was called after it began."""
        return (
            self.onset_week is not None
            and self.called_week is not None
            and self.called_week > self.onset_week
        )

    @property
    def false(self) -> bool:
        """Whether one was called while the quality still rose."""
        return self.called_week is not None and (
            self.onset_week is None or self.called_week <= self.onset_week
        )


def band_outcome(
    rng: np.random.Generator, on: dt.date, *, draws: int = 2000
) -> dict[str, list[int]]:
    """A year of blocks and fortnightly tests; each band against the truth.

    Returns
    -------
    dict of str to list of int
        By quality, and of the jump, one for each date: 0 where the band holds the truth, 1 where
        the truth lies above it, -1 below.
    """
    start = on - dt.timedelta(weeks=52)
    tests: list[Observation] = []
    for week in range(0, 53, 2):
        chosen = [name for name in ("sj", "squat", "pull", "drops", "loaded") if rng.random() < 0.3]
        tests += battery(["cmj", *chosen], start + dt.timedelta(weeks=week))
    aims = rng.choice(len(TRAINABLE), size=52 // _BLOCK_WEEKS)
    blocks = tuple(
        _block(start + dt.timedelta(weeks=_BLOCK_WEEKS * i), _BLOCK_WEEKS, TRAINABLE[aim])
        for i, aim in enumerate(aims)
    )
    athlete = virtual_athlete(random_person(rng, on), tests, rng, on=on, blocks=blocks)
    posterior = fit(Problem(athlete.person, athlete.observations, blocks, on), draws=draws)
    truth = _truth(athlete, posterior)
    sides: dict[str, list[int]] = {}
    for i, moment in enumerate(moments(posterior)):
        true_jump = jump_height_m(
            Start.COUNTERMOVEMENT,
            truth.states[:, i],
            truth.segment_m,
            athlete.person.mass_kg(moment.date),
        )
        sides.setdefault(JUMP, []).append(_side(moment.jump_m, float(true_jump[0])))
        for quality, drawn in quality_draws(truth, i).items():
            side = _side(moment.qualities[quality], float(drawn[0]))
            sides.setdefault(quality.value, []).append(side)
    return sides


def false_alarm_outcome(
    rng: np.random.Generator, on: dt.date, *, trained: bool = False, draws: int = 2000
) -> dict[str, list[bool]]:
    """Half a year of fortnightly tests of an athlete who does not change at all.

    Parameters
    ----------
    rng, on, draws
        As in :func:`band_outcome`.
    trained : bool
        Whether blocks that brought nothing are on record.

    Returns
    -------
    dict of str to list of bool
        "next": for each test day, whether the jump was told a real rise or fall since the one
        before; "first": since the first of them.
    """
    days = [on - dt.timedelta(weeks=2 * i) for i in range(13, -1, -1)]
    tests = [
        test
        for i, day in enumerate(days)
        for test in battery(["cmj", *(["squat"] if i % 2 == 0 else [])], day)
    ]
    person = random_person(rng, on)
    steady = replace(prior_for(person), walk_sd=np.zeros(len(prior_for(person).walk_sd)))
    athlete = virtual_athlete(person, tests, rng, on=on, prior=steady)
    blocks = tuple(
        _block(days[0] + dt.timedelta(weeks=_BLOCK_WEEKS * i), _BLOCK_WEEKS, TRAINABLE[aim])
        for i, aim in enumerate(rng.choice(len(TRAINABLE), size=4) if trained else ())
    )
    posterior = fit(Problem(person, athlete.observations, blocks, on), draws=draws)
    return {
        "next": [change.verdict in ("rise", "fall") for change in changes(posterior)],
        "first": [change.verdict in ("rise", "fall") for change in since_first(posterior)],
    }


def plateau_outcome(
    rng: np.random.Generator,
    on: dt.date,
    quality: Quality,
    testing: Schedule,
    *,
    onset_week: float | None,
    wander: float,
    draws: int = 100,
) -> PlateauOutcome:
    """A block aimed at a quality whose gain stops in some week, or goes on.

    Parameters
    ----------
    rng : Generator
        Of the draw.
    on : date
        First day of the block.
    quality : Quality
        What it is aimed at.
    testing : Schedule
        How often.
    onset_week : float or None
        When the gain stops.
    wander : float
        How much the true qualities wander besides, over what the prior grants a season that
        nobody wrote down.
    draws : int
        Of each posterior; the call rests on its mode.
    """
    weeks = 12 if onset_week is None else int(np.floor(onset_week)) + _FOUND_WITHIN
    tests = _tests(on, weeks, quality, testing)
    person = random_person(rng, on)
    prior = prior_for(person)
    last = on + dt.timedelta(weeks=weeks)
    gaining = _block(on, weeks if onset_week is None else onset_week, quality)
    athlete = virtual_athlete(
        person,
        tests,
        rng,
        on=last,
        blocks=(gaining,),
        prior=replace(prior, walk_sd=wander * prior.walk_sd),
    )
    block = _block(on, weeks, quality)
    for week in range(_LOOKS_FROM, weeks + 1):
        today = on + dt.timedelta(weeks=week)
        posterior = fit(Problem(person, athlete.observations, (block,), today), draws=draws)
        told = [each for each in plateaus(posterior, (block,)) if each.quality is quality]
        if told and told[0].plateau:
            return PlateauOutcome(onset_week, week)
    return PlateauOutcome(onset_week, None)


_OWN_TEST = {
    Quality.MAX_STRENGTH: "squat",
    Quality.RATE_OF_FORCE_DEVELOPMENT: "pull",
    Quality.PUSH_OFF_SPEED: "loaded",
    Quality.STRETCH_SHORTENING_GAIN: "sj",
}


def _tests(on: dt.date, weeks: int, quality: Quality, testing: Schedule) -> tuple[Observation, ...]:
    days: dict[int, list[str]] = {0: ["cmj", _OWN_TEST[quality]]}
    for name, per_week in (
        ("cmj", float(testing.jumps_per_week)),
        (_OWN_TEST[quality], testing.own_per_week),
    ):
        for i in range(1, int(weeks * per_week) + 1):
            names = days.setdefault(round(7 * i / per_week), [])
            if name not in names:
                names.append(name)
    return tuple(
        test for day, names in days.items() for test in battery(names, on + dt.timedelta(days=day))
    )


def _block(start: dt.date, weeks: float, aim: Quality) -> TrainingBlock:
    emphasis = {quality: 1.0 if quality is aim else UPKEEP for quality in TRAINABLE}
    return TrainingBlock(start, start + dt.timedelta(days=round(7 * weeks) - 1), emphasis)


def _truth(athlete: VirtualAthlete, like: Posterior) -> Posterior:
    """The truth as a posterior of one draw."""
    return replace(
        like, states=athlete.states[None], constants=athlete.constants[None], weights=np.ones(1)
    )


def _side(estimate: Estimate, truth: float) -> int:
    return int(truth > estimate.high) - int(truth < estimate.low)
