"""Repeated hops: which flights make a series, and body weight from the series itself."""

import math
from collections.abc import Sequence
from statistics import fmean

from saltus.jumps.classify import FEWEST_HOPS, LONGEST_HOP_CONTACT_S
from saltus.jumps.integrate import Weight
from saltus.jumps.jump import Jump
from saltus.jumps.plate import Trace
from saltus.quantities import STANDARD_GRAVITY

__all__ = ["chains", "described", "weight_of_series"]

_POSTURE_M_S = 0.1
"""Standard deviation of the velocity at a touch-down as half of gravity's work in flight:
the legs are never quite as straight as at take-off."""


def chains(take_offs: Sequence[float], landings: Sequence[float], rate_hz: float) -> list[int]:
    """Number the chain that each flight belongs to.

    Parameters
    ----------
    take_offs, landings : sequence of float, same length
        Positions in samples; a landing may be NaN.
    rate_hz : float

    Returns
    -------
    list of int
        Flights with the same number follow each other with contacts of at most 0.5 s.
    """
    numbers: list[int] = []
    for i, leave in enumerate(take_offs):
        close = i > 0 and (leave - landings[i - 1]) / rate_hz <= LONGEST_HOP_CONTACT_S
        numbers.append((numbers[-1] if close else numbers[-1] + 1) if numbers else 0)
    return numbers


def weight_of_series(
    trace: Trace, take_offs: Sequence[float], landings: Sequence[float]
) -> Weight | None:
    """Body weight from a series of hops, where nobody stood still.

    From the first touch-down to the last the impulse of the ground bears body weight all the
    time, but for the difference of the velocities at both ends, which the flights tell:
    ``W = dJ / (T + dv/g)`` with ``v = -g t/2`` after a flight of t.
    """
    pairs = [pair for pair in zip(take_offs, landings, strict=True) if math.isfinite(pair[1])]
    if len(pairs) < FEWEST_HOPS:
        return None
    take_offs, landings = zip(*pairs, strict=True)
    seconds = (landings[-1] - landings[0]) / trace.rate_hz
    flights = [(b - a) / trace.rate_hz for a, b in zip(take_offs, landings, strict=True)]
    gained = (flights[0] - flights[-1]) / 2
    impulse = trace.impulse(landings[-1]) - trace.impulse(landings[0])
    value = impulse / (seconds + gained)
    se = value / STANDARD_GRAVITY * _POSTURE_M_S * math.sqrt(2) / seconds
    return Weight(value, se, "from the mean force over the hops")


def described(jumps: Sequence[Jump]) -> str:
    """One sentence on a series."""
    contacts = [j.measures["contact_time"].value for j in jumps if "contact_time" in j.measures]
    heights = [j.measures["height_flight"].value for j in jumps if "height_flight" in j.measures]
    indices = [j.measures["rsi"].value for j in jumps if "rsi" in j.measures]
    text = f"Series {jumps[0].series}: {len(jumps)} hops"
    if contacts:
        text += f", mean contact {fmean(contacts) * 1000:.0f} ms"
    if heights:
        text += f", mean height {fmean(heights) * 100:.1f} cm"
    if indices:
        text += f", mean RSI {fmean(indices):.2f} m/s, best {max(indices):.2f} m/s"
    return text + "."
