"""Contacts and flights: when somebody is on the plate, and the moments that feet leave and land.

A *visit* is one person's time on the plate: contacts, with nothing between them but
flights. Standing on and off, walking over it, and whatever lies between two visits are no
jumps. Whether a gap between two contacts was truly a flight is for the push before it to
say (`saltus.jumps.analyse`).
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from saltus.jumps.plate import Runs, Trace, runs_of

Floats = NDArray[np.float64]

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
_USUAL_RISE_S: Final = (0.0009, 0.0009)
"""Mean and standard deviation of the time between no force and the threshold: 10 to 30 N at
the 10 to 40 N/ms with which feet leave and meet a plate."""

_RISE_S: Final = 0.015
_RISE_THRESHOLDS: Final = 8.0
_UNLIKE: Final = 0.1
_POWERS: Final = (1.0, 1.25, 1.5, 1.75, 2.0)


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

    The threshold is crossed a little inside the contact. Where the device hides small
    forces, that crossing is kept, which is what most published flight times are. Where the
    recording shows the force all the way down, it is drawn on to zero (`_start_of_rise`).
    """
    force, threshold = trace.force_n, trace.plate.threshold_n
    inward = 1 if inside > outside else -1
    low, high = float(force[outside]), float(force[inside])
    if high > _RISE_THRESHOLDS * threshold:
        # From nothing to much within one sample: somewhere in it.
        return Crossing(outside + 0.5 * inward, 0.3)
    part = min(max((threshold - low) / max(high - low, 1e-9), 0.0), 1.0)
    crossing = outside + inward * part
    reach = inside + inward * np.arange(max(4, trace.samples(_RISE_S)))
    reach = reach[(reach >= 0) & (reach < len(trace))]
    level = force[reach]
    beyond = np.flatnonzero(level > _RISE_THRESHOLDS * threshold)
    count = max(4, int(beyond[0]) if beyond.size else len(reach))
    since = np.asarray((reach[:count] - crossing) * inward, dtype=np.float64)
    level = level[:count]
    if trace.plate.hides:
        slope = max(float(np.polyfit(since, level, 1)[0]), 1e-9)
        # What is hidden lasts from the threshold to zero: about threshold / slope.
        hidden = min(threshold / slope, 3.0 * trace.samples(0.001))
        return Crossing(crossing, 0.3 + 0.3 * hidden)
    noise = max(trace.plate.noise_n, 0.2)
    furthest = _LONGEST_EXTRAPOLATION_S * trace.rate_hz
    beside = outside - inward * np.arange(math.ceil(furthest) + 1)
    beside = beside[(beside >= 0) & (beside < len(trace))]
    since_outside = np.asarray((beside - crossing) * inward, dtype=np.float64)
    start, se = _start_of_rise(
        since,
        np.maximum(level, 0.2 * threshold),
        since_outside,
        force[beside],
        noise,
    )
    start, se = min(max(start, -furthest), 0.5), min(se, furthest)
    # What is usual steadies what a few noisy samples say.
    usual, spread = (x * trace.rate_hz for x in _USUAL_RISE_S)
    share = spread**2 / (spread**2 + se**2)
    moved = share * start - (1 - share) * usual
    return Crossing(crossing + inward * moved, math.hypot(math.sqrt(share) * se, 0.1))


def _start_of_rise(
    since: Floats, level: Floats, outside: Floats, outside_level: Floats, noise_n: float
) -> tuple[float, float]:
    """Where a force that rises like ``(t - t0)^p`` began, and its standard error.

    Feet meet and leave the plate softly or hard: p is between 1 and 2, and averaged over by
    how well each fits the samples inside the contact and those just outside it. Each fit is
    a weighted straight line through ``level^(1/p)`` of the samples inside.
    """
    starts, variances, misfits = [], [], []
    # No foot follows a power of time to the newton.
    variance_inside = noise_n**2 + (_UNLIKE * level) ** 2
    for power in _POWERS:
        y = level ** (1 / power)
        weight = (power * level ** (1 - 1 / power)) ** 2 / variance_inside
        total = weight.sum()
        mid_x, mid_y = np.dot(weight, since) / total, np.dot(weight, y) / total
        x = since - mid_x
        spread = np.dot(weight, x * x)
        slope = np.dot(weight, x * (y - mid_y)) / spread if spread > 0 else 0.0
        if slope <= 0:
            continue
        starts.append(float(mid_x - mid_y / slope))
        drawn_on = (np.maximum(outside - starts[-1], 0.0) * slope) ** power
        inside_misfit = np.dot(weight, (y - mid_y - slope * x) ** 2)
        misfits.append(float(inside_misfit + np.sum((outside_level - drawn_on) ** 2) / noise_n**2))
        at_start = starts[-1] - mid_x
        variances.append(float((1 / total + at_start**2 / spread) / slope**2))
    if not starts:
        return 0.0, 1.0
    start, variance, misfit = np.array(starts), np.array(variances), np.array(misfits)
    share = np.exp(-(misfit - misfit.min()) / 2)
    share /= share.sum()
    mean = float(np.dot(share, start))
    spread_of_powers = float(np.dot(share, (start - mean) ** 2))
    return mean, math.sqrt(spread_of_powers + float(np.dot(share, variance)))


def take_off(trace: Trace, contact: Contact) -> Crossing:
    """The moment that the feet leave at the end of `contact`."""
    return _edge(trace, min(contact.last, len(trace) - 1), contact.last - 1)


def landing(trace: Trace, contact: Contact) -> Crossing:
    """The moment that the feet come down at the start of `contact`."""
    return _edge(trace, max(contact.first - 1, 0), contact.first)
