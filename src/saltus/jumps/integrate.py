"""From force to velocity and displacement, and what is known about where they start."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import cumulative_trapezoid

from saltus.jumps.flight import Contact, Crossing, Visit
from saltus.jumps.plate import Trace
from saltus.jumps.weighing import RestLine, Stand, rest_line, short_stand, weigh
from saltus.quantities import STANDARD_GRAVITY

__all__ = [
    "Basis",
    "Curves",
    "Source",
    "Weight",
    "basis_for",
    "curves",
    "flight_basis",
    "weight_of",
]

Floats = NDArray[np.float64]

_REACH_S: Final = 10.0
"""A stand further away from the take-off than this tells nothing about it: plates drift."""

_OFF_THE_LINE: Final = 0.012
"""Weight between two stands and on them differ by less than 1.2 %, or something else bore
weight in between (a foot beside the plate, a hand on a rail)."""

_NEAR_FLIGHT_S: Final = 0.8
_JUMPING_M_S: Final = 1.5

_EDGE_S: Final = 0.6
"""Stepping on and off takes about as long."""

_UNKNOWN_VELOCITY_M_S: Final = 0.15
"""Standard deviation of the vertical velocity of somebody moving about on a plate."""


class Source(Enum):
    """How the velocity at take-off is known."""

    BOTH = "stands before and after"
    BEFORE = "the stand before"
    AFTER = "the stand after"
    SHORT = "a short stand before"
    FLIGHT = "the flight itself"
    """Half the flight time: good enough to find the lowest point, no height of its own."""


@dataclass(frozen=True, slots=True)
class Weight:
    """Body weight of a visit, N, with its standard error, and how it was had."""

    value_n: float
    se_n: float
    how: str


@dataclass(frozen=True, slots=True)
class Basis:
    """What the integration of one jump stands on.

    Parameters
    ----------
    line : RestLine
        Weight, and momentum at take-off.
    source : Source
    before, after : Stand or None
        The stands beside the jump that exist, used or not.
    broken : bool
        Whether the stands before and after contradict each other.
    """

    line: RestLine
    source: Source
    before: Stand | None
    after: Stand | None
    broken: bool = False

    @property
    def independent(self) -> bool:
        """Whether the take-off velocity says something that flight time does not."""
        return self.source is not Source.FLIGHT


@dataclass(frozen=True, slots=True, eq=False)
class Curves:
    """Force and motion at the samples from `first` on; arrays of shape (n,).

    Displacement is zero at the first sample.
    """

    first: int
    rate_hz: float
    weight_n: float
    force_n: Floats
    velocity_m_s: Floats
    displacement_m: Floats

    def at(self, position: float, curve: Floats) -> float:
        """Value of one of the curves at a position between samples."""
        x = position - self.first
        low = int(min(max(math.floor(x), 0), curve.size - 2))
        part = min(max(x - low, 0.0), 1.0)
        return float(curve[low] + part * (curve[low + 1] - curve[low]))


def curves(
    trace: Trace, first: int, last: int, *, weight_n: float, momentum_n_s: float, at: float
) -> Curves:
    """Integrate the samples from `first` up to but without `last`.

    ``v(t) = g/W (p - (J(at) - J(t)) + W (at - t))``, displacement by the trapezoid rule
    (Owen et al. 2014: trapezoid or Simpson, at 1000 Hz alike).
    """
    last = min(last, len(trace))
    dt = 1 / trace.rate_hz
    k = np.arange(first, last)
    gained = trace.impulse_n_s[first:last] - trace.impulse(at)
    velocity = (momentum_n_s + gained + weight_n * (at - k) * dt) * (STANDARD_GRAVITY / weight_n)
    displacement = cumulative_trapezoid(velocity, dx=dt, initial=0)
    return Curves(first, trace.rate_hz, weight_n, trace.force_n[first:last], velocity, displacement)


def weight_of(trace: Trace, visit: Visit, found: Sequence[Stand]) -> Weight | None:
    """Body weight of a visit: from the stillest stand, else from the whole visit.

    Where nobody stands still, momentum at the start and the end of the visit differs by
    little beside the impulse of a long visit, so the mean force over it (flights included) is
    body weight; its error is that of an unknown velocity at both ends. None where even that
    is worse than 3 %.
    """
    line = weigh(trace, found)
    if line is not None and line.weight_se_n < 0.03 * line.weight_n:
        return Weight(line.weight_n, line.weight_se_n, "weighed while standing still")
    edge = trace.samples(_EDGE_S)
    first = visit.first + edge if visit.came_on else visit.first
    last = visit.last - edge if visit.went_off else visit.last - 1
    seconds = (last - first) / trace.rate_hz
    if seconds < 1.0:
        return None
    value = float(trace.impulse_n_s[last] - trace.impulse_n_s[first]) / seconds
    # Beside a flight the body moves as fast as it jumps.
    near = trace.samples(_NEAR_FLIGHT_S)
    at_start = visit.contacts[0].last - first < near and len(visit.contacts) > 1
    at_end = last - visit.contacts[-1].first < near and len(visit.contacts) > 1
    velocity = math.hypot(
        *(_JUMPING_M_S if beside else _UNKNOWN_VELOCITY_M_S for beside in (at_start, at_end))
    )
    se = value / STANDARD_GRAVITY * velocity / seconds
    if value <= 0 or se > 0.03 * value:
        return None
    return Weight(value, se, "from the mean force over the whole time on the plate")


def flight_basis(weight: Weight, take_off: Crossing, flight_s: float) -> Basis:
    """Take the velocity at take-off as half of what gravity takes away during the flight."""
    momentum = weight.value_n * flight_s / 2
    se = 0.05 * momentum
    line = RestLine(
        weight.value_n,
        take_off.position,
        momentum,
        (weight.se_n**2, weight.se_n**2 * flight_s / 2, se**2 + (weight.se_n * flight_s / 2) ** 2),
        0.0,
        (),
    )
    return Basis(line, Source.FLIGHT, None, None)


def _drifting(line: RestLine, a: Stand, b: Stand, apart_n: float, rate_hz: float) -> RestLine:
    """Let a line be as unsure as a plate that drifts by so much from one stand to the next.

    A force that is off by ``apart (t - t_a) / T`` at the time t between the middles of two
    stands, T apart, bends the impulse by ``apart (t - t_a)^2 / 2T``. A line through both stands
    takes out all but ``apart (t - t_a)(t_b - t) / 2T`` of it, one through the first alone nothing.
    """
    first, second = (0.5 * (stand.first + stand.last) for stand in (a, b))
    seconds = (second - first) / rate_hz
    since = (line.at - first) / rate_hz
    left = seconds - since if len(line.stands) > 1 else since
    by_momentum = apart_n * since * left / (2 * seconds)
    ww, wp, pp = line.covariance
    return replace(line, covariance=(ww + apart_n**2 / 12, wp, pp + by_momentum**2))


def basis_for(
    trace: Trace,
    found: Sequence[Stand],
    contact: Contact,
    take_off: Crossing,
    landing: Crossing | None,
) -> Basis | None:
    """Lay the line of rest through the stands beside a jump.

    Returns
    -------
    Basis or None
        None where there is no stand, not even a short one.
    """
    at = take_off.position
    reach = trace.samples(_REACH_S)
    before = [s for s in found if s.last <= at and at - s.last < reach and s.last > 0]
    after = [
        s
        for s in found
        if landing is not None and s.first >= landing.position and s.first - at < reach
    ]
    a = before[-1] if before else None
    b = after[0] if after else None
    if a is not None and b is not None:
        line = rest_line(trace, [a, b], at)
        alone = rest_line(trace, [a], at)
        own = (a.force_n * a.length + b.force_n * b.length) / (a.length + b.length)
        se = math.hypot(alone.weight_se_n, rest_line(trace, [b], at).weight_se_n)
        apart = abs(b.force_n - a.force_n)
        agree = abs(line.weight_n - own) <= max(_OFF_THE_LINE * own, 2 * se)
        agree &= apart <= max(_OFF_THE_LINE * own, 4 * se)
        source = Source.BOTH if agree else Source.BEFORE
        unexplained = math.sqrt(max(apart**2 - (2 * se) ** 2, 0.0))
        line = _drifting(line if agree else alone, a, b, unexplained, trace.rate_hz)
        return Basis(line, source, a, b, broken=not agree)
    if a is not None:
        return Basis(rest_line(trace, [a], at), Source.BEFORE, a, None)
    if b is not None:
        return Basis(rest_line(trace, [b], at), Source.AFTER, None, b)
    short = short_stand(trace, contact.first, contact.last)
    if short is None:
        return None
    return Basis(rest_line(trace, [short], at), Source.SHORT, short, None)
