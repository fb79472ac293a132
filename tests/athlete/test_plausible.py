"""A slip of the pen is found; what an athlete really does is seldom asked about."""

import datetime as dt
from dataclasses import replace

import numpy as np
import pytest

from saltus.athlete.observations import (
    BarSpeedSet,
    BroadJump,
    DropJump,
    IsometricPull,
    Jump,
    JumpMethod,
    JumpStyle,
    Lift,
    Maximum,
    RepSet,
)
from saltus.athlete.person import BodyMass, Person, Sex
from saltus.athlete.plausible import (
    PROBABILITY,
    Knowledge,
    expectations,
    is_strange_mass,
    is_strange_reach,
    knowledge_before,
    last_mass_kg,
)
from saltus.athlete.posterior import Problem, fit
from saltus.athlete.prediction import Predictor
from saltus.athlete.readings import readings_of

DAY = dt.date(2026, 11, 1)
ADA = Person(
    name="Ada",
    body_masses=(BodyMass(dt.date(2026, 1, 1), 70.0),),
    sex=Sex.FEMALE,
    stature_m=1.78,
    training_age_years=4,
)


def cmj(*heights, date=DAY, method=JumpMethod.MAT, **more):
    return Jump(
        date=date, style=JumpStyle.COUNTERMOVEMENT, method=method, heights_m=heights, **more
    )


@pytest.fixture(scope="module")
def unknown():
    return knowledge_before(ADA, DAY)


@pytest.fixture(scope="module")
def tested():
    earlier = DAY - dt.timedelta(days=7)
    observations = [
        cmj(0.33, 0.34, 0.335, date=earlier),
        Maximum(date=earlier, lift=Lift.BACK_SQUAT, load_kg=95),
    ]
    posterior = fit(Problem(ADA, observations, (), earlier), draws=800)
    index = posterior.resampled(400)
    return Knowledge(posterior.now[index], posterior.constants[index], earlier)


def test_what_was_jumped_last_week_is_expected(tested):
    (found,) = expectations(ADA, tested, cmj(0.34))

    assert found.excess == 0
    assert found.low < 0.34 < found.high
    assert found.unit == "m"


def test_inches_taken_for_centimetres_stand_out(tested):
    (found,) = expectations(ADA, tested, cmj(0.13))

    assert found.excess < -0.05


def test_every_attempt_is_looked_at(tested):
    found = expectations(ADA, tested, cmj(0.33, 0.53, 0.34))

    assert [e.attempt for e in found if e.excess] == [2]
    assert found[1].excess == pytest.approx(0.53 - found[1].high)


def test_a_slip_does_not_widen_its_own_interval(tested):
    (slip,) = expectations(ADA, tested, cmj(0.93))
    (usual,) = expectations(ADA, tested, cmj(0.34))

    assert (slip.low, slip.high) == (usual.low, usual.high)


def test_tests_narrow_what_is_expected(tested, unknown):
    (before,) = expectations(ADA, unknown, cmj(0.34))
    (after,) = expectations(ADA, tested, cmj(0.34))

    assert after.high - after.low < 0.7 * (before.high - before.low)


def test_tests_of_the_day_itself_say_nothing_of_what_was_expected():
    earlier = cmj(0.34, date=DAY - dt.timedelta(days=7))
    before = knowledge_before(ADA, DAY, [earlier])
    same = knowledge_before(ADA, DAY, [earlier, cmj(0.60)])

    assert np.array_equal(before.states, same.states)


def test_time_widens_what_is_expected(tested):
    (soon,) = expectations(ADA, tested, cmj(0.34))
    (late,) = expectations(ADA, tested, cmj(0.34, date=DAY + dt.timedelta(days=365)))

    assert late.high - late.low > 1.1 * (soon.high - soon.low)


def test_a_method_not_used_yet_brings_its_own_bias(tested):
    (mat,) = expectations(ADA, tested, cmj(0.34))
    (reach,) = expectations(ADA, tested, cmj(0.34, method=JumpMethod.REACH))

    assert reach.middle - mat.middle == pytest.approx(0.08, abs=0.03)  # 9 cm less 1.2 cm
    assert reach.high - reach.low > mat.high - mat.low


