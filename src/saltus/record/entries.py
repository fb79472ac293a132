"""What a record holds beside the types of the floors below."""

import datetime as dt
from dataclasses import dataclass, field
from pathlib import PurePosixPath
from typing import Literal

from saltus.athlete.observations import Observation
from saltus.training.situation import EventKind, Weekday

__all__ = [
    "Agreement",
    "BlockedDays",
    "JumpDecision",
    "RecordedTest",
    "Sport",
]


@dataclass(frozen=True, slots=True)
class JumpDecision:
    """What the coach decided on one jump of a recording.

    Parameters
    ----------
    jump : int
        Its number in the recording, from 1.
    keep : bool
        Whether it counts.
    why : str
        The reason.
    """

    jump: int
    keep: bool
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordedTest:
    """A test whose figures come from a recording beside the record.

    Parameters
    ----------
    date : date
        The day.
    file : PurePosixPath
        Relative to the record.
    jump : str or None
        Kind of test, as the record names it; None to find it from the recording.
    box_m : float or None
        Height of the box of a drop jump, m.
    load_kg : float
        External load.
    arms : bool
        Whether the arms swung.
    rate_hz : float or None
        Sampling rate, where the file does not tell.
    time, force, left, right, unit : str or None
        Columns and unit, where they cannot be found.
    first_plate : str or None
        Foot on the first plate: left or right.
    resample : bool
        Whether uneven time may be resampled.
    decisions : tuple of JumpDecision
        On single jumps, none twice.
    note : str
        The coach's remark.
    label : str
        Where it stands, such as ``test[3]``.
    observations : tuple of Observation
        What came out of it; empty where recordings were not analysed.
    """

    date: dt.date
    file: PurePosixPath
    jump: str | None = None
    box_m: float | None = None
    load_kg: float = 0.0
    arms: bool = False
    rate_hz: float | None = None
    time: str | None = None
    force: str | None = None
    left: str | None = None
    right: str | None = None
    unit: str | None = None
    first_plate: Literal["left", "right"] | None = None
    resample: bool = False
    decisions: tuple[JumpDecision, ...] = ()
    note: str = ""
    label: str = ""
    observations: tuple[Observation, ...] = field(default=(), compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sport:
    """A practice or match, weekly or on one day.

    Parameters
    ----------
    kind : EventKind
        Practice or match.
    weekdays : tuple of Weekday
        Days on which it comes round; empty for a single day.
    date : date or None
        The single day.
    start, end : date or None
        First and last day of a weekly one; None for as far as the record goes.
    landings : float
        Landings from jumps in it.
    what : str
        In words.
    """

    kind: EventKind
    weekdays: tuple[Weekday, ...] = ()
    date: dt.date | None = None
    start: dt.date | None = None
    end: dt.date | None = None
    landings: float = 0.0
    what: str = ""


@dataclass(frozen=True, slots=True)
class BlockedDays:
    """A stretch of days on which nothing may be planned."""

    start: dt.date
    end: dt.date
    why: str = ""

    def days(self) -> frozenset[dt.date]:
        """Return every day of it."""
        count = (self.end - self.start).days + 1
        return frozenset(self.start + dt.timedelta(days=i) for i in range(count))


@dataclass(frozen=True, slots=True)
class Agreement:
    """A caution that somebody read and agreed to."""

    caution: str
    date: dt.date
    by: str
