"""A test as it stands on the list of a test day: everything but its results.

Its results are figures by column, such as the height of the second attempt, in SI.
"""

import datetime as dt
import math
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from enum import Enum
from typing import Any

from saltus.athlete.jump_height import (
    flight_time_from_height,
    height_from_flight_time,
    reach_height,
)
from saltus.athlete.observations import (
    BarSpeedSet,
    BroadJump,
    DropJump,
    IsometricPull,
    Jump,
    JumpMethod,
    JumpStyle,
    Lift,
    Maximum,
    Observation,
    RepSet,
)
from saltus.errors import TestError, UsageError
from saltus.record import schema
from saltus.record.encoding import kind_of
from saltus.record.fields import Field

__all__ = ["EARLY_MS", "MEASURES", "Column", "Quantity", "Trial"]

MEASURES = ("body_mass", "standing_reach")
"""What is measured on a test day beside the tests."""

EARLY_MS = (100, 200)
"""Times after the onset at which early forces are asked for, ms."""
_MOST_ATTEMPTS = 12


class Quantity(Enum):
    """What a figure is, so that it can be asked for in the reader's unit."""

    LENGTH = "length"
    MASS = "mass"
    MILLISECONDS = "milliseconds"
    FORCE = "force"
    SPEED = "speed"
    COUNT = "count"


