"""One-repetition maxima of every lift, tested or not, for the loads of a plan."""

import datetime as dt
from collections.abc import Sequence
from math import exp, hypot, log, sqrt

import numpy as np

from saltus.athlete.measurement_error import maximum_from
from saltus.athlete.observations import BarSpeedSet, Lift, Maximum, Observation, RepSet
from saltus.athlete.posterior import Posterior
from saltus.athlete.postures import parallel_squat_kg
from saltus.athlete.prior import Constant, State
from saltus.athlete.strength import LIFT_RATIO
from saltus.quantities import Estimate

__all__ = ["FORGETTING_PER_ROOT_WEEK", "lognormal", "maxima_kg"]

_TESTED_WITHIN_DAYS = 365
FORGETTING_PER_ROOT_WEEK = 0.012
"""How fast an old maximum loses its meaning: about 6 % in half a year (a judgement)."""


def maxima_kg(
    posterior: Posterior, observations: Sequence[Observation], on: dt.date
) -> dict[Lift, Estimate]:
    """Maxima that the tests or the model give, kg on the bar.

    Parameters
    ----------
    posterior : Posterior
        Gives the back squat from everything that was tested.
    observations : sequence of Observation
        Lifts tested within a year speak for themselves.
    on : date
        The day.

    Returns
    -------
    dict of Lift to Estimate
        A lift never tested is the squat times its usual ratio, with the wide spread of that.
    """
    natural = np.exp(posterior.now)
    squat = parallel_squat_kg(
        natural[:, State.TORQUE],
        natural[:, State.SPEED],
        posterior.segment_m,
        posterior.problem.person.mass_kg(on),
    ) * np.exp(posterior.constants[:, Constant.SQUAT_SKILL])
    back_squat = Estimate.of_sample(squat, posterior.weights)
    squat_sd_log = float(np.sqrt(np.cov(np.log(squat), aweights=posterior.weights, ddof=0)))
    found = {Lift.BACK_SQUAT: back_squat}
    for lift in Lift:
        if lift is Lift.BACK_SQUAT:
            continue
        tested = _combined(
            [
                o
                for o in observations
                if isinstance(o, Maximum | RepSet | BarSpeedSet)
                and o.lift is lift
                and 0 <= (on - o.date).days <= _TESTED_WITHIN_DAYS
            ],
            on,
        )
        if tested is None:
            ratio = LIFT_RATIO[lift]
            tested = log(back_squat.value * ratio.mean), hypot(squat_sd_log, ratio.sd_log)
        found[lift] = lognormal(*tested)
    return found


def _combined(
    tests: Sequence[Maximum | RepSet | BarSpeedSet], on: dt.date
) -> tuple[float, float] | None:
    """Mean and deviation of the log maximum: each test by its error and its age."""
    if not tests:
        return None
    means, precisions = [], []
    for test in tests:
        one_rm, sd_log = maximum_from(test)
        age = FORGETTING_PER_ROOT_WEEK * sqrt((on - test.date).days / 7)
        means.append(log(one_rm))
        precisions.append(1 / (sd_log**2 + age**2))
    total = sum(precisions)
    mean = sum(m * p for m, p in zip(means, precisions, strict=True)) / total
    return mean, 1 / sqrt(total)


def lognormal(mean_log: float, sd_log: float) -> Estimate:
    """Estimate of what is normal in its natural logarithm, with `mean_log` and `sd_log`.

    In the unit whose logarithm it was.
    """
    on_log = Estimate.normal(mean_log, sd_log)
    value = exp(mean_log)
    return Estimate(value, exp(on_log.low), exp(on_log.high), value * sd_log)
