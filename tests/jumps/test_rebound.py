import numpy as np
import pytest

from saltus.athlete.pushoff_terms import Start
from saltus.jumps.analyse import analyse
from saltus.jumps.jump import JumpKind, Trust
from saltus.quantities import STANDARD_GRAVITY as G


@pytest.mark.parametrize("drop", [0.15, 0.3, 0.45])
def test_a_drop_jump_gives_contact_and_true_drop_height(plate, drop):
    made = plate.model(Start.DROP, drop_m=drop)
    (found,) = analyse(plate.recording(made.force_n)).jumps

    assert found.kind is JumpKind.DJ
    assert found.trust is Trust.SOUND
    assert found.onset_s == pytest.approx(made.start_s, abs=0.001)
    assert found.measures["contact_time"].value == pytest.approx(
        made.take_off_s - made.start_s, abs=0.002
    )
    for name, value in {
        "drop_height": drop,
        "touch_down_velocity": -np.sqrt(2 * G * drop),
        "height_flight": made.height_m,
        "height_impulse": made.height_m,
    }.items():
        measure = found.measures[name]
        assert measure.value == pytest.approx(value, abs=3.5 * measure.se), name
        assert measure.se < 0.05 * abs(value), name
    assert [p.name for p in found.phases] == ["braking", "propulsion", "flight", "landing"]
    assert found.phases[1].start_s == pytest.approx(made.turn_s, abs=0.004)


def test_the_two_strength_indices_are_kept_apart(plate):
    (found,) = analyse(plate.recording(plate.dj())).jumps
    m = {name: measure.value for name, measure in found.measures.items()}

    assert m["rsi"] == pytest.approx(m["height_flight"] / m["contact_time"])
    assert m["rsi_flight_to_contact"] == pytest.approx(m["flight_time"] / m["contact_time"])


def test_stiffness_of_a_spring_is_found(plate):
    """A body on a linear spring: the contact is part of a sine whose stiffness is known."""
    stiffness, v = 20_000.0, 2.0
    omega = np.sqrt(stiffness / plate.mass)
    rest = plate.mass * G / stiffness
    # y = -rest + A sin(omega t + phase) about the equilibrium, 0 at touch-down with -v.
    amplitude = np.hypot(rest, v / omega)
    phase = np.arctan2(rest, -v / omega)
    t = plate.time(0.6)
    y = -rest + amplitude * np.sin(omega * t + phase)
    contact = stiffness * -y[: int(np.flatnonzero((y > 0) & (t > 0.05))[0])]
    t = plate.time(0.3)
    stop = plate.mass * (G + v * np.pi / 0.6 * np.sin(np.pi * t / 0.3))
    recording = plate.recording(
        plate.empty(1), contact, plate.empty(2 * v / G), stop, plate.still(2)
    )
    (found,) = analyse(recording).jumps
    measured = found.measures["leg_stiffness"]

    assert found.kind is JumpKind.DJ
    assert measured.value == pytest.approx(stiffness, rel=0.03)
    assert abs(measured.value - stiffness) < 4 * measured.se
    assert found.value("depth") == pytest.approx(rest + amplitude, rel=0.03)


def test_without_a_stand_after_it_the_drop_is_unknown_and_the_contact_is_not(plate):
    recording = plate.recording(plate.dj()[:2900], plate.step_off(), plate.empty(2))
    (found,) = analyse(recording).jumps

    assert found.kind is JumpKind.DJ
    assert found.trust is Trust.DOUBTFUL
    assert found.value("contact_time") == pytest.approx(0.212, abs=0.002)
    assert found.value("rsi") is not None
    assert found.value("drop_height") is None
    assert found.height_impulse_m is None
    assert any("stand still for a second after the landing" in r for r in found.reasons)


def test_a_step_and_a_jump_are_no_drop_and_the_coach_is_told(plate):
    """Touching down at 0.7 m/s is a fall of 2.5 cm."""
    v, rise, n = 0.7, 2.2, 350
    s = plate.time(n / plate.rate) * plate.rate / n
    contact = plate.mass * (G + (v + rise) * np.pi / (2 * n / plate.rate) * np.sin(np.pi * s))
    s = plate.time(0.3) / 0.3
    land = plate.mass * (G + rise * np.pi / 0.6 * np.sin(np.pi * s))
    recording = plate.recording(
        plate.empty(1), contact, plate.empty(2 * rise / G), land, plate.still(2)
    )
    (found,) = analyse(recording).jumps

    assert found.value("drop_height") == pytest.approx(v**2 / (2 * G), abs=0.01)
    assert found.trust is Trust.DOUBTFUL
    assert any("rather than a drop" in reason for reason in found.reasons)