@dataclass(frozen=True, slots=True)
class Column:
    """One figure to fill in.

    Parameters
    ----------
    name : str
        Field of the record, such as ``heights``; for early forces ``force_at``.
    attempt : int
        Which attempt, from 1; 0 where there is only one. For early forces, the milliseconds.
    quantity : Quantity
        What it is.
    low, high : float
        Limits beyond which it must be a slip of the pen, in SI.
    optional : bool
        Whether the test is whole without it.
    """

    name: str
    attempt: int
    quantity: Quantity
    low: float
    high: float
    optional: bool = False

    @property
    def key(self) -> str:
        """Its name among all columns of the trial."""
        return f"{self.name}.{self.attempt}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """What is to be done.

    Parameters
    ----------
    kind : str
        Kind of test, as the record names it, or one of :data:`MEASURES`.
    key : str
        Its name on the list of the day; it stays when the order changes.
    attempts : int
        How many are meant.
    method : str or None
        How a jump's height is measured.
    way : str
        How it is read off: ``heights``, ``touched``, ``flight`` or ``frames``.
    arms : bool
        Whether the arms swing.
    load_kg : float
        Load carried in a jump.
    box_m : float or None
        Height of the box of a drop jump.
    lift : str or None
        Of a strength test.
    frame_rate_hz : float or None
        Of the film.

    Raises
    ------
    UsageError
        If it contradicts itself; the sentence says what to do.
    """

    kind: str
    key: str = ""
    attempts: int = 3
    method: str | None = None
    way: str = "heights"
    arms: bool = False
    load_kg: float = 0.0
    box_m: float | None = None
    lift: str | None = None
    frame_rate_hz: float | None = None

    def __post_init__(self) -> None:
        if self.kind not in (*schema.TESTS, *MEASURES) or self.kind == "recording":
            raise UsageError(f"{self.kind} is no kind of test that can be written down.")
        if not 1 <= self.attempts <= _MOST_ATTEMPTS:
            raise UsageError(f"Between 1 and {_MOST_ATTEMPTS} attempts, please.")
        if self._jumps:
            self._check_jump()
        if self.kind == "drop_jump" and self.box_m is None:
            raise UsageError("A drop jump needs the height of its box.")
        lifted = self.kind in ("maximum", "rep_set", "bar_speed")
        if lifted and self.lift not in tuple(Lift):
            raise UsageError("A test of strength needs its lift.")

    def _check_jump(self) -> None:
        if self.method not in tuple(JumpMethod):
            raise UsageError("How is the jump measured: by reach, mat, film or force plate?")
        fits = {
            "heights": True,
            "touched": self.method == JumpMethod.REACH and self.kind in schema.JUMP_KINDS,
            "flight": self.method in (JumpMethod.MAT, JumpMethod.FILM, JumpMethod.PLATE_FLIGHT),
            "frames": self.method == JumpMethod.FILM,
        }
        if not fits.get(self.way, False):
            raise UsageError("What is written down does not go with how the jump is measured.")
        if self.way == "frames" and self.frame_rate_hz is None:
            raise UsageError("Frames need the frame rate of the film.")

    @property
    def _jumps(self) -> bool:
        return self.kind in schema.JUMP_KINDS or self.kind == "drop_jump"

    def as_row(self) -> dict[str, Any]:
        """Plain values, as JSON holds them; the reverse of :meth:`from_row`."""
        return {name: value for name, value in asdict(self).items() if value is not None}

    @classmethod
    def from_row(cls, row: Mapping[str, Any]) -> "Trial":
        """Build a trial from plain values."""
        return cls(**row)

    def columns(self, attempts: int | None = None) -> tuple[Column, ...]:
        """Figures to fill in, in the order in which they are read off.

        Parameters
        ----------
        attempts : int or None
            Another number of attempts than is meant.
        """
        n = attempts or self.attempts
        match self.kind:
            case "body_mass":
                return (_column(schema.BODY_MASS.field("mass"), Quantity.MASS),)
            case "standing_reach":
                return (_column(schema.ATHLETE.field("standing_reach"), Quantity.LENGTH),)
            case "drop_jump":
                way, contacts = self._field(self.way), self._field("contacts")
                return tuple(
                    column
                    for i in range(1, n + 1)
                    for column in (
                        _column(way, _WAYS[self.way], i),
                        _column(contacts, Quantity.MILLISECONDS, i, optional=True),
                    )
                )
            case "broad_jump":
                distances = self._field("distances")
                return tuple(_column(distances, Quantity.LENGTH, i) for i in range(1, n + 1))
            case "maximum":
                return (_column(self._field("load"), Quantity.MASS),)
            case "rep_set":
                return (
                    _column(self._field("load"), Quantity.MASS),
                    _column(self._field("reps"), Quantity.COUNT),
                    _column(self._field("reserve"), Quantity.COUNT, optional=True),
                )
            case "bar_speed":
                loads, speeds = self._field("loads"), self._field("speeds")
                return tuple(
                    column
                    for i in range(1, n + 1)
                    for column in (
                        _column(loads, Quantity.MASS, i),
                        _column(speeds, Quantity.SPEED, i),
                    )
                )
            case "isometric_pull":
                forces = self._field("force_at")
                return (
                    _column(self._field("peak"), Quantity.FORCE),
                    *(_column(forces, Quantity.FORCE, ms, optional=True) for ms in EARLY_MS),
                )
            case _:
                way = self._field(self.way)
                return tuple(_column(way, _WAYS[self.way], i) for i in range(1, n + 1))

    def _field(self, name: str) -> Field:
        return schema.TESTS[self.kind].field(name)

    def missing(self, values: Mapping[str, float]) -> tuple[Column, ...]:
        """Figures without which those given are no whole test yet."""
        if not values:
            return ()
        attempts = _attempts_in(values)
        columns = self.columns(max(attempts, default=1))
        if self.kind in ("maximum", "rep_set", "isometric_pull", *MEASURES):
            wanted = [column for column in columns if not column.optional]
        else:
            timed = any(key.startswith("contacts.") for key in values)
            wanted = [
                column
                for column in columns
                if column.attempt in attempts and (timed or not column.optional)
            ]
        return tuple(column for column in wanted if column.key not in values)

    def matches(self, test: Any) -> bool:
        """Whether a test of the record is one of this trial."""
        if self.kind in MEASURES or kind_of(test) != self.kind:
            return False
        match test:
            case Jump():
                return (
                    test.method == self.method
                    and test.arms == self.arms
                    and _alike(test.load_kg, self.load_kg)
                )
            case DropJump():
                return (
                    test.method == self.method
                    and test.arms == self.arms
                    and not test.true_drop
                    and _alike(test.drop_m, self.box_m or 0.0)
                )
            case BroadJump():
                return test.arms == self.arms
            case Maximum() | RepSet() | BarSpeedSet():
                return test.lift == self.lift
            case _:
                return True

    def observation(
        self,
        values: Mapping[str, float],
        date: dt.date,
        *,
        standing_reach_m: float | None = None,
        note: str = "",
    ) -> Observation:
        """Build the test that figures of a whole test make.

        Parameters
        ----------
        values : mapping of str to float
            By key of column, in SI; nothing :meth:`missing`.
        date : date
            The day.
        standing_reach_m : float or None
            Of the athlete, for heights that were touched.
        note : str
            A remark.

        Raises
        ------
        TestError
            If the figures cannot be a test; the sentence says why.
        """
        common: dict[str, Any] = {"date": date, "note": note}
        match self.kind:
            case "broad_jump":
                return BroadJump(distances_m=_listed(values, "distances"), arms=self.arms, **common)
            case "maximum":
                return Maximum(lift=Lift(self.lift or ""), load_kg=values["load.0"], **common)
            case "rep_set":
                return RepSet(
                    lift=Lift(self.lift or ""),
                    load_kg=values["load.0"],
                    reps=round(values["reps.0"]),
                    reserve=values.get("reserve.0", 0.0),
                    **common,
                )
            case "bar_speed":
                return BarSpeedSet(
                    lift=Lift(self.lift or ""),
                    loads_kg=_listed(values, "loads"),
                    speeds_m_s=_listed(values, "speeds"),
                    **common,
                )
            case "isometric_pull":
                early = {
                    int(key.split(".")[1]): force
                    for key, force in values.items()
                    if key.startswith("force_at.")
                }
                return IsometricPull(peak_n=values["peak.0"], force_at_n=early, **common)
            case "drop_jump":
                return DropJump(
                    drop_m=self.box_m or 0.0,
                    heights_m=self._heights(values, None),
                    contacts_s=_listed(values, "contacts"),
                    method=JumpMethod(self.method or ""),
                    arms=self.arms,
                    frame_rate_hz=self.frame_rate_hz,
                    **common,
                )
            case _:
                return Jump(
                    style=JumpStyle(schema.JUMP_KINDS[self.kind]),
                    method=JumpMethod(self.method or ""),
                    heights_m=self._heights(values, standing_reach_m),
                    arms=self.arms,
                    load_kg=self.load_kg,
                    frame_rate_hz=self.frame_rate_hz,
                    **common,
                )

    def _heights(
        self, values: Mapping[str, float], standing_reach_m: float | None
    ) -> tuple[float, ...]:
        read = _listed(values, self.way)
        match self.way:
            case "touched":
                if standing_reach_m is None:
                    raise TestError("A touched height needs the standing reach: measure it first.")
                return tuple(round(reach_height(height, standing_reach_m), 6) for height in read)
            case "flight":
                return tuple(round(height_from_flight_time(time), 6) for time in read)
            case "frames":
                rate = self.frame_rate_hz or math.nan
                return tuple(round(height_from_flight_time(count / rate), 6) for count in read)
            case _:
                return read

    def as_read(self, height_m: float, standing_reach_m: float | None) -> float | None:
        """Height as it was read off; None where the standing reach is not known."""
        match self.way:
            case "touched":
                return None if standing_reach_m is None else round(height_m + standing_reach_m, 6)
            case "flight":
                return round(flight_time_from_height(height_m), 6)
            case "frames":
                return round(flight_time_from_height(height_m) * (self.frame_rate_hz or 0), 3)
            case _:
                return height_m


_WAYS = {
    "heights": Quantity.LENGTH,
    "touched": Quantity.LENGTH,
    "flight": Quantity.MILLISECONDS,
    "frames": Quantity.COUNT,
}


def _column(
    field: Field, quantity: Quantity, attempt: int = 0, *, optional: bool = False
) -> Column:
    to_si = field.units[0].to_si if field.units else float
    low = -math.inf if field.low is None else to_si(field.low)
    high = math.inf if field.high is None else to_si(field.high)
    return Column(field.name, attempt, quantity, low, high, optional)


def _alike(a: float, b: float) -> bool:
    return math.isclose(a, b, rel_tol=1e-6, abs_tol=1e-6)


def _attempts_in(values: Mapping[str, float]) -> set[int]:
    return {int(key.split(".")[1]) for key in values}


def _listed(values: Mapping[str, float], name: str) -> tuple[float, ...]:
    """Figures of all attempts, in order; those that were not made are left out."""
    found = {
        int(key.split(".")[1]): value for key, value in values.items() if key.split(".")[0] == name
    }
    return tuple(found[attempt] for attempt in sorted(found))
