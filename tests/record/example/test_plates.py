"""Invented recordings look and measure like those of a plate."""

import datetime as dt

import numpy as np
import pytest

from saltus.athlete.person import BodyMass, Person
from saltus.athlete.pushoff import Start
from saltus.jumps.analyse import analyse
from saltus.jumps.jump import JumpKind, Trust
from saltus.quantities import STANDARD_GRAVITY
from saltus.record.entries import RecordedTest
from saltus.record.example.plates import record_test
from saltus.record.example.truth import Athlete, Truth

DAY = dt.date(2026, 1, 10)
ATHLETE = Athlete(
    Truth(
        torque_nm_kg=11.5,
        speed_rad_s=17.5,
        rfd_nm_s_kg=75.0,
        stretch_gain=0.1,
        distance_m=0.41,
        left_share=0.52,
    ),
    Person("nobody", (BodyMass(DAY, 78.0),), stature_m=1.80),
    (),
    DAY,
)
KINDS = {
    "countermovement_jump": (JumpKind.CMJ, Start.COUNTERMOVEMENT),
    "squat_jump": (JumpKind.SJ, Start.SQUAT),
}


def recording(jump, attempts=3, plates=2, **fields):
    test = RecordedTest(date=DAY, file="a.csv", jump=jump, **fields)
    rng = np.random.default_rng(4)
    return record_test(test, ATHLETE, attempts, rng, rate_hz=1000.0, plates=plates)


@pytest.mark.parametrize("jump", KINDS)
@pytest.mark.parametrize("load_kg", [0.0, 20.0])
def test_the_jumps_are_found_sound_and_as_high_as_the_truth(jump, load_kg):
    kind, start = KINDS[jump]
    analysis = analyse(recording(jump, load_kg=load_kg))
    truth = float(ATHLETE.push(start, DAY, load_kg=load_kg).height_m[0])

    assert [(j.kind, j.trust) for j in analysis.jumps] == [(kind, Trust.SOUND)] * 3
    # The form of the day and of three attempts is about 2 % of height; three of those.
    assert np.mean([j.height_impulse_m for j in analysis.jumps]) == pytest.approx(truth, rel=0.06)


def test_drop_jumps_are_found_from_their_true_height():
    jumps = analyse(recording("drop_jump", box_m=0.30)).jumps

    assert [j.kind for j in jumps] == [JumpKind.DJ] * 3
    assert np.mean([j.value("drop_height") for j in jumps]) == pytest.approx(0.27, abs=0.02)


def test_pulls_are_found_with_the_peak_of_the_truth():
    (pull, *_) = analyse(recording("isometric_pull", 2)).jumps

    assert pull.kind is JumpKind.ISOMETRIC
    assert pull.value("isometric_peak_force") == pytest.approx(ATHLETE.pull_n(DAY), rel=0.08)


def test_two_plates_share_the_weight_and_have_noise():
    found = recording("countermovement_jump")
    quiet = slice(0, 1000)

    assert found.left_n[quiet].mean() / found.total_n[quiet].mean() == pytest.approx(
        0.52, abs=0.015
    )
    assert found.total_n[quiet].mean() == pytest.approx(78 * STANDARD_GRAVITY, abs=1)
    assert 0.8 < np.std(np.diff(found.left_n[quiet])) / np.sqrt(2) < 2.0
    assert np.allclose(found.left_n + found.right_n, found.total_n)


def test_one_plate_gives_the_total_alone():
    found = recording("countermovement_jump", plates=1)

    assert found.left_n is None


def test_numbers_come_in_the_steps_of_the_plate():
    force = recording("squat_jump", plates=1).total_n

    assert np.allclose(force * 10, np.round(force * 10), atol=1e-6)
