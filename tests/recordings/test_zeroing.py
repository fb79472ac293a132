"""The empty plate is found, and nothing else is taken for one."""

import numpy as np
import pytest

from saltus.recordings.zeroing import find_empty, remove_offset

RATE = 1000.0
WEIGHT = 780.0


def trace(parts, noise):
    """Force through (time s, body weights), with noise, N."""
    times, levels = np.array(parts, dtype=float).T
    n = int(times[-1] * RATE)
    force = WEIGHT * np.interp(np.arange(n) / RATE, times, levels)
    return force + np.random.default_rng(1).normal(0, noise, n)


JUMP = [(0, 1), (1, 1), (1.2, 0.05), (1.32, 0.05), (1.6, 2.3), (1.75, 0), (2.2, 0), (2.25, 4)]
JUMP += [(2.5, 1), (4, 1)]
DROP = [(0, 0), (1, 0), (1.1, 3.5), (1.25, 0), (1.7, 0), (1.75, 4), (2, 1), (3, 1)]
HOPS = [(0, 1), (1, 1)]
for k in range(8):
    HOPS += [(1.1 + 0.65 * k, 3.5), (1.2 + 0.65 * k, 0), (1.65 + 0.65 * k, 0)]
HOPS += [(6.4, 3), (6.6, 1), (7.5, 1)]
PULL = [(0, 1.05), (2, 1.05), (2.4, 3.5), (5, 3.6), (5.3, 1.0), (5.9, 1.0), (6.3, 3.5), (8, 3.5)]
SQUAT = [(0, 1), (2, 1), (2.3, 0.6), (2.6, 1.5), (2.9, 0.8), (3.2, 1), (5, 1)]


@pytest.mark.parametrize("noise", [0.0, 2.0, 8.0])
@pytest.mark.parametrize("offset", [0.0, 6.0, -40.0, 150.0, -780.0])
@pytest.mark.parametrize("parts", [JUMP, DROP, HOPS], ids=["countermovement", "drop", "hops"])
def test_the_offset_is_what_the_plate_reads_without_a_person(parts, offset, noise):
    force = trace(parts, noise)

    found = find_empty(force + offset, RATE)
    corrected, taken, drift = remove_offset(force + offset, found)

    assert found
    assert taken == pytest.approx(offset, abs=0.05 + noise / 15)
    assert drift == 0
    # the flight of the jump: from 1.85 s to 2.1 s nobody is on the plate in any of them
    np.testing.assert_allclose(corrected, force, atol=0.6)


@pytest.mark.parametrize("noise", [0.0, 2.0, 8.0])
@pytest.mark.parametrize("parts", [PULL, SQUAT, [(0, 1), (5, 1)]], ids=["pull", "squat", "stand"])
def test_a_person_who_never_leaves_the_plate_is_not_zeroed_away(parts, noise):
    assert find_empty(trace(parts, noise), RATE) == ()


def test_a_drifting_offset_is_followed():
    parts = [(0, 0), (1, 0), (1.1, 1), (6, 1), (6.1, 0), (7, 0)]
    force = trace(parts, 1.0)
    drift = np.linspace(0, 20, force.size)

    corrected, _, span = remove_offset(force + drift, find_empty(force + drift, RATE))

    assert span == pytest.approx(17.5, abs=2)
    np.testing.assert_allclose(corrected[1200:6000], force[1200:6000], atol=2)
