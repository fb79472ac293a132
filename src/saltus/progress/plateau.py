"""Whether a quality in training still rises, or its gain has flattened.

Within the stretch of weeks that a quality has been aimed at without a break, its gain from training
either goes on to the day, or stopped on some day of it; while it goes on, it is so many times the
ordinary one. Every such history is held against all readings at once: the model is made linear at
the posterior's mode, where the log evidence of a history is that of a normal distribution. The
onset of a plateau is thus a change point with a grid for its prior, the response another, and both
are summed over. Logged working sets speak for strength beside the tests
(:mod:`saltus.progress.lifts_over_time`): a test a month tells no plateau, three sessions a week do.

How soon a plateau shows depends on how fast the quality rose and how often it was read;
``python -m bench follow`` measures it on simulated athletes, and docs/follow.md has the table.

References
----------
Carlin, Gelfand & Smith 1992, J R Stat Soc C 41:389-405 (Bayesian change points); Kass & Raftery
1995, J Am Stat Assoc 90:773-795 (Bayes factors).
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import cho_factor, cho_solve
from scipy.special import logsumexp, ndtri

from saltus.athlete.assessment import Worth
from saltus.athlete.history import BLOCK_WEEKS, TrainingBlock, dose_weeks
from saltus.athlete.posterior import Posterior
from saltus.athlete.prior import N_STATE, RESPONSE, Constant, State
from saltus.athlete.qualities import TRAINABLE, WORDS, Quality
from saltus.athlete.response import TRAINED, block_effect
from saltus.athlete.worth import expected_gains, worths
from saltus.progress.lifts_over_time import LiftsOverTime, LiftTest, weighed_variance
from saltus.progress.response import targets
from saltus.quantities import INTERVAL, Estimate

__all__ = ["Plateau", "in_training", "plateaus"]

CALLED = 0.5
"""Probability from which a plateau is called: more likely than not. An athlete who is told so
wrongly loses little, since the emphasis goes to what promises most otherwise."""

_STILL = 0.2
# And below which the quality is said to rise still.

_WEEK = dt.timedelta(weeks=1)
_BREAK = dt.timedelta(days=14)
# Training aimed at a quality goes on over a break this long.
_RECENT = dt.timedelta(days=14)
# Without a reading for so long nothing can be said of the last weeks.
_ONSET_PER_WEEK = (0.02, 0.10, 0.03)
_BEGINS, _LATE = 3, 8
_NEVER_ROSE = 0.03
# Prior of the onset in the first three weeks, up to the eighth, and later: half of blocks have
# flattened when their emphasis is changed, which is after four to eight weeks (common practice);
# what still rises then is an athlete who goes on. Some never bring anything.
_SLOW = 1 / 3
# A gain of less than a third of the ordinary one has stopped for whoever plans: that training
# promises more elsewhere (a judgement).
_RESPONSES = 9
_OWN_WALK = 0.35
# While a quality is trained by a written plan, what it does beside that is a third of what the
# prior grants a season that nobody wrote down (a judgement).
_SHOWS = 2.1
# Errors that a plateau has to lie off for four calls in five: 1.3 for even chances against the
# prior, 0.84 for the luck of the readings.
_STEP = 1e-3


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
        That its gain from training has stopped, or is less than a third of the ordinary one.
    start, earliest, latest : date
        When it stopped, if it has: median and 80 % interval.
    next_quality : Quality
        Of the others, the one with the largest worth now.
    hidden_weeks : int or None
        How old a plateau has to be for readings like these to show it four times in five; None
        where even one from the first week on would not show so surely.
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
    hidden_weeks: int | None
    text: str

    @property
    def probability_rising(self) -> float:
        """That it still rises."""
        return 1 - self.probability

    @property
    def plateau(self) -> bool:
        """Whether a plateau is called: its probability is at least a half."""
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


def plateaus(
    posterior: Posterior, blocks: Sequence[TrainingBlock], lifts: Sequence[LiftTest] = ()
) -> tuple[Plateau, ...]:
    """Whether each quality in training still rises.

    Parameters
    ----------
    posterior : Posterior
        Of one athlete, fitted with `blocks`; its last date is the day spoken of.
    blocks : sequence of TrainingBlock
        All training done, as blocks or as the weeks of a log.
    lifts : sequence of Maximum, RepSet or BarSpeedSet
        Of any lift of the legs, beside what the posterior was fitted to, such as logged working
        sets (:func:`saltus.training.today.maximum.sets_as_tests`). They speak for max strength.

    Returns
    -------
    tuple of Plateau
        One for each quality that :func:`in_training` names and that was trained for two weeks or
        more, with readings on two days since its start (or just before), one of them within the
        last two weeks. None where nothing can be said.
    """
    on = posterior.dates[-1]
    tested = {reading.date for reading in posterior.problem.readings}
    told = []
    for quality, since in in_training(blocks, on).items():
        if on - since < 2 * _WEEK:
            continue
        read: tuple[LiftTest, ...] = ()
        if quality is Quality.MAX_STRENGTH:
            read = tuple(each for each in lifts if since - _BREAK <= each.date <= on)
        days = {day for day in tested | {each.date for each in read} if day >= since - _BREAK}
        if len(days) > 1 and on - max(days) <= _RECENT:
            told.append((quality, since, _Evidence(posterior, blocks, quality, since, read)))
    if not told:
        return ()
    ranked = worths(expected_gains(posterior))
    found = [_plateau(quality, since, on, evidence, ranked) for quality, since, evidence in told]
    # What has stopped as well is nothing to turn to, as long as there is anything else.
    stopped = {each.quality for each in found if each.plateau}
    others = [worth for worth in ranked if worth.quality not in stopped]
    if len(stopped) > 1 and others:
        found = [
            _turning_to(each, others[0]) if each.quality in stopped else each for each in found
        ]
    return tuple(found)


def _turning_to(found: Plateau, best: Worth) -> Plateau:
    between = found.earliest, found.latest
    return replace(
        found,
        next_quality=best.quality,
        text=_told(found.quality, found.probability, between, best),
    )


def _onset_prior(weeks: int) -> NDArray[np.float64]:
    """Of no gain at all, of a stop after each whole week, and of none: shape (weeks + 1,)."""
    after = np.arange(1, weeks)
    per_week = np.select(
        [after <= _BEGINS, after <= _LATE], _ONSET_PER_WEEK[:2], _ONSET_PER_WEEK[2]
    )
    going_on = np.concatenate([[1.0], np.cumprod(1 - per_week)])
    gained = np.append(per_week * going_on[:-1], going_on[-1])
    return np.concatenate([[_NEVER_ROSE], (1 - _NEVER_ROSE) * gained])


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
    logs = np.array([evidence.of(onset) for onset in [*onsets, None]])
    logs += np.log(_onset_prior(len(onsets)))[:, None]
    by_response = np.exp(logs - logsumexp(logs))
    share = by_response.sum(axis=1)
    # One that goes on, but slowly, is like one that never rose.
    slow = float(by_response[-1, evidence.slow].sum())
    share[0] += slow
    probability = float(np.sum(share[:-1]))
    tail = (1 - INTERVAL) / 2
    below = np.cumsum(share[:-1]) / probability
    earliest, start, latest = (
        onsets[min(int(np.searchsorted(below, p)), len(onsets) - 1)] for p in (tail, 0.5, 1 - tail)
    )
    best = next(worth for worth in ranked if worth.quality is not quality)
    hidden = next(
        (n for n in range(2, len(onsets) + 1) if evidence.distance(on - n * _WEEK) >= _SHOWS), None
    )
    return Plateau(
        quality=quality,
        since=since,
        date=on,
        probability=probability,
        start=start,
        earliest=earliest,
        latest=latest,
        next_quality=best.quality,
        hidden_weeks=hidden,
        text=_told(quality, probability, (earliest, latest), best)
        if probability >= CALLED
        else _not_told(quality, probability, hidden, (on - since).days // 7),
    )


def _told(
    quality: Quality,
    probability: float,
    between: tuple[dt.date, dt.date],
    best: Worth,
) -> str:
    words = WORDS[quality]
    first, last = (day.isoformat() for day in between)
    return (
        f"{words.capitalize()} has probably stopped rising between {first} and {last} "
        f"({100 * probability:.0f} %). Change the emphasis to {WORDS[best.quality]}: of the "
        f"others, a block on it promises most, {_centimetres(best.gain_m)}."
    )


def _not_told(quality: Quality, probability: float, hidden: int | None, trained: int) -> str:
    words = WORDS[quality]
    still = probability <= _STILL
    if hidden is None:
        if still:
            return (
                f"{words.capitalize()} probably still rises: stay with it. With so few readings a "
                f"plateau can stay hidden for more than {trained} weeks."
            )
        return (
            f"Whether {words} still rises cannot be told yet ({100 * probability:.0f} % that it "
            "has stopped): test it again before you change the emphasis. With so few readings a "
            f"plateau can stay hidden for more than {trained} weeks."
        )
    if still:
        return (
            f"{words.capitalize()} probably still rises: stay with it. With readings like these a "
            f"plateau shows after about {hidden} weeks."
        )
    return (
        f"Whether {words} still rises cannot be told yet ({100 * probability:.0f} % that it has "
        "stopped): test it again before you change the emphasis. With readings like these a "
        f"plateau shows after about {hidden} weeks."
    )


def _centimetres(gain: Estimate) -> str:
    return f"{100 * gain.value:.1f} cm ({100 * gain.low:.1f} to {100 * gain.high:.1f})"


class _Path:
    """Gains of what a quality's training moves, between dates."""

    def __init__(
        self,
        dates: Sequence[dt.date],
        state: NDArray[np.float64],
        segment_m: float,
        blocks: Sequence[TrainingBlock],
        quality: Quality,
        training_years: float,
    ):
        self._steps = list(pairwise(dates))
        self._blocks, self._quality, self._years = blocks, quality, training_years
        self._state, self._segment_m = state[:-1], segment_m

    def gains(
        self, log_response: NDArray[np.float64], onset: dt.date | None
    ) -> NDArray[np.float64]:
        """From each date to the next, shape (n, k - 1), for n responses.

        The training gains until `onset`, or to the end.
        """
        doses = np.zeros(len(self._steps))
        for i, (start, end) in enumerate(self._steps):
            until = end if onset is None else min(max(onset, start), end)
            doses[i] = dose_weeks(self._blocks, start, until).get(self._quality, 0.0)
        effect = block_effect(
            np.broadcast_to(self._state, (len(log_response), *self._state.shape)),
            np.asarray(self._segment_m),
            self._quality,
            response=np.exp(log_response)[:, None],
            training_years=self._years,
            dose=doses / BLOCK_WEEKS,
        )
        return np.asarray(effect[..., TRAINED[self._quality]])


