"""One leap, from the stand before it to the stand after it: kind, measures, phases, trust."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from saltus.jumps.asymmetry import differences
from saltus.jumps.classify import LONGEST_DROP_CONTACT_S, Descent, descent, kind_of
from saltus.jumps.find import Leap
from saltus.jumps.flight import Crossing
from saltus.jumps.integrate import (
    Basis,
    Curves,
    Source,
    Weight,
    basis_for,
    curves,
    flight_basis,
)
from saltus.jumps.jump import Integration, Jump, JumpKind, Measure, Phase
from saltus.jumps.landing import Landed, landed
from saltus.jumps.plate import Trace
from saltus.jumps.propagation import Figure, State, propagate
from saltus.jumps.push import RISING_M_S, flight_figures, onset_of, push_figures, push_phases
from saltus.jumps.rebound import rebound_figures, rebound_phases
from saltus.jumps.trust import Witness, judge
from saltus.jumps.weighing import Stand, rest_line

__all__ = ["Occasion", "measured_leap"]

_LOOK_BACK_S = 2.0
_SHOWN_BEFORE_S = 0.75
_SHOWN_AFTER_S = 1.0
_SWING_S = 0.3
_SLOW_HOLD_M_S = 0.12
_FIRST_LANDING_S = 0.2

_OF_FIRST_HOP = frozenset(
    {
        "contact_time",
        "rsi",
        "rsi_flight_to_contact",
        "touch_down_velocity",
        "drop_height",
        "braking_time",
        "mean_force_braking",
        "impulse_braking",
        "depth",
        "leg_stiffness",
        "leg_stiffness_relative",
    }
)
"""What the first hop of a series does not have when it starts from a stand."""


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
    """

    leap: Leap
    stands: Sequence[Stand]
    weight: Weight | None
    starts_inside: bool
    until: int
    in_series: bool
    kind: JumpKind | None
    doubts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Start:
    """How the push began."""

    kind: JumpKind
    way: Descent | None
    onset: Crossing | None
    held: bool
    swung: bool
    late: bool


def _basis(trace: Trace, occasion: Occasion) -> Basis | None:
    """What the integration stands on: stands beside the jump, else its own flight."""
    leap, weight = occasion.leap, occasion.weight
    basis = basis_for(trace, occasion.stands, leap.contact, leap.take_off, leap.landing)
    if basis is not None and basis.source is Source.SHORT and leap.touch_down is not None:
        basis = None  # what follows a landing is no stand
    if basis is None and weight is not None and leap.landing is not None:
        return flight_basis(weight, leap.take_off, leap.flight_s(trace.rate_hz), None, None)
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


def _start(trace: Trace, occasion: Occasion, basis: Basis | None) -> _Start:
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
        return _Start(kind, None, onset, held=True, swung=False, late=occasion.starts_inside)

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
        return _Start(kind, way, leap.touch_down, held=True, swung=False, late=False)

    onset, held, swung = None, True, False
    if stood and stand is not None:
        before = way.fastest if kind is JumpKind.CMJ else _push_under_way(curve, off)
        onset = onset_of(trace, stand, basis.line.weight_n, before)
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
    return _Start(kind, way, onset, held=held, swung=swung, late=late)


def _push_under_way(curve: Curves, take_off: float) -> float:
    """Position of the highest force before take-off."""
    last = max(int(take_off - curve.first), 1)
    return float(curve.first + int(curve.force_n[:last].argmax()))


def _measures(
    trace: Trace, occasion: Occasion, basis: Basis | None, start: _Start, noise: float
) -> tuple[dict[str, Measure], State]:
    leap, rate = occasion.leap, trace.rate_hz
    landing = leap.landing
    rebound = start.kind in (JumpKind.DJ, JumpKind.HOPS)
    begin = start.onset.position if start.onset is not None else None
    if begin is None:
        if rebound or start.way is None:
            begin = max(float(leap.contact.first), leap.take_off.position - 0.8 * rate)
        elif start.kind is JumpKind.SJ:
            begin = start.way.lowest
        else:
            begin = max(start.way.start - 0.05 * rate, float(leap.contact.first))
    line = basis.line if basis is not None else None
    state = State(
        line.weight_n if line else math.nan,
        line.momentum_n_s if line else math.nan,
        line.at if line else math.nan,
        begin,
        leap.take_off.position,
        landing.position if landing is not None else math.nan,
    )
    event_se = {"take_off": leap.take_off.se}
    if landing is not None:
        event_se["landing"] = landing.se
    if start.onset is not None:
        event_se["start"] = start.onset.se

    def figures(s: State) -> dict[str, Figure]:
        if rebound:
            return rebound_figures(
                trace,
                s,
                noise_n=noise,
                weighed=line is not None,
                drop=start.kind is JumpKind.DJ,
            )
        if line is None:
            return flight_figures(s, rate) if landing is not None else {}
        return push_figures(
            trace, s, start.kind, noise_n=noise, onset_known=start.onset is not None
        )

    found = propagate(figures, state, basis=basis, noise_n=noise, event_se=event_se)
    if rebound and leap.touch_down is None:
        found = {name: m for name, m in found.items() if name not in _OF_FIRST_HOP}
    return found, state


