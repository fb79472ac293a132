"""Which gaps between contacts are flights: the jumps of a visit, before they are measured."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from saltus.jumps.flight import Contact, Crossing, Visit, landing, take_off
from saltus.jumps.plate import Trace
from saltus.quantities import STANDARD_GRAVITY

__all__ = ["Leap", "leaps"]

_PUSH_S: Final = 0.8
_LEAST_SHARE: Final = 0.5
"""The push must have given at least half of the velocity that the flight needs."""

_LEAST_GAIN_M_S: Final = 0.35
_LEAST_GAIN_OFF_PLATE_M_S: Final = 1.0
"""A jump from the plate that does not come back to it: 5 cm at least, or it is a step."""

_SWIFT_S: Final = 0.2
"""Feet that jump leave the plate within so long of carrying body weight; feet that step off
hand the weight over slowly."""

_BOUNCE_SHARE: Final = 0.5
_BOUNCE_CONTACT_S: Final = 0.5


@dataclass(frozen=True, slots=True)
class Leap:
    """A flight with the contacts beside it.

    Parameters
    ----------
    contact : Contact
        The one it is pushed from.
    touch_down : Crossing or None
        Start of that contact, where the plate was seen empty before.
    from_flight : bool
        Whether that contact began with the landing of another leap.
    take_off : Crossing
    landing : Crossing or None
    landing_contact : Contact or None
    cut_off : bool
        Whether the recording stops in the flight.
    bounced : bool
        Whether the landing bounced.
    """

    contact: Contact
    touch_down: Crossing | None
    from_flight: bool
    take_off: Crossing
    landing: Crossing | None
    landing_contact: Contact | None
    cut_off: bool = False
    bounced: bool = False

    def flight_s(self, rate_hz: float) -> float:
        """Flight time, s; NaN without a landing."""
        if self.landing is None:
            return math.nan
        return (self.landing.position - self.take_off.position) / rate_hz


def _gain(trace: Trace, contact: Contact, at: float, weight_n: float) -> float:
    """Greatest upward gain of velocity in the push that ends at a position, m/s."""
    first = max(contact.first, int(at) - trace.samples(_PUSH_S))
    k = np.arange(first, int(at) + 1)
    gained = trace.impulse(at) - trace.impulse_n_s[k] - weight_n * (at - k) / trace.rate_hz
    return float(gained.max()) * STANDARD_GRAVITY / weight_n


def _swift(trace: Trace, contact: Contact, weight_n: float) -> bool:
    first = max(contact.first, contact.last - trace.samples(_PUSH_S))
    loaded = np.flatnonzero(trace.force_n[first : contact.last] >= 0.9 * weight_n)
    if not loaded.size:
        return False
    return contact.last - (first + int(loaded[-1])) <= trace.samples(_SWIFT_S)


def leaps(trace: Trace, visit: Visit, weight_n: float) -> tuple[Leap, ...]:
    """Every jump of a visit, in order of time.

    Parameters
    ----------
    trace : Trace
    visit : Visit
    weight_n : float
        Body weight, roughly.
    """
    found: list[Leap] = []
    landed = False
    for i, contact in enumerate(visit.contacts):
        last = i == len(visit.contacts) - 1
        if last and not visit.went_off:
            break
        leave = take_off(trace, contact)
        gain = _gain(trace, contact, leave.position, weight_n)
        touch_down = landing(trace, contact) if i > 0 or visit.came_on else None
        if last:
            if gain >= _LEAST_GAIN_OFF_PLATE_M_S and _swift(trace, contact, weight_n):
                rest_s = (len(trace) - contact.last) / trace.rate_hz
                # In the air for 2 v/g at most, and half as much again for a bad estimate.
                cut_off = rest_s < 3 * gain / STANDARD_GRAVITY
                found.append(Leap(contact, touch_down, landed, leave, None, None, cut_off=cut_off))
            break
        after = visit.contacts[i + 1]
        down = landing(trace, after)
        needed = STANDARD_GRAVITY * (down.position - leave.position) / trace.rate_hz / 2
        is_flight = gain >= max(_LEAST_SHARE * min(needed, 2.0), _LEAST_GAIN_M_S) and _swift(
            trace, contact, weight_n
        )
        if is_flight:
            found.append(Leap(contact, touch_down, landed, leave, down, after))
        landed = is_flight
    return _without_bounces(trace, found)


def _without_bounces(trace: Trace, found: list[Leap]) -> tuple[Leap, ...]:
    """Leave out the skip of the feet after a landing: less than half as long a flight."""
    kept: list[Leap] = []
    for i, leap in enumerate(found):
        flight = leap.flight_s(trace.rate_hz)
        # In a series of hops a short one is a short one.
        followed = i + 1 < len(found) and found[i + 1].contact == leap.landing_contact
        if (
            kept
            and leap.from_flight
            and not followed
            and kept[-1].landing_contact == leap.contact
            and flight < _BOUNCE_SHARE * kept[-1].flight_s(trace.rate_hz)
            and leap.contact.last - leap.contact.first <= trace.samples(_BOUNCE_CONTACT_S)
        ):
            before = kept.pop()
            kept.append(
                Leap(
                    before.contact,
                    before.touch_down,
                    before.from_flight,
                    before.take_off,
                    before.landing,
                    before.landing_contact,
                    bounced=True,
                )
            )
            continue
        kept.append(leap)
    return tuple(kept)
