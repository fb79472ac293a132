"""Offset of a plate that was not zeroed, from the stretches when nobody stood on it."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from scipy import ndimage, stats

from saltus.recordings.signals import Floats, standing_load

__all__ = ["SMALLEST_OFFSET_N", "Empty", "find_empty", "offset_note", "remove_offset"]

SMALLEST_OFFSET_N = 0.5
"""N. Less than this is left alone: it moves a jump height by well under a millimetre."""

LARGE_OFFSET_N = 50.0
"""N. More than this is corrected too, but such a plate deserves a doubt."""

_SHORTEST_S = 0.10  # a flight of 0.1 s is a hop of 1.2 cm
_DRIFT_N = 50.0  # an offset may drift by this much in a recording; nobody stands with so little
_SURE_S = 0.30  # an empty plate, not a flat moment
_TRIM_S = 0.02  # foot leaving, filters ringing
_LIKELY_N = 100.0  # nobody stands with less; a level this low is an empty plate whatever its shape
_LONGEST_FLIGHT_S = 1.0
_EDGE_S = 0.08


@dataclass(frozen=True, slots=True)
class Empty:
    """A stretch with nobody on the plates, both ends already trimmed.

    Parameters
    ----------
    start, stop : int
        Samples; `stop` is not part of it.
    """

    start: int
    stop: int


def find_empty(total: Floats, rate_hz: float) -> tuple[Empty, ...]:
    """Find when nobody is on the plates, whatever their offset.

    The lowest level at which the force stays flat for 0.1 s is either an empty plate or a
    person who never leaves it. It is taken as empty where it lies within 100 N of zero, below
    zero (a plate cannot be pulled, so that it was zeroed under the person), or where it looks
    like a flight: at most a second long, between a push and a landing.

    Parameters
    ----------
    total : ndarray, shape (n,)
        Force of all plates together, N.
    rate_hz : float
        Sampling rate, Hz.

    Returns
    -------
    tuple of Empty
        None where the person stays on the plate all the time.
    """
    if total.size < _SHORTEST_S * rate_hz:
        return ()
    width = max(int(0.05 * rate_hz) | 1, 3)
    smooth = ndimage.uniform_filter1d(total, width)
    span = float(np.percentile(total, 99.5) - smooth.min())
    if span < 100:
        return _all_of(total) if abs(float(np.median(total))) < _LIKELY_N else ()
    level = float(smooth.min())
    noise = _noise(total)
    flat = max(4 * noise, 4.0, 0.003 * span)
    found = _runs(total, level + max(6 * noise, _DRIFT_N), flat, rate_hz)
    if not found:
        return ()
    level = float(np.median([np.median(total[e.start : e.stop]) for e in found]))
    if level < _LIKELY_N or any(_like_flight(total, e, rate_hz, level) for e in found):
        return _agreeing(total, found, noise, rate_hz)
    return ()


def _agreeing(
    total: Floats, found: tuple[Empty, ...], noise: float, rate_hz: float
) -> tuple[Empty, ...]:
    """Leave out short stretches that lie off the others: a deep dip may be flat for a moment."""
    levels = [float(np.median(total[e.start : e.stop])) for e in found]
    longest = max(range(len(found)), key=lambda i: found[i].stop - found[i].start)
    near = max(8.0, noise)
    return tuple(
        e
        for e, level in zip(found, levels, strict=True)
        if e.stop - e.start >= _SURE_S * rate_hz or abs(level - levels[longest]) <= near
    )


def _noise(total: Floats) -> float:
    """Noise of a sample, N: from second differences, which a smooth force hardly has."""
    step = max(1, total.size // 500_000)
    second = np.diff(total[: total.size // step * step], n=2)
    return float(np.median(np.abs(second))) / 0.6745 / 6**0.5


def _all_of(total: Floats) -> tuple[Empty, ...]:
    return (Empty(0, int(total.size)),)


def _runs(total: Floats, ceiling: float, flat: float, rate_hz: float) -> tuple[Empty, ...]:
    """Stretches below the ceiling that are long enough, and flat once their edges are trimmed."""
    low = total < ceiling
    # single noisy samples must not break a stretch
    low = ndimage.binary_closing(np.pad(low, 5, mode="edge"), np.ones(5, dtype=bool))[5:-5]
    edges = np.flatnonzero(np.diff(np.concatenate(([False], low, [False])).astype(np.int8)))
    shortest, trim = _SHORTEST_S * rate_hz, round(_TRIM_S * rate_hz)
    found = []
    for start, stop in zip(edges[::2], edges[1::2], strict=True):
        if stop - start < shortest:
            continue
        start = start if start == 0 else start + trim
        stop = stop if stop == total.size else stop - trim
        # a long stretch is looked at in parts, so that a drift within it can be followed
        parts = max(1, int((stop - start) // (_LONGEST_FLIGHT_S * rate_hz)))
        ends = np.linspace(start, stop, parts + 1).astype(int)
        for first, last in pairwise(ends.tolist()):
            piece = total[first:last]
            if piece.size >= 3 and float(np.std(piece)) <= flat:
                found.append(Empty(first, last))
    return tuple(found)


def _like_flight(total: Floats, empty: Empty, rate_hz: float, level: float) -> bool:
    """Whether a flat stretch lies between a push and a landing, as a flight does."""
    if (empty.stop - empty.start) / rate_hz > _LONGEST_FLIGHT_S:
        return False
    near = round(0.4 * rate_hz)
    before = total[max(0, empty.start - near) : empty.start]
    after = total[empty.stop : empty.stop + near]
    if before.size < near // 2 or after.size < near // 2:
        return False
    load = standing_load(total - level)
    pushed = before.max() - level > 1.2 * load and after.max() - level > 1.5 * load
    # the feet leave and land within hundredths of a second; a pull on a bar builds up slowly
    soon = round(_EDGE_S * rate_hz)
    left = before[-soon:].max() - level > 0.4 * load
    landed = after[:soon].max() - level > 0.8 * load
    return bool(pushed and left and landed)


def remove_offset(force: Floats, empty: tuple[Empty, ...]) -> tuple[Floats, float, float]:
    """Take the offset of one channel off it.

    Parameters
    ----------
    force : ndarray, shape (n,)
        N.
    empty : tuple of Empty
        From `find_empty` on all plates together.

    Returns
    -------
    force : ndarray, shape (n,)
        N; the same array where there was nothing to do.
    offset : float
        What was taken off (the median, where it drifted), N; 0 where nothing was.
    drift : float
        Range of the offsets (5th to 95th percentile), N, where they drifted and were followed;
        else 0.
    """
    if not empty:
        return force, 0.0, 0.0
    # a trimmed mean: coarse noise makes a median jump from step to step
    levels = np.array([stats.trim_mean(force[e.start : e.stop], 0.1) for e in empty])
    middles = np.array([(e.start + e.stop) / 2 for e in empty])
    offset = float(np.median(levels))
    drift = float(np.ptp(np.percentile(levels, [5, 95])))
    if drift > 10.0:
        line = np.interp(np.arange(force.size), middles, levels)
        return force - line, offset, drift
    if abs(offset) < SMALLEST_OFFSET_N:
        return force, 0.0, 0.0
    return force - offset, offset, 0.0


def offset_note(name: str, offset: float, drift: float) -> str:
    """Say what was taken off a channel."""
    moving = f", drifting by {drift:.1f} N" if drift else ""
    return f"{name} was not zeroed: it read {offset:+.1f} N when empty{moving}; taken off."
