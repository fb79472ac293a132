"""Which foot stands on which plate, by the way the centre of pressure moves at take-off."""

from collections.abc import Sequence
from typing import Literal

import numpy as np

from saltus.recordings.signals import Channel, Floats

__all__ = ["left_plate"]

_LOADED_N = 20.0
_SHORTEST_SHIFT_M = 0.025
_BEFORE_S, _UNTIL_S = 0.060, 0.010  # before take-off: on the balls of the feet
_STAND_S = (1.6, 0.6)  # before take-off: on the whole foot
_APART_S = 0.1  # longest time between the take-offs of the two feet
_ASTRIDE_M = (0.08, 1.2)  # distance between two feet


def left_plate(plates: Sequence[Channel], total: Floats, rate_hz: float) -> Literal[0, 1] | None:
    """Find the plate under the left foot.

    The heels leave the ground before the toes, so that the centre of pressure moves forward
    just before take-off, by some ten centimetres. Which way is forward says which side is left.

    Parameters
    ----------
    plates : sequence of two Channel
        Force in N, with the centre of pressure in right-handed horizontal axes.
    total : ndarray, shape (n,)
        N.
    rate_hz : float
        Sampling rate, Hz.

    Returns
    -------
    0, 1 or None
        Index of the plate, or None where the recording does not say.
    """
    first, second = plates
    if first.pressure_m is None or second.pressure_m is None:
        return None
    loaded = total > _LOADED_N
    take_offs = np.flatnonzero(loaded[:-1] & ~loaded[1:]) + 1
    votes = [
        vote
        for take_off in take_offs
        if (vote := _vote(first, second, int(take_off), loaded, rate_hz)) is not None
    ]
    if not votes:
        return None
    shift = float(np.median(votes))
    if abs(shift) < _SHORTEST_SHIFT_M:
        return None
    # positive: forward is to the left of the line from the first to the second plate, seen
    # from above, so that the second plate lies to the right
    return 0 if shift > 0 else 1


def _vote(
    first: Channel, second: Channel, take_off: int, loaded: np.ndarray, rate_hz: float
) -> float | None:
    """Forward shift, m, at one take-off: positive to the left of the line from first to second."""
    stand = slice(*(take_off - round(s * rate_hz) for s in _STAND_S))
    if stand.start < 0 or not loaded[stand.start : take_off].all():
        return None
    centres = []
    for plate in (first, second):
        assert plate.pressure_m is not None
        # one foot often leaves some milliseconds before the other
        last = take_off - round(_APART_S * rate_hz)
        on = np.flatnonzero(plate.force[last:take_off] > _LOADED_N)
        left = last + int(on[-1]) + 1 if on.size else last
        toes = slice(*(left - round(s * rate_hz) for s in (_BEFORE_S, _UNTIL_S)))
        for part in (stand, toes):
            force = plate.force[part]
            if force.size == 0 or np.min(force) < _LOADED_N:
                return None
            centre = np.median(plate.pressure_m[part], axis=0)
            if not np.all(np.isfinite(centre)):
                return None
            centres.append(centre)
    across = centres[2] - centres[0]
    apart = float(np.hypot(*across))
    if not _ASTRIDE_M[0] <= apart <= _ASTRIDE_M[1]:
        return None
    shift = (centres[1] - centres[0] + centres[3] - centres[2]) / 2
    return float(across[0] * shift[1] - across[1] * shift[0]) / apart
