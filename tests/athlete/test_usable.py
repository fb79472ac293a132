import datetime as dt

import pytest

from saltus.athlete.assess import assess
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
from saltus.athlete.person import BodyMass, Person
from saltus.athlete.usable import usable_tests

DAY = dt.date(2026, 1, 5)
SQUAT = {"date": DAY, "lift": Lift.BACK_SQUAT}
JUMP = {"date": DAY, "style": JumpStyle.COUNTERMOVEMENT, "method": JumpMethod.MAT}

USABLE = [
    Jump(**JUMP, heights_m=(0.35, 0.36)),
    DropJump(date=DAY, drop_m=0.3, heights_m=(0.3,), contacts_s=(0.2,)),
    BroadJump(date=DAY, distances_m=(2.2,)),
    Maximum(**SQUAT, load_kg=120),
    RepSet(**SQUAT, load_kg=100, reps=5),
    BarSpeedSet(**SQUAT, loads_kg=(60, 80, 100), speeds_m_s=(0.95, 0.8, 0.62)),
    IsometricPull(date=DAY, peak_n=2500, force_at_n={100: 1500}),
]
UNUSABLE = [
    Jump(**JUMP, heights_m=()),
    DropJump(date=DAY, drop_m=0.3, heights_m=(0.3,), contacts_s=(0.2, 0.2)),
    BroadJump(date=DAY, distances_m=(210.0,)),
    Maximum(**SQUAT, load_kg=0),
    RepSet(**SQUAT, load_kg=60, reps=15),
    BarSpeedSet(**SQUAT, loads_kg=(60, 80), speeds_m_s=(0.8, 0.95)),
    IsometricPull(date=DAY, peak_n=2500, force_at_n={5: 900}),
]


@pytest.mark.parametrize("test", USABLE, ids=lambda t: type(t).__name__)
def test_a_good_test_of_any_kind_is_kept(test):
    assert usable_tests([test]) == ((test,), ())


@pytest.mark.parametrize("test", UNUSABLE, ids=lambda t: type(t).__name__)
def test_a_bad_test_of_any_kind_is_left_out_with_its_day(test):
    usable, (why,) = usable_tests([test])
    assert usable == ()
    assert why.startswith("Left out: 2026-01-05: ")


def test_the_order_of_the_others_stays():
    mixed = [test for pair in zip(USABLE, UNUSABLE, strict=True) for test in pair]
    usable, left_out = usable_tests(mixed)
    assert list(usable) == USABLE
    assert len(left_out) == len(UNUSABLE)


def test_an_assessment_survives_a_set_that_is_too_long_and_names_it():
    person = Person("Example", (BodyMass(DAY, 75.0),))
    jump = Jump(**JUMP, heights_m=(0.35, 0.36))
    with_it = assess(person, [jump, RepSet(**SQUAT, load_kg=60, reps=15)])
    without = assess(person, [jump])
    assert with_it.jump_m == without.jump_m
    said = [c for c in with_it.cautions if c.startswith("Left out:")]
    assert len(said) == 1
    assert "15 repetitions are too many" in said[0]
