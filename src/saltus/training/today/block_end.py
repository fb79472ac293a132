"""When the depth jumps end: as soon as another week is no longer likely to bring enough."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, log, sqrt

import numpy as np
from scipy.special import logsumexp, ndtr

from saltus.athlete.measurement_error import ATTEMPT_CV, DAY_CV
from saltus.training.method import Day
from saltus.training.today.drop_choice import DropResult

__all__ = ["NextWeek", "next_week"]

_SAME_BLOCK_DAYS = 21
# After a longer pause it is another block (a judgement).
_GAIN, _GAIN_SD = 0.06, 0.08
# What a block of depth jumps brings in all: 4.7 % in the drop jump (0.8 to 8.6) and 8.7 % in the
# countermovement jump (Markovic 2007, Br J Sports Med 41:349-355).
_WEEKS = np.exp(np.linspace(log(0.6), log(16.0), 25))
_WEEKS_MEDIAN, _WEEKS_SPREAD = 3.0, 0.8
# Weeks after which two thirds of it are there (a judgement; blocks are of four to six weeks).
_LEVEL_SD = 0.5
# Of the logarithm of the height: wider than people differ, so that the jumps alone say it.
_BOX_SD = 0.05
# Between boxes 15 cm apart, as in the choice of the box (a judgement).


@dataclass(frozen=True, slots=True)
class NextWeek:
    """What another week of depth jumps is likely to bring.

    Parameters
    ----------
    gain : float
        Expected, as a share of the height.
    probability : float
        That it is at least what the method asks for.
    sessions : int
        Sessions that it rests on.
    ended : bool
        Whether the gain has flattened.
    why : str
        A sentence.
    """

    gain: float
    probability: float
    sessions: int
    ended: bool
    why: str


def next_week(results: Sequence[DropResult], on: dt.date, day: Day) -> NextWeek | None:
    """Whether the depth-jump block should go on.

    Parameters
    ----------
    results : sequence of DropResult
        Measured rebounds; those of the block that holds now are used (no gap of three weeks).
    on : date
        The day.
    day : Day
        The method's: how many sessions, which gain, which probability.

    Returns
    -------
    NextWeek or None
        None while there are too few sessions.

    Notes
    -----
    The gain follows ``A (1 - exp(-t / T))`` on the logarithm, with a level for each box. For a
    given T that is linear and normal in A; T is summed over a grid.
    """
    rows = _block(results, on)
    dates = sorted({one.date for one in rows})
    if len(dates) < day.end_sessions:
        return None
    first = dates[0]
    weeks = np.array([(one.date - first).days / 7 for one in rows])
    value = np.array([log(one.height_m) for one in rows])
    value = value - value.mean()
    boxes = np.array([round(one.box_m, 2) for one in rows])
    own = np.array(
        [hypot(ATTEMPT_CV, one.reading_sd_m / one.height_m) / sqrt(one.n) for one in rows]
    )
    noise = (
        _LEVEL_SD**2
        + _BOX_SD**2 * (boxes[:, None] == boxes[None, :])
        + DAY_CV**2 * (weeks[:, None] == weeks[None, :])
        + np.diag(own**2)
    )
    now = (on - first).days / 7
    logs, above, gains = [], [], []
    for scale in _WEEKS:
        shape = 1 - np.exp(-weeks / scale)
        covariance = noise + _GAIN_SD**2 * np.outer(shape, shape)
        residual = value - _GAIN * shape
        # Of both normal densities only what depends on the scale.
        misfit = residual @ np.linalg.solve(covariance, residual)
        far = log(scale / _WEEKS_MEDIAN) / _WEEKS_SPREAD
        logs.append(-(misfit + np.linalg.slogdet(covariance).logabsdet + far**2) / 2)
        weight = np.linalg.solve(covariance, _GAIN_SD**2 * shape)
        gain = _GAIN + float(weight @ residual)
        sd = sqrt(max(_GAIN_SD**2 - float(weight @ (_GAIN_SD**2 * shape)), 1e-12))
        coming = float(np.exp(-now / scale) - np.exp(-(now + 1) / scale))
        gains.append(gain * coming)
        above.append(float(ndtr((gain * coming - day.end_gain) / (sd * coming))))
    share = np.exp(np.array(logs) - logsumexp(logs))
    probability, expected = float(share @ above), float(share @ gains)
    ended = probability < day.end_probability
    return NextWeek(
        gain=expected,
        probability=probability,
        sessions=len(dates),
        ended=ended,
        why=_why(ended, probability, day),
    )


def _why(ended: bool, probability: float, day: Day) -> str:
    chance = f"{100 * probability:.0f} %"
    if ended:
        return (
            f"The gain has flattened: another week brings {100 * day.end_gain:.2g} % or more only "
            f"with {chance}. The depth jumps end here; plan the lighter weeks before the test."
        )
    return f"Another week brings {100 * day.end_gain:.2g} % or more with {chance}: go on."


def _block(results: Sequence[DropResult], on: dt.date) -> list[DropResult]:
    """Logged rebounds of the block that holds on the day."""
    rows = sorted((one for one in results if one.date <= on), key=lambda one: one.date)
    block: list[DropResult] = []
    for one in reversed(rows):
        after = block[-1].date if block else on
        if (after - one.date).days > _SAME_BLOCK_DAYS:
            break
        block.append(one)
    return block[::-1]
