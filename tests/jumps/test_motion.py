import numpy as np
import pytest

from saltus.jumps.analyse import analyse
from saltus.jumps.motion import motion


def test_motion_is_that_of_the_body(plate):
    truth = plate.sines()
    result = analyse(plate.recording(truth.force))
    (jump,) = result.jumps
    found = motion(result, jump)

    assert found.time_s[0] == pytest.approx(jump.start_s, abs=0.001)
    assert found.time_s[-1] == pytest.approx(jump.end_s, abs=0.001)
    assert found.force_n.shape == found.velocity_m_s.shape == found.displacement_m.shape
    at = np.interp(truth.take_off, found.time_s, found.velocity_m_s)
    assert at == pytest.approx(truth.take_off_velocity, abs=0.02)
    assert found.displacement_m.min() == pytest.approx(-truth.depth, abs=0.004)
    still = found.time_s < truth.onset - 0.1
    assert np.abs(found.velocity_m_s[still]).max() < 0.01
    assert np.abs(found.displacement_m[still]).max() < 0.005


def test_motion_takes_off_what_the_empty_plate_reads(plate):
    truth = plate.sines()
    result = analyse(plate.recording(truth.force, level=12.0))
    found = motion(result, result.jumps[0])

    at = np.interp(truth.take_off, found.time_s, found.velocity_m_s)
    assert at == pytest.approx(truth.take_off_velocity, abs=0.02)


def test_motion_is_withheld_where_it_is_not_known(plate):
    truth = plate.sines()
    result = analyse(plate.recording(truth.force[1650:3300]))
    (jump,) = result.jumps
    found = motion(result, jump)

    assert jump.height_impulse_m is None
    assert found.velocity_m_s is None
    assert found.displacement_m is None
    assert found.force_n.size > 100
