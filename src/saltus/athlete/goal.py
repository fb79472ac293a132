"""How far the goal is, and the chance of it by the day with the ordinary response."""

import datetime as dt
from collections import Counter
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from saltus.athlete.assessment import Goal, GoalOutlook
from saltus.athlete.history import BLOCK_WEEKS
from saltus.athlete.measurement_error import METHODS
from saltus.athlete.observations import Jump, JumpMethod, JumpStyle, Observation
from saltus.athlete.posterior import Posterior
from saltus.athlete.prediction import jump_height_m
from saltus.athlete.prior import BIAS, RESPONSE, Constant
from saltus.athlete.pushoff import Start
from saltus.athlete.qualities import TRAINABLE
from saltus.athlete.response import block_effect
from saltus.errors import TestError
from saltus.quantities import Estimate

__all__ = ["as_measured_m", "outlook", "usual_method"]

_DRAWS = 400
_SEED = 19680916
_REPEATED_BLOCK = 0.8
# Each further block on the same quality brings four fifths of the one before: the returns
# diminish (common practice; individualised blocks slow down likewise, Jiménez-Reyes et al.
# 2019, PLoS ONE 14:e0216681, needed 12.6 weeks on average for what 9 weeks began).
_UNLOADING_WEEKS = 2.0
# The last one to two weeks before the day bring freshness, not new qualities.
_FURTHEST_WEEKS = 104.0


def usual_method(observations: Sequence[Observation], *, arms: bool, approach: bool) -> JumpMethod:
    """Method by which this kind of jump is usually measured here.

    The most frequent among the athlete's unloaded jumps of that kind; without any, the most
    frequent among all unloaded jumps; without those, impulse (no bias).
    """
    unloaded = [o for o in observations if isinstance(o, Jump) and o.load_kg == 0]
    alike = [
        o.method
        for o in unloaded
        if (o.style is JumpStyle.APPROACH) == approach and (approach or o.arms == arms)
    ]
    counted = Counter(alike or [o.method for o in unloaded])
    return counted.most_common(1)[0][0] if counted else JumpMethod.PLATE_IMPULSE


def as_measured_m(
    height_m: NDArray[np.float64],
    posterior: Posterior,
    draws: NDArray[np.int64],
    method: JumpMethod,
    *,
    arms: bool,
    approach: bool,
) -> NDArray[np.float64]:
    """What a method would read of jumps whose plain height is `height_m`, shape (n,).

    Parameters
    ----------
    height_m : ndarray, shape (n,)
        Countermovement jump without arms, m, for each of the draws.
    posterior : Posterior
        For arms, approach and the method's bias.
    draws : ndarray, shape (n,)
        Indices into the posterior.
    method : JumpMethod
        Whose bias is added.
    arms, approach : bool
        Whether the arms swing, whether there is a run-up (with arms).
    """
    constants = posterior.constants[draws]
    log_gain = np.zeros(len(draws))
    if arms or approach:
        log_gain += constants[:, Constant.ARMS]
    if approach:
        log_gain += constants[:, Constant.APPROACH]
    bias = METHODS[method].bias_m + constants[:, BIAS[method]]
    if posterior.problem.prior.constant_sd[BIAS[method]] == 0:
        rng = np.random.default_rng(_SEED)
        bias = bias + METHODS[method].bias_sd_m * rng.standard_normal(len(draws))
    return np.asarray(height_m * np.exp(log_gain) + bias)


def outlook(posterior: Posterior, goal: Goal, observations: Sequence[Observation]) -> GoalOutlook:
    """How far the goal is, and the probability of reaching it by its date.

    Parameters
    ----------
    posterior : Posterior
        Of one athlete; counting starts on its last date.
    goal : Goal
        A jump height or a height to touch.
    observations : sequence of Observation
        For the way in which this kind of jump is usually measured.

    Returns
    -------
    GoalOutlook
        The probability is that of this athlete's typical jump on the day.

    Raises
    ------
    TestError
        If a height to touch is given without the standing reach.
    """
    person = posterior.problem.person
    if goal.touch_m is not None:
        if person.standing_reach_m is None:
            raise TestError(
                f"To touch {goal.touch_m:.2f} m the standing reach must be known: "
                "measure it flat-footed, one hand up, and add it to the record."
            )
        needed = goal.touch_m + goal.hand_above_m - person.standing_reach_m
        method, arms = JumpMethod.REACH, True
    elif goal.jump_m is not None:
        needed, arms = goal.jump_m, goal.arms
        method = usual_method(observations, arms=arms, approach=goal.approach)
    else:
        raise TestError("A goal needs a jump height or a height to touch.")

    draws = posterior.resampled(_DRAWS)
    state = posterior.now[draws]
    segment = posterior.segment_m[draws]
    mass = person.mass_kg(posterior.dates[-1])

    def measured(at: NDArray[np.float64]) -> NDArray[np.float64]:
        plain = jump_height_m(Start.COUNTERMOVEMENT, at, segment, mass)
        return as_measured_m(plain, posterior, draws, method, arms=arms, approach=goal.approach)

    now = measured(state)
    expected, probability = None, None
    if goal.date is not None and goal.date > posterior.dates[-1]:
        then = measured(_trained(posterior, draws, goal.date))
        expected = Estimate.of_sample(then)
        probability = float(np.mean(then >= needed))
    return GoalOutlook(
        goal=goal,
        needed_m=needed,
        now_m=Estimate.of_sample(now),
        missing_m=Estimate.of_sample(needed - now),
        expected_m=expected,
        probability=probability,
    )


def _trained(posterior: Posterior, draws: NDArray[np.int64], day: dt.date) -> NDArray[np.float64]:
    """Log-qualities on a day to come, shape (n, 5), after ordinary blocks until then.

    Each block goes to the quality that is expected to bring most at that time; this
    athlete's response, unknown as it is, is each draw's own.
    """
    state = posterior.now[draws]
    segment = posterior.segment_m[draws]
    problem = posterior.problem
    mass = problem.person.mass_kg(posterior.dates[-1])
    years = problem.prior.training_years
    responses = np.exp(posterior.constants[draws][:, [RESPONSE[q] for q in TRAINABLE]])
    weeks = min((day - posterior.dates[-1]).days / 7, _FURTHEST_WEEKS)
    left = max(weeks - _UNLOADING_WEEKS, 0.0) / BLOCK_WEEKS
    times = dict.fromkeys(TRAINABLE, 0)
    while left > 0:
        dose = min(left, 1.0)
        candidates = [
            state
            + block_effect(
                state,
                segment,
                quality,
                response=responses[:, i],
                training_years=years,
                dose=dose * _REPEATED_BLOCK ** times[quality],
            )
            for i, quality in enumerate(TRAINABLE)
        ]
        heights = jump_height_m(Start.COUNTERMOVEMENT, np.stack(candidates), segment, mass)
        best = int(np.argmax(heights.mean(axis=1)))
        state = candidates[best]
        times[TRAINABLE[best]] += 1
        left -= dose
    rng = np.random.default_rng(_SEED)
    walk = problem.prior.walk_sd * np.sqrt(weeks)
    return np.asarray(state + walk * rng.standard_normal(state.shape))
