"""Measures of a contact between two flights: drop jumps and hops.

- **contact time**: from touch-down to take-off;
- **RSI**: height over contact time (m/s), and, apart from it, flight time over contact time:
  both are in use and never to be mixed;
- **true drop height**: ``v^2/2g`` with the velocity at touch-down, which is what the contact
  takes from the velocity at take-off. On one plate that is had by integrating back from the
  stand after the landing (McMahon et al. 2021, Biomechanics 1:178-189: no bias against two
  plates; a nominal box reads 10 to 14 % high);
- **leg stiffness**: peak force over the sinking of the centre of mass between touch-down and
  the lowest point (the spring-mass model; McMahon and Cheng 1990, J Biomech 23(S1):65-78;
  from memory).
"""

import math

from saltus.jumps.classify import descent
from saltus.jumps.flight import Crossing
from saltus.jumps.integrate import curves
from saltus.jumps.jump import Phase
from saltus.jumps.plate import Trace
from saltus.jumps.propagation import Figure, State
from saltus.jumps.push import flight_figures, smooth_peak
from saltus.quantities import STANDARD_GRAVITY

__all__ = ["rebound_figures", "rebound_phases"]


def _lowest(trace: Trace, state: State) -> float:
    curve = curves(
        trace,
        max(int(state.start), 0),
        math.ceil(state.take_off) + 2,
        weight_n=state.weight_n,
        momentum_n_s=state.momentum_n_s,
        at=state.at,
    )
    return descent(curve, state.take_off).lowest


def rebound_figures(
    trace: Trace, state: State, *, noise_n: float, weighed: bool, drop: bool
) -> dict[str, Figure]:
    """Every figure of one contact and the flight after it.

    Parameters
    ----------
    trace : Trace
    state : State
        ``start`` is touch-down.
    noise_n : float
        White noise of the force, N.
    weighed : bool
        Whether weight and momentum mean anything.
    drop : bool
        Whether the fall before the contact was from a box.
    """
    rate = trace.rate_hz
    contact = (state.take_off - state.start) / rate
    first = max(int(state.start), 0)
    last = math.ceil(state.take_off) + 2
    out = {"contact_time": Figure(contact)}
    if math.isfinite(state.landing):
        out |= flight_figures(state, rate)
        out["rsi"] = Figure(out["height_flight"].value / contact)
        out["rsi_flight_to_contact"] = Figure(out["flight_time"].value / contact)
    out["peak_force"] = peak = smooth_peak(trace.force_n[first:last], rate, noise_n)
    if not weighed:
        return out
    curve = curves(
        trace,
        first,
        last,
        weight_n=state.weight_n,
        momentum_n_s=state.momentum_n_s,
        at=state.at,
    )
    way = descent(curve, state.take_off)
    mass = state.weight_n / STANDARD_GRAVITY
    v, x = curve.velocity_m_s, curve.displacement_m
    v_on, v_off = curve.at(state.start, v), curve.at(state.take_off, v)
    x_on, x_low = curve.at(state.start, x), curve.at(way.lowest, x)
    x_off = curve.at(state.take_off, x)
    braking = (way.lowest - state.start) / rate
    propulsion = (state.take_off - way.lowest) / rate
    out["body_weight"] = Figure(state.weight_n, own_se=trace.plate.level_se_n)
    out["take_off_velocity"] = Figure(v_off)
    out["height_impulse"] = Figure(v_off * abs(v_off) / (2 * STANDARD_GRAVITY))
    if "height_flight" in out:
        out["height_difference"] = Figure(out["height_flight"].value - out["height_impulse"].value)
    # Within the sample of the touch-down the force may rise at any moment.
    step = 0.29 * float(trace.force_n[min(first + 1, len(trace) - 1)]) / mass / rate
    out["touch_down_velocity"] = Figure(v_on, own_se=step)
    if drop:
        out["drop_height"] = Figure(
            v_on**2 / (2 * STANDARD_GRAVITY), own_se=abs(v_on) * step / STANDARD_GRAVITY
        )
    out["peak_force_relative"] = peak.times(1 / state.weight_n)
    out["braking_time"] = Figure(braking)
    out["propulsion_time"] = Figure(propulsion)
    if braking > 0 and propulsion > 0:
        out["mean_force_braking"] = Figure(
            state.weight_n - mass * v_on / braking, 1 / math.sqrt(braking * rate)
        )
        out["mean_force_propulsion"] = Figure(
            state.weight_n + mass * v_off / propulsion, 1 / math.sqrt(propulsion * rate)
        )
        out["impulse_braking"] = Figure(-mass * v_on, math.sqrt(braking * rate) / rate)
        out["impulse_propulsion"] = Figure(mass * v_off, math.sqrt(propulsion * rate) / rate)
        work = mass * v_off**2 / 2 + state.weight_n * (x_off - x_low)
        out["mean_power"] = Figure(work / propulsion)
        out["mean_power_relative"] = Figure(work / propulsion / mass)
    power = curve.force_n * v
    top = int(power.argmax())
    out["peak_power"] = Figure(float(power[top]), abs(float(v[top])))
    out["peak_power_relative"] = Figure(float(power[top]) / mass, abs(float(v[top])) / mass)
    out["push_off_distance"] = Figure(x_off - x_low)
    sinking = x_on - x_low
    if sinking > 0.005:
        out["depth"] = Figure(sinking)
        out["leg_stiffness"] = peak.times(1 / sinking)
        out["leg_stiffness_relative"] = peak.times(1 / sinking / mass)
    return out


def rebound_phases(
    trace: Trace, state: State, touch_down: Crossing, take_off: Crossing, *, weighed: bool
) -> tuple[Phase, ...]:
    """Braking and propulsion, or the contact as a whole where they cannot be told apart."""
    on, off = trace.time(touch_down.position), trace.time(take_off.position)
    if not weighed:
        return (Phase("contact", on, off),)
    lowest = trace.time(_lowest(trace, state))
    if not on < lowest < off:
        return (Phase("contact", on, off),)
    return (Phase("braking", on, lowest), Phase("propulsion", lowest, off))