@pytest.mark.parametrize(
    ("test", "unit"),
    [
        (RepSet(date=DAY, lift=Lift.BACK_SQUAT, load_kg=80, reps=5), "kg"),
        (Maximum(date=DAY, lift=Lift.POWER_CLEAN, load_kg=60), "kg"),
        (
            BarSpeedSet(
                date=DAY, lift=Lift.BACK_SQUAT, loads_kg=(40, 60, 80), speeds_m_s=(1.0, 0.78, 0.52)
            ),
            "kg",
        ),
        (BroadJump(date=DAY, distances_m=(2.1,)), "m"),
    ],
)
def test_each_kind_has_an_interval_around_an_ordinary_result(tested, test, unit):
    (found,) = expectations(ADA, tested, test)

    assert found.excess == 0
    assert found.unit == unit


def test_a_maximum_with_a_zero_too_many_is_asked_about(tested):
    (found,) = expectations(ADA, tested, Maximum(date=DAY, lift=Lift.BACK_SQUAT, load_kg=195))

    assert found.excess > 30


def test_a_broad_jump_is_told_as_a_distance(tested):
    (found,) = expectations(ADA, tested, BroadJump(date=DAY, distances_m=(3.6,)))

    assert found.value == 3.6
    assert 1.2 < found.low < 2.2 < found.high < 3.4


def test_a_drop_jump_has_height_and_contact(tested):
    test = DropJump(date=DAY, drop_m=0.3, heights_m=(0.25, 0.26), contacts_s=(0.2, 0.9))
    found = expectations(ADA, tested, test)

    assert [(e.attempt, e.unit) for e in found] == [(1, "m"), (1, "s"), (2, "m"), (2, "s")]
    assert found[3].excess > 0.1
    assert found[1].excess == 0


def test_each_early_force_of_a_pull_is_looked_at(tested):
    pull = IsometricPull(date=DAY, peak_n=2200, force_at_n={100: 1300, 200: 1700})
    found = expectations(ADA, tested, pull)

    assert [e.value for e in found] == [2200, 1300, 1700]
    (far,) = [e for e in expectations(ADA, tested, replace(pull, peak_n=9800)) if e.excess]
    assert far.value == 9800


def test_the_interval_covers_new_results_as_often_as_it_says(unknown):
    """Results of people drawn from the same prior with another seed, with fresh errors."""
    (found,) = expectations(ADA, unknown, cmj(0.30))
    people = fit(Problem(ADA, (), (), DAY), draws=6000, seed=7)
    (reading,) = readings_of([cmj(found.middle)], ADA)
    predictor = Predictor([reading], [DAY], ADA)
    raw = predictor.raw(people.states[:, -1:], people.segment_m)
    rng = np.random.default_rng(5)
    results = predictor.finish(raw, people.constants)[:, 0]
    results += rng.normal(0, reading.sd, results.size) + rng.normal(
        0, reading.bias_sd, results.size
    )

    outside = np.mean((results < found.low) | (results > found.high))
    assert 0.002 < outside < 0.025  # 1 - PROBABILITY is 0.01; the draws are 400
    assert PROBABILITY == 0.99


def test_pounds_taken_for_kilograms_are_strange():
    assert is_strange_mass(154.0, 70.0)
    assert not is_strange_mass(72.5, 70.0)
    assert is_strange_reach(2.40, 2.32)
    assert not is_strange_reach(2.34, 2.32)


def test_the_weighing_to_compare_with_is_the_nearest_other_one():
    masses = (BodyMass(dt.date(2026, 1, 1), 70.0), BodyMass(DAY, 90.0))
    person = replace(ADA, body_masses=masses)

    assert last_mass_kg(person, DAY) == 70.0
    assert last_mass_kg(replace(ADA, body_masses=masses[1:]), DAY) is None
