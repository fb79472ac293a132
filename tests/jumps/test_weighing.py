import numpy as np
import pytest
from scipy.ndimage import gaussian_filter1d

from saltus.jumps.flight import visits
from saltus.jumps.plate import prepare
from saltus.jumps.weighing import rest_line, short_stand, stands, weigh


def stands_in(trace):
    (visit,) = visits(trace)
    return stands(trace, visit)


def test_still_stands_are_found_and_movements_left_out(plate):
    trace = prepare(
        plate.recording(plate.still(1.5), plate.bend(0.3, 1.0), plate.still(2), plate.bend(0.3, 1))
    )
    first, second = stands_in(trace)

    assert 0 <= first.first < first.last <= 1500
    assert 2500 <= second.first < second.last <= 4500
    assert first.length > 1200
    assert second.length > 1700


def test_a_pull_held_steady_is_not_body_weight(plate):
    held = plate.still(4) + 900.0
    trace = prepare(plate.recording(plate.still(1.5), held, plate.still(0.7)))

    assert all(s.force_n == pytest.approx(plate.weight, rel=0.01) for s in stands_in(trace))


def test_leaning_on_a_rail_is_not_body_weight(plate):
    lean = plate.still(0.8) * 0.9
    trace = prepare(plate.recording(plate.still(2), plate.cmj(), lean, plate.still(2)))

    assert all(s.force_n == pytest.approx(plate.weight, rel=0.01) for s in stands_in(trace))


def test_the_standard_error_of_weight_is_that_of_replicates(plate):
    values, errors = [], []
    for _ in range(200):
        trace = prepare(plate.recording(plate.still(1.2), noise=4.0))
        line = weigh(trace, stands_in(trace))
        values.append(line.weight_n - plate.weight)
        errors.append(line.weight_se_n)
    ratio = np.std(np.array(values) / np.array(errors))

    assert 0.7 < ratio < 1.4
    assert abs(np.mean(values)) < 4 * np.mean(errors) / np.sqrt(200)


def test_sway_widens_the_standard_error_as_much_as_the_scatter(plate):
    def swaying(seconds):
        n = plate.time(seconds).size
        w = gaussian_filter1d(plate.rng.standard_normal(n + 2000), 120)[1000:-1000]
        return plate.weight + plate.mass * np.gradient(w * 0.005 / w.std()) * plate.rate

    values, errors = [], []
    for _ in range(200):
        trace = prepare(plate.recording(swaying(1.5), noise=1.0))
        line = weigh(trace, stands_in(trace))
        values.append(line.weight_n - plate.weight)
        errors.append(line.weight_se_n)

    assert 0.6 < np.std(np.array(values) / np.array(errors)) < 1.5


def test_between_two_stands_the_net_impulse_is_zero(plate):
    """Stands of half a second weigh badly alone and well together."""
    trace = prepare(plate.recording(plate.still(0.5), plate.bend(0.3, 1.0), plate.still(0.5)))
    both = stands_in(trace)

    alone = rest_line(trace, both[:1], 1000.0)
    together = rest_line(trace, both, 1000.0)

    assert len(both) == 2
    assert together.weight_se_n < 0.2 * alone.weight_se_n
    assert together.weight_n == pytest.approx(plate.weight, abs=4 * together.weight_se_n)


def test_momentum_is_had_from_the_stand_before_and_from_the_stand_after(plate):
    truth = plate.sines()
    trace = prepare(plate.recording(truth.force))
    before, after = stands_in(trace)
    at = truth.take_off * plate.rate

    for around in ([before], [after], [before, after]):
        line = rest_line(trace, around, at)
        assert line.velocity_m_s == pytest.approx(
            truth.take_off_velocity, abs=4 * line.velocity_se_m_s + 0.004
        )


def test_a_landing_that_still_settles_has_a_wide_error(plate):
    """Cut 0.9 s after a landing that settles with 7/s, the stand is not one yet."""
    jump = plate.cmj(after_s=0.9)
    trace = prepare(plate.recording(jump[2200:]))
    found = stands_in(trace)

    for stand in found:
        line = rest_line(trace, [stand], 100.0)
        assert abs(line.weight_n - plate.weight) < 3 * line.weight_se_n


def test_a_short_stand_weighs_badly_and_says_so(plate):
    truth = plate.sines(before=0.2)
    trace = prepare(plate.recording(truth.force[:1400]))
    stand = short_stand(trace, 0, 900)
    line = rest_line(trace, [stand], truth.take_off * plate.rate)

    assert stand.short
    assert 0.1 <= stand.seconds <= 0.25
    assert line.weight_n == pytest.approx(plate.weight, abs=3 * line.weight_se_n)
    assert line.weight_se_n > 2.0
    assert short_stand(prepare(plate.recording(plate.bend(0.3, 1.0))), 0, 900) is None


def test_a_bouncing_bar_is_weighed_with_the_error_it_deserves(plate):
    values, errors = [], []
    for i in range(60):
        t = plate.time(2.0)
        bounce = 0.035 * plate.weight * np.sin(2 * np.pi * 3.1 * t + i)
        trace = prepare(plate.recording(plate.still(2.0) + bounce))
        line = weigh(trace, stands_in(trace))
        values.append(line.weight_n - plate.weight)
        errors.append(line.weight_se_n)

    assert np.mean(errors) > 0.5
    assert np.sqrt(np.mean(np.square(values))) < 2 * np.mean(errors)
