"""The training already done, as far as the model uses it."""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from saltus.athlete.qualities import Quality

__all__ = ["BLOCK_WEEKS", "TrainingBlock", "dose_weeks"]

BLOCK_WEEKS = 6.0
"""Weeks of one ordinary training block (common practice: four to eight)."""


@dataclass(frozen=True, slots=True)
class TrainingBlock:
    """A stretch of training with its emphasis.

    Parameters
    ----------
    start, end : date
        First and last day.
    emphasis : mapping of Quality to float
        Share of an ordinary block's dose that each quality got: 1 is an ordinary block
        aimed at it, 0.3 is upkeep.
    """

    start: dt.date
    end: dt.date
    emphasis: Mapping[Quality, float]

    def weeks_within(self, start: dt.date, end: dt.date) -> float:
        """Weeks of this block that fall after `start` and up to `end`."""
        first = max(self.start, start)
        last = min(self.end + dt.timedelta(days=1), end)
        return max((last - first).days, 0) / 7


def dose_weeks(
    blocks: Iterable[TrainingBlock], start: dt.date, end: dt.date
) -> dict[Quality, float]:
    """Weeks of an ordinary dose that each quality got after `start` and up to `end`."""
    weeks: dict[Quality, float] = {}
    for block in blocks:
        within = block.weeks_within(start, end)
        for quality, share in block.emphasis.items():
            if within > 0:
                weeks[quality] = weeks.get(quality, 0.0) + share * within
    return weeks
