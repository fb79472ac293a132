"""The force plate itself: what it reads when nobody stands on it, and when somebody does."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from saltus.recordings.recording import Recording

__all__ = ["Plate", "Runs", "Trace", "prepare", "runs_of"]

Floats = NDArray[np.float64]

LEAST_THRESHOLD_N: Final = 10.0
"""Contact starts at 10 N above the empty plate, or at five standard deviations of the empty
plate's force where that is more. Five standard deviations of the unloaded plate, and a fixed
10 N, are both in published use (McMahon et al., as read in PMC9750644, table 1)."""

THRESHOLD_SD: Final = 5.0

_LOADED_FRACTION: Final = 0.1
"""Under a tenth of the usual force the plate may be empty: a first, rough look."""

_GUARD_S: Final = 0.02
"""Left out at either end of an empty stretch: the plate still rings."""


@dataclass(frozen=True, slots=True)
class Plate:
    """What the empty plate reads.

    Parameters
    ----------
    level_n : float
        Mean force of the empty plate, N; taken off before anything else.
    noise_n : float
        Standard deviation of the empty plate, N; 0 where the plate was never seen empty.
    threshold_n : float
        Force above the empty plate at which contact starts and ends, N.
    level_se_n : float
        Standard error of the level, N.
    hides : bool
        Whether the device writes an exact zero for every small force, so that what happens
        below its own threshold is not in the recording.
    """

    level_n: float
    noise_n: float
    threshold_n: float
    level_se_n: float
    hides: bool


@dataclass(frozen=True, slots=True, eq=False)
class Trace:
    """A recording made ready: zeroed, with its impulse.

    Positions in it are sample numbers, fractions allowed: position 0 is the first sample.

    Parameters
    ----------
    rate_hz : float
        Hz.
    start_s : float
        Time of the first sample.
    force_n : ndarray, shape (n,)
        Total vertical force above the empty plate, N.
    impulse_n_s : ndarray, shape (n,)
        Integral of `force_n` from the first sample (trapezoid rule), N·s.
    left_n, right_n : ndarray or None
        As recorded.
    plate : Plate
    """

    rate_hz: float
    start_s: float
    force_n: Floats
    impulse_n_s: Floats
    left_n: Floats | None
    right_n: Floats | None
    plate: Plate

    def __len__(self) -> int:
        return int(self.force_n.size)

    def time(self, position: float) -> float:
        """Time of a position on the recording's clock, s."""
        return float(self.start_s + position / self.rate_hz)

    def impulse(self, position: float) -> float:
        """Impulse up to a position that may lie between two samples, N·s."""
        low = int(np.clip(np.floor(position), 0, len(self) - 2))
        part = position - low
        left, right = self.force_n[low], self.force_n[low + 1]
        mean = left + 0.5 * part * (right - left)
        return float(self.impulse_n_s[low] + mean * part / self.rate_hz)

    def samples(self, seconds: float) -> int:
        """Number of samples in so many seconds, at least one."""
        return max(1, round(seconds * self.rate_hz))

    def noise(self, first: int, last: int) -> float:
        """White noise of the force in a quiet stretch, N.

        From second differences, which leave out every slow movement of the body:
        their variance is six times that of white noise.
        """
        quiet = np.diff(self.force_n[first:last], n=2)
        if quiet.size < 8:
            return self.plate.noise_n
        return float(np.sqrt(np.mean(quiet**2) / 6))


@dataclass(frozen=True, slots=True, eq=False)
class Runs:
    """Stretches of samples, from `first` up to but without `last`; arrays of shape (n,)."""

    first: NDArray[np.int64]
    last: NDArray[np.int64]

    def __len__(self) -> int:
        return int(self.first.size)

    @property
    def length(self) -> NDArray[np.int64]:
        """Samples in each."""
        return self.last - self.first


def runs_of(mask: NDArray[np.bool_]) -> Runs:
    """Stretches in which `mask` is true."""
    edges = np.flatnonzero(np.diff(mask.view(np.int8), prepend=0, append=0))
    return Runs(edges[::2].astype(np.int64), edges[1::2].astype(np.int64))


def _empty_plate(force: Floats, rate_hz: float) -> Plate:
    """Level and noise of the plate while nobody stands on it."""
    sparse = force[:: max(1, force.size // 200_000)]
    top = float(np.percentile(sparse, 99.5))
    loaded = sparse[sparse > 0.15 * top]
    usual = float(np.median(loaded)) if loaded.size else 0.0
    guard = max(1, round(_GUARD_S * rate_hz))
    runs = runs_of(force < _LOADED_FRACTION * usual)
    wide = runs.length > 4 * guard
    pieces = [
        force[first + guard : last - guard]
        for first, last in zip(runs.first[wide], runs.last[wide], strict=True)
    ]
    if not pieces:
        return Plate(0.0, 0.0, LEAST_THRESHOLD_N, 0.0, hides=False)
    empty = np.concatenate(pieces)
    middle = float(np.median(empty))
    noise = 1.4826 * float(np.median(np.abs(empty - middle)))
    calm = empty[np.abs(empty - middle) <= 3 * noise]
    level, se = float(calm.mean()), noise / math.sqrt(calm.size)
    if abs(level) <= 3 * se:
        level, se = 0.0, 0.0  # as good as zeroed: its noise is not put into the force
    threshold = max(LEAST_THRESHOLD_N, THRESHOLD_SD * noise)
    return Plate(level, noise, threshold, se, hides=noise == 0.0)


def prepare(recording: Recording) -> Trace:
    """Zero the plate and integrate the force once, for everything that follows."""
    plate = _empty_plate(recording.total_n, recording.rate_hz)
    force = recording.total_n - plate.level_n
    impulse = np.empty_like(force)
    impulse[0] = 0.0
    np.cumsum((force[1:] + force[:-1]) * (0.5 / recording.rate_hz), out=impulse[1:])
    return Trace(
        recording.rate_hz,
        recording.start_s,
        force,
        impulse,
        recording.left_n,
        recording.right_n,
        plate,
    )
