import numpy as np
import pytest

from saltus.jumps.analyse import analyse
from saltus.jumps.jump import JumpKind, Trust


def test_a_pull_gives_peak_force_and_early_force(plate):
    """Force rises as 1 - exp(-t/0.12 s) from 2 s on."""
    result = analyse(plate.recording(plate.still(2), plate.pull(2500.0), plate.still(2)))
    (found,) = result.jumps

    assert found.kind is JumpKind.ISOMETRIC
    assert found.trust is Trust.SOUND
    assert found.take_off_s is None
    assert found.height_flight_m is None
    assert found.onset_s == pytest.approx(2.0, abs=0.003)
    assert found.value("isometric_peak_force") == pytest.approx(2500.0, abs=6.0)
    for after in (50, 100, 150, 200, 250):
        expected = plate.weight + (2500 - plate.weight) * (1 - np.exp(-after / 120))
        measure = found.measures[f"force_{after}ms"]
        assert measure.value == pytest.approx(expected, abs=max(4 * measure.se, 8.0)), after
        assert measure.se < 40
        slope = (expected - plate.weight) / (after / 1000)
        assert found.value(f"rfd_0_{after}ms") == pytest.approx(slope, rel=0.02)
    assert abs(found.value("pretension")) < 3
    assert found.value("isometric_net_peak_force") == pytest.approx(2500 - plate.weight, abs=8)


def test_the_onset_error_covers_the_onset(plate):
    """A restless baseline delays the threshold, and says so."""
    misses = []
    for noise in (1.0, 3.0, 8.0):
        for _ in range(15):
            recording = plate.recording(plate.still(2), plate.pull(), plate.still(1), noise=noise)
            (found,) = analyse(recording).jumps
            measure = found.measures["force_50ms"]
            expected = plate.weight + (2500 - plate.weight) * (1 - np.exp(-50 / 120))
            misses.append((measure.value - expected) / measure.se)

    assert np.sqrt(np.mean(np.square(misses))) < 1.6


def test_a_bar_already_pulled_is_said(plate):
    tight = plate.still(2) + 180.0
    pulled = plate.pull() + 0.0
    pulled[: int(0.01 * plate.rate)] += 180.0
    force = np.maximum(pulled, plate.weight + 180.0)
    recording = plate.recording(plate.still(2), tight, force[:3600], plate.still(1))
    (found,) = [j for j in analyse(recording).jumps if j.kind is JumpKind.ISOMETRIC]

    assert found.trust is Trust.DOUBTFUL
    assert any("already pulled with" in reason for reason in found.reasons)


def test_several_pulls_are_several(plate):
    pieces = [plate.still(2)]
    for peak in (2000.0, 2300.0, 2600.0):
        pieces += [plate.pull(peak), plate.still(2)]
    found = analyse(plate.recording(*pieces)).jumps

    assert [round(j.value("isometric_peak_force"), -2) for j in found] == [2000, 2300, 2600]


def test_a_pull_is_looked_for_alone_when_told_so(plate):
    recording = plate.recording(plate.still(1), plate.cmj(), plate.pull(), plate.still(2))

    assert [j.kind for j in analyse(recording, kind=JumpKind.ISOMETRIC).jumps] == [
        JumpKind.ISOMETRIC
    ]
    assert {j.kind for j in analyse(recording).jumps} == {JumpKind.CMJ, JumpKind.ISOMETRIC}
