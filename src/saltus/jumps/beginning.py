"""How a jump began: what it stands on, its kind, its lowest point and its onset."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from saltus.jumps.classify import LONGEST_DROP_CONTACT_S, Descent, descent, kind_of
from saltus.jumps.find import Leap
from saltus.jumps.flight import Crossing
from saltus.jumps.integrate import Basis, Curves, Source, Weight, basis_for, curves, flight_basis
from saltus.jumps.jump import JumpKind
from saltus.jumps.plate import Trace
from saltus.jumps.push import RISING_M_S, onset_of
from saltus.jumps.weighing import Stand, rest_line

__all__ = ["Occasion", "Start", "basis_of", "start_of"]

_LOOK_BACK_S = 2.0
_SWING_S = 0.3
_SLOW_HOLD_M_S = 0.12


@dataclass(frozen=True, slots=True)
class Occasion:
    """A leap and what surrounds it.

    Parameters
    ----------
    leap : Leap
    stands : sequence of Stand
        Of the visit.
    weight : Weight or None
        Of the visit.
    starts_inside : bool
        Whether the recording starts in the contact of this leap.
    until : int
        Where its landing ends at the latest.
    in_series : bool
        Whether it is one of a series of hops.
    kind : JumpKind or None
        What it is, where the coach says so.
    doubts : tuple of str
        About the recording.
    stood_otherwise : bool
        Whether somebody stood still before it with a force that is not body weight.
    """

    leap: Leap
    stands: Sequence[Stand]
    weight: Weight | None
    starts_inside: bool
    until: int
    in_series: bool
    kind: JumpKind | None
    doubts: tuple[str, ...]
    stood_otherwise: bool = False


@dataclass(frozen=True, slots=True)
class Start:
    """How the push began.

    Parameters
    ----------
    kind : JumpKind
    way : Descent or None
        The way down, where motion is known.
    onset : Crossing or None
        Start of the movement, or touch-down.
    held : bool
        For squat jumps: whether the squat was held still.
    swung : bool
        Whether there was a swing or a second dip.
    late : bool
        Whether the recording starts inside the movement.
    """

    kind: JumpKind
    way: Descent | None
    onset: Crossing | None
    held: bool
    swung: bool
    late: bool


def basis_of(trace: Trace, occasion: Occasion) -> Basis | None:
    """What the integration stands on: stands beside the jump, else its own flight."""
    leap, weight = occasion.leap, occasion.weight
    basis = basis_for(trace, occasion.stands, leap.contact, leap.take_off, leap.landing)
    if basis is not None and basis.source is Source.SHORT and leap.touch_down is not None:
        basis = None  # what follows a landing is no stand
    if basis is None and weight is not None and leap.landing is not None:
        return flight_basis(weight, leap.take_off, leap.flight_s(trace.rate_hz))
    return basis


def _curve(trace: Trace, basis: Basis, first: float, last: float) -> Curves:
    line = basis.line
    return curves(
        trace,
        max(int(first), 0),
        math.ceil(last) + 2,
        weight_n=line.weight_n,
        momentum_n_s=line.momentum_n_s,
        at=line.at,
    )


def _crouch(trace: Trace, occasion: Occasion, basis: Basis) -> float | None:
    """How much lower the last stand is than the one before it in the same contact, m."""
    here = [
        s
        for s in occasion.stands
        if s.first >= occasion.leap.contact.first and s.last <= occasion.leap.take_off.position
    ]
    if len(here) < 2 or basis.before is None:
        return None
    tall, low = here[-2], here[-1]
    line = rest_line(trace, [tall, low], float(low.first))
    curve = curves(
        trace,
        (tall.first + tall.last) // 2,
        (low.first + low.last) // 2,
        weight_n=line.weight_n,
        momentum_n_s=line.momentum_n_s,
        at=line.at,
    )
    return -float(curve.displacement_m[-1])


def start_of(trace: Trace, occasion: Occasion, basis: Basis | None) -> Start:
    """Kind, lowest point and onset."""
    leap, rate = occasion.leap, trace.rate_hz
    contact, off = leap.contact, leap.take_off.position
    contact_s = (off - contact.first) / rate
    from_air = leap.touch_down is not None
    if basis is None:
        kind = occasion.kind
        if kind is None:
            short = from_air and contact_s <= LONGEST_DROP_CONTACT_S
            kind = JumpKind.DJ if short else JumpKind.CMJ
            kind = JumpKind.HOPS if occasion.in_series else kind
        rebound = kind in (JumpKind.DJ, JumpKind.HOPS)
        onset = leap.touch_down if rebound else None
        return Start(kind, None, onset, held=True, swung=False, late=occasion.starts_inside)

    stand = basis.before
    stood = stand is not None and stand.first >= contact.first
    look = max(contact.first, int(off - _LOOK_BACK_S * rate))
    if stood and stand is not None:
        look = stand.last - 1
    curve = _curve(trace, basis, look, off)
    way = descent(curve, off)
    kind = kind_of(
        way,
        came_from_air=from_air,
        contact_s=contact_s,
        in_series=occasion.in_series,
        stood_before=stood,
        crouch_m=_crouch(trace, occasion, basis) if stood else None,
    )
    if occasion.kind is not None and occasion.kind is not JumpKind.ISOMETRIC:
        kind = occasion.kind
    if kind in (JumpKind.DJ, JumpKind.HOPS):
        return Start(kind, way, leap.touch_down, held=True, swung=False, late=False)

    onset, held, swung = None, True, False
    if stood and stand is not None:
        before = way.fastest if kind is JumpKind.CMJ else _push_under_way(curve, off)
        onset = onset_of(trace, stand, before)
        if kind is JumpKind.SJ:
            way = descent(curve, off, RISING_M_S)
            at = curve.at(onset.position, curve.velocity_m_s) if onset is not None else 1.0
            low = curve.at(way.lowest, curve.displacement_m)
            from_low = (
                curve.at(onset.position, curve.displacement_m) - low if onset is not None else 1.0
            )
            held = onset is not None and abs(at) < _SLOW_HOLD_M_S and from_low < 0.1
            if not held:
                onset = None
        elif onset is not None:
            swung = (way.start - onset.position) / rate > _SWING_S
            if swung:
                onset = None
    elif kind is JumpKind.SJ:
        held = way.dip_m < 0.05 and not occasion.starts_inside
    late = (
        occasion.starts_inside
        and basis.source in (Source.AFTER, Source.FLIGHT)
        and contact_s < LONGEST_DROP_CONTACT_S
    )
    return Start(kind, way, onset, held=held, swung=swung, late=late)


def _push_under_way(curve: Curves, take_off: float) -> float:
    """Position of the highest force before take-off."""
    last = max(int(take_off - curve.first), 1)
    return float(curve.first + int(curve.force_n[:last].argmax()))
