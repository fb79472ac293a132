"""How a jump was landed: the peak of the force, and how long it took to stand still."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from saltus.jumps.catalogue import measure
from saltus.jumps.flight import Crossing
from saltus.jumps.integrate import Weight
from saltus.jumps.jump import Measure
from saltus.jumps.plate import Trace, runs_of

__all__ = ["Landed", "landed"]

STILL_BAND: Final = 0.05
STILL_S: Final = 1.0
"""Standing still: the force stays within 5 % of body weight for a second (time to
stabilisation; the band is common practice)."""

_PEAK_WITHIN_S: Final = 0.4
_BLOCK_S: Final = 0.02
_PARTLY: Final = 0.85
"""Where the force settles this far under body weight, part of the body landed beside the
plate."""


@dataclass(frozen=True, slots=True)
class Landed:
    """What a landing shows.

    Parameters
    ----------
    measures : dict of str to Measure
    still : float or None
        Position at which standing still begins.
    beside : bool
        Whether part of the body seems to have landed beside the plate.
    """

    measures: dict[str, Measure]
    still: float | None
    beside: bool


def landed(
    trace: Trace, touch_down: Crossing, until: int, weight: Weight | None, noise_n: float
) -> Landed:
    """Measure a landing between touch-down and the position `until`."""
    first = int(np.ceil(touch_down.position))
    force = trace.force_n[first:until]
    if force.size < trace.samples(0.05):
        return Landed({}, None, beside=False)
    impact = force[: trace.samples(_PEAK_WITHIN_S)]
    # A landing peak is sharp, so it is not smoothed; half the step to its neighbours says
    # how far between two samples the true peak may lie.
    top = int(np.argmax(impact))
    near = impact[max(top - 1, 0) : top + 2]
    missed = float(impact[top] - near.min()) / 8
    peak, se = float(impact[top]), float(np.hypot(noise_n, missed))
    found = {"landing_peak_force": measure("landing_peak_force", peak, se)}
    if weight is None:
        return Landed(found, None, beside=False)
    ratio = peak / weight.value_n
    found["landing_peak_force_relative"] = measure(
        "landing_peak_force_relative",
        ratio,
        ratio * float(np.hypot(se / peak, weight.se_n / weight.value_n)),
    )
    block = trace.samples(_BLOCK_S)
    count = force.size // block
    means = force[: count * block].reshape(count, block).mean(axis=1)
    quiet = runs_of(np.abs(means / weight.value_n - 1) <= STILL_BAND)
    long = np.flatnonzero(quiet.length * block >= trace.samples(STILL_S) * 0.98)
    still = None
    if long.size:
        begin = int(quiet.first[long[0]]) * block
        still = float(first + begin)
        found["landing_time_to_still"] = measure(
            "landing_time_to_still",
            (still - touch_down.position) / trace.rate_hz,
            float(np.hypot(_BLOCK_S, touch_down.se / trace.rate_hz)),
        )
    second = force[trace.samples(0.6) : trace.samples(2.0)]
    beside = (
        second.size >= trace.samples(0.6)
        and float(np.percentile(second, 80)) < _PARTLY * weight.value_n
    )
    return Landed(found, still, beside)
