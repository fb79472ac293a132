"""What a day should show, from what earlier days showed: one normal model for loads and jumps.

What is sought wanders slowly from week to week, every day has a form of its own, and every
reading its error, a part of which comes back with each reading of the same kind.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

__all__ = ["Level", "Shown", "level_today"]

_LEAST = 1e-4
# No two readings agree exactly, whatever their published errors leave for the single one: two
# singles on a day would otherwise be the same reading twice, and the equations singular.
_FAR_OFF = 3.0
"""A reading further off than so many spreads counts as if it were so many: one mistyped figure
does not rule the day."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A reading.

    Parameters
    ----------
    value : float
        As read.
    weeks_ago : float
        Readings of the same day share this figure; 0 is today.
    sd : float
        Error of its own.
    common_sd : float
        Error that every reading of its kind shares.
    kind : str
        How it was read.
    """

    value: float
    weeks_ago: float
    sd: float
    common_sd: float = 0.0
    kind: str = ""


@dataclass(frozen=True, slots=True)
class Level:
    """What is expected today.

    Parameters
    ----------
    mean, sd : float
        Today's, the form of the day included.
    n : int
        Readings that it rests on.
    """

    mean: float
    sd: float
    n: int


def level_today(
    shown: Sequence[Shown],
    *,
    mean: float,
    sd: float,
    day_sd: float,
    drift_per_root_week: float,
) -> Level:
    """Today's level given the readings.

    Parameters
    ----------
    shown : sequence of Shown
        Readings, today's and earlier.
    mean, sd : float
        What was thought before them.
    day_sd : float
        Form of the day.
    drift_per_root_week : float
        How far the level wanders in a week.

    Notes
    -----
    Conditioning of a multivariate normal distribution (for instance Rasmussen & Williams 2006,
    Gaussian Processes for Machine Learning, eq. A.6).
    """
    prior = sd**2
    if not shown:
        return Level(mean, float(np.hypot(sd, day_sd)), 0)
    ages = np.array([one.weeks_ago for one in shown])
    common = np.array([one.common_sd for one in shown])
    kinds = np.array([one.kind for one in shown])
    same_day = ages[:, None] == ages[None, :]
    same_kind = kinds[:, None] == kinds[None, :]
    covariance = (
        prior
        + drift_per_root_week**2 * np.minimum(ages[:, None], ages[None, :])
        + day_sd**2 * same_day
        + np.outer(common, common) * same_kind
        + np.diag(np.maximum([one.sd**2 for one in shown], _LEAST * (prior + day_sd**2)))
    )
    with_today = prior + day_sd**2 * (ages == 0)
    weights = np.linalg.solve(covariance, with_today)
    furthest = _FAR_OFF * np.sqrt(np.diag(covariance))
    off = np.clip(np.array([one.value for one in shown]) - mean, -furthest, furthest)
    variance = prior + day_sd**2 - float(weights @ with_today)
    return Level(mean + float(weights @ off), float(np.sqrt(max(variance, 0.0))), len(shown))
