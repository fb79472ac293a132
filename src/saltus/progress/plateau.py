"""Whether a quality in training still rises, or its gain has flattened.

Within the stretch of weeks that a quality has been aimed at without a break, its gain from training
either goes on to the day, or stopped on some day of it; while it goes on, it is so many times the
ordinary one. Every such history is held against all readings at once: the model is made linear at
the posterior's mode, where the log evidence of a history is that of a normal distribution. The
onset of a plateau is thus a change point with a grid for its prior, the response another, and both
are summed over.

References
----------
Carlin, Gelfand & Smith 1992, J R Stat Soc C 41:389-405 (Bayesian change points); Kass & Raftery
1995, J Am Stat Assoc 90:773-795 (Bayes factors).
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import cho_factor, cho_solve
from scipy.special import logsumexp, ndtri

from saltus.athlete.assessment import Worth
from saltus.athlete.history import TrainingBlock, dose_weeks
from saltus.athlete.posterior import FREEDOM, Posterior
from saltus.athlete.prior import N_STATE, RESPONSE
from saltus.athlete.qualities import TRAINABLE, WORDS, Quality
from saltus.athlete.response import TRAINED, drift
from saltus.athlete.worth import expected_gains, worths
from saltus.progress.response import targets
from saltus.quantities import INTERVAL, Estimate

__all__ = ["Plateau", "in_training", "plateaus"]

CALLED = 0.6
"""Probability from which a plateau is called. Of weekly looks at qualities that still rise, fewer
than one in ten then call one (:mod:`saltus.progress.simulated_seasons`); an athlete who is told so
wrongly loses little, since the emphasis goes to what promises most otherwise."""

_STILL = 0.2
# And below which the quality is said to rise still.

_WEEK = dt.timedelta(weeks=1)
_BREAK = dt.timedelta(days=14)
# Training aimed at a quality goes on over a break this long.
_RECENT = dt.timedelta(days=14)
# Without a reading for so long nothing can be said of the last weeks.
_ONSET_PER_WEEK = 0.06
_NEVER_ROSE = 0.05
# Prior of the onset: a quarter to a third of blocks of six weeks have flattened by their end
# (common practice: the emphasis is changed after four to eight weeks); some never bring anything.
_MULTIPLIERS = 9
_OWN_WALK = 0.35
# While a quality is trained by a written plan, what it does beside that is a third of what the
# prior grants a season that nobody wrote down (a judgement).
_INFORMATION = (FREEDOM + 1) / (FREEDOM + 3) * FREEDOM / (FREEDOM - 2)
# Fisher information of a t error of unit deviation (Lange, Little & Taylor 1989).


@dataclass(frozen=True, slots=True, kw_only=True)
class Plateau:
    """Whether a quality in training still rises.

    Parameters
    ----------
    quality : Quality
        Which.
    since : date
        First day of the weeks, without a break, that it has been trained.
    date : date
        The day spoken of.
    probability : float
        That its gain from training has stopped.
    start, earliest, latest : date
        When it stopped, if it has: median and 80 % interval.
    next_quality : Quality
        Of the others, the one with the largest worth now.
    text : str
        What to make of it, in a sentence or two.
    """

    quality: Quality
    since: dt.date
    date: dt.date
    probability: float
    start: dt.date
    earliest: dt.date
    latest: dt.date
    next_quality: Quality
    text: str

    @property
    def probability_rising(self) -> float:
        """That it still rises."""
        return 1 - self.probability

    @property
    def plateau(self) -> bool:
        """Whether a plateau is called: its probability is at least 0.6."""
        return self.probability >= CALLED


def in_training(blocks: Sequence[TrainingBlock], on: dt.date) -> dict[Quality, dt.date]:
    """Qualities that training is aimed at now, and since when without a break.

    Parameters
    ----------
    blocks : sequence of TrainingBlock
        Training done; what goes on after `on` counts up to it.
    on : date
        The day. A block that ended less than two weeks ago is still in training, and so is a
        quality over a break of that length.
    """
    found = {}
    for quality in TRAINABLE:
        aimed = [b for b in blocks if b.start < on and quality in targets(b)]
        began = on
        for block in sorted(aimed, key=lambda each: each.end, reverse=True):
            if block.end < began - _BREAK:
                break
            began = min(began, block.start)
        if began < on:
            found[quality] = began
    return found


def plateaus(posterior: Posterior, blocks: Sequence[TrainingBlock]) -> tuple[Plateau, ...]:
    """Whether each quality in training still rises.

    Parameters
    ----------
    posterior : Posterior
        Of one athlete, fitted with `blocks`; its last date is the day spoken of.
    blocks : sequence of TrainingBlock
        All training done, as blocks or as the weeks of a log.

    Returns
    -------
    tuple of Plateau
        One for each quality that :func:`in_training` names and that was trained for two weeks or
        more, with readings on two days since its start (or just before), one of them within the
        last two weeks. None where nothing can be said.
    """
    on = posterior.dates[-1]
    tested = sorted({reading.date for reading in posterior.problem.readings})
    trained = {
        quality: since
        for quality, since in in_training(blocks, on).items()
        if on - since >= 2 * _WEEK
        and len([day for day in tested if day >= since - _BREAK]) > 1
        and on - tested[-1] <= _RECENT
    }
    if not trained:
        return ()
    ranked = worths(expected_gains(posterior))
    return tuple(
        _plateau(quality, since, on, _Evidence(posterior, blocks, quality, since), ranked)
        for quality, since in trained.items()
    )


def _plateau(
    quality: Quality,
    since: dt.date,
    on: dt.date,
    evidence: "_Evidence",
    ranked: Sequence[Worth],
) -> Plateau:
    onsets = [
        since + i * _WEEK for i in range((on - since).days // 7 + 1) if since + i * _WEEK < on
    ]
    going_on = (1 - _ONSET_PER_WEEK) ** np.arange(len(onsets))
    stopped = np.append(_ONSET_PER_WEEK * going_on[:-1], going_on[-1])
    prior = np.concatenate([[_NEVER_ROSE], (1 - _NEVER_ROSE) * stopped])
    log_share = np.log(prior) + np.array([evidence.of(onset) for onset in [*onsets, None]])
    share = np.exp(log_share - logsumexp(log_share))
    probability = float(np.sum(share[:-1]))
    tail = (1 - INTERVAL) / 2
    below = np.cumsum(share[:-1]) / probability
    earliest, start, latest = (
        onsets[min(int(np.searchsorted(below, p)), len(onsets) - 1)] for p in (tail, 0.5, 1 - tail)
    )
    best = next(worth for worth in ranked if worth.quality is not quality)
    return Plateau(
        quality=quality,
        since=since,
        date=on,
        probability=probability,
        start=start,
        earliest=earliest,
        latest=latest,
        next_quality=best.quality,
        text=_told(quality, probability, (earliest, latest), best),
    )


def _told(
    quality: Quality,
    probability: float,
    between: tuple[dt.date, dt.date],
    best: Worth,
) -> str:
    words = WORDS[quality]
    if probability >= CALLED:
        first, last = (day.isoformat() for day in between)
        return (
            f"{words.capitalize()} has probably stopped rising between {first} and {last} "
            f"({100 * probability:.0f} %). Change the emphasis to {WORDS[best.quality]}: of the "
            f"others, a block on it promises most, {_centimetres(best.gain_m)}."
        )
    if probability <= _STILL:
        return f"{words.capitalize()} probably still rises: stay with it."
    return (
        f"Whether {words} still rises cannot be told yet ({100 * probability:.0f} % that it has "
        "stopped): test it again before you change the emphasis."
    )


def _centimetres(gain: Estimate) -> str:
    return f"{100 * gain.value:.1f} cm ({100 * gain.low:.1f} to {100 * gain.high:.1f})"


class _Evidence:
    """Log evidence of histories of a quality's training, linear around a posterior's mode."""

    def __init__(
        self,
        posterior: Posterior,
        blocks: Sequence[TrainingBlock],
        quality: Quality,
        since: dt.date,
    ):
        problem = posterior.problem
        prior, mode = problem.prior, posterior.mode
        self._quality, self._blocks = quality, blocks
        self._years = prior.training_years
        self._steps = list(zip(posterior.dates, posterior.dates[1:], strict=False))
        self._state = problem.trajectory.states(mode[None])[0]
        self._constants = problem.trajectory.constants(mode[None])
        part, constant = TRAINED[quality], RESPONSE[quality]
        columns = N_STATE * np.arange(1, len(posterior.dates)) + int(part)
        response = N_STATE * len(posterior.dates) + int(constant)
        predicted, jacobian = problem.linearised(mode)
        self._slopes = jacobian[:, columns]
        # The response is not linear here: it is summed over a grid.
        self._multipliers = prior.constant_mean[constant] + prior.constant_sd[constant] * ndtri(
            (np.arange(_MULTIPLIERS) + 0.5) / _MULTIPLIERS
        )
        jacobian[:, response] = 0.0
        self._off = problem.predictor.value - predicted + jacobian @ mode
        weeks = np.array([(end - start).days / 7 for start, end in self._steps])
        within = np.array([(end - max(start, since)).days / 7 for start, end in self._steps])
        within = np.clip(within / weeks, 0, 1)
        variance = np.ones(mode.size)
        variance[columns] = 1 - within * (1 - _OWN_WALK**2)
        self._walk = prior.walk_sd[part] * np.sqrt(weeks)
        # Readings that lie far off lose weight as they do in the fit.
        far = problem.residuals(predicted) ** 2 / FREEDOM
        noise = problem.predictor.sd**2 / _INFORMATION * (1 + far) * (FREEDOM / (FREEDOM + 1))
        self._factor = cho_factor((jacobian * variance) @ jacobian.T + np.diag(noise), lower=True)
        self._fitted = self._gains(float(self._constants[0, constant]), None)

    def of(self, onset: dt.date | None) -> float:
        """Log evidence, up to a constant, that the training gained until `onset`, or to the end."""
        logs = []
        for log_multiplier in self._multipliers:
            moved = (self._gains(float(log_multiplier), onset) - self._fitted) / self._walk
            left = self._off - self._slopes @ moved
            logs.append(-0.5 * float(left @ cho_solve(self._factor, left)))
        return float(logsumexp(logs))

    def _gains(self, log_multiplier: float, onset: dt.date | None) -> NDArray[np.float64]:
        """Gain from each date to the next of what the quality's training moves, shape (k - 1,)."""
        constants = self._constants.copy()
        constants[:, RESPONSE[self._quality]] = log_multiplier
        gains = np.zeros(len(self._steps))
        for i, (start, end) in enumerate(self._steps):
            until = end if onset is None else min(max(onset, start), end)
            doses = dose_weeks(self._blocks, start, until).get(self._quality, 0.0)
            if doses > 0:
                state = self._state[i : i + 1]
                gained = drift(state, constants, {self._quality: doses}, self._years)
                gains[i] = gained[0, TRAINED[self._quality]]
        return gains
