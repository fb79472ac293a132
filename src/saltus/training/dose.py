"""Expected gain from a week's work: worth times dose, with diminishing returns.

A week that holds an ordinary block's work on a quality (a dose of 1) earns a week's share
of its worth. Half of that earns more than half the gain, and twice as much far less than
twice: each further set brings less than the one before. The curve is a judgement; that
returns diminish is common practice.
"""

import math
from collections.abc import Iterable, Mapping
from itertools import pairwise

from saltus.athlete.assessment import Worth
from saltus.athlete.history import BLOCK_WEEKS
from saltus.athlete.qualities import TRAINABLE, Quality

__all__ = ["KNOTS", "response", "segments", "weekly_worth"]

_BEND = 1.5
_UPKEEP_SHARE = 0.1

KNOTS = (0.0, 0.2, 0.4, 0.6, 0.8, 1.0, 1.4, 2.0)
"""Weekly doses between which the response is taken as straight, so that it stays linear for
the solver; it is flat beyond the last."""


def response(dose: float) -> float:
    """Gain from a weekly dose, as a share of that from an ordinary week (dose 1)."""
    return (1 - math.exp(-_BEND * max(dose, 0.0))) / (1 - math.exp(-_BEND))


def segments() -> tuple[tuple[float, float], ...]:
    """Return the straight pieces of the response: (slope, value at dose 0) of each."""
    pieces = []
    for left, right in pairwise(KNOTS):
        slope = (response(right) - response(left)) / (right - left)
        pieces.append((slope, response(left) - slope * left))
    pieces.append((0.0, response(KNOTS[-1])))
    return tuple(pieces)


def weekly_worth(worth: Iterable[Worth]) -> Mapping[Quality, float]:
    """Gain that an ordinary week on each trainable quality is expected to bring, m.

    A quality that is worth next to nothing now still counts for a tenth of the best one:
    what is not trained at all is lost again.
    """
    block = {w.quality: max(w.gain_m.value, 0.0) for w in worth}
    best = max((block.get(q, 0.0) for q in TRAINABLE), default=0.0) or 0.01
    return {q: max(block.get(q, 0.0), _UPKEEP_SHARE * best) / BLOCK_WEEKS for q in TRAINABLE}
