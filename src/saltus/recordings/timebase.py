"""An even time base, or a clear reason why there is none."""

import math
from dataclasses import dataclass

import numpy as np

from saltus.errors import RecordingError
from saltus.recordings.signals import Floats, Signals

__all__ = ["LONGEST_BRIDGE_S", "TimeBase", "bridge_gaps", "settle_time"]

LONGEST_BRIDGE_S = 0.010
"""s. A longer gap is never bridged: the force of a jump turns within some tens of milliseconds."""

_JITTER = 0.1  # of a step; more is uneven sampling
_LAG = 200
_SAME_RATE = 0.02


@dataclass(frozen=True, slots=True, eq=False)
class TimeBase:
    """Rate and start of a recording.

    Parameters
    ----------
    rate_hz : float
        Sampling rate, Hz.
    start_s : float
        Time of the first sample, s.
    uneven_s : ndarray, shape (n,), or None
        Times of the samples, s, where they have to be resampled evenly.
    """

    rate_hz: float
    start_s: float = 0.0
    uneven_s: Floats | None = None

    def resampled(self, force: Floats) -> Floats:
        """Bring `force`, shape (n,), onto the even time base (linear between samples)."""
        if self.uneven_s is None:
            return force
        span = self.uneven_s[-1] - self.uneven_s[0]
        count = math.floor(span * self.rate_hz * (1 + 1e-12)) + 1
        even = self.start_s + np.arange(count) / self.rate_hz
        return np.interp(even, self.uneven_s, force)


def settle_time(
    signals: Signals, *, rate_hz: float | None, resample: bool, notes: list[str], doubts: list[str]
) -> TimeBase:
    """Find the sampling rate from time, or take the one that was given.

    Parameters
    ----------
    signals : Signals
        With `time`, or with a `rate_hz` of its own.
    rate_hz : float or None
        Rate that a person gave; it overrides the time column.
    resample : bool
        Whether uneven time may be resampled.
    notes, doubts : list of str
        Added to.

    Raises
    ------
    RecordingError
        If time has gaps, stands still, runs backward, or is uneven without leave to resample.
    """
    if rate_hz is not None:
        if signals.time is not None:
            _compare(signals, rate_hz, doubts)
            notes.append(f"The rate of {rate_hz:g} Hz is the one given; time was not used.")
        return TimeBase(rate_hz)
    if signals.time is None:
        if signals.rate_hz is None:
            raise RecordingError(f"{signals.source}: no sampling rate is known; give --rate.")
        return TimeBase(signals.rate_hz)
    base = _from_column(signals, signals.time, resample=resample, notes=notes)
    stated = signals.stated_rate_hz
    if stated is not None and abs(base.rate_hz / stated - 1) > _SAME_RATE:
        notes.append(
            f"Above the table {stated:g} Hz are stated, but time runs at {base.rate_hz:.4g} Hz; "
            "time was used. If it is wrong, give the rate with --rate."
        )
    return base


def _compare(signals: Signals, rate_hz: float, doubts: list[str]) -> None:
    assert signals.time is not None
    steps = np.diff(signals.time)
    steps = steps[np.isfinite(steps)]
    step = float(np.median(steps)) if steps.size else 0.0
    if step <= 0:
        return
    unit = signals.time_unit_s or _likely_unit(step)
    if unit is not None and abs(step * unit * rate_hz - 1) > _SAME_RATE:
        doubts.append(
            f"the rate given is {rate_hz:g} Hz, but the time column runs at {1 / (step * unit):.4g}"
        )


def _likely_unit(step: float) -> float | None:
    """Seconds in one unit of a time without a unit, from its step.

    Force plates are sampled at some hundred to some thousand hertz: a step below 0.1 can
    only be in seconds, one between 0.1 and 6 only in milliseconds.
    """
    if step < 0.1:
        return 1.0
    return 1e-3 if step <= 6.0 else None


