"""The states on any day between the tests, from a posterior that holds them on the days of tests.

Between two of its dates a posterior's draw is a random walk around the drift of the training
done, pinned at both ends: a Brownian bridge (Karatzas & Shreve 1991, Brownian Motion and
Stochastic Calculus, section 5.6.B), so that days in between can be drawn without fitting again.
"""

import datetime as dt
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from saltus.athlete.history import TrainingBlock, dose_weeks
from saltus.athlete.person import Person
from saltus.athlete.posterior import Posterior
from saltus.athlete.prior import State
from saltus.athlete.response import drift

__all__ = ["log_mass_change", "states_on"]

_SEED = 19230101


def states_on(
    posterior: Posterior,
    blocks: Sequence[TrainingBlock],
    days: Sequence[dt.date],
    *,
    seed: int = _SEED,
) -> NDArray[np.float64]:
    """Draw the log-qualities on some days.

    Parameters
    ----------
    posterior : Posterior
        Of one athlete.
    blocks : sequence of TrainingBlock
        The training that it was fitted with.
    days : sequence of date
        In order, none before its first or after its last date.
    seed : int
        Of what happens between the dates.

    Returns
    -------
    ndarray, shape (n, len(days), 5)
        They carry the posterior's weights.

    Raises
    ------
    ValueError
        If a day is out of range, or they are not in order.
    """
    dates = posterior.dates
    if list(days) != sorted(days):
        raise ValueError("the days must be in order")
    if days and not dates[0] <= days[0] <= days[-1] <= dates[-1]:
        raise ValueError(f"the posterior runs from {dates[0]} to {dates[-1]}")
    rng = np.random.default_rng(seed)
    found = []
    reached, state = dates[0], posterior.states[:, 0]
    for day in days:
        while day > reached:
            following = next(date for date in dates if date > reached)
            end = posterior.states[:, dates.index(following)]
            if day >= following:
                reached, state = following, end
            else:
                state = _bridged(posterior, blocks, (reached, day, following), state, end, rng)
                reached = day
        found.append(state)
    return np.stack(found, axis=1)


def log_mass_change(person: Person, before: dt.date, after: dt.date) -> float:
    """Logarithm of body mass on the later day over that on the earlier."""
    return float(np.log(person.mass_kg(after) / person.mass_kg(before)))


def _bridged(
    posterior: Posterior,
    blocks: Sequence[TrainingBlock],
    days: tuple[dt.date, dt.date, dt.date],
    start: NDArray[np.float64],
    end: NDArray[np.float64],
    rng: np.random.Generator,
) -> NDArray[np.float64]:
    before, day, after = days
    prior, person = posterior.problem.prior, posterior.problem.person

    def expected(until: dt.date) -> NDArray[np.float64]:
        doses = dose_weeks(blocks, before, until)
        change = drift(start, posterior.constants, doses, prior.training_years)
        for part in (State.TORQUE, State.RATE):
            change[:, part] -= log_mass_change(person, before, until)
        return change

    share = (day - before) / (after - before)
    left = (after - day).days / 7
    walked = end - start - expected(after)
    sd = prior.walk_sd * np.sqrt(share * left)
    noise = sd * rng.standard_normal(start.shape)
    return np.asarray(start + expected(day) + share * walked + noise)
