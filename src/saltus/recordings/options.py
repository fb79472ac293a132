"""What a person may say about a file that does not say it itself."""

import math
from dataclasses import dataclass
from typing import Literal

from saltus.errors import UsageError
from saltus.recordings.units import FORCE_UNITS

__all__ = ["ReadOptions"]


@dataclass(frozen=True, slots=True)
class ReadOptions:
    """How to read a file, where the file leaves it open.

    Parameters
    ----------
    time, force, left, right : str or None
        A column each, by its name (case does not matter) or its number from 1.
        `force` is the total; `left` and `right` go together.
    rate_hz : float or None
        Sampling rate, Hz, for a file without time; it overrides a time column.
    unit : str or None
        Unit of the force: N, kN, kgf, lbf or BW (body weights).
    mass_kg : float or None
        Body mass, kg; needed to turn body weights into newtons.
    resample : bool
        Allow uneven time to be resampled evenly, and gaps of up to 10 ms to be bridged.
    first_plate : {"left", "right"} or None
        The foot on the first plate, where the file does not name the feet.

    Raises
    ------
    UsageError
        If a value is impossible or two of them contradict each other.
    """

    time: str | None = None
    force: str | None = None
    left: str | None = None
    right: str | None = None
    rate_hz: float | None = None
    unit: str | None = None
    mass_kg: float | None = None
    resample: bool = False
    first_plate: Literal["left", "right"] | None = None

    def __post_init__(self) -> None:
        if (self.left is None) != (self.right is None):
            given, missing = ("--left", "--right") if self.left else ("--right", "--left")
            raise UsageError(f"{given} was given without {missing}: name both feet, or --force.")
        if self.force is not None and self.left is not None:
            raise UsageError("Give either --force (both feet together) or --left and --right.")
        if self.rate_hz is not None and not (math.isfinite(self.rate_hz) and self.rate_hz > 0):
            raise UsageError(f"--rate must be a positive number of hertz, got {self.rate_hz:g}.")
        if self.mass_kg is not None and not 10 <= self.mass_kg <= 400:
            raise UsageError(f"--mass must lie between 10 and 400 kg, got {self.mass_kg:g}.")
        if self.unit is not None and self.unit.lower() not in FORCE_UNITS:
            known = ", ".join(sorted(set(FORCE_UNITS.values())))
            raise UsageError(f"--unit {self.unit} is no unit of force known here: use {known}.")
        if self.first_plate not in (None, "left", "right"):
            raise UsageError(f"--first-plate is left or right, got {self.first_plate}.")

    @property
    def names_force(self) -> bool:
        """Whether the force columns were named."""
        return self.force is not None or self.left is not None
