"""One shape for every recording of vertical ground force."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from saltus.errors import RecordingError

__all__ = ["Recording"]


@dataclass(frozen=True, slots=True, eq=False)
class Recording:
    """Vertical ground reaction force over time, evenly sampled.

    Parameters
    ----------
    rate_hz : float
        Sampling rate, Hz.
    total_n : ndarray, shape (n,)
        Vertical force of both feet together, N, up positive, no NaN.
    left_n, right_n : ndarray, shape (n,), or None
        Vertical force of each foot, N, where it was measured; both or neither.
    source : str
        Where it came from, as a person would say it: a file name.
    start_s : float
        Time of the first sample, s.
    notes : tuple of str
        What was done to it on the way in: units turned, a plate zeroed, resampled.
    doubts : tuple of str
        Reasons to doubt every jump in it, as sentences for the coach.

    Raises
    ------
    RecordingError
        If the shapes disagree, a value is not finite, or the rate is not positive.
    """

    rate_hz: float
    total_n: NDArray[np.float64]
    left_n: NDArray[np.float64] | None = None
    right_n: NDArray[np.float64] | None = None
    source: str = ""
    start_s: float = 0.0
    notes: tuple[str, ...] = field(default=())
    doubts: tuple[str, ...] = field(default=())

    def __post_init__(self) -> None:
        if not (np.isfinite(self.rate_hz) and self.rate_hz > 0):
            raise RecordingError(
                f"{self.source}: a sampling rate of {self.rate_hz} Hz is impossible; "
                "give the true one with --rate."
            )
        if (self.left_n is None) != (self.right_n is None):
            raise RecordingError(f"{self.source}: one foot only was given; give both or the total.")
        for force in (self.total_n, self.left_n, self.right_n):
            if force is None:
                continue
            if force.shape != self.total_n.shape or force.ndim != 1:
                raise RecordingError(f"{self.source}: the forces differ in length.")
            if not np.all(np.isfinite(force)):
                raise RecordingError(f"{self.source}: the force holds gaps.")

    def __len__(self) -> int:
        return int(self.total_n.size)

    @property
    def time_s(self) -> NDArray[np.float64]:
        """Time of each sample, s, shape (n,)."""
        return self.start_s + np.arange(len(self)) / self.rate_hz
