"""One leap, from the stand before it to the stand after it: kind, measures, phases, trust."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from saltus.jumps.asymmetry import differences
from saltus.jumps.beginning import Occasion, Start, basis_of, start_of
from saltus.jumps.classify import LONGEST_DROP_CONTACT_S
from saltus.jumps.find import Leap
from saltus.jumps.flight import Crossing
from saltus.jumps.integrate import Basis, Weight, curves, flight_basis
from saltus.jumps.jump import Integration, Jump, JumpKind, Measure, Phase, Trust
from saltus.jumps.landing import Landed, landed
from saltus.jumps.plate import Trace
from saltus.jumps.propagation import Figure, State, propagate
from saltus.jumps.push import flight_figures, push_figures, push_phases
from saltus.jumps.rebound import rebound_figures, rebound_phases
from saltus.jumps.trust import Verdict, Witness, judge

__all__ = ["measured_leap"]

_SHOWN_BEFORE_S = 0.75
_SHOWN_AFTER_S = 1.0
_NEAR_STAND_S = 3.0
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


def _measures(
    trace: Trace, occasion: Occasion, basis: Basis | None, start: Start, noise: float
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
    start: Start,
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


@dataclass(frozen=True, slots=True)
class _Reading:
    """A leap measured from one basis, before and after it is judged."""

    basis: Basis | None
    start: Start
    state: State
    phases: tuple[Phase, ...]
    verdict: Verdict


def _reading(
    trace: Trace, occasion: Occasion, basis: Basis | None, weight: Weight | None
) -> _Reading:
    leap = occasion.leap
    start = start_of(trace, occasion, basis)
    noise = _noise(trace, basis)
    measures, state = _measures(trace, occasion, basis, start, noise)
    after = None
    if leap.landing is not None and start.kind is not JumpKind.HOPS:
        after = landed(trace, leap.landing, occasion.until, weight, noise)
        measures |= after.measures
    phases = _phases(trace, occasion, basis, start, state, after)
    measures |= differences(trace, _spans(phases, trace, leap.landing, occasion.until))
    witness = Witness(
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
        stood_otherwise=occasion.stood_otherwise,
        doubts=occasion.doubts,
    )
    return _Reading(basis, start, state, phases, judge(witness, measures))


def _still_before(trace: Trace, read: _Reading) -> float | None:
    """Position of the still moment that the movement left, where it is near."""
    if read.start.onset is not None:
        return read.start.onset.position
    stand = read.basis.before if read.basis is not None else None
    if stand is None or read.state.take_off - stand.last > trace.samples(_NEAR_STAND_S):
        return None
    return float(stand.last - 1)


def _integration(trace: Trace, read: _Reading) -> Integration | None:
    """Where velocity and displacement of the drawn curves start."""
    basis = read.basis
    if basis is None or not basis.independent:
        return None
    line = basis.line
    still = _still_before(trace, read)
    stand = basis.after or basis.before
    if still is not None and basis.before is not None:
        zero = int(still)
    elif stand is not None:
        zero = (stand.first + stand.last) // 2
    else:
        return None
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
    """Measure one leap and grade it.

    Where the stands beside it turn out not to be believed, the lowest point and the phases
    are had from the flight instead, and what needs a velocity of its own is withheld.
    """
    leap = occasion.leap
    basis = basis_of(trace, occasion)
    weight = occasion.weight
    if weight is None and basis is not None:
        weight = Weight(basis.line.weight_n, basis.line.weight_se_n, "weighed beside the jump")
    read = _reading(trace, occasion, basis, weight)
    verdict = read.verdict
    believed = "take_off_velocity" in verdict.measures
    again = not believed and verdict.landed and verdict.trust is not Trust.REJECTED
    if basis is not None and basis.independent and again:
        known = occasion.weight
        flight_s = leap.flight_s(trace.rate_hz)
        other = flight_basis(known, leap.take_off, flight_s) if known is not None else None
        read = _reading(trace, occasion, other, known)
        rejected = read.verdict.trust is Trust.REJECTED
        verdict = replace(
            read.verdict,
            reasons=verdict.reasons,
            trust=Trust.REJECTED if rejected else verdict.trust,
        )
    landing = leap.landing if verdict.landed else None
    phases = read.phases
    if landing is None:
        phases = tuple(phase for phase in phases if phase.name not in ("flight", "landing"))
    end = landing.position if landing is not None else leap.take_off.position
    onset = read.start.onset
    begin = read.state.start
    still = _still_before(trace, read)
    if still is not None:
        begin = min(begin, still)
    return Jump(
        kind=read.start.kind,
        start_s=trace.time(max(begin - _SHOWN_BEFORE_S * trace.rate_hz, 0.0)),
        end_s=trace.time(min(end + _SHOWN_AFTER_S * trace.rate_hz, len(trace) - 1)),
        trust=verdict.trust,
        reasons=verdict.reasons,
        measures=verdict.measures,
        phases=phases,
        onset_s=trace.time(onset.position) if onset is not None else None,
        take_off_s=trace.time(leap.take_off.position),
        landing_s=trace.time(landing.position) if landing is not None else None,
        integration=_integration(trace, read) if believed else None,
    )


def _dropped(trace: Trace, leap: Leap) -> bool:
    """Whether the contact began with a landing and was short."""
    contact = (leap.take_off.position - leap.contact.first) / trace.rate_hz
    return leap.touch_down is not None and contact <= LONGEST_DROP_CONTACT_S


def _noise(trace: Trace, basis: Basis | None) -> float:
    if basis is not None and basis.line.noise_n > 0:
        return basis.line.noise_n
    return trace.plate.noise_n
