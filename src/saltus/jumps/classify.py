"""What kind of jump it was, from the force and the motion before take-off."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from saltus.jumps.integrate import Curves
from saltus.jumps.jump import JumpKind

__all__ = ["Descent", "descent", "kind_of"]

LONGEST_DROP_CONTACT_S: Final = 0.8
"""After landing from a box, a contact that is longer is a landing and a new jump."""

LONGEST_HOP_CONTACT_S: Final = 0.5
FEWEST_HOPS: Final = 3
"""Flights in a row that make a series of hops."""

_SLOW_TURN: Final = 1.35
"""Force at the lowest point, in body weights. A countermovement is caught with 1.8 to 2.5
body weights (McMahon et al. 2018); a squat that was lowered slowly and not held turns with
little more than one."""

_DIP_M: Final = 0.05
"""From a stand, sinking less than this before the push is no countermovement."""

_CROUCH_M: Final = 0.10
_CROUCHED_DIP_M: Final = 0.10
"""Somebody who already stands this much lower than before is in a squat; a dip from there of
up to as much again is a squat jump done badly."""


@dataclass(frozen=True, slots=True)
class Descent:
    """The way down before a push.

    Parameters
    ----------
    lowest : float
        Position of the lowest point before take-off (velocity zero), in samples.
    fastest : float
        Position of the fastest sinking: braking starts.
    start : float
        Position from which the body sinks.
    dip_m : float
        How far it sank from where the curves start, m.
    force_at_lowest : float
        In body weights, mean over 20 ms.
    """

    lowest: float
    fastest: float
    start: float
    dip_m: float
    force_at_lowest: float


def descent(curve: Curves, take_off: float, still_m_s: float = 0.0) -> Descent:
    """Find the lowest point before take-off, and the fastest sinking before it.

    Parameters
    ----------
    curve : Curves
    take_off : float
        Position, in samples.
    still_m_s : float
        Velocity up to which the body does not rise yet: 0, or a little more where it was
        held still before.
    """
    last = min(int(take_off - curve.first) + 1, curve.velocity_m_s.size)
    v = curve.velocity_m_s[:last]
    sinking = np.flatnonzero(v <= still_m_s)
    if not sinking.size:
        lowest_index, lowest = 0, 0.0
    else:
        lowest_index = int(sinking[-1])
        lowest = float(lowest_index)
        if lowest_index + 1 < v.size and v[lowest_index + 1] > v[lowest_index]:
            lowest -= (v[lowest_index] - still_m_s) / (v[lowest_index + 1] - v[lowest_index])
    # The last way down: from the highest point since any earlier dip.
    rising = np.flatnonzero(v[: lowest_index + 1] > 0.02)
    start = int(rising[-1]) + 1 if rising.size else 0
    fastest = start + int(np.argmin(v[start : lowest_index + 1])) if lowest_index > start else start
    x = curve.displacement_m
    half = max(1, round(0.01 * curve.rate_hz))
    around = curve.force_n[max(0, lowest_index - half) : min(lowest_index + half + 1, last)]
    force = float(around.mean()) / curve.weight_n
    return Descent(
        float(curve.first + lowest),
        float(curve.first + fastest),
        float(curve.first + start),
        float(x[0] - x[lowest_index]),
        force,
    )


def kind_of(
    way: Descent,
    *,
    came_from_air: bool,
    contact_s: float,
    in_series: bool,
    stood_before: bool,
    crouch_m: float | None,
) -> JumpKind:
    """Name the kind.

    Parameters
    ----------
    way : Descent
        With ``dip_m`` from the last stand, where there is one.
    came_from_air : bool
        Whether the contact began with a landing: the plate was empty before.
    contact_s : float
        Length of the contact, s.
    in_series : bool
        Whether it belongs to a series of hops.
    stood_before : bool
        Whether there was a still stand in this contact before the jump.
    crouch_m : float or None
        How much lower that stand was than an earlier one, m.
    """
    if in_series:
        return JumpKind.HOPS
    if came_from_air and contact_s <= LONGEST_DROP_CONTACT_S:
        return JumpKind.DJ
    crouched = crouch_m is not None and crouch_m > _CROUCH_M
    if stood_before and way.dip_m < (_CROUCHED_DIP_M if crouched else _DIP_M):
        return JumpKind.SJ
    if way.force_at_lowest < _SLOW_TURN:
        return JumpKind.SJ
    return JumpKind.CMJ
