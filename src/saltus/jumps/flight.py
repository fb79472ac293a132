"""Contacts and flights: when somebody is on the plate, and the moments that feet leave and land.

A *visit* is one person's time on the plate: contacts, with nothing between them but
flights. Standing on and off, walking over it, and whatever lies between two visits are no
jumps. Whether a gap between two contacts was truly a flight is for the push before it to
say (`saltus.jumps.analyse`).
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from saltus.jumps.plate import Runs, Trace, runs_of

__all__ = ["Contact", "Crossing", "Visit", "landing", "take_off", "visits"]

LONGEST_FLIGHT_S: Final = 1.1
"""A flight of 1.1 s would be a jump of 1.5 m: nobody does that."""

SHORTEST_FLIGHT_S: Final = 0.08
"""8 mm of height; less is a skip of the feet in a landing."""

_RINGING_S: Final = 0.03
_RINGING_N: Final = 150.0
"""The plate rings as the feet leave: a touch shorter and lighter than this is no contact."""

_CHATTER_S: Final = 0.02
"""Feet that roll on at a landing may leave the threshold for a moment."""

_LONGEST_EXTRAPOLATION_S: Final = 0.003


@dataclass(frozen=True, slots=True)
class Crossing:
    """A moment found between samples.

    Parameters
    ----------
    position : float
        In samples.
    se : float
        Standard error, samples.
    """

    position: float
    se: float


@dataclass(frozen=True, slots=True)
class Contact:
    """Samples from `first` up to but without `last` with somebody on the plate."""

    first: int
    last: int


@dataclass(frozen=True, slots=True)
class Visit:
    """Contacts with flights between them.

    Parameters
    ----------
    contacts : tuple of Contact
        At least one.
    came_on, went_off : bool
        Whether the recording shows the plate empty before and after.
    """

    contacts: tuple[Contact, ...]
    came_on: bool
    went_off: bool

    @property
    def first(self) -> int:
        """First sample of the visit."""
        return self.contacts[0].first

    @property
    def last(self) -> int:
        """One past the last sample of the visit."""
        return self.contacts[-1].last


def _without_short(on: NDArray[np.bool_], trace: Trace) -> Runs:
    """Contacts, without ringing and without the chatter of a rolling foot."""
    off = runs_of(~on)
    chatter = off.length < trace.samples(_CHATTER_S)
    on = on.copy()
    for first, last in zip(off.first[chatter], off.last[chatter], strict=True):
        on[first:last] = True
    contacts = runs_of(on)
    for i in np.flatnonzero(contacts.length < trace.samples(_RINGING_S)):
        first, last = contacts.first[i], contacts.last[i]
        if trace.force_n[first:last].max() < _RINGING_N:
            on[first:last] = False
    off = runs_of(~on)
    short = off.length < trace.samples(SHORTEST_FLIGHT_S)
    for first, last in zip(off.first[short], off.last[short], strict=True):
        if first > 0 and last < on.size:
            on[first:last] = True
    return runs_of(on)


def visits(trace: Trace) -> tuple[Visit, ...]:
    """Every visit to the plate, in order of time."""
    contacts = _without_short(trace.force_n >= trace.plate.threshold_n, trace)
    if not len(contacts):
        return ()
    gaps = contacts.first[1:] - contacts.last[:-1]
    splits = np.flatnonzero(gaps > trace.samples(LONGEST_FLIGHT_S)) + 1
    found = []
    for members in np.split(np.arange(len(contacts)), splits):
        chain = tuple(Contact(int(contacts.first[i]), int(contacts.last[i])) for i in members)
        found.append(Visit(chain, came_on=chain[0].first > 0, went_off=chain[-1].last < len(trace)))
    return tuple(found)


def _edge(trace: Trace, outside: int, inside: int) -> Crossing:
    """Where the force reaches the empty plate between a sample off and a sample on it.

    The threshold is crossed a little inside the contact. Where the recording shows the force
    all the way down, the straight line through the samples that lead to the threshold is
    drawn on to zero, by at most 3 ms; where the device hides small forces, the crossing of
    the threshold itself is kept, which is what most published flight times are.
    """
    force, threshold = trace.force_n, trace.plate.threshold_n
    inward = 1 if inside > outside else -1
    low, high = force[outside], force[inside]
    crossing = outside + inward * (threshold - low) / max(high - low, 1e-9)
    crossing = float(np.clip(crossing, min(outside, inside), max(outside, inside)))
    # The samples just inside, until the force is some four times the threshold.
    reach = inside + inward * np.arange(max(4, trace.samples(0.02)))
    reach = reach[(reach >= 0) & (reach < len(trace))]
    level = force[reach]
    beyond = np.flatnonzero(level > 5 * threshold)
    count = min(len(reach), max(3, int(beyond[0]) + 1 if beyond.size else len(reach)))
    reach, level = reach[:count], level[:count]
    x = (reach - crossing) * inward
    spread = x - x.mean()
    slope = float(np.dot(spread, level) / np.dot(spread, spread))
    noise = max(trace.plate.noise_n, 0.2)
    if slope <= 0:
        slope = max(high - low, threshold)
        return Crossing(crossing, threshold / slope / 2 + 0.3)
    if trace.plate.hides:
        # What is hidden lasts from the threshold to zero: about threshold / slope.
        hidden = min(threshold / slope, 3.0 * trace.samples(0.001))
        return Crossing(crossing, float(0.3 + 0.3 * hidden))
    zero = x.mean() - level.mean() / slope
    furthest = _LONGEST_EXTRAPOLATION_S * trace.rate_hz
    moved = float(np.clip(zero, -furthest, 0.5))
    scatter = float(np.sqrt(np.mean((level - level.mean() - slope * spread) ** 2)))
    per_line = max(noise, scatter) / slope
    leverage = np.sqrt(1 / count + x.mean() ** 2 / np.dot(spread, spread))
    se = float(np.hypot(per_line * leverage, 0.1))
    return Crossing(float(crossing + inward * moved), se)


def take_off(trace: Trace, contact: Contact) -> Crossing:
    """The moment that the feet leave at the end of `contact`."""
    return _edge(trace, min(contact.last, len(trace) - 1), contact.last - 1)


def landing(trace: Trace, contact: Contact) -> Crossing:
    """The moment that the feet come down at the start of `contact`."""
    return _edge(trace, max(contact.first - 1, 0), contact.first)
