"""Simulation-based calibration: an interval must hold the truth as often as it says.

Athletes are drawn from the prior, tested with the published errors, and fitted by the code
that a coach runs. The rank of the truth within its posterior is then uniform, and an 80 %
interval holds it 80 times in a hundred, if and only if the computation is right (Talts et
al. 2018, arXiv:1804.06788; Cook, Gelman & Rubin 2006, J Comput Graph Stat 15:675-692).
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from saltus.athlete.assess import quality_draws
from saltus.athlete.history import TrainingBlock
from saltus.athlete.observations import (
    DropJump,
    IsometricPull,
    Jump,
    JumpMethod,
    JumpStyle,
    Lift,
    Maximum,
    Observation,
)
from saltus.athlete.posterior import Posterior, Problem, fit
from saltus.athlete.prediction import jump_height_m
from saltus.athlete.pushoff import Start
from saltus.athlete.qualities import TRAINABLE, Quality
from saltus.athlete.virtual import VirtualAthlete, random_person, virtual_athlete
from saltus.athlete.worth import expected_gains, mean_responses

__all__ = ["JUMP", "Outcome", "battery", "calibrate_one", "season"]

JUMP = "jump"
"""Name under which the countermovement jump itself is ranked."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of one virtual athlete.

    Parameters
    ----------
    ranks : dict of str to float
        Share of the posterior below the truth, by quality, and of the jump.
    named : Quality
        Leading quality in the posterior.
    probability : float
        Its probability.
    truly : Quality
        Quality whose expected gain is the largest for the true state.
    effective_share : float
        Effective sample size over draws.
    """

    ranks: dict[str, float]
    named: Quality
    probability: float
    truly: Quality
    effective_share: float


def battery(tests: Sequence[str], on: dt.date) -> tuple[Observation, ...]:
    """Tests with placeholder values: any of "cmj", "sj", "squat", "pull", "drops", "loaded"."""
    plate = JumpMethod.PLATE_IMPULSE
    known: dict[str, tuple[Observation, ...]] = {
        "cmj": (_jump(on, JumpStyle.COUNTERMOVEMENT, plate),),
        "sj": (_jump(on, JumpStyle.SQUAT, plate),),
        "loaded": tuple(_jump(on, JumpStyle.SQUAT, plate, load) for load in (15.0, 30.0)),
        "squat": (Maximum(date=on, lift=Lift.BACK_SQUAT, load_kg=100.0),),
        "pull": (IsometricPull(date=on, peak_n=2500.0, force_at_n={150: 1500.0}),),
        "drops": tuple(
            DropJump(
                date=on, drop_m=box, heights_m=(0.25,) * 3, contacts_s=(0.2,) * 3, method=plate
            )
            for box in (0.2, 0.4)
        ),
    }
    return tuple(test for name in tests for test in known[name])


def season(
    rng: np.random.Generator, on: dt.date, *, dates: int = 3
) -> tuple[tuple[Observation, ...], tuple[TrainingBlock, ...]]:
    """Random tests on some dates of a season, with a block of training between them."""
    tests: list[Observation] = []
    blocks = []
    day = on - dt.timedelta(weeks=8 * (dates - 1))
    for i in range(dates):
        chosen = [name for name in ("sj", "squat", "pull", "drops", "loaded") if rng.random() < 0.4]
        tests += battery(["cmj", *chosen], day)
        if i < dates - 1:
            after = day + dt.timedelta(weeks=8)
            aim = TRAINABLE[int(rng.integers(len(TRAINABLE)))]
            emphasis = {quality: 1.0 if quality is aim else 0.2 for quality in TRAINABLE}
            blocks.append(TrainingBlock(day + dt.timedelta(days=1), after, emphasis))
            day = after
    return tuple(tests), tuple(blocks)


def calibrate_one(
    rng: np.random.Generator,
    on: dt.date,
    tests: Sequence[Observation],
    blocks: Sequence[TrainingBlock] = (),
    *,
    draws: int = 2000,
) -> Outcome:
    """Draw an athlete, test, fit, and rank the truth.

    Parameters
    ----------
    rng : Generator
        Of the draw.
    on : date
        Last day.
    tests : sequence of Observation
        Placeholders.
    blocks : sequence of TrainingBlock
        Training done.
    draws : int
        Of the posterior.
    """
    athlete = virtual_athlete(random_person(rng, on), tests, rng, on=on, blocks=blocks)
    posterior = fit(Problem(athlete.person, athlete.observations, blocks, on), draws=draws)
    gains = expected_gains(posterior)
    truth = _as_posterior(athlete, posterior)
    # Which quality is worth most is a bet on the ordinary response, not on the luck of one.
    true_gains = expected_gains(truth, mean_responses(posterior))
    ranks = {
        quality.value: _rank(drawn, quality_draws(truth)[quality][0], posterior.weights)
        for quality, drawn in quality_draws(posterior).items()
    }
    mass = athlete.person.mass_kg(on)
    true_jump = jump_height_m(Start.COUNTERMOVEMENT, truth.now, truth.segment_m, mass)[0]
    ranks[JUMP] = _rank(gains.jump_m, float(true_jump), posterior.weights)
    probabilities = gains.probabilities
    best = int(np.argmax(probabilities))
    return Outcome(
        ranks=ranks,
        named=TRAINABLE[best],
        probability=float(probabilities[best]),
        truly=TRAINABLE[int(true_gains.largest[0])],
        effective_share=posterior.effective_sample_size / draws,
    )


def _jump(on: dt.date, style: JumpStyle, method: JumpMethod, load_kg: float = 0.0) -> Jump:
    return Jump(date=on, style=style, method=method, heights_m=(0.3,) * 3, load_kg=load_kg)


def _as_posterior(athlete: VirtualAthlete, like: Posterior) -> Posterior:
    """The truth as a posterior of one draw."""
    return Posterior(
        problem=like.problem,
        states=athlete.states[None],
        constants=athlete.constants[None],
        weights=np.ones(1),
        mode=like.mode,
        reading_weights=like.reading_weights,
        effective_sample_size=1.0,
        refined=False,
    )


def _rank(drawn: NDArray[np.float64], truth: float, weights: NDArray[np.float64]) -> float:
    return float(np.sum(weights * (drawn < truth)))
