import pytest

from saltus.jumps.analyse import analyse
from saltus.jumps.flight import Crossing
from saltus.jumps.integrate import Weight
from saltus.jumps.jump import Trust
from saltus.jumps.landing import landed
from saltus.jumps.plate import prepare


def test_peak_and_time_to_stand_still(plate):
    truth = plate.sines()
    (found,) = analyse(plate.recording(truth.force)).jumps
    half_sine = 3.14159 / 2 * 2.5 / 0.3

    assert found.value("landing_peak_force") == pytest.approx(
        plate.mass * (9.80665 + half_sine), abs=8
    )
    assert found.value("landing_peak_force_relative") == pytest.approx(
        1 + half_sine / 9.80665, abs=0.01
    )
    # The half-sine of 0.3 s is within 5 % of body weight for its last 11 ms.
    assert found.value("landing_time_to_still") == pytest.approx(0.29, abs=0.03)


def test_a_restless_landing_has_no_time_to_stand_still(plate):
    truth = plate.sines(after=0.1)
    restless = [plate.bend(0.15, 0.8)] * 4
    (found,) = analyse(plate.recording(truth.force, *restless)).jumps

    assert found.value("landing_peak_force") is not None
    assert found.value("landing_time_to_still") is None


def test_landing_partly_beside_the_plate_is_said(plate):
    truth = plate.sines()
    force = truth.force.copy()
    force[int(truth.landing * 1000) + 300 :] *= 0.55
    (found,) = analyse(plate.recording(force)).jumps

    assert found.trust is Trust.DOUBTFUL
    assert any("landed beside the plate" in reason for reason in found.reasons)
    assert found.height_impulse_m == pytest.approx(truth.height, abs=0.01)


def test_without_body_weight_only_the_peak_is_told(plate):
    truth = plate.sines()
    trace = prepare(plate.recording(truth.force))
    touch = Crossing(truth.landing * 1000, 0.5)

    assert set(landed(trace, touch, len(trace), None, 1.5).measures) == {"landing_peak_force"}
    known = landed(trace, touch, len(trace), Weight(plate.weight, 1.0, ""), 1.5)
    assert known.still is not None
    assert not known.beside
