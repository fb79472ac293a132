import numpy as np
import pytest

from saltus.jumps.flight import landing, take_off, visits
from saltus.jumps.integrate import Source, basis_for, curves, weight_of
from saltus.jumps.plate import prepare
from saltus.jumps.weighing import stands
from saltus.quantities import STANDARD_GRAVITY as G


def jump_in(trace):
    (visit,) = visits(trace)
    first, second = visit.contacts[:2]
    return visit, stands(trace, visit), first, take_off(trace, first), landing(trace, second)


def test_constant_acceleration_is_integrated_exactly(plate):
    trace = prepare(plate.recording(np.full(1001, 1.5 * plate.weight), noise=0.0))

    curve = curves(trace, 0, 1001, weight_n=plate.weight, momentum_n_s=0.0, at=0.0)

    t = np.arange(1001) / 1000
    np.testing.assert_allclose(curve.velocity_m_s, 0.5 * G * t, atol=1e-9)
    np.testing.assert_allclose(curve.displacement_m, 0.25 * G * t**2, atol=1e-6)
    assert curve.at(250.5, curve.velocity_m_s) == pytest.approx(0.5 * G * 0.2505)


def test_what_the_integration_stands_on(plate):
    jump = plate.sines().force

    def source(force):
        _, found, contact, leave, down = jump_in(prepare(plate.recording(force)))
        basis = basis_for(prepare(plate.recording(force)), found, contact, leave, down)
        return None if basis is None else basis.source

    assert source(jump) is Source.BOTH
    assert source(jump[:3300]) is Source.BEFORE
    assert source(jump[1600:]) is Source.AFTER
    assert source(jump[1250:3300]) is Source.SHORT
    assert source(jump[1650:3300]) is None


def test_a_foot_beside_the_plate_is_noticed(plate):
    """Weight borne elsewhere between two stands breaks the line through them."""
    truth = plate.sines()
    force = truth.force.copy()
    land = int(truth.landing * 1000)
    force[land + 50 : land + 250] *= 0.6
    trace = prepare(plate.recording(force))
    _, found, contact, leave, down = jump_in(trace)

    basis = basis_for(trace, found, contact, leave, down)

    assert basis.broken
    assert basis.source is Source.BEFORE
    assert basis.line.velocity_m_s == pytest.approx(
        truth.take_off_velocity, abs=4 * basis.line.velocity_se_m_s
    )


def test_weight_from_the_whole_visit_where_nobody_stands_still(plate):
    """Between unknown but small velocities the mean force is body weight."""
    restless = np.concatenate([plate.bend(0.25, 1.0)] * 12)
    trace = prepare(plate.recording(restless))
    (visit,) = visits(trace)
    found = weight_of(trace, visit, stands(trace, visit))

    assert "mean force" in found.how
    assert found.value_n == pytest.approx(plate.weight, abs=3 * found.se_n)
    assert found.se_n < 0.01 * plate.weight


def test_a_restless_second_says_nothing_about_weight(plate):
    trace = prepare(plate.recording(plate.bend(0.25, 0.9)))
    (visit,) = visits(trace)

    assert weight_of(trace, visit, ()) is None
