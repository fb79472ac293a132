"""Body weight, and the moments at which the body is known to be still.

While a body stands still its momentum is zero, so the impulse of the ground since any
moment before grows along a straight line whose slope is body weight. The same line runs
through *every* still stand, however much was jumped between two of them: between two still
moments the net impulse is zero. One straight line through the impulse at the stands around a
jump therefore gives, in one least-squares fit, body weight and the momentum at any moment:
the distance of the impulse from the line (`RestLine`). With the stand before the jump alone
this is the usual forward integration; with the stand after the landing alone it is backward
integration; with both the two check each other.

What the fit does not know is said by its covariance, from two sources:

- white noise of the plate, carried through the fit exactly (the fit is linear in the force),
  with what may have happened between two samples of a force that jumps;
- sway: a standing body is never quite still. Its velocity is seen as the scatter of the
  impulse about the line, and is taken as independent every 0.3 s.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from saltus.jumps.flight import Visit
from saltus.jumps.plate import Trace, runs_of
from saltus.quantities import STANDARD_GRAVITY

__all__ = [
    "RestLine",
    "Stand",
    "of_one_weight",
    "rest_line",
    "short_stand",
    "stands",
    "still_stretches",
    "weigh",
]

Floats = NDArray[np.float64]

_BLOCK_S: Final = 0.05
_STILL_BLOCKS: Final = 5
_STILL_RANGE: Final = 0.035
"""A stand is still while the force, in means over 50 ms, stays within 3.5 % for 0.25 s."""

_STILL_BAND: Final = 0.025
"""... and, over all of it, within 2.5 % of its median."""

_LOOSER: Final = 2.5
_LOOSE_STAND_S: Final = 0.9
"""Where nobody stands so still (a bar that bounces on the back), two and a half times the
restlessness is let pass for 0.9 s: it is seen in the sway, and so in the standard errors."""

_EDGE_SD: Final = 2.5
_EDGE_SHARE: Final = 0.0015
"""Edges of a stand are left out while they are unlike its middle."""

SHORTEST_STAND_S: Final = 0.4
WANTED_STAND_S: Final = 1.0
"""A second of quiet standing is the published weighing (Owen et al. 2014)."""

_LONGEST_USED_S: Final = 3.0
"""Of a long stand, what lies nearest to the jump: plates drift."""

_SAME_WEIGHT: Final = 0.03
"""Stands that differ by more are not the same weight: a hand on a wall, another person."""

LEAST_WEIGHT_N: Final = 120.0
"""Lighter than any child that can follow instructions."""

_SWAY_MEMORY_S: Final = 0.4
_SWAY_UNSEEN_M_S: Final = 0.004
"""Velocity of quiet standing where the stand is too short to show it: force sways by some
0.3 to 0.5 % of body weight at about 1 Hz (common practice; a 1 s stand of a trained jumper)."""

_UNSEEN_ACCELERATION: Final = 0.005
"""... and over still shorter times the force is off by about 0.5 % of body weight."""


@dataclass(frozen=True, slots=True)
class Stand:
    """A still stretch: samples from `first` up to but without `last`.

    Parameters
    ----------
    first, last : int
    force_n : float
        Mean force, N.
    sway_m_s : float
        Standard deviation of the body's velocity while it stands, m/s.
    seconds : float
        Length, s.
    short : bool
        Too short to be weighed by itself.
    """

    first: int
    last: int
    force_n: float
    sway_m_s: float
    seconds: float
    short: bool = False

    @property
    def length(self) -> int:
        """In samples."""
        return self.last - self.first


@dataclass(frozen=True, slots=True)
class RestLine:
    """Body weight, and momentum at one moment, with their covariance.

    Parameters
    ----------
    weight_n : float
        N.
    at : float
        Position (samples) of the moment.
    momentum_n_s : float
        Momentum of the body then, N·s.
    covariance : tuple of float
        Variance of weight, covariance, variance of momentum.
    noise_n : float
        White noise of the force on the standing person, N.
    stands : tuple of Stand
        What the line was laid through.
    """

    weight_n: float
    at: float
    momentum_n_s: float
    covariance: tuple[float, float, float]
    noise_n: float
    stands: tuple[Stand, ...]

    @property
    def weight_se_n(self) -> float:
        """Standard error of the weight, N."""
        return math.sqrt(self.covariance[0])

    @property
    def velocity_m_s(self) -> float:
        """Velocity at that moment, m/s."""
        return self.momentum_n_s * STANDARD_GRAVITY / self.weight_n

    @property
    def velocity_se_m_s(self) -> float:
        """Standard error of the velocity, m/s."""
        slope = -self.momentum_n_s / self.weight_n
        ww, wp, pp = self.covariance
        variance = pp + 2 * slope * wp + slope**2 * ww
        return math.sqrt(max(variance, 0.0)) * STANDARD_GRAVITY / self.weight_n

    def propagated(self, by_weight: float, by_momentum: float) -> float:
        """Standard error of a quantity from its derivatives by weight and by momentum."""
        ww, wp, pp = self.covariance
        variance = by_weight**2 * ww + 2 * by_weight * by_momentum * wp + by_momentum**2 * pp
        return math.sqrt(max(variance, 0.0))


def _stand(trace: Trace, first: int, last: int, *, short: bool = False) -> Stand:
    """Measure the sway of a still stretch."""
    force = float(trace.force_n[first:last].mean())
    mass = force / STANDARD_GRAVITY
    seconds = (last - first) / trace.rate_hz
    impulse = trace.impulse_n_s[first:last]
    t = np.arange(impulse.size) / trace.rate_hz
    t -= t.mean()
    residual = impulse - impulse.mean()
    residual = residual - t * float(np.dot(t, residual) / np.dot(t, t))
    # A random walk of white noise scatters about its own line by T/15 of its variance per s.
    noise = trace.noise(first, last)
    from_noise = noise**2 / trace.rate_hz * seconds / 15
    blocks = seconds / _SWAY_MEMORY_S
    seen = max(float(np.mean(residual**2)) - from_noise, 0.0) / mass**2
    seen *= blocks / max(blocks - 2, 0.5)
    if seconds < 0.9 * WANTED_STAND_S:
        seen = max(seen, _SWAY_UNSEEN_M_S**2)
    return Stand(first, last, force, math.sqrt(seen), seconds, short)


def stands(trace: Trace, visit: Visit) -> tuple[Stand, ...]:
    """Find every still stand of a visit at body weight, in order of time.

    Those of `still_stretches` that agree in weight: where there are several levels (a pull on a
    bar held steady, a hand on a rail) the one that fits the mean force over the visit if
    somebody jumped, else the lowest.
    """
    return of_one_weight(trace, visit, still_stretches(trace, visit))


def still_stretches(trace: Trace, visit: Visit) -> tuple[Stand, ...]:
    """Find every stretch of at least 0.4 s in which the force hardly moves, at any level."""
    block = trace.samples(_BLOCK_S)
    means = []
    for contact in visit.contacts:
        count = (contact.last - contact.first) // block
        whole = trace.force_n[contact.first : contact.first + count * block]
        means.append((contact.first, whole.reshape(count, block).mean(axis=1)))
    for looser, least_s in ((1.0, SHORTEST_STAND_S), (_LOOSER, _LOOSE_STAND_S)):
        found = [
            (start + low * block, start + high * block)
            for start, force in means
            for low, high in _still_blocks(force, looser, round(least_s / _BLOCK_S))
        ]
        if found:
            break
    return tuple(_stand(trace, first, last) for first, last in found)


def _still_blocks(means: Floats, looser: float, least: int) -> list[tuple[int, int]]:
    """Stretches of at least so many 50 ms blocks in which the force hardly moves."""
    if means.size < max(least, _STILL_BLOCKS):
        return []
    windows = np.lib.stride_tricks.sliding_window_view(means, _STILL_BLOCKS)
    middle = windows.mean(axis=1)
    spread = windows.max(axis=1) - windows.min(axis=1)
    quiet = (spread <= looser * _STILL_RANGE * middle) & (middle > LEAST_WEIGHT_N)
    # Two blocks belong together where one quiet window holds both, so that a step of the
    # force parts what is still on either side of it.
    covering = np.convolve(quiet.astype(np.int64), np.ones(_STILL_BLOCKS - 1, dtype=np.int64))
    together = runs_of(covering > 0)
    waiting = [
        (int(first), int(last) + 1)
        for first, last in zip(together.first, together.last, strict=True)
    ]
    found = []
    while waiting:
        first, last = waiting.pop()
        inner = means[first:last]
        # A middle that is one of them, so that something is always near it.
        near = np.abs(inner / np.sort(inner)[inner.size // 2] - 1) <= looser * _STILL_BAND
        for same in (near, ~near):
            parts = runs_of(same)
            for low, high in zip(parts.first + first, parts.last + first, strict=True):
                if high - low < least:
                    continue
                if same is near:
                    start, stop = _settled(means, int(low), int(high), least)
                    if stop - start >= least:
                        found.append((start, stop))
                else:
                    waiting.append((int(low), int(high)))
    return sorted(found)


def _settled(means: Floats, low: int, high: int, least: int) -> tuple[int, int]:
    """Trim the edges of a stand: they already move, or still settle from a landing."""
    inner = means[low:high]
    middle = float(np.median(inner))
    usual = 1.4826 * float(np.median(np.abs(inner - middle)))
    limit = max(_EDGE_SD * usual, _EDGE_SHARE * middle)
    while high - low > least and abs(means[low] - middle) > limit:
        low += 1
    while high - low > least and abs(means[high - 1] - middle) > limit:
        high -= 1
    if high - low >= 1.5 * least:
        low, high = low + 1, high - 1
    return low, high


def of_one_weight(trace: Trace, visit: Visit, found: Sequence[Stand]) -> tuple[Stand, ...]:
    """Keep the still stretches that are body weight; see `stands`."""
    if not found:
        return ()
    level = np.array([stand.force_n for stand in found])
    length = np.array([stand.length for stand in found], dtype=float)
    # Around each stand: how long people stood at about that level.
    alike = np.abs(level[:, None] / level[None, :] - 1) <= _SAME_WEIGHT
    support = alike @ length
    if len(visit.contacts) > 1 and visit.last - visit.first > trace.samples(2.0):
        usual = float(trace.force_n[visit.first : visit.last].mean())
        plausible = np.abs(level / usual - 1) < 0.2
        # After a landing part of the body may stand beside the plate; before the first
        # flight nobody has a reason to.
        early = np.array([stand.last <= visit.contacts[0].last for stand in found])
        for preferred in (plausible, early):
            if preferred.any():
                support = np.where(preferred, support, 0.0)
                break
        best = int(np.argmax(support))
    else:
        # A pull only ever adds to body weight.
        enough = support >= min(trace.samples(WANTED_STAND_S), float(support.max()))
        best = int(np.flatnonzero(enough)[np.argmin(level[enough])])
    return tuple(stand for stand, same in zip(found, alike[best], strict=True) if same)


def short_stand(trace: Trace, first: int, before: int) -> Stand | None:
    """Find a stand that is too short to weigh well, right before a movement.

    Parameters
    ----------
    trace : Trace
    first : int
        Start of the contact.
    before : int
        Where the movement is well under way.

    Returns
    -------
    Stand or None
        At least 0.1 s at the start of the contact in which the force, in means over 25 ms,
        stays within 2 % of its median. Its error is that of a force off by 0.5 % of body
        weight.
    """
    block = trace.samples(_BLOCK_S / 2)
    count = (before - first) // block
    if count < 4:
        return None
    means = trace.force_n[first : first + count * block].reshape(count, block).mean(axis=1)
    for blocks in range(min(count, 20), 3, -1):
        part = means[:blocks]
        middle = float(np.median(part))
        if middle >= LEAST_WEIGHT_N and np.abs(part / middle - 1).max() <= 0.02:
            last = first + (blocks - (blocks > 4)) * block  # the end already moves
            return _stand(trace, first, last, short=True)
    return None


def _used(trace: Trace, stand: Stand, at: float) -> tuple[int, int]:
    """The part of a stand nearest to the moment of interest."""
    most = trace.samples(_LONGEST_USED_S)
    if stand.length <= most:
        return stand.first, stand.last
    if stand.last <= at:
        return stand.last - most, stand.last
    if stand.first >= at:
        return stand.first, stand.first + most
    return stand.first, stand.last


def rest_line(trace: Trace, around: Sequence[Stand], at: float) -> RestLine:
    """Weight, and momentum at the position `at`, from the stands around it.

    Parameters
    ----------
    trace : Trace
    around : sequence of Stand
        One or more, in order of time.
    at : float
        Position of the moment, in samples.

    Returns
    -------
    RestLine

    Notes
    -----
    With J(t) the impulse and t_k the samples of the stands, ordinary least squares through
    (t_k, J_k) has the slope ``W = sum p_k J_k`` and the value ``L = sum q_k J_k`` at the
    moment of interest, and momentum is ``J(at) - L``. Each is a weighted sum of the force
    too, so white noise goes through exactly. Sway adds ``(m s)^2`` times the squared sums of
    the weights over blocks of 0.3 s.
    """
    dt = 1 / trace.rate_hz
    spans = [_used(trace, stand, at) for stand in around]
    k = np.concatenate([np.arange(first, last) for first, last in spans])
    t = (k - at) * dt
    middle = float(t.mean())
    spread = t - middle
    p = spread / float(np.dot(spread, spread))
    if len(around) == 1 and around[0].short:
        # Noise outweighs sway here, and the plain mean force averages it best.
        p = np.zeros_like(t)
        p[-1] = 1 / (t[-1] - t[0])
        p[0] = -p[-1]
    q = 1 / k.size - middle * p
    impulse = trace.impulse_n_s[k]
    # Taken from the impulse at the moment itself, so that nothing large cancels.
    there = trace.impulse(at)
    from_there = impulse - there
    weight = float(np.dot(p, from_there))
    momentum = -float(np.dot(q, from_there))
    mass = weight / STANDARD_GRAVITY

    # White noise: coefficients of each force sample between the first stand and the last.
    noise = math.sqrt(sum(trace.noise(*span) ** 2 * (span[1] - span[0]) for span in spans) / k.size)
    low = min(int(k[0]), math.floor(at))
    high = max(int(k[-1]), math.ceil(at)) + 1
    by_weight, by_line = np.zeros(high - low), np.zeros(high - low)
    by_weight[k - low], by_line[k - low] = p, q
    by_weight = np.cumsum(by_weight[::-1])[::-1]
    by_line = np.cumsum(by_line[::-1])[::-1]
    by_momentum = (np.arange(low, high) < at) - by_line
    variance = (noise * dt) ** 2 + _unresolved(trace, low, high, noise)
    ww = float(np.dot(variance, by_weight * by_weight))
    wp = float(np.dot(variance, by_weight * by_momentum))
    pp = float(np.dot(variance, by_momentum * by_momentum))

    start = 0
    memory = trace.samples(_SWAY_MEMORY_S)
    for stand, (first, last) in zip(around, spans, strict=True):
        size = last - first
        blocks = np.arange(0, size, memory)
        sums_p = np.add.reduceat(p[start : start + size], blocks)
        sums_q = np.add.reduceat(q[start : start + size], blocks)
        sway = (mass * stand.sway_m_s) ** 2
        ww += sway * float(np.dot(sums_p, sums_p))
        wp += -sway * float(np.dot(sums_p, sums_q))
        pp += sway * float(np.dot(sums_q, sums_q))
        if len(around) == 1:
            off = _off_as_a_whole(trace, stand, first, last, at)
            # L = mean J - middle W, and momentum is J - L.
            ww += off**2
            wp += off**2 * middle
            pp += (off * middle) ** 2
        start += size
    return RestLine(weight, at, momentum, (ww, wp, pp), noise, tuple(around))


def _unresolved(trace: Trace, low: int, high: int, noise_n: float) -> Floats:
    """Variance of the impulse of each sample because force between samples is not known.

    A force that jumps by D somewhere between two samples is off by up to D dt/2, evenly
    spread: a variance of ``(D dt)^2 / 12``, here shared between the two second differences
    that a jump shows in. Where the force bends gently there is next to none. What noise
    alone would show is taken off.
    """
    dt = 1 / trace.rate_hz
    out = np.zeros(high - low)
    bends = np.diff(trace.force_n[low:high], n=2)
    out[1:-1] = np.maximum(bends**2 - 6 * (2 * noise_n) ** 2, 0.0) * dt**2 / 24
    return out


def _off_as_a_whole(trace: Trace, stand: Stand, first: int, last: int, at: float) -> float:
    """How far the force of a stand may be off body weight without its scatter showing it, N.

    A stand of less than a second is too short to show its slow sway. A stand after a landing
    may still settle: what it settled by while it lasted, it may have left to settle.
    """
    seconds = (last - first) / trace.rate_hz
    lacking = 0.9 * WANTED_STAND_S - seconds
    off = 0.0
    if lacking > 0:
        off = _UNSEEN_ACCELERATION * stand.force_n * min(1.0, lacking / (0.5 * WANTED_STAND_S))
    if first >= at:
        half = (first + last) // 2
        early = float(trace.force_n[first:half].mean())
        late = float(trace.force_n[half:last].mean())
        mass = stand.force_n / STANDARD_GRAVITY
        # In a long enough stand sway is seen, and explains part of the difference.
        sway = stand.sway_m_s if lacking <= 0 else 0.0
        by_sway = mass * sway * math.sqrt(6) / (seconds / 2)
        off = math.hypot(off, max(abs(early - late) - by_sway, 0.0))
    return off


def weigh(trace: Trace, found: Sequence[Stand]) -> RestLine | None:
    """Weight from the stillest stand of at least a second, else from the longest one."""
    if not found:
        return None
    long = [stand for stand in found if stand.length >= trace.samples(WANTED_STAND_S)]
    lines = [rest_line(trace, [stand], 0.5 * (stand.first + stand.last)) for stand in long]
    if lines:
        return min(lines, key=lambda line: line.covariance[0])
    longest = max(found, key=lambda stand: stand.length)
    return rest_line(trace, [longest], 0.5 * (longest.first + longest.last))
