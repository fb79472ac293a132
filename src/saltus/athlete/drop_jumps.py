"""Drop jumps from several boxes: which box gives the highest rebound."""

import datetime as dt
from collections import defaultdict
from collections.abc import Sequence

import numpy as np

from saltus.athlete.jump_height import summary_of_attempts
from saltus.athlete.measurement_error import ATTEMPT_CV, DAY_CV, METHODS, true_drop
from saltus.athlete.observations import DropJump, JumpMethod, Observation
from saltus.quantities import Estimate

__all__ = ["CURRENT_DAYS", "best_drop", "box_for_true_drop"]

CURRENT_DAYS = 84
"""Older drop jumps say little about today's best box: a training block lies between (a
judgement)."""

_DRAWS = 4000
_STREAM = 20100207


def box_for_true_drop(drop_m: float) -> float:
    """Nominal box from which the centre of mass falls `drop_m`, m, to the centimetre."""
    box = drop_m
    for _ in range(20):
        box = drop_m * box / true_drop(box)[0]
    return round(box, 2)


def best_drop(observations: Sequence[Observation], on: dt.date) -> Estimate | None:
    """Box with the highest rebound, and which others it may just as well be.

    Parameters
    ----------
    observations : sequence of Observation
        Drop jumps of the last 12 weeks before `on` are used; those without arms, unless there
        are none.
    on : date
        Later tests are left out.

    Returns
    -------
    Estimate or None
        Heights of tested boxes, m (nominal: what the coach sets up). The value is the
        lower one where two are as likely as each other. None where fewer than two boxes were
        tested: nothing then says which is best.

    Notes
    -----
    Rebounds are drawn within their errors and the best box of each draw is counted. The
    form of the day lifts all boxes tested on it alike and so does not blur their order,
    nor does the bias of the method. Rebounds often hardly differ between boxes (from 0.12 m
    up: The Sport Journal, 55 college footballers), and then the interval says so.
    """
    tests = [
        o
        for o in observations
        if isinstance(o, DropJump) and 0 <= (on - o.date).days <= CURRENT_DAYS
    ]
    without_arms = [t for t in tests if not t.arms]
    tests = without_arms or tests
    rng = np.random.default_rng(_STREAM)
    days = {day: rng.normal(0, DAY_CV, _DRAWS) for day in sorted({t.date for t in tests})}
    biases = {method: rng.normal(0, 1, _DRAWS) for method in JumpMethod}
    rebounds: dict[float, list[np.ndarray]] = defaultdict(list)
    for test in tests:
        box = box_for_true_drop(test.drop_m) if test.true_drop else test.drop_m
        height, n = summary_of_attempts(test.heights_m)
        published = METHODS[test.method]
        attempt = np.hypot(ATTEMPT_CV * height, published.reading_sd_m) / np.sqrt(n)
        drawn = height - published.bias_m - published.bias_sd_m * biases[test.method]
        drawn = drawn - height * days[test.date] + rng.normal(0, attempt, _DRAWS)
        rebounds[box].append(drawn)
    if len(rebounds) < 2:
        return None
    boxes = np.array(sorted(rebounds))
    heights = np.array([np.mean(rebounds[box], axis=0) for box in boxes])
    return Estimate.of_sample(boxes[np.argmax(heights, axis=0)], np.ones(_DRAWS))
