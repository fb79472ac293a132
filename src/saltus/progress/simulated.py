"""Simulated athletes whose true responses are known: to see how sure what is learnt may be.

Athletes are drawn from the prior, train for three blocks, and are tested with the published
errors before and after each; the code that a coach runs then tells what each block brought and
how strongly they respond. An 80 % interval must hold the truth 80 times in a hundred.
"""

import datetime as dt
from itertools import pairwise

import numpy as np

from saltus.athlete.calibration import battery
from saltus.athlete.history import TrainingBlock
from saltus.athlete.posterior import Problem, fit
from saltus.athlete.prior import RESPONSE
from saltus.athlete.qualities import TRAINABLE, Quality
from saltus.athlete.response import TRAINED
from saltus.athlete.virtual import random_person, virtual_athlete
from saltus.progress.response import block_responses, learnt_responses
from saltus.quantities import Estimate
from saltus.training.emphasis import UPKEEP

__all__ = ["BANDS", "response_outcome"]

BANDS = ("learnt response", "gain of a block", "expected gain")
"""What is held against the truth."""

_BLOCKS, _WEEKS = 3, 7


def response_outcome(
    rng: np.random.Generator, on: dt.date, *, draws: int = 2000
) -> dict[str, list[int]]:
    """Draw an athlete and a season, fit, and hold each interval against the truth.

    Parameters
    ----------
    rng : Generator
        Of the draw.
    on : date
        Last day of tests.
    draws : int
        Of the posterior.

    Returns
    -------
    dict of str to list of int
        For each of :data:`BANDS`, one for each interval: 0 where it holds the truth, 1 where the
        truth lies above it, -1 below.
    """
    days = [on - dt.timedelta(weeks=_WEEKS * i) for i in range(_BLOCKS, -1, -1)]
    tests = [test for day in days for test in battery(["cmj", "squat", "pull", "loaded"], day)]
    aims = rng.choice(len(TRAINABLE), size=_BLOCKS)
    blocks = tuple(
        TrainingBlock(start, end - dt.timedelta(days=1), _emphasis(TRAINABLE[aim]))
        for (start, end), aim in zip(pairwise(days), aims, strict=True)
    )
    athlete = virtual_athlete(random_person(rng, on), tests, rng, on=on, blocks=blocks)
    posterior = fit(Problem(athlete.person, athlete.observations, blocks, on), draws=draws)
    sides: dict[str, list[int]] = {band: [] for band in BANDS}
    for learnt in learnt_responses(posterior):
        truth = float(np.exp(athlete.constants[RESPONSE[learnt.quality]]))
        sides["learnt response"].append(_side(learnt.learnt, truth))
    for told in block_responses(posterior, blocks, blocks):
        part, before = TRAINED[told.quality], days.index(told.start)
        gain = float(np.expm1(athlete.states[before + 1, part] - athlete.states[before, part]))
        sides["gain of a block"].append(_side(told.observed, gain))
        sides["expected gain"].append(_side(told.expected, gain))
    return sides


def _emphasis(aim: Quality) -> dict[Quality, float]:
    return {quality: 1.0 if quality is aim else UPKEEP for quality in TRAINABLE}


def _side(estimate: Estimate, truth: float) -> int:
    return int(truth > estimate.high) - int(truth < estimate.low)
