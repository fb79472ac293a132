"""Whether a recording can be trusted: rate, length, clipping, and the weight of a person."""

import numpy as np

from saltus.errors import RecordingError
from saltus.recordings.signals import Channel, Floats, standing_load
from saltus.recordings.units import LARGEST_STANDING_N, SMALLEST_STANDING_N

__all__ = [
    "DOUBTFUL_RATE_HZ",
    "SHORTEST_S",
    "SLOWEST_RATE_HZ",
    "check_length",
    "check_person",
    "check_rate",
    "clipping",
    "is_upside_down",
]

SLOWEST_RATE_HZ = 200.0
"""Hz. Below it take-off and landing are uncertain by more than a centimetre of jump."""

DOUBTFUL_RATE_HZ = 500.0
"""Hz. Below it every jump is doubtful; plates are usually sampled at 1000 Hz (common practice)."""

SHORTEST_S = 0.5
"""s. Less cannot hold a jump with a stand before it."""

_FASTEST_RATE_HZ = 100_000.0
_LARGEST_N = 40_000.0
_LEAST_N = 50.0  # less below zero may be an offset


def check_rate(rate_hz: float, source: str) -> str | None:
    """Return a doubt where sampling is slow.

    Raises
    ------
    RecordingError
        Below 200 Hz, or where the rate is none that a force plate has.
    """
    if rate_hz < SLOWEST_RATE_HZ * (1 - 1e-6):
        raise RecordingError(
            f"{source}: sampled at {rate_hz:.4g} Hz, too slowly to time a take-off; at least "
            f"{SLOWEST_RATE_HZ:g} Hz is needed, 1000 Hz is usual. If that is not the true rate, "
            "give it with --rate."
        )
    if rate_hz > _FASTEST_RATE_HZ:
        raise RecordingError(
            f"{source}: a sampling rate of {rate_hz:.4g} Hz is not that of a force plate; give "
            "the true one with --rate."
        )
    if rate_hz < DOUBTFUL_RATE_HZ * (1 - 1e-6):
        return f"sampled at only {rate_hz:.4g} Hz: record with at least {DOUBTFUL_RATE_HZ:g} Hz"
    return None


def check_length(samples: int, rate_hz: float, source: str) -> None:
    """Refuse what is too short to hold a jump.

    Raises
    ------
    RecordingError
        If it is.
    """
    if samples < SHORTEST_S * rate_hz:
        raise RecordingError(
            f"{source}: {samples} samples at {rate_hz:g} Hz are {samples / rate_hz:.2g} s, too "
            f"short for a jump; at least {SHORTEST_S:g} s are needed."
        )


def is_upside_down(force: Floats) -> bool:
    """Whether the force of a person comes out negative: pushing down instead of up.

    A plate that was zeroed under a person goes far below zero too, but only in flight, and
    its push-off and landing stand far above.
    """
    low, high = np.percentile(force, [0.5, 99.5])
    return bool(-low > max(4 * float(high), _LEAST_N))


def check_person(total: Floats, channels: list[Channel], source: str) -> None:
    """Refuse a force that is not that of a person standing, jumping or pulling.

    Parameters
    ----------
    total : ndarray, shape (n,)
        N, offset taken off.
    channels : list of Channel
        For the message.
    source : str
        File name.

    Raises
    ------
    RecordingError
        If nobody ever stands on the plate, or the standing load or the peak is impossible.
    """
    names = " and ".join(channel.name for channel in channels)
    load = standing_load(total)
    peak = float(np.max(np.abs(total)))
    if peak < SMALLEST_STANDING_N:
        raise RecordingError(
            f"{source}: nobody stands on the plate: {names} never exceeds {peak:.3g} N. "
            "If the force is in another unit, give --unit; if it is another column, --force."
        )
    if not SMALLEST_STANDING_N <= load <= LARGEST_STANDING_N or peak > _LARGEST_N:
        raise RecordingError(
            f"{source}: {names} reads about {load:.3g} N while loaded and {peak:.3g} N at most, "
            "which is no person. If the unit is wrong, give --unit; if the column is, --force."
        )


def clipping(force: Floats, rate_hz: float) -> tuple[float, float] | None:
    """Find a signal cut off at the top of its range.

    A clipped peak stays at the very same highest value for several samples and leaves it
    steeply; a real peak that is merely coarse (few digits) leaves it gently.

    Parameters
    ----------
    force : ndarray, shape (n,)
        N or any other unit.
    rate_hz : float
        Sampling rate, Hz.

    Returns
    -------
    (level, time_s) or None
        Where it is cut off and when it first is.
    """
    top = float(force.max())
    if top <= 1.15 * standing_load(force):
        return None
    at_top = force >= top - 1e-9 * abs(top)
    edges = np.flatnonzero(np.diff(np.concatenate(([False], at_top, [False])).astype(np.int8)))
    starts, stops = edges[::2], edges[1::2]
    lengths = stops - starts
    shortest = max(3, round(0.003 * rate_hz))
    if not np.any(lengths >= shortest):
        return None
    grain = _grain(force)
    for start, stop in zip(starts, stops, strict=True):
        length = int(stop - start)
        out = max(3, length)  # samples beyond the flat top at which to look
        if length < shortest or start < out or stop + out > force.size:
            continue
        drops = (top - float(force[start - out]), top - float(force[stop + out - 1]))
        # what a coarse parabola with a flat top of this length would have fallen by then
        natural = grain * ((length / 2 + out) / (length / 2)) ** 2
        if max(drops) > 3 * natural and min(drops) > natural:
            return top, float(start / rate_hz)
    return None


def _grain(force: Floats) -> float:
    """Smallest step between two values that occur."""
    values = np.unique(force[: min(force.size, 100_000)])
    steps = np.diff(values)
    steps = steps[steps > 1e-9 * max(abs(float(values[-1])), 1.0)]
    return float(steps.min()) if steps.size else 0.0