def _from_column(signals: Signals, raw: Floats, *, resample: bool, notes: list[str]) -> TimeBase:
    source = signals.source
    gap = np.flatnonzero(~np.isfinite(raw))
    if gap.size:
        raise RecordingError(
            f"{source}: {signals.where(int(gap[0]))} has no time ({gap.size} such rows). "
            "Export the recording again, or give --rate if the samples are evenly spaced."
        )
    if raw.size < 3:
        raise RecordingError(f"{source}: {raw.size} samples are no recording.")
    steps = np.diff(raw)
    still = np.flatnonzero(steps <= 0)
    if still.size:
        _refuse_still(signals, raw, int(still[0]), int(still.size))
    lag = min(_LAG, raw.size - 1)
    step = float(np.median(raw[lag:] - raw[:-lag])) / lag
    unit = signals.time_unit_s
    if unit is None:
        unit = _likely_unit(step)
        if unit is None:
            raise RecordingError(
                f"{source}: time runs in steps of {step:g} without a unit, which are neither "
                "seconds nor milliseconds; give the sampling rate with --rate."
            )
        if unit != 1.0:
            notes.append(f"Time has no unit; steps of {step:g} were read as milliseconds.")
    rounding = _rounding(raw, step)
    start = float(raw[0]) * unit
    worst = int(np.argmax(steps))
    jitter = max(_JITTER * step, rounding)
    # where every step wavers, a step of nearly two is no missing sample
    wavers = float(np.percentile(np.abs(steps - step), 99)) > jitter
    if steps[worst] > (2.5 if wavers else 1.5) * step + rounding:
        length = float(steps[worst]) * unit
        missing = round(float(steps[worst]) / step) - 1
        what = (
            f"{source}: about {missing} samples are missing after {signals.where(worst)} "
            f"(time {raw[worst]:g}, a gap of {1000 * length:.3g} ms)"
        )
        if not resample:
            raise RecordingError(
                f"{what}. Export the recording again; a gap of up to "
                f"{1000 * LONGEST_BRIDGE_S:g} ms is bridged with --resample."
            )
        if length > LONGEST_BRIDGE_S + step * unit:
            raise RecordingError(
                f"{what}, too long to bridge. Cut the recording there and read the parts."
            )
        return _uneven(raw * unit, step * unit, notes)
    even = raw[0] + step * np.arange(raw.size)
    # a line through the middle takes out what is left of the rounding of the first sample
    off = raw - even
    drift = (float(np.median(off[-lag:])) - float(np.median(off[:lag]))) / max(raw.size - lag, 1)
    off -= drift * np.arange(raw.size)
    off -= np.median(off)
    away = int(np.argmax(np.abs(off)))
    if abs(off[away]) > jitter:
        if not resample:
            raise RecordingError(
                f"{source}: the sampling is uneven: {signals.where(away)} is "
                f"{1000 * abs(off[away]) * unit:.3g} ms off an even {1 / (step * unit):.4g} Hz. "
                "Resample it evenly with --resample, or give the true --rate."
            )
        return _uneven(raw * unit, step * unit, notes)
    rate = 1 / ((step + drift) * unit)
    slack = rounding / (step * raw.size) + 1e-5
    if abs(rate / round(rate) - 1 if rate > 1 else 1.0) <= slack:
        rate = float(round(rate))
    return TimeBase(rate, start)


def _refuse_still(signals: Signals, raw: Floats, first: int, count: int) -> None:
    here = f"{signals.where(first + 1)} (time {raw[first + 1]:g} after {raw[first]:g})"
    if raw[first + 1] == raw[first]:
        raise RecordingError(
            f"{signals.source}: time stands still at {here}, {count} times in all. If the "
            "samples are evenly spaced and time was only rounded, give --rate; otherwise export "
            "the recording again."
        )
    raise RecordingError(
        f"{signals.source}: time runs backward at {here}. If two recordings were joined, read "
        "them as two files; otherwise export the recording again."
    )


def _uneven(time_s: Floats, step_s: float, notes: list[str]) -> TimeBase:
    rate = 1 / step_s
    if abs(rate / round(rate) - 1) < 0.01:
        rate = float(round(rate))
    notes.append(f"Uneven time was resampled evenly at {rate:g} Hz.")
    return TimeBase(rate, float(time_s[0]), time_s)


def _rounding(raw: Floats, step: float) -> float:
    """Largest error that rounding may have left in the time column, in its unit.

    Decimals: 600 Hz written with three decimals jumps between 1 and 2 ms. Single precision:
    an hour of seconds is only good to 0.24 ms.
    """
    sample = raw[: min(raw.size, 5000)]
    single = float(np.spacing(np.float32(np.max(np.abs(raw)))))
    for decimals in range(7):
        grain = 10.0**-decimals
        if np.allclose(sample / grain, np.round(sample / grain), rtol=0, atol=1e-3):
            whole = abs(step / grain - round(step / grain)) < 1e-3 * step / grain
            return single if whole else max(1.01 * grain, single)
    return single


def bridge_gaps(
    signals: Signals, name: str, force: Floats, *, rate_hz: float, resample: bool, notes: list[str]
) -> Floats:
    """Return `force` without gaps: refused, or bridged by straight lines where that was allowed.

    Raises
    ------
    RecordingError
        If there is a gap and no leave to bridge it, or it is longer than `LONGEST_BRIDGE_S`.
    """
    empty = ~np.isfinite(force)
    if not empty.any():
        return force
    edges = np.flatnonzero(np.diff(np.concatenate(([False], empty, [False])).astype(np.int8)))
    starts, ends = edges[::2], edges[1::2]
    longest = int(np.argmax(ends - starts))
    length = int(ends[longest] - starts[longest])
    what = (
        f"{signals.source}: {name} has {starts.size} gap{'s' if starts.size > 1 else ''}, the "
        f"longest of {length} samples at {signals.where(int(starts[longest]))}"
    )
    if not resample:
        raise RecordingError(
            f"{what}. Export the recording again; gaps of up to {1000 * LONGEST_BRIDGE_S:g} ms "
            "are bridged with --resample."
        )
    if length / rate_hz > LONGEST_BRIDGE_S:
        raise RecordingError(f"{what}, too long to bridge. Cut the recording there.")
    notes.append(f"{starts.size} gaps of {name} were bridged (longest {length} samples).")
    place = np.arange(force.size)
    return np.interp(place, place[~empty], force[~empty])
