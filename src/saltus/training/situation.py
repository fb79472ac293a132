"""What a plan has to fit into: the days, the gym, the other sport, the body."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from saltus.athlete.health import Pain, Restriction
from saltus.quantities import POUND

__all__ = ["Event", "EventKind", "Gym", "Priority", "Situation", "TargetDate", "Weekday"]


class Weekday(StrEnum):
    """Days of the week as they stand in a record."""

    MON = "mon"
    TUE = "tue"
    WED = "wed"
    THU = "thu"
    FRI = "fri"
    SAT = "sat"
    SUN = "sun"

    @classmethod
    def of(cls, date: dt.date) -> "Weekday":
        """Weekday of a date."""
        return tuple(cls)[date.weekday()]


class Priority(StrEnum):
    """How much a date counts: everything is laid back from the main one."""

    MAIN = "main"
    SECOND = "second"
    TRIAL = "trial"


@dataclass(frozen=True, slots=True)
class TargetDate:
    """A test or a competition to be at one's best on."""

    date: dt.date
    priority: Priority = Priority.MAIN
    what: str = ""


class EventKind(StrEnum):
    """Other sport that costs landings and freshness."""

    PRACTICE = "practice"
    MATCH = "match"


@dataclass(frozen=True, slots=True)
class Event:
    """A practice or match.

    Parameters
    ----------
    date : date
        The day.
    kind : EventKind
        Practice or match.
    landings : float
        Landings from jumps in it.
    """

    date: dt.date
    kind: EventKind
    landings: float = 0.0


@dataclass(frozen=True, slots=True)
class Gym:
    """What there is to train with.

    Parameters
    ----------
    equipment : frozenset of str
        Names as exercises ask for them, such as "barbell", "rack", "boxes", "trap_bar".
    bar_kg : float
        Weight of the bar.
    plates_kg : mapping of float to int
        Plate weight to the number of them (single plates, not pairs).
    boxes_m : tuple of float
        Heights of the boxes.
    dumbbells_kg, kettlebells_kg : tuple of float
        Weights at hand.
    unit : str
        "kg" or "lb": the unit in which this gym's weights are stamped and told.
    """

    equipment: frozenset[str] = frozenset()
    bar_kg: float = 20.0
    plates_kg: Mapping[float, int] = field(default_factory=dict)
    boxes_m: tuple[float, ...] = ()
    dumbbells_kg: tuple[float, ...] = ()
    kettlebells_kg: tuple[float, ...] = ()
    unit: str = "kg"

    @property
    def unit_kg(self) -> float:
        """What one of its unit weighs, kg."""
        return POUND if self.unit == "lb" else 1.0

    def told(self, load_kg: float) -> str:
        """A load (kg) in its unit, in words: "60 kg"."""
        return f"{load_kg / self.unit_kg:.4g} {self.unit}"


@dataclass(frozen=True, slots=True)
class Situation:
    """Everything a plan must fit into.

    Parameters
    ----------
    start : date
        First day that may be planned.
    targets : tuple of TargetDate
        Test dates by priority.
    minutes : mapping of Weekday to int
        Minutes for training on each weekday; days left out are not free.
    blocked : frozenset of date
        Days on which nothing may be planned.
    events : tuple of Event
        Practices and matches.
    gym : Gym
        What there is to train with.
    pains, restrictions : tuple
        Reported pains, and what may not be done.
    landing_practice_weeks : float
        Weeks of landing practice behind the athlete.
    soft_surface : bool
        Whether a forgiving surface (sprung floor, turf, mats) is at hand for depth jumps.
    on_days : mapping of date to int
        Minutes on single days, where those of their weekday do not hold.
    trained : mapping of date to mapping of str to float
        Logged days of training: exercise to the heaviest load lifted (kg), as far as that is
        known. Empty where nothing is logged, which says nothing of a break.
    in_blocks : frozenset of date
        Days of blocks of training on record. What came after a block is not known from it.
    """

    start: dt.date
    targets: tuple[TargetDate, ...]
    minutes: Mapping[Weekday, int]
    blocked: frozenset[dt.date] = frozenset()
    events: tuple[Event, ...] = ()
    gym: Gym = field(default_factory=Gym)
    pains: tuple[Pain, ...] = ()
    restrictions: tuple[Restriction, ...] = ()
    landing_practice_weeks: float = 0.0
    soft_surface: bool = False
    on_days: Mapping[dt.date, int] = field(default_factory=dict)
    trained: Mapping[dt.date, Mapping[str, float]] = field(default_factory=dict)
    in_blocks: frozenset[dt.date] = frozenset()

    def minutes_on(self, date: dt.date) -> int:
        """Minutes for training on a day, blocked or not."""
        return self.on_days.get(date, self.minutes.get(Weekday.of(date), 0))
