"""Isometric pulls and pushes: peak force, and force at stated times after the onset.

**Onset** is where the force last leaves the quiet baseline right before the pull by five
standard deviations for good (the published choice for isometric pulls, Dos'Santos et al.
2017, J Strength Cond Res; from memory), stepped back to where the rise, drawn on as a straight
line, meets the baseline: five standard deviations of a restless baseline are reached late,
and force at 50 ms is steep enough to notice. The distance between the two is taken as the
onset's standard error, with the sampling.

A pull is told from a jump by physics: a free body cannot carry more than its weight for long,
because it would be flying.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from saltus.jumps.catalogue import measure
from saltus.jumps.flight import Crossing, Visit
from saltus.jumps.integrate import Weight
from saltus.jumps.jump import Measure
from saltus.jumps.plate import Trace, runs_of
from saltus.quantities import STANDARD_GRAVITY

__all__ = ["Pull", "pull_measures", "pulls"]

TIMES_MS: Final = (50, 100, 150, 200, 250)

_LEAST: Final = 1.15
"""A pull goes at least 15 % over body weight..."""

_LEAST_S: Final = 1.0
"""... for at least a second..."""

_IMPOSSIBLE_M_S: Final = 3.0
"""... and would have made a free body fly away at this speed."""

_BLOCK_S: Final = 0.02
_BASELINE_S: Final = 1.0
_BASELINE_BACK_S: Final = 3.0


@dataclass(frozen=True, slots=True)
class Pull:
    """One pull: samples from `first` up to but without `last`, force above body weight."""

    first: int
    last: int


def pulls(trace: Trace, visit: Visit, weight: Weight) -> tuple[Pull, ...]:
    """Find the pulls of a visit."""
    block = trace.samples(_BLOCK_S)
    found = []
    for contact in visit.contacts:
        count = (contact.last - contact.first) // block
        if count < _LEAST_S / _BLOCK_S:
            continue
        whole = trace.force_n[contact.first : contact.first + count * block]
        means = whole.reshape(count, block).mean(axis=1)
        high = runs_of(means > _LEAST * weight.value_n)
        for first, last in zip(high.first, high.last, strict=True):
            seconds = (last - first) * block / trace.rate_hz
            gained = float(means[first:last].mean() / weight.value_n - 1) * seconds
            if seconds >= _LEAST_S and gained * STANDARD_GRAVITY > _IMPOSSIBLE_M_S:
                start = contact.first + int(first) * block
                found.append(Pull(start, start + int(last - first) * block))
    return tuple(found)


def _onset(trace: Trace, pull: Pull, floor: int) -> tuple[Crossing, float, float] | None:
    """Onset, baseline and its standard deviation."""
    # The baseline lies before the steepest rise, which is not where the bar was first held.
    look = trace.samples(0.05)
    whole = trace.force_n[max(floor, pull.first - 2 * look) : pull.last]
    steepest = int(np.argmax(whole[look:] - whole[:-look])) if whole.size > look else 0
    stop = max(floor, pull.first - 2 * look) + steepest
    back = max(floor, stop - trace.samples(_BASELINE_BACK_S))
    width = min(trace.samples(_BASELINE_S), stop - back)
    if width < trace.samples(0.2):
        return None
    force = trace.force_n[back:stop]
    sums = np.cumsum(np.insert(force, 0, 0.0))
    squares = np.cumsum(np.insert((force - force.mean()) ** 2, 0, 0.0))
    mean = (sums[width:] - sums[:-width]) / width
    variance = (squares[width:] - squares[:-width]) / width - (mean - force.mean()) ** 2
    # Of the quiet stretches of up to a second, the last.
    quiet = variance <= 1.5 * variance.min() + 0.25
    best = int(np.flatnonzero(quiet)[-1])
    base, sd = float(mean[best]), math.sqrt(max(float(variance[best]), 0.25))
    rise = trace.force_n[back + best : pull.last]
    inside = np.flatnonzero(rise[: stop - back - best + 1] - base <= 5 * sd)
    if not inside.size:
        return None
    crossing = back + best + int(inside[-1]) + 1
    look = trace.samples(0.03)
    steep = trace.force_n[crossing : crossing + look]
    if steep.size < 4:
        return None
    x = np.arange(steep.size)
    slope = float(np.polyfit(x, steep, 1)[0])
    late = 0.0
    if slope > 0:
        late = min((trace.force_n[crossing] - base) / slope, float(trace.samples(0.03)))
    late = max(late, 0.0)
    return Crossing(crossing - late, math.hypot(0.5, 0.5 * late)), base, sd


def pull_measures(
    trace: Trace, visit: Visit, pull: Pull, weight: Weight, noise_n: float
) -> tuple[dict[str, Measure], Crossing | None]:
    """Measures of one pull, and its onset where a quiet baseline shows it."""
    force = trace.force_n[pull.first : pull.last]
    width = trace.samples(0.005)
    smooth = np.convolve(force, np.ones(width) / width, mode="valid")
    top = int(np.argmax(smooth))
    peak, peak_se = float(smooth[top]), noise_n / math.sqrt(width)
    net_se = math.hypot(peak_se, weight.se_n)
    found = {
        "body_weight": measure("body_weight", weight.value_n, weight.se_n),
        "isometric_peak_force": measure("isometric_peak_force", peak, peak_se),
        "isometric_net_peak_force": measure(
            "isometric_net_peak_force", peak - weight.value_n, net_se
        ),
        "isometric_peak_force_relative": measure(
            "isometric_peak_force_relative",
            peak / weight.value_n,
            peak / weight.value_n * math.hypot(peak_se / peak, weight.se_n / weight.value_n),
        ),
    }
    floor = next(c.first for c in visit.contacts if c.first <= pull.first < c.last)
    at = _onset(trace, pull, floor)
    if at is None:
        return found, None
    onset, base, sd = at
    found["pretension"] = measure(
        "pretension", base - weight.value_n, math.hypot(weight.se_n, 0.2 * sd)
    )
    found["time_to_peak_force"] = measure(
        "time_to_peak_force",
        (pull.first + top + width // 2 - onset.position) / trace.rate_hz,
        math.hypot(onset.se, width / 2) / trace.rate_hz,
    )
    samples = np.arange(max(int(onset.position) - 2, 0), pull.last)
    local = trace.force_n[samples]
    for after in TIMES_MS:
        position = onset.position + after / 1000 * trace.rate_hz
        if position > pull.last - 1:
            break
        early, value, late = np.interp(
            [position - onset.se, position, position + onset.se], samples, local
        )
        se = math.hypot(noise_n, (late - early) / 2)
        found[f"force_{after}ms"] = measure(f"force_{after}ms", float(value), se)
        found[f"rfd_0_{after}ms"] = measure(
            f"rfd_0_{after}ms",
            (float(value) - base) / (after / 1000),
            math.hypot(se, 0.2 * sd) / (after / 1000),
        )
    return found, onset
