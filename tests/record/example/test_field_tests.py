"""What an invented coach reads off lies about the truth, by the published errors."""

import datetime as dt

import numpy as np
import pytest

from saltus.athlete.history import TrainingBlock
from saltus.athlete.measurement_error import METHODS
from saltus.athlete.observations import (
    BarSpeedSet,
    DropJump,
    IsometricPull,
    Jump,
    JumpMethod,
    JumpStyle,
    Lift,
    Maximum,
    RepSet,
)
from saltus.athlete.person import BodyMass, Person
from saltus.athlete.pushoff import Start
from saltus.athlete.qualities import Quality
from saltus.athlete.strength import maximum_from_reps
from saltus.record.example.field_tests import Coach
from saltus.record.example.truth import Athlete, Truth

DAY = dt.date(2026, 1, 10)
LATER = dt.date(2026, 4, 10)
TRUTH = Truth(
    torque_nm_kg=11.5, speed_rad_s=17.5, rfd_nm_s_kg=75.0, stretch_gain=0.1, distance_m=0.41
)
PERSON = Person("nobody", (BodyMass(DAY, 78.0),), stature_m=1.80, training_age_years=3)


def athlete(*blocks):
    return Athlete(TRUTH, PERSON, blocks, DAY)


def readings(test, draws=400):
    """Readings by as many coaches, each with biases of their own."""
    who = athlete()
    return [
        Coach(who, np.random.default_rng([1, i])).reading(test, np.random.default_rng([2, i]))
        for i in range(draws)
    ]


@pytest.mark.parametrize("method", JumpMethod)
def test_heights_lie_about_the_truth_with_the_bias_of_the_method(method):
    test = Jump(date=DAY, style=JumpStyle.COUNTERMOVEMENT, method=method, heights_m=(0.4,) * 3)
    truth = float(athlete().push(Start.COUNTERMOVEMENT, DAY).height_m[0])

    means = np.array([np.mean(r.heights_m) for r in readings(test)])

    # 400 coaches: the mean is known to a twentieth of their spread; four of those.
    published = METHODS[method]
    assert means.mean() == pytest.approx(truth + published.bias_m, abs=4 * means.std() / 20)
    assert means.std() > published.bias_sd_m


def test_a_coach_keeps_their_bias_from_test_to_test():
    test = Jump(date=DAY, style=JumpStyle.SQUAT, method=JumpMethod.REACH, heights_m=(0.4,) * 30)
    coach = Coach(athlete(), np.random.default_rng(5))
    days = [np.mean(coach.reading(test, np.random.default_rng(i)).heights_m) for i in range(60)]

    # What stays is the bias (3 cm between coaches); what varies is the form of the day (3 %).
    assert np.std(days) < 0.013


def test_arms_and_run_up_add_their_share():
    def mean(style, arms):
        test = Jump(
            date=DAY, style=style, method=JumpMethod.PLATE_IMPULSE, heights_m=(0.4,) * 3, arms=arms
        )
        return np.mean([np.mean(r.heights_m) for r in readings(test, 100)])

    still = mean(JumpStyle.COUNTERMOVEMENT, False)

    assert mean(JumpStyle.COUNTERMOVEMENT, True) / still == pytest.approx(TRUTH.arms, rel=0.02)
    assert mean(JumpStyle.APPROACH, True) / still == pytest.approx(
        TRUTH.arms * TRUTH.approach, rel=0.02
    )


def test_a_set_and_a_maximum_tell_the_same_strength():
    common = {"date": DAY, "lift": Lift.BACK_SQUAT, "load_kg": 60.0}
    maxima = [r.load_kg for r in readings(Maximum(**common), 200)]
    sets = [maximum_from_reps(r)[0] for r in readings(RepSet(**common, reps=5, reserve=2), 200)]

    truth = athlete().squat_kg(DAY)
    assert np.mean(maxima) == pytest.approx(truth, rel=0.01)
    assert np.mean(sets) == pytest.approx(truth, rel=0.01)


def test_the_bar_is_slower_under_heavier_loads():
    test = BarSpeedSet(
        date=DAY, lift=Lift.BACK_SQUAT, loads_kg=(60, 80, 100), speeds_m_s=(0.9, 0.7, 0.5)
    )

    speeds = np.mean([r.speeds_m_s for r in readings(test, 50)], axis=0)

    assert np.all(np.diff(speeds) < -0.1)


def test_drop_jumps_have_the_contact_of_the_model():
    test = DropJump(date=DAY, drop_m=0.3, heights_m=(0.2,) * 3, contacts_s=(0.2,) * 3)
    push = athlete().push(Start.DROP, DAY, drop_m=0.27)  # 10 % less than the box (published)

    contacts = [np.mean(r.contacts_s) for r in readings(test, 200)]

    assert np.mean(contacts) == pytest.approx(float(push.contact_s[0]), rel=0.02)


def test_early_forces_of_a_pull_rise_to_its_peak():
    test = IsometricPull(date=DAY, peak_n=2500, force_at_n={150: 1500})
    pulls = readings(test, 100)

    for pull in pulls:
        assert max(pull.force_at_n.values()) < pull.peak_n
    means = np.mean([list(p.force_at_n.values()) for p in pulls], axis=0)
    assert np.all(np.diff(means) > 0)


def test_training_done_changes_the_truth():
    block = TrainingBlock(DAY, LATER, {Quality.MAX_STRENGTH: 1.0})

    idle, trained = athlete(), athlete(block)

    assert trained.squat_kg(DAY) == idle.squat_kg(LATER)
    # Two ordinary blocks at about 1.6 x body mass: 5 % each, and what the bar feels is more
    # than the leg gains, as the body's own weight is carried too.
    assert 1.08 < trained.squat_kg(LATER) / idle.squat_kg(LATER) < 1.25
