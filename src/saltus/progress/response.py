"""What each block of training brought this athlete, against what was to be expected.

Expected is what somebody with this athlete's qualities at the start of the block would gain, with
the published spread of responses between people and what a season does by itself; observed is what
the tests say. From all blocks together the model learns how strongly this athlete responds to each
kind of training, drawn towards the ordinary response while little is known (a multiplier with a
log-normal prior, :data:`saltus.athlete.prior.CONSTANTS`); the worth of the next block is worked
out with that.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from saltus.athlete.between import log_mass_change, states_on
from saltus.athlete.history import TrainingBlock, dose_weeks
from saltus.athlete.posterior import Posterior
from saltus.athlete.prior import N_STATE, RESPONSE, State
from saltus.athlete.qualities import TRAINABLE, WORDS, Quality
from saltus.athlete.response import TRAINED, drift
from saltus.quantities import Estimate

__all__ = [
    "BlockResponse",
    "LearntResponse",
    "block_responses",
    "joined",
    "learnt_responses",
    "targets",
]

_SHORTEST = dt.timedelta(days=14)
_TARGETED = 0.5
_STILL = 0.8
_SURE = 0.8
_SEED = 20170609


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockResponse:
    """What a block brought to a quality that it was aimed at.

    Parameters
    ----------
    start, end : date
        First and last day of the block.
    quality : Quality
        What it was aimed at.
    dose_weeks : float
        Weeks of an ordinary dose that the quality got in the part of it between tests.
    expected, observed : Estimate
        Gain as a share of the quality at the start: 0.05 is five per cent.
    probability_more : float
        That more was gained than expected of somebody else in the same place.
    text : str
        In a sentence.
    """

    start: dt.date
    end: dt.date
    quality: Quality
    dose_weeks: float
    expected: Estimate
    observed: Estimate
    probability_more: float
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LearntResponse:
    """How strongly an athlete responds to training aimed at a quality.

    Parameters
    ----------
    quality : Quality
        Which.
    ordinary, learnt : Estimate
        Multiplier of the ordinary response, before and after this athlete's tests.
    probability_stronger : float
        That it is above 1.
    text : str
        In a sentence.
    """

    quality: Quality
    ordinary: Estimate
    learnt: Estimate
    probability_stronger: float
    text: str


def targets(block: TrainingBlock) -> tuple[Quality, ...]:
    """Trainable qualities that got at least half as much as the one that got most."""
    most = max((block.emphasis.get(q, 0.0) for q in TRAINABLE), default=0.0)
    return tuple(
        q for q in TRAINABLE if most > 0 and block.emphasis.get(q, 0.0) >= _TARGETED * most
    )


def joined(blocks: Sequence[TrainingBlock]) -> tuple[TrainingBlock, ...]:
    """Weeks that follow each other with the same emphasis as one block.

    Parameters
    ----------
    blocks : sequence of TrainingBlock
        Short ones, such as the weeks of a log.

    Returns
    -------
    tuple of TrainingBlock
        A week goes on with the block while what the block is mainly aimed at gets at least four
        fifths of what the week is mainly aimed at, and no more than a week lies between them.
        The emphasis is the mean over all days.
    """
    found: list[TrainingBlock] = []
    for block in sorted(blocks, key=lambda each: each.start):
        if found and _goes_on(found[-1], block):
            found[-1] = _together(found[-1], block)
        else:
            found.append(block)
    return tuple(found)


def block_responses(
    posterior: Posterior, blocks: Sequence[TrainingBlock], told: Sequence[TrainingBlock]
) -> tuple[BlockResponse, ...]:
    """What each block brought.

    Parameters
    ----------
    posterior : Posterior
        Of one athlete.
    blocks : sequence of TrainingBlock
        All training that it was fitted with.
    told : sequence of TrainingBlock
        The blocks to speak of: those of the record, and the log's weeks :func:`joined`.

    Returns
    -------
    tuple of BlockResponse
        In order of date, one for each quality that a block was aimed at. Only the part of a block
        between the first and the last test counts; blocks of which that is less than two weeks
        are left out.
    """
    tested = sorted({reading.date for reading in posterior.problem.readings})
    if len(tested) < 2:
        return ()
    windows = [
        (block, max(block.start, tested[0]), min(block.end + dt.timedelta(days=1), tested[-1]))
        for block in sorted(told, key=lambda each: (each.start, each.end))
    ]
    windows = [(block, start, end) for block, start, end in windows if end - start >= _SHORTEST]
    days = sorted({day for _, start, end in windows for day in (start, end)})
    drawn = states_on(posterior, blocks, days) if days else np.empty((0, 0, N_STATE))
    found: list[BlockResponse] = []
    for block, start, end in windows:
        before, after = drawn[:, days.index(start)], drawn[:, days.index(end)]
        expected = _expected(posterior, blocks, before, start, end)
        doses = dose_weeks(blocks, start, end)
        found += [
            _response(posterior, block, quality, doses[quality], expected, after - before)
            for quality in targets(block)
        ]
    return tuple(found)


def learnt_responses(posterior: Posterior) -> tuple[LearntResponse, ...]:
    """How strongly the athlete responds to training aimed at each trainable quality."""
    prior = posterior.problem.prior
    return tuple(
        _learnt(
            quality,
            float(prior.constant_mean[constant]),
            float(prior.constant_sd[constant]),
            np.exp(posterior.constants[:, constant]),
            posterior.weights,
        )
        for quality, constant in RESPONSE.items()
    )


def _goes_on(block: TrainingBlock, week: TrainingBlock) -> bool:
    if week.start - block.end > dt.timedelta(days=8):
        return False
    aim = max(block.emphasis, key=lambda q: block.emphasis[q])
    return week.emphasis.get(aim, 0.0) >= _STILL * max(week.emphasis.values())


def _together(one: TrainingBlock, other: TrainingBlock) -> TrainingBlock:
    end = max(one.end, other.end)
    doses = dose_weeks((one, other), one.start - dt.timedelta(days=1), end + dt.timedelta(days=1))
    weeks = ((end - one.start).days + 1) / 7
    return TrainingBlock(one.start, end, {q: dose / weeks for q, dose in doses.items()})


def _expected(
    posterior: Posterior,
    blocks: Sequence[TrainingBlock],
    before: NDArray[np.float64],
    start: dt.date,
    end: dt.date,
) -> NDArray[np.float64]:
    """Changes of somebody else in the same place, shape (n, 5)."""
    prior, person = posterior.problem.prior, posterior.problem.person
    rng = np.random.default_rng(_SEED)
    constants = posterior.constants.copy()
    for constant in RESPONSE.values():
        drawn = rng.standard_normal(len(constants))
        constants[:, constant] = prior.constant_mean[constant] + prior.constant_sd[constant] * drawn
    change = drift(before, constants, dose_weeks(blocks, start, end), prior.training_years)
    walk = prior.walk_sd * np.sqrt((end - start).days / 7)
    change += walk * rng.standard_normal(change.shape)
    for part in (State.TORQUE, State.RATE):
        change[:, part] -= log_mass_change(person, start, end)
    return change


def _response(
    posterior: Posterior,
    block: TrainingBlock,
    quality: Quality,
    doses: float,
    expected: NDArray[np.float64],
    observed: NDArray[np.float64],
) -> BlockResponse:
    weights, part = posterior.weights, TRAINED[quality]
    expected_gain, gain = np.expm1(expected[:, part]), np.expm1(observed[:, part])
    order = np.argsort(expected_gain)
    below = np.cumsum(weights[order])
    # Every draw of the one against every draw of the other.
    rank = np.searchsorted(expected_gain[order], gain)
    more = float(np.sum(weights * np.concatenate([[0.0], below])[rank]))
    told = Estimate.of_sample(expected_gain, weights), Estimate.of_sample(gain, weights)
    return BlockResponse(
        start=block.start,
        end=block.end,
        quality=quality,
        dose_weeks=doses,
        expected=told[0],
        observed=told[1],
        probability_more=more,
        text=_told(quality, *told, more),
    )


def _told(quality: Quality, expected: Estimate, observed: Estimate, more: float) -> str:
    if more >= _SURE:
        verdict = "more than expected"
    elif more <= 1 - _SURE:
        verdict = "less than expected"
    else:
        verdict = "about what was expected, as far as the tests can tell"
    return (
        f"{WORDS[quality].capitalize()} changed by {_shares(observed)}; {_shares(expected)} was to "
        f"be expected. That is {verdict}."
    )


def _shares(estimate: Estimate) -> str:
    value, low, high = (
        f"{round(100 * each) or 0:+d}" for each in (estimate.value, estimate.low, estimate.high)
    )
    return f"{value} % ({low} to {high})"


def _learnt(
    quality: Quality,
    mean: float,
    sd: float,
    drawn: NDArray[np.float64],
    weights: NDArray[np.float64],
) -> LearntResponse:
    around = Estimate.normal(mean, sd)
    ordinary = Estimate(
        float(np.exp(mean)),
        float(np.exp(around.low)),
        float(np.exp(around.high)),
        float(np.exp(mean + sd**2 / 2) * np.sqrt(np.expm1(sd**2))),
    )
    learnt = Estimate.of_sample(drawn, weights)
    stronger = float(np.sum(weights[drawn > 1.0]))
    return LearntResponse(
        quality=quality,
        ordinary=ordinary,
        learnt=learnt,
        probability_stronger=stronger,
        text=(
            f"Training aimed at {WORDS[quality]} brings this athlete {learnt.value:.1f} times its "
            f"mean gain ({learnt.low:.1f} to {learnt.high:.1f}). Before any test that was "
            f"{ordinary.value:.1f} ({ordinary.low:.1f} to {ordinary.high:.1f}), as for anybody."
        ),
    )
