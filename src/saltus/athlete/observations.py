"""What was tested: one class for each kind of test, in SI units.

A test says what was done and what was read off. What it means for the athlete's
qualities, with which error and bias, is the business of :mod:`saltus.athlete.field`.
"""

import datetime as dt
from dataclasses import dataclass, field
from enum import StrEnum

__all__ = [
    "BarSpeedSet",
    "BroadJump",
    "DropJump",
    "IsometricPull",
    "Jump",
    "JumpMethod",
    "JumpStyle",
    "Lift",
    "Maximum",
    "Observation",
    "RepSet",
]


class JumpStyle(StrEnum):
    """How the jump was begun."""

    SQUAT = "squat"
    COUNTERMOVEMENT = "countermovement"
    APPROACH = "approach"


class JumpMethod(StrEnum):
    """How the height was measured."""

    REACH = "reach"
    """Touched height less standing reach, with a tape or a reach device."""
    MAT = "mat"
    """Flight time of a contact mat or of optical cells."""
    FILM = "film"
    """Flight time counted in the frames of a film."""
    PLATE_FLIGHT = "plate_flight"
    """Flight time on a force plate."""
    PLATE_IMPULSE = "plate_impulse"
    """Take-off velocity from the impulse on a force plate."""


class Lift(StrEnum):
    """Lifts whose maxima mean something to the model or to the loads of a plan."""

    BACK_SQUAT = "back_squat"
    FRONT_SQUAT = "front_squat"
    LEG_PRESS = "leg_press"
    DEADLIFT = "deadlift"
    TRAP_BAR_DEADLIFT = "trap_bar_deadlift"
    ROMANIAN_DEADLIFT = "romanian_deadlift"
    POWER_CLEAN = "power_clean"
    POWER_SNATCH = "power_snatch"
    JERK = "jerk"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Test:
    """What every test has: its day, its number in the record, and a remark."""

    date: dt.date
    label: str = ""
    """Where the test stands, for messages: such as ``test[3]`` or a file name."""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Jump(_Test):
    """A vertical jump.

    Parameters
    ----------
    style : JumpStyle
        How it was begun.
    method : JumpMethod
        How it was measured.
    heights_m : tuple of float
        Each attempt, m, as that method defines height.
    arms : bool
        Whether the arms swung.
    load_kg : float
        External load.
    frame_rate_hz : float or None
        Of the film, where `method` is FILM.
    """

    style: JumpStyle
    method: JumpMethod
    heights_m: tuple[float, ...]
    arms: bool = False
    load_kg: float = 0.0
    frame_rate_hz: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DropJump(_Test):
    """A drop jump from a box.

    Parameters
    ----------
    drop_m : float
        Height of the box (nominal) or, with `true_drop`, the drop found from the landing, m.
    heights_m, contacts_s : tuple of float
        Each attempt: rebound height (m) and contact time (s); the same length, or
        `contacts_s` empty where contact was not timed.
    method : JumpMethod
        How height was measured.
    frame_rate_hz : float or None
        Of the film, where `method` is FILM.
    """

    drop_m: float
    heights_m: tuple[float, ...]
    contacts_s: tuple[float, ...] = ()
    method: JumpMethod = JumpMethod.MAT
    arms: bool = False
    true_drop: bool = False
    frame_rate_hz: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BroadJump(_Test):
    """A standing broad jump: distances from the line to the nearer heel, m."""

    distances_m: tuple[float, ...]
    arms: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Maximum(_Test):
    """A one-repetition maximum that was lifted: the load on the bar, kg."""

    lift: Lift
    load_kg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RepSet(_Test):
    """A set of several repetitions.

    Parameters
    ----------
    load_kg : float
        On the bar.
    reps : int
        Repetitions done.
    reserve : float
        Repetitions that the athlete felt were left; 0 is a set to failure.
    """

    lift: Lift
    load_kg: float
    reps: int
    reserve: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class BarSpeedSet(_Test):
    """Mean concentric velocities of the fastest repetition at several loads.

    Parameters
    ----------
    loads_kg, speeds_m_s : tuple of float
        Same length, at least one.
    """

    lift: Lift
    loads_kg: tuple[float, ...]
    speeds_m_s: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class IsometricPull(_Test):
    """An isometric mid-thigh pull (or isometric squat) on a force plate.

    Parameters
    ----------
    peak_n : float
        Peak vertical force, body weight included, N.
    force_at_n : dict of int to float
        Force at so many milliseconds after the onset, body weight included, N.
    """

    peak_n: float
    force_at_n: dict[int, float] = field(default_factory=dict)


Observation = Jump | DropJump | BroadJump | Maximum | RepSet | BarSpeedSet | IsometricPull