def _spans(
    phases: Sequence[Phase], trace: Trace, landing: Crossing | None, until: int
) -> list[tuple[str, float, float]]:
    """Spans over which left and right are compared."""
    names = {
        "weighing": "left_right_standing",
        "braking": "left_right_braking",
        "propulsion": "left_right_propulsion",
        "contact": "left_right_contact",
    }
    out = [
        (
            names[phase.name],
            (phase.start_s - trace.start_s) * trace.rate_hz,
            (phase.end_s - trace.start_s) * trace.rate_hz,
        )
        for phase in phases
        if phase.name in names
    ]
    if landing is not None:
        end = min(landing.position + _FIRST_LANDING_S * trace.rate_hz, float(until))
        out.append(("left_right_landing", landing.position, end))
    return out


def _phases(
    trace: Trace,
    occasion: Occasion,
    basis: Basis | None,
    start: _Start,
    state: State,
    after: Landed | None,
) -> tuple[Phase, ...]:
    leap = occasion.leap
    out: tuple[Phase, ...] = ()
    if start.kind in (JumpKind.DJ, JumpKind.HOPS):
        if leap.touch_down is not None:
            out = rebound_phases(
                trace, state, leap.touch_down, leap.take_off, weighed=basis is not None
            )
    elif basis is not None and start.way is not None:
        out = push_phases(
            trace,
            basis,
            start.kind,
            onset=start.onset,
            way=start.way,
            take_off=leap.take_off,
        )
    if leap.landing is None:
        return out
    off, on = trace.time(leap.take_off.position), trace.time(leap.landing.position)
    out += (Phase("flight", off, on),)
    if start.kind is JumpKind.HOPS:
        return out
    end = leap.landing.position + trace.samples(_SHOWN_AFTER_S)
    if after is not None and after.still is not None:
        end = after.still
    end = min(end, float(occasion.until))
    if end > leap.landing.position:
        out += (Phase("landing", on, trace.time(end)),)
    return out


def _integration(trace: Trace, basis: Basis | None, state: State) -> Integration | None:
    """Where velocity and displacement of the drawn curves start."""
    if basis is None or not basis.independent:
        return None
    line = basis.line
    stand = basis.before or basis.after
    if stand is None:
        return None
    zero = int(state.start) if stand is basis.before else (stand.first + stand.last) // 2
    curve = curves(
        trace,
        zero,
        zero + 2,
        weight_n=line.weight_n,
        momentum_n_s=line.momentum_n_s,
        at=line.at,
    )
    return Integration(
        line.weight_n, trace.time(zero), float(curve.velocity_m_s[0]), trace.plate.level_n
    )


def measured_leap(trace: Trace, occasion: Occasion) -> Jump:
    """Measure one leap and grade it."""
    leap = occasion.leap
    basis = _basis(trace, occasion)
    start = _start(trace, occasion, basis)
    noise = _noise(trace, basis)
    measures, state = _measures(trace, occasion, basis, start, noise)
    after = None
    weight = occasion.weight
    if weight is None and basis is not None:
        weight = Weight(basis.line.weight_n, basis.line.weight_se_n, "weighed beside the jump")
    if leap.landing is not None and start.kind is not JumpKind.HOPS:
        after = landed(trace, leap.landing, occasion.until, weight, noise)
        measures |= after.measures
    phases = _phases(trace, occasion, basis, start, state, after)
    measures |= differences(trace, _spans(phases, trace, leap.landing, occasion.until))
    verdict = judge(
        Witness(
            kind=start.kind,
            basis=basis,
            weighed=weight is not None,
            landed=leap.landing is not None,
            cut_off=leap.cut_off,
            held=start.held,
            onset_known=start.onset is not None,
            dipped_twice=start.swung,
            beside=after is not None and after.beside,
            bounced=leap.bounced,
            starts_late=start.late,
            dropped=_dropped(trace, leap),
            doubts=occasion.doubts,
        ),
        measures,
    )
    end = leap.landing.position if leap.landing is not None else leap.take_off.position
    integration = _integration(trace, basis, state)
    if "take_off_velocity" not in verdict.measures:
        integration = None
    return Jump(
        kind=start.kind,
        start_s=trace.time(max(state.start - _SHOWN_BEFORE_S * trace.rate_hz, 0.0)),
        end_s=trace.time(min(end + _SHOWN_AFTER_S * trace.rate_hz, len(trace) - 1)),
        trust=verdict.trust,
        reasons=verdict.reasons,
        measures=verdict.measures,
        phases=phases,
        onset_s=trace.time(start.onset.position) if start.onset is not None else None,
        take_off_s=trace.time(leap.take_off.position),
        landing_s=trace.time(leap.landing.position) if leap.landing is not None else None,
        integration=integration,
    )


def _dropped(trace: Trace, leap: Leap) -> bool:
    """Whether the contact began with a landing and was short."""
    contact = (leap.take_off.position - leap.contact.first) / trace.rate_hz
    return leap.touch_down is not None and contact <= LONGEST_DROP_CONTACT_S


def _noise(trace: Trace, basis: Basis | None) -> float:
    if basis is not None and basis.line.noise_n > 0:
        return basis.line.noise_n
    return trace.plate.noise_n
