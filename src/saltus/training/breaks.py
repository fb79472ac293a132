"""Days without training before a plan, and how the weeks after them are eased.

Tissue and skill lose their habit of load in days, and what a new test says of strength does
not give it back: loads are held to what was last lifted, and sets and landings to a share of
an ordinary week. What is not on record is not known: somebody without a log or a plan before
this one is not taken to have paused, nor after a block of training on record.
"""

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from saltus.training.method import Easing
from saltus.training.plan import Session
from saltus.training.situation import Situation

__all__ = ["Break", "Eased", "eased_in_week", "find_breaks"]

_LIFTED_OVER = dt.timedelta(days=28)
_LATE_IN_WEEK = dt.timedelta(days=3)
_LOOK_AHEAD = 14


@dataclass(frozen=True, slots=True)
class Eased:
    """How a week after a break is eased.

    Parameters
    ----------
    days : int
        Days without training before it.
    first_share : float
        Loads of the first week back, as a share of the lighter of the last ones lifted and
        what that week would hold otherwise.
    passed : float
        Share of the way from there to ordinary weeks; 0 in the first week.
    volume : float
        Working sets and landings as a share of those of an ordinary week.
    lifted : mapping of str to float
        Exercise to the heaviest load of the last four weeks before the break, kg.
    """

    days: int
    first_share: float
    passed: float
    volume: float
    lifted: Mapping[str, float]

    def load_kg(self, exercise: str, ordinary_kg: float) -> float:
        """Heaviest load of an exercise (kg) where an ordinary week would hold `ordinary_kg`."""
        known = min(self.lifted.get(exercise, ordinary_kg), ordinary_kg)
        first = self.first_share * known
        return first + self.passed * (ordinary_kg - first)


@dataclass(frozen=True, slots=True)
class Break:
    """Days in a row without training.

    Parameters
    ----------
    last, back : date
        Last day of training before it, and first day after it: that of the start of the plan
        if nothing was done since.
    lifted : mapping of str to float
        As in :class:`Eased`.
    """

    last: dt.date
    back: dt.date
    lifted: Mapping[str, float]

    @property
    def days(self) -> int:
        """Whole days between the two."""
        return (self.back - self.last).days - 1

    def eased(self, monday: dt.date, easing: Easing) -> Eased | None:
        """How a week is eased after it; None once training is back to what it was.

        Weeks are counted from that of the first day back, or, where that comes late in its
        week, from the next.
        """
        long = self.days >= easing.long_days
        weeks = easing.long_weeks if long else easing.weeks
        load = easing.long_load_share if long else easing.load_share
        volume = easing.long_volume_share if long else easing.volume_share
        begun = self.back + _LATE_IN_WEEK
        begun -= dt.timedelta(days=begun.weekday())
        number = max((monday - begun).days // 7, 0)
        if number >= weeks or monday + dt.timedelta(days=6) < self.back:
            return None
        passed = number / weeks
        return Eased(self.days, load, passed, volume + passed * (1 - volume), self.lifted)


def find_breaks(
    situation: Situation, easing: Easing, done: Iterable[Session] = ()
) -> tuple[Break, ...]:
    """Find the breaks before a plan.

    Parameters
    ----------
    situation : Situation
        Its start, its days, and the training on record.
    easing : Easing
        From how many days on it is a break.
    done : iterable of Session
        Sessions of plans before `situation.start` that are taken as done. Whoever logged
        anything since the first of them is known by the log alone.

    Returns
    -------
    tuple of Break
        In order of time; empty where nothing is known of the days before.
    """
    start = situation.start
    trained = {day: loads for day, loads in situation.trained.items() if day < start}
    planned = {
        session.date: {i.exercise: i.load_kg for i in session.items if i.load_kg is not None}
        for session in done
        if session.date < start
    }
    if planned and max(trained, default=dt.date.min) < min(planned):
        trained = {**trained, **planned}
    ahead = (start + dt.timedelta(days=i) for i in range(_LOOK_AHEAD))
    free = (d for d in ahead if situation.minutes_on(d) and d not in situation.blocked)
    blocks = {day for day in situation.in_blocks if day < start}
    days = [*sorted(trained.keys() | blocks), next(free, start)]
    return tuple(
        Break(last, back, _lifted(trained, last))
        for last, back in pairwise(days)
        if (back - last).days > easing.from_days and last in trained
    )


def eased_in_week(breaks: Sequence[Break], monday: dt.date, easing: Easing) -> Eased | None:
    """How a week is eased after the breaks before it: by the one that asks for most."""
    found = [eased for each in breaks if (eased := each.eased(monday, easing)) is not None]
    return min(found, key=lambda eased: (eased.volume, -eased.days), default=None)


def _lifted(trained: Mapping[dt.date, Mapping[str, float]], last: dt.date) -> Mapping[str, float]:
    heaviest: dict[str, float] = {}
    for day, loads in trained.items():
        if last - _LIFTED_OVER < day <= last:
            for name, load in loads.items():
                heaviest[name] = max(load, heaviest.get(name, load))
    return heaviest