class _Evidence:
    """Log evidence of histories of a quality's training, linear around a posterior's mode."""

    def __init__(
        self,
        posterior: Posterior,
        blocks: Sequence[TrainingBlock],
        quality: Quality,
        since: dt.date,
        lifts: Sequence[LiftTest],
    ):
        problem = posterior.problem
        prior, mode = problem.prior, posterior.mode
        dates = posterior.dates
        state = problem.trajectory.states(mode[None])[0]
        constants = problem.trajectory.constants(mode[None])[0]
        segment_m = float(np.exp(constants[Constant.SEGMENT]))
        part, constant = TRAINED[quality], RESPONSE[quality]
        self._path = _Path(dates, state, segment_m, blocks, quality, prior.training_years)
        self._response = float(constants[constant])
        self._response_sd = float(prior.constant_sd[constant])
        # The response is not linear here: it is summed over a grid.
        self._responses = prior.constant_mean[constant] + self._response_sd * ndtri(
            (np.arange(_RESPONSES) + 0.5) / _RESPONSES
        )
        self.slow = np.exp(self._responses) < _SLOW
        columns = N_STATE * np.arange(1, len(dates)) + int(part)
        predicted, jacobian = problem.linearised(mode)
        self._slopes = jacobian[:, columns]
        jacobian[:, N_STATE * len(dates) + int(constant)] = 0.0
        self._off = problem.predictor.value - predicted + jacobian @ mode
        weeks = np.array([(end - start).days / 7 for start, end in pairwise(dates)])
        within = np.array([(end - max(start, since)).days / 7 for start, end in pairwise(dates)])
        within = np.clip(within / weeks, 0, 1)
        variance = np.ones(mode.size)
        variance[columns] = 1 - within * (1 - _OWN_WALK**2)
        self._walk = prior.walk_sd[part] * np.sqrt(weeks)
        # Readings that lie far off lose weight as they do in the fit.
        off = (problem.predictor.value - predicted) / problem.predictor.sd
        noise = weighed_variance(problem.predictor.sd**2, off)
        self._factor = cho_factor((jacobian * variance) @ jacobian.T + np.diag(noise), lower=True)
        self._fitted = self._path.gains(np.array([self._response]), None)[0]

        # Lifts are read between the tests: their path goes by the week.
        on = dates[-1]
        nodes = [*(since + i * _WEEK for i in range(-(-(on - since).days // 7))), on]
        self._node_days = np.array([node.toordinal() for node in nodes], dtype=float)
        test_days = np.array([date.toordinal() for date in dates], dtype=float)
        between = np.array([np.interp(self._node_days, test_days, each) for each in state.T]).T
        self._weekly = _Path(nodes, between, segment_m, blocks, quality, prior.training_years)
        self._lifts = LiftsOverTime(
            lifts,
            problem.person,
            torque=between[:, State.TORQUE],
            speed=between[:, State.SPEED],
            dates=nodes,
            segment_m=segment_m,
            walk_sd=_OWN_WALK * float(prior.walk_sd[State.TORQUE]),
        )

    def of(self, onset: dt.date | None) -> NDArray[np.float64]:
        """Log evidence, up to a constant, that the training gained until `onset`, or to the end.

        One for each response to it.
        """
        gains = self._path.gains(self._responses, onset)
        left = self._off[:, None] - self._slopes @ ((gains - self._fitted) / self._walk).T
        tests = -0.5 * np.sum(left * cho_solve(self._factor, left), axis=0)
        return np.asarray(tests + self._lifts.log_evidence(self._lifted(self._responses, onset)))

    def distance(self, onset: dt.date) -> float:
        """How far a gain that stopped then lies from one that went on, in errors of the readings.

        The response is as unsure as before the first test.
        """
        responses = self._response + np.array([0.0, _STEP * self._response_sd])
        tested, lifted = self._path.gains(responses, None), self._lifted(responses, None)
        stopped = self._path.gains(responses[:1], onset), self._lifted(responses[:1], onset)
        moved = self._slopes @ (_moved(tested, stopped[0]) / self._walk).T
        product = moved.T @ cho_solve(self._factor, moved)
        product = product + self._lifts.products(_moved(lifted, stopped[1]))
        squared = product[0, 0] - product[0, 1] ** 2 / (1 + product[1, 1])
        return float(np.sqrt(max(squared, 0.0)))

    def _lifted(
        self, log_response: NDArray[np.float64], onset: dt.date | None
    ) -> NDArray[np.float64]:
        """Predictions of the lifts, shape (n, m)."""
        gains = self._weekly.gains(log_response, onset)
        gained = np.cumsum(np.insert(gains, 0, 0.0, axis=1), axis=1)
        days = self._lifts.days
        at = np.array([np.interp(days, self._node_days, each) for each in gained])
        return self._lifts.predicted(at)


def _moved(going_on: NDArray[np.float64], stopped: NDArray[np.float64]) -> NDArray[np.float64]:
    """What a stop takes away, and what a response larger by its deviation adds."""
    return np.array([going_on[0] - stopped[0], (going_on[1] - going_on[0]) / _STEP])
