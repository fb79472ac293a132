"""Forces and time as a reader found them, before they are checked and made into a recording."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["Channel", "Signals", "standing_load"]

Floats = NDArray[np.float64]


@dataclass(slots=True, eq=False)
class Channel:
    """Vertical force of one plate, one foot or both feet.

    Parameters
    ----------
    name : str
        As a person knows it: a column's name, or ``plate 1``.
    force : ndarray, shape (n,)
        In `unit`, NaN where there is a gap; either sign.
    unit : str or None
        As the file says it, or None.
    pressure_m : ndarray, shape (n, 2), or None
        Centre of pressure, m, in two horizontal axes that make a right-handed frame with up.
    """

    name: str
    force: Floats
    unit: str | None = None
    pressure_m: Floats | None = None


@dataclass(slots=True, eq=False)
class Signals:
    """All that a reader found in a file.

    Exactly one of `total`, (`left`, `right`) and `plates` is given; `plates` are in the order
    of the file, and which foot stands on which is not known yet.

    Parameters
    ----------
    source : str
        File name.
    total, left, right : Channel or None
        Force of both feet or of each.
    plates : tuple of Channel
        Force of each plate.
    time : ndarray, shape (n,), or None
        As in the file.
    time_unit_s : float or None
        Seconds in one unit of `time`, where the file says it.
    rate_hz : float or None
        Sampling rate where there is no time.
    stated_rate_hz : float or None
        Rate that the file states beside its time.
    first_line : int or None
        Line of the first sample in a text file, for messages.
    notes : list of str
        What was done so far.
    doubts : list of str
        Reasons to doubt it.
    """

    source: str
    total: Channel | None = None
    left: Channel | None = None
    right: Channel | None = None
    plates: tuple[Channel, ...] = ()
    time: Floats | None = None
    time_unit_s: float | None = None
    rate_hz: float | None = None
    stated_rate_hz: float | None = None
    first_line: int | None = None
    notes: list[str] | None = None
    doubts: list[str] | None = None

    @property
    def channels(self) -> tuple[Channel, ...]:
        """Every channel there is."""
        single = (c for c in (self.total, self.left, self.right) if c is not None)
        return (*single, *self.plates)

    def where(self, sample: int) -> str:
        """Name the place of a sample in the file."""
        if self.first_line is not None:
            return f"line {self.first_line + sample}"
        return f"sample {sample + 1}"


def standing_load(force: Floats) -> float:
    """Typical load while somebody is on the plate: the median of what is not near empty.

    Parameters
    ----------
    force : ndarray, shape (n,)
        Either sign, any unit; NaN are left out.

    Returns
    -------
    float
        In the unit of `force`, not negative; 0 where nothing ever stands on the plate.
    """
    step = max(1, force.size // 200_000)
    load = np.abs(force[::step])
    load = load[np.isfinite(load)]
    if load.size == 0:
        return 0.0
    top = float(np.percentile(load, 95))
    # a person who steps on for a moment only: the 95th percentile may still be empty
    top = max(top, 0.3 * float(load.max()))
    loaded = load[load > 0.25 * top]
    return float(np.median(loaded)) if loaded.size else 0.0
