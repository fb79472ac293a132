"""Left less right, with the noise that such differences have.

A difference is ``100 (left - right) / (left + right)`` per cent of the impulse of a phase:
positive when more was on the left. Two plates measure it to a fraction of a per cent; what
makes it uncertain is that the same person does it differently in the next jump. So the
standard error is the spread between jumps of the recording where there are at least three of
a kind, and otherwise an ordinary spread.
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from saltus.jumps.catalogue import measure
from saltus.jumps.jump import Jump, Measure
from saltus.jumps.plate import Trace

__all__ = ["differences", "left_right", "with_spread_between_jumps"]

ORDINARY_SPREAD: Final = 3.0
"""Percentage points between jumps of one person (from memory: typical errors of such
differences in jumps on two plates are given as 2 to 5 points)."""

_FEWEST: Final = 3
_ZERO_N: Final = 1.0
"""How well the zero of each plate is known, N."""


def left_right(trace: Trace, name: str, first: float, last: float) -> dict[str, Measure]:
    """Difference of the impulses between two positions; empty without two plates."""
    if trace.left_n is None or trace.right_n is None:
        return {}
    span = slice(max(math.ceil(first), 0), math.ceil(last))
    left, right = trace.left_n[span], trace.right_n[span]
    if left.size < trace.samples(0.01):
        return {}
    both = float(left.mean() + right.mean())
    if both <= 5 * _ZERO_N:
        return {}
    value = 100 * float(left.mean() - right.mean()) / both
    plate = 100 * math.sqrt(2) * _ZERO_N / both
    return {name: measure(name, value, math.hypot(plate, ORDINARY_SPREAD))}


def differences(trace: Trace, spans: Sequence[tuple[str, float, float]]) -> dict[str, Measure]:
    """Differences over several spans of (name, first position, last position)."""
    found: dict[str, Measure] = {}
    for name, first, last in spans:
        found |= left_right(trace, name, first, last)
    return found


def with_spread_between_jumps(jumps: Sequence[Jump]) -> tuple[Jump, ...]:
    """Replace the ordinary spread by the one between these jumps, where they are enough."""
    spread: dict[tuple[str, str], float] = {}
    for kind in {jump.kind for jump in jumps}:
        alike = [jump for jump in jumps if jump.kind is kind]
        names = {name for jump in alike for name in jump.measures if name.startswith("left_right")}
        for name in names:
            values = [jump.measures[name].value for jump in alike if name in jump.measures]
            if len(values) >= _FEWEST:
                spread[kind, name] = float(np.std(values, ddof=1))
    return tuple(
        replace(
            jump,
            measures={
                name: replace(m, se=spread.get((jump.kind, name), m.se))
                for name, m in jump.measures.items()
            },
        )
        for jump in jumps
    )
