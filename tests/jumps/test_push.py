import numpy as np
import pytest

from saltus.athlete.pushoff_terms import Start
from saltus.jumps.analyse import analyse
from saltus.jumps.jump import JumpKind, Trust
from saltus.jumps.push import ONSET_BACK_S
from saltus.quantities import STANDARD_GRAVITY as G


@pytest.fixture
def jump(plate):
    truth = plate.sines(before=1.6)
    (found,) = analyse(plate.recording(truth.force)).jumps
    return truth, found


def test_measures_of_a_countermovement_jump_are_those_it_was_made_of(jump, plate):
    truth, found = jump
    expected = {
        "body_weight": plate.weight,
        "flight_time": truth.flight_time,
        "height_flight": truth.height,
        "height_impulse": truth.height,
        "height_difference": 0.0,
        "take_off_velocity": truth.take_off_velocity,
        "braking_time": truth.lowest - truth.fastest,
        "propulsion_time": truth.take_off - truth.lowest,
        "peak_sinking_velocity": -1.1,
        "depth": truth.depth,
        "impulse_unweighting": -plate.mass * 1.1,
        "impulse_braking": plate.mass * 1.1,
        "impulse_propulsion": plate.mass * truth.take_off_velocity,
    }

    assert found.kind is JumpKind.CMJ
    assert found.trust is Trust.SOUND
    for name, value in expected.items():
        measure = found.measures[name]
        assert measure.value == pytest.approx(value, abs=3 * measure.se), name
        assert 0 < measure.se < 0.02 * max(abs(value), 0.1), name


def test_events_are_where_they_were_made(jump):
    truth, found = jump

    assert found.take_off_s == pytest.approx(truth.take_off, abs=0.001)
    assert found.landing_s == pytest.approx(truth.landing, abs=0.001)
    # The rule steps 30 ms back from where the force has left body weight by 5 SD.
    assert truth.onset - ONSET_BACK_S < found.onset_s < truth.onset + 0.01


@pytest.mark.parametrize("drift", [-4.0, 4.0, 8.0])
def test_a_plate_that_drifts_while_somebody_jumps_does_not_hide_the_onset(plate, drift):
    """The stand after the jump weighs 1 % more or less: the start is told by the stand before."""
    truth = plate.sines(before=1.6, after=2.5)
    loaded = np.where(truth.force == 0, 0.0, 1.0)
    later = drift * np.clip((np.arange(truth.force.size) / plate.rate - 1.6) / 1.5, 0, 1)
    (found,) = analyse(plate.recording(truth.force + later * loaded, noise=0.5)).jumps

    assert found.onset_s == pytest.approx(truth.onset - ONSET_BACK_S, abs=0.003)
    assert "time_to_take_off" in found.measures


def test_where_a_movement_starts_like_a_switch_the_onset_is_just_under_its_step_early(plate):
    """docs/jumps.md says 28.7 ms: the 30 ms of the published rule, less what it takes to see it."""
    early = []
    for seed in range(8):
        plate.rng = np.random.default_rng(seed)
        made = plate.model(Start.COUNTERMOVEMENT, quiet_before_s=1.6, after_s=2.0)
        (found,) = analyse(plate.recording(made.force_n)).jumps
        early.append(made.start_s - found.onset_s)

    assert np.mean(early) == pytest.approx(0.0287, abs=0.0015)
    assert found.measures["time_to_take_off"].se == pytest.approx(0.0173, abs=0.001)


def test_phases_follow_each_other_without_gaps(jump):
    truth, found = jump
    names = ["weighing", "unweighting", "braking", "propulsion", "flight", "landing"]

    assert [phase.name for phase in found.phases] == names
    for phase, following in zip(found.phases, found.phases[1:], strict=False):
        assert phase.end_s == following.start_s
    at = {phase.name: phase for phase in found.phases}
    assert at["braking"].start_s == pytest.approx(truth.fastest, abs=0.003)
    assert at["propulsion"].start_s == pytest.approx(truth.lowest, abs=0.003)


