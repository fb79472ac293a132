import numpy as np
import pytest

from saltus.jumps.analyse import analyse
from saltus.jumps.asymmetry import ORDINARY_SPREAD


def test_left_less_right_is_a_share_of_both(plate):
    (found,) = analyse(plate.recording(plate.sines().force, split=0.55)).jumps
    names = {
        "left_right_standing",
        "left_right_braking",
        "left_right_propulsion",
        "left_right_landing",
    }

    assert names <= set(found.measures)
    for name in names:
        # 55 to 45 is 10 % of both.
        assert found.value(name) == pytest.approx(10.0, abs=0.2), name
        assert found.measures[name].se >= ORDINARY_SPREAD


def test_one_plate_tells_no_difference(plate):
    (found,) = analyse(plate.recording(plate.sines().force)).jumps

    assert not any(name.startswith("left_right") for name in found.measures)


def test_the_spread_between_jumps_is_the_noise_of_a_difference(plate):
    shares = [0.52, 0.55, 0.50, 0.53]
    force = [plate.sines().force for _ in shares]
    split = np.concatenate([np.full(f.size, share) for f, share in zip(force, shares, strict=True)])
    jumps = analyse(plate.recording(*force, split=split)).jumps
    expected = 200 * np.std(shares, ddof=1)

    assert len(jumps) == 4
    for jump in jumps:
        assert jump.measures["left_right_propulsion"].se == pytest.approx(expected, rel=0.02)


def test_the_difference_of_a_pull(plate):
    force = np.concatenate([plate.still(2), plate.pull(), plate.still(1)])
    (found,) = analyse(plate.recording(force, split=0.48)).jumps

    assert found.value("left_right_peak") == pytest.approx(-4.0, abs=0.2)
