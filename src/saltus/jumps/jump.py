"""The words for what a force plate saw: jumps, their measures, and how far to trust them."""

from dataclasses import dataclass, field
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from saltus.recordings.recording import Recording

__all__ = ["Analysis", "Integration", "Jump", "JumpKind", "Measure", "Motion", "Phase", "Trust"]


class JumpKind(StrEnum):
    """What was done on the plate."""

    CMJ = "countermovement_jump"
    SJ = "squat_jump"
    DJ = "drop_jump"
    HOPS = "repeated_hops"
    """One hop out of a series: a contact and the flight after it."""
    ISOMETRIC = "isometric_pull"
    """A pull or push against something that does not move; no flight."""

    @property
    def in_words(self) -> str:
        """As a coach says it."""
        return _WORDS[self]


_WORDS = {
    JumpKind.CMJ: "countermovement jump",
    JumpKind.SJ: "squat jump",
    JumpKind.DJ: "drop jump",
    JumpKind.HOPS: "hop",
    JumpKind.ISOMETRIC: "isometric pull",
}


class Trust(StrEnum):
    """How far one measured jump may be trusted; the reasons stand beside it."""

    SOUND = "sound"
    DOUBTFUL = "doubtful"
    REJECTED = "rejected"


@dataclass(frozen=True, slots=True)
class Measure:
    """One number taken from a jump.

    Parameters
    ----------
    value : float
        In `unit`.
    se : float
        Standard error, in `unit`: what another recording of the very same movement would
        differ by, from noise, weighing, thresholds and sampling.
    unit : str
        SI, as printed: ``"m"``, ``"N/s"``; ``""`` for a ratio.
    title : str
        As a coach says it: ``"height from flight time"``.
    """

    value: float
    se: float
    unit: str
    title: str


@dataclass(frozen=True, slots=True)
class Phase:
    """A named stretch of a jump, from `start_s` to `end_s` on the recording's clock."""

    name: str
    start_s: float
    end_s: float


@dataclass(frozen=True, slots=True)
class Integration:
    """What it takes to turn force into motion: the weight, and a moment of known speed.

    Parameters
    ----------
    weight_n : float
        Body weight that is taken off the force, N.
    zero_s : float
        Time at which displacement is zero, s: at the still stand that the integration
        starts from, or, where it runs backwards, the stand after the landing.
    velocity_m_s : float
        Velocity at `zero_s`; near 0.
    level_n : float
        What the empty plate reads, N; taken off the force as well.
    """

    weight_n: float
    zero_s: float
    velocity_m_s: float = 0.0
    level_n: float = 0.0


@dataclass(frozen=True, slots=True)
class Jump:
    """One jump, one hop of a series, or one isometric pull.

    Times are on the recording's clock (its first sample is at ``recording.start_s``).

    Parameters
    ----------
    kind : JumpKind
        What it is.
    start_s, end_s : float
        The stretch of the recording that shows it whole, for drawing.
    trust : Trust
        The grade.
    reasons : tuple of str
        Why it is not sound, each a sentence that a coach can act on.
    measures : dict of str to Measure
        Everything that can be said, by name. What cannot be trusted is not there.
    phases : tuple of Phase
        In order of time, without gaps or overlaps.
    onset_s, take_off_s, landing_s : float or None
        Start of the movement (of the contact, for hops and drop jumps), the moment the feet
        leave, the moment they are back. None where the recording does not hold it.
    series : int or None
        For hops: which series it belongs to, from 1.
    integration : Integration or None
        How force was turned into motion; None where it could not be.
    """

    kind: JumpKind
    start_s: float
    end_s: float
    trust: Trust
    reasons: tuple[str, ...] = ()
    measures: dict[str, Measure] = field(default_factory=dict)
    phases: tuple[Phase, ...] = ()
    onset_s: float | None = None
    take_off_s: float | None = None
    landing_s: float | None = None
    series: int | None = None
    integration: Integration | None = None

    def value(self, name: str) -> float | None:
        """Value of the measure called `name`, or None where it is withheld."""
        measure = self.measures.get(name)
        return None if measure is None else measure.value

    @property
    def flight_time_s(self) -> float | None:
        """Time off the plate, s; the measure ``flight_time``."""
        return self.value("flight_time")

    @property
    def height_flight_m(self) -> float | None:
        """Height from flight time, m; the measure ``height_flight``."""
        return self.value("height_flight")

    @property
    def height_impulse_m(self) -> float | None:
        """Height from take-off velocity, m; the measure ``height_impulse``."""
        return self.value("height_impulse")

    @property
    def take_off_velocity_m_s(self) -> float | None:
        """Velocity as the feet leave, m/s; the measure ``take_off_velocity``."""
        return self.value("take_off_velocity")


@dataclass(frozen=True, slots=True)
class Analysis:
    """What was found in one recording.

    Parameters
    ----------
    recording : Recording
        What was analysed.
    body_weight_n : Measure or None
        Weight of whoever stood on the plate, N; None where it could not be had.
    jumps : tuple of Jump
        In order of time; rejected ones included.
    notes : tuple of str
        What was seen on the way: how body weight was had, that nobody jumped.
    doubts : tuple of str
        Reasons to doubt every jump in it, as sentences for the coach.
    """

    recording: Recording
    body_weight_n: Measure | None
    jumps: tuple[Jump, ...]
    notes: tuple[str, ...] = ()
    doubts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Motion:
    """Force and motion of one jump over time, each of shape (n,).

    Parameters
    ----------
    time_s : ndarray
        On the recording's clock.
    force_n : ndarray
        Vertical force, N.
    velocity_m_s, displacement_m : ndarray or None
        Of the centre of mass, up positive, displacement from the still stand (or, for a jump
        that is integrated backwards, from the stand after it); None where withheld.
    """

    time_s: NDArray[np.float64]
    force_n: NDArray[np.float64]
    velocity_m_s: NDArray[np.float64] | None = None
    displacement_m: NDArray[np.float64] | None = None