def test_ratios_are_made_of_their_parts(jump, plate):
    _, found = jump
    m = {name: measure.value for name, measure in found.measures.items()}
    mass = m["body_weight"] / G

    assert m["rsi_mod"] == pytest.approx(m["height_impulse"] / m["time_to_take_off"])
    assert m["flight_time_to_contraction_time"] == pytest.approx(
        m["flight_time"] / m["time_to_take_off"]
    )
    assert m["peak_power_relative"] == pytest.approx(m["peak_power"] / mass)
    assert m["peak_force_relative"] == pytest.approx(m["peak_force"] / m["body_weight"])
    assert m["mean_force_propulsion"] == pytest.approx(
        m["body_weight"] + m["impulse_propulsion"] / m["propulsion_time"], rel=1e-3
    )


def test_mean_power_is_work_over_time(jump, plate):
    """Work is what the body gained in height and in speed."""
    _, found = jump
    m = {name: measure.value for name, measure in found.measures.items()}
    mass = m["body_weight"] / G
    work = mass * (m["take_off_velocity"] ** 2 / 2 + G * m["push_off_distance"])

    assert m["mean_power"] == pytest.approx(work / m["propulsion_time"], rel=1e-3)
    assert m["peak_power"] > m["mean_power"]


def test_a_lower_landing_lengthens_the_flight_and_not_the_impulse_height(plate):
    """v^2/2g stays, g t^2/8 grows."""
    truth = plate.sines(lower=0.03)
    (found,) = analyse(plate.recording(truth.force)).jumps
    difference = found.measures["height_difference"]

    assert found.height_impulse_m == pytest.approx(truth.height, abs=0.003)
    assert difference.value == pytest.approx(
        G * truth.flight_time**2 / 8 - truth.height, abs=3 * difference.se
    )
    assert difference.value > 0.01


def test_rate_of_force_development_in_stated_windows(plate):
    """From the fastest sinking the force rises as a half-sine that is known."""
    truth = plate.sines()
    (found,) = analyse(plate.recording(truth.force)).jumps
    top = plate.mass * (2.5 + 1.1 + G * 0.02) * np.pi / (2 * 0.42)

    for window in (50, 100, 150):
        expected = top * np.sin(np.pi * window / 1000 / 0.42) / (window / 1000)
        assert found.value(f"rfd_0_{window}ms") == pytest.approx(expected, rel=0.05)


@pytest.mark.parametrize("rate", [200.0, 600.0, 1000.0, 2000.0])
def test_any_sampling_rate(plate_at, rate):
    plate = plate_at(rate)
    truth = plate.sines()
    (found,) = analyse(plate.recording(truth.force)).jumps

    for name in ("height_flight", "height_impulse", "depth", "propulsion_time"):
        measure = found.measures[name]
        expected = {
            "height_flight": truth.height,
            "height_impulse": truth.height,
            "depth": truth.depth,
            "propulsion_time": truth.take_off - truth.lowest,
        }[name]
        assert measure.value == pytest.approx(expected, abs=3.5 * measure.se), name


def test_a_squat_jump_has_no_braking_and_starts_from_its_hold(plate):
    (found,) = analyse(plate.recording(plate.squat())).jumps

    assert found.kind is JumpKind.SJ
    assert found.trust is Trust.SOUND
    assert [phase.name for phase in found.phases] == ["weighing", "propulsion", "flight", "landing"]
    assert found.measures["take_off_velocity"].value == pytest.approx(2.3, abs=0.01)
    assert found.measures["dip"].value < 0.003
    assert "braking_time" not in found.measures
    # Made to start 3.9 s in and to last 0.44 s.
    assert found.onset_s == pytest.approx(3.9 - ONSET_BACK_S / 2, abs=0.02)
    assert found.value("time_to_take_off") == pytest.approx(0.44, abs=0.03)


@pytest.mark.parametrize("sink", [0.04, 0.06, 0.08])
def test_a_squat_jump_that_dips_is_told_by_how_much(plate, sink):
    force = plate.squat(sink)
    made = np.cumsum(np.cumsum(force[3700:4400] / plate.mass - G)) / plate.rate**2
    (found,) = analyse(plate.recording(force)).jumps
    dip = found.measures["dip"]

    assert found.kind is JumpKind.SJ
    assert found.trust is Trust.DOUBTFUL
    assert any(f"began with a dip of {dip.value * 100:.0f} cm" in r for r in found.reasons)
    assert dip.value == pytest.approx(-made.min(), abs=0.001)
    assert dip.value > 0.02
