"""What a push-off is asked for: its start, what its figures may be, and why it may fail."""

import math
from collections.abc import Mapping
from enum import StrEnum
from typing import Final

import numpy as np
from numpy.typing import NDArray

from saltus.errors import ModelError
from saltus.quantities import STANDARD_GRAVITY

__all__ = ["ARGUMENTS", "Start", "check", "why_infeasible"]


class Start(StrEnum):
    """How a jump is begun, in the order of the kernels' codes."""

    SQUAT = "squat"
    COUNTERMOVEMENT = "countermovement"
    DROP = "drop"

    @property
    def code(self) -> int:
        """Integer that stands for it in an array."""
        return list(Start).index(self)


_POSITIVE: Final = {
    "mass_kg": "body mass",
    "segment_m": "segment (half of the outstretched leg)",
    "torque_nm": "isometric torque",
    "speed_rad_s": "speed without load",
    "rfd_nm_s": "rate of torque development",
    "distance_m": "push-off distance",
}
_NOT_NEGATIVE: Final = {
    "stretch_gain": "stretch-shortening gain",
    "load_kg": "load",
    "drop_m": "drop",
}


ARGUMENTS: Final = (*_POSITIVE, *_NOT_NEGATIVE)
"""Names of the figures of a push, in the order in which the kernels take them."""


def check(values: Mapping[str, NDArray[np.float64]], *, nan_passes: bool = False) -> None:
    """Refuse what no body can have.

    Parameters
    ----------
    values : mapping of str to ndarray, shape (n,)
        By the names of :data:`ARGUMENTS`.
    nan_passes : bool
        Whether a NaN is let through, to come out as NaN.

    Raises
    ------
    ModelError
        If one is not finite, negative, or 0 where it must not be.
    """
    for name, words in (_POSITIVE | _NOT_NEGATIVE).items():
        x = values[name]
        bad = np.isinf(x) if nan_passes else ~np.isfinite(x)
        bad |= (x <= 0) if name in _POSITIVE else (x < 0)
        if np.any(bad):
            i = int(np.argmax(bad))
            where = f" (push {i})" if x.size > 1 else ""
            limit = "greater than 0" if name in _POSITIVE else "0 or more"
            raise ModelError(
                f"With the {words} at {x[i]:g}{where} nothing can be simulated: {name} must be "
                f"{limit} and finite."
            )


def why_infeasible(
    start: Start,
    *,
    mass_kg: float,
    segment_m: float,
    torque_nm: float,
    distance_m: float,
    load_kg: float = 0.0,
    drop_m: float = 0.0,
) -> str:
    """Say in a sentence why a push that is not feasible is not (units as in :func:`simulate`)."""
    leg = 2 * segment_m
    if distance_m >= leg:
        return (
            f"A push-off distance of {distance_m:g} m does not fit a leg of {leg:g} m: "
            "measure it again."
        )
    if start is Start.DROP:
        return (
            f"The legs give way: a fall from {drop_m:g} m with {mass_kg + load_kg:g} kg is more "
            "than they can stop and leave the ground again."
        )
    lever = segment_m * math.sqrt(1 - ((leg - distance_m) / leg) ** 2)
    needed = (mass_kg + load_kg) * STANDARD_GRAVITY * lever
    if needed >= torque_nm:
        return (
            f"{load_kg:g} kg cannot be stood up with: at the bottom of the push it takes "
            f"{needed:.0f} N m at the knee only to hold it, and there are {torque_nm:.0f}."
        )
    return "The feet never leave the ground: the push is too slow."
