"""Phases and measures of countermovement and squat jumps.

Definitions, as published:

- **onset**: 30 ms before the force first leaves the mean of the last second of the still stand
  by five of its standard deviations (Owen et al. 2014, J Strength Cond Res 28:1552-1558);
- **unweighting**: from onset to the fastest sinking, where force is back at body weight;
- **braking**: from there to the lowest point, where velocity is zero;
- **propulsion**: from the lowest point (from a held squat: from 0.01 m/s upwards) to take-off
  (McMahon et al. 2018, Strength Cond J 40(4):96-106);
- **take-off, landing**: see `saltus.jumps.flight`.

Height is ``v^2/2g`` with the velocity at take-off (Moir 2008 recommends it with a plate), or
``g t^2/8`` from the flight time t; their difference is posture at landing. RSImod is height
over time to take-off (McMahon et al. 2018, Sports 6:81).
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from saltus.jumps.classify import Descent, descent
from saltus.jumps.flight import Crossing
from saltus.jumps.integrate import Basis, Curves, curves
from saltus.jumps.jump import JumpKind, Phase
from saltus.jumps.plate import Trace, runs_of
from saltus.jumps.propagation import Figure, State
from saltus.jumps.weighing import WANTED_STAND_S, Stand
from saltus.quantities import STANDARD_GRAVITY

__all__ = [
    "NEEDS_VELOCITY",
    "flight_figures",
    "onset_of",
    "push_figures",
    "push_phases",
    "smooth_peak",
]

Floats = NDArray[np.float64]

ONSET_SD: Final = 5.0
ONSET_BACK_S: Final = 0.03
RISING_M_S: Final = 0.01
"""From a held squat, propulsion starts when velocity exceeds 0.01 m/s (from memory: in use
beside zero velocity); zero itself is crossed to and fro while the squat is held."""

_QUIET_S: Final = 0.06
"""The force must have stayed within the band this long to count as standing: a
countermovement that swings twice crosses body weight in a few hundredths of a second."""

_PEAK_S: Final = 0.005
"""Peaks are of the force averaged over 5 ms: a single noisy sample is no peak."""

RFD_WINDOWS_MS: Final = (50, 100, 150, 200, 250)

NEEDS_VELOCITY: Final = frozenset(
    {
        "height_impulse",
        "height_difference",
        "take_off_velocity",
        "rsi_mod",
        "depth",
        "dip",
        "push_off_distance",
        "peak_sinking_velocity",
        "peak_velocity",
        "impulse_unweighting",
        "impulse_braking",
        "impulse_propulsion",
        "peak_power",
        "peak_power_relative",
        "mean_power",
        "mean_power_relative",
        "drop_height",
        "touch_down_velocity",
        "leg_stiffness",
        "leg_stiffness_relative",
    }
)
"""Measures that are withheld where the velocity at take-off is not known by itself."""


def smooth_peak(force: Floats, rate_hz: float, noise_n: float) -> Figure:
    """Highest force in means over 5 ms.

    Its error is that of the noise, and half of what the mean takes off a sharper peak.
    """
    width = min(max(1, round(_PEAK_S * rate_hz)), force.size)
    smooth = np.convolve(force, np.ones(width) / width, mode="valid")
    top = int(np.argmax(smooth))
    sharper = float(force[top : top + width].max() - smooth[top]) - 2 * noise_n
    return Figure(float(smooth[top]), 1 / math.sqrt(width), max(sharper, 0.0) / 2)


def onset_of(trace: Trace, stand: Stand, before: float) -> Crossing | None:
    """Onset of the movement after a stand, by the definition above.

    Parameters
    ----------
    trace : Trace
    stand : Stand
        The last still stand before the jump.
    before : float
        Position at which the movement is in full swing.

    Returns
    -------
    Crossing or None
        None where the force never rests within the band.
    """
    first, last = stand.first, int(before) + 1
    force = trace.force_n[first:last]
    still = trace.force_n[max(first, stand.last - trace.samples(WANTED_STAND_S)) : stand.last]
    # The stand's own mean: body weight is known better from two stands, but the force is here.
    level = float(still.mean())
    band = ONSET_SD * max(float(still.std()), 0.5)
    quiet = runs_of(np.abs(force - level) <= band)
    rests = np.flatnonzero(quiet.length >= min(trace.samples(_QUIET_S), stand.length))
    if not rests.size:
        return None
    left = int(quiet.last[rests[-1]])
    if left >= force.size:
        return None
    # Between the last sample inside the band and the first outside it.
    inside, outside = abs(force[left - 1] - level), abs(force[left] - level)
    part = (band - inside) / max(outside - inside, 1e-9)
    back = min(ONSET_BACK_S * trace.rate_hz, float(left - 1))
    # The rule steps back a fixed 30 ms: it may be anything from 0 to 60.
    return Crossing(
        float(first + left - 1 + part - back), ONSET_BACK_S / math.sqrt(3) * trace.rate_hz
    )


def flight_figures(state: State, rate_hz: float) -> dict[str, Figure]:
    """Flight time and height from it."""
    flight = (state.landing - state.take_off) / rate_hz
    return {
        "flight_time": Figure(flight),
        "height_flight": Figure(STANDARD_GRAVITY * flight**2 / 8),
    }


def _steepness_se(curve: Curves, position: float) -> float:
    """Jitter of the moment that force crosses body weight, s per N^(2/3) of noise.

    The minimum of a velocity that is a parabola plus a random walk wanders by about
    ``(noise^2 dt / slope^2)^(1/3)``, with the slope of the force.
    """
    half = max(2, round(0.01 * curve.rate_hz))
    i = int(position - curve.first)
    low, high = max(i - half, 0), min(i + half, curve.force_n.size - 1)
    if high <= low:
        return 0.0
    slope = abs(curve.force_n[high] - curve.force_n[low]) / (high - low) * curve.rate_hz
    return float((1 / curve.rate_hz / max(slope, 100.0) ** 2) ** (1 / 3))


@dataclass(frozen=True, slots=True)
class _Span:
    """A phase by its positions, with sums over its samples."""

    curve: Curves
    first: float
    last: float

    @property
    def seconds(self) -> float:
        return (self.last - self.first) / self.curve.rate_hz

    @property
    def momentum_gain(self) -> float:
        mass = self.curve.weight_n / STANDARD_GRAVITY
        v = self.curve.velocity_m_s
        return mass * (self.curve.at(self.last, v) - self.curve.at(self.first, v))

    def mean_force(self) -> Figure:
        if self.seconds <= 0:
            return Figure(math.nan)
        samples = max(self.seconds * self.curve.rate_hz, 1.0)
        mean = self.momentum_gain / self.seconds + self.curve.weight_n
        return Figure(mean, 1 / math.sqrt(samples))


def push_figures(
    trace: Trace, state: State, kind: JumpKind, *, noise_n: float, onset_known: bool
) -> dict[str, Figure]:
    """Every figure of a countermovement or squat jump.

    Parameters
    ----------
    trace : Trace
    state : State
        ``start`` is the onset, or the place to start looking from if `onset_known` is False.
    kind : JumpKind
    noise_n : float
        White noise, for the jitter of event times.
    onset_known : bool
        Whether time to take-off may be given.
    """
    rate = trace.rate_hz
    first = max(math.floor(state.start), 0)
    last = math.ceil(state.take_off) + 2
    curve = curves(
        trace,
        first,
        last,
        weight_n=state.weight_n,
        momentum_n_s=state.momentum_n_s,
        at=state.at,
    )
    from_hold = kind is JumpKind.SJ and onset_known
    way = descent(curve, state.take_off, RISING_M_S if from_hold else 0.0)
    mass = state.weight_n / STANDARD_GRAVITY
    stop = min(int(state.take_off) + 1 - first, curve.force_n.size)
    begin = max(int(way.lowest) - first, 0)
    v, x, f = curve.velocity_m_s, curve.displacement_m, curve.force_n
    v_off = curve.at(state.take_off, v)
    out = flight_figures(state, rate) if math.isfinite(state.landing) else {}
    out["take_off_velocity"] = Figure(v_off)
    out["height_impulse"] = Figure(v_off * abs(v_off) / (2 * STANDARD_GRAVITY))
    if "height_flight" in out:
        out["height_difference"] = Figure(out["height_flight"].value - out["height_impulse"].value)
    out["body_weight"] = Figure(state.weight_n, own_se=trace.plate.level_se_n)

    start_of_push = max(way.lowest, state.start)
    propulsion = _Span(curve, start_of_push, state.take_off)
    x_low = curve.at(way.lowest, x)
    rising = int(way.fastest) - first if kind is JumpKind.CMJ else begin
    out["peak_force"] = peak = smooth_peak(f[rising:stop], rate, noise_n)
    out["peak_force_relative"] = peak.times(1 / state.weight_n)
    out["propulsion_time"] = Figure(propulsion.seconds)
    out["mean_force_propulsion"] = propulsion.mean_force()
    samples = max(propulsion.seconds * rate, 1.0)
    out["impulse_propulsion"] = Figure(propulsion.momentum_gain, math.sqrt(samples) / rate)
    out["push_off_distance"] = Figure(curve.at(state.take_off, x) - x_low)
    power = f[begin:stop] * v[begin:stop]
    top = int(np.argmax(power))
    out["peak_power"] = Figure(float(power[top]), abs(float(v[begin + top])))
    out["peak_power_relative"] = Figure(float(power[top]) / mass, abs(float(v[begin + top])) / mass)
    out["peak_velocity"] = Figure(float(v[begin:stop].max()))
    if propulsion.seconds > 0:
        # Work is kinetic and potential energy gained: exact, and free of noise.
        low_v = curve.at(start_of_push, v)
        work = mass * (v_off**2 - low_v**2) / 2 + state.weight_n * out["push_off_distance"].value
        out["mean_power"] = Figure(work / propulsion.seconds)
        out["mean_power_relative"] = Figure(work / propulsion.seconds / mass)

    if kind is JumpKind.CMJ:
        out |= _countermovement(curve, way, state, noise_n=noise_n, onset_known=onset_known)
        rfd_from = way.fastest
    else:
        if onset_known:
            out["dip"] = Figure(max(way.dip_m, 0.0))
        rfd_from = state.start if onset_known else math.nan
    out |= _rfd(curve, rfd_from, state.take_off)
    if onset_known:
        seconds = (state.take_off - state.start) / rate
        out["time_to_take_off"] = Figure(seconds)
        out["rsi_mod"] = Figure(out["height_impulse"].value / seconds)
        if "flight_time" in out:
            out["flight_time_to_contraction_time"] = Figure(out["flight_time"].value / seconds)
    return out


def _countermovement(
    curve: Curves, way: Descent, state: State, *, noise_n: float, onset_known: bool
) -> dict[str, Figure]:
    rate = curve.rate_hz
    braking = _Span(curve, way.fastest, way.lowest)
    jitter = _steepness_se(curve, way.fastest) * noise_n ** (2 / 3)
    force = curve.at(way.lowest, curve.force_n)
    samples = max(braking.seconds * rate, 1.0)
    out = {
        "braking_time": Figure(braking.seconds, own_se=jitter),
        "force_at_lowest": Figure(force, 1.0),
        "mean_force_braking": braking.mean_force(),
        "impulse_braking": Figure(braking.momentum_gain, math.sqrt(samples) / rate),
        "peak_sinking_velocity": Figure(curve.at(way.fastest, curve.velocity_m_s)),
    }
    if braking.seconds > 0:
        rise = force - curve.at(way.fastest, curve.force_n)
        out["rfd_braking"] = Figure(
            rise / braking.seconds,
            math.sqrt(2) / braking.seconds,
            jitter * abs(rise) / braking.seconds**2,
        )
    if onset_known:
        unweighting = _Span(curve, state.start, way.fastest)
        out["unweighting_time"] = Figure(unweighting.seconds, own_se=jitter)
        out["impulse_unweighting"] = Figure(
            unweighting.momentum_gain, math.sqrt(max(unweighting.seconds * rate, 1.0)) / rate
        )
        out["depth"] = Figure(max(way.dip_m, 0.0))
    return out


def _rfd(curve: Curves, start: float, take_off: float) -> dict[str, Figure]:
    """Mean slopes of the force in windows from the start of its rise, while they fit."""
    out: dict[str, Figure] = {}
    if not math.isfinite(start):
        return out
    base = curve.at(start, curve.force_n)
    for window in RFD_WINDOWS_MS:
        end = start + window / 1000 * curve.rate_hz
        if end > take_off:
            break
        rise = curve.at(end, curve.force_n) - base
        out[f"rfd_0_{window}ms"] = Figure(rise / (window / 1000), math.sqrt(2) / (window / 1000))
    return out


def push_phases(
    trace: Trace,
    basis: Basis,
    kind: JumpKind,
    *,
    onset: Crossing | None,
    way: Descent,
    take_off: Crossing,
) -> tuple[Phase, ...]:
    """Phases up to take-off, in order of time."""
    time = trace.time
    out: list[Phase] = []
    if onset is not None and basis.before is not None:
        start = max(basis.before.first, basis.before.last - trace.samples(1.0))
        if start < onset.position:
            out.append(Phase("weighing", time(start), time(onset.position)))
    if kind is JumpKind.CMJ:
        if onset is not None and onset.position < way.fastest:
            out.append(Phase("unweighting", time(onset.position), time(way.fastest)))
        if way.fastest < way.lowest:
            out.append(Phase("braking", time(way.fastest), time(way.lowest)))
        out.append(Phase("propulsion", time(way.lowest), time(take_off.position)))
    else:
        start_of_push = way.lowest if onset is None else max(onset.position, way.lowest)
        if onset is not None and out and start_of_push > onset.position:
            out[-1] = Phase("weighing", out[-1].start_s, time(start_of_push))
        out.append(Phase("propulsion", time(start_of_push), time(take_off.position)))
    return tuple(out)
