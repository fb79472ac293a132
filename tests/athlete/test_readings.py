import datetime as dt
from dataclasses import replace

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
from saltus.athlete.prior import Constant
from saltus.athlete.readings import ReadingKind, readings_of

DAY = dt.date(2026, 11, 1)


def jump(**changes):
    made = Jump(
        date=DAY,
        style=JumpStyle.COUNTERMOVEMENT,
        method=JumpMethod.MAT,
        heights_m=(0.4, 0.42),
        label="test[1]",
    )
    return replace(made, **changes)


@pytest.mark.parametrize(
    ("changes", "constants"),
    [
        ({}, set()),
        ({"arms": True}, {Constant.ARMS}),
        ({"style": JumpStyle.APPROACH}, {Constant.ARMS, Constant.APPROACH}),
        ({"style": JumpStyle.SQUAT}, {Constant.SQUAT_START}),
    ],
)
def test_what_multiplies_a_jump(person, changes, constants):
    (reading,) = readings_of([jump(**changes)], person)

    assert set(reading.log_terms) == constants
    assert reading.add_terms == (Constant.BIAS_MAT,)
    assert reading.value == pytest.approx(0.41)


def test_a_drop_jump_gives_height_and_contact_at_the_true_drop(person):
    test = DropJump(date=DAY, drop_m=0.30, heights_m=(0.3,), contacts_s=(0.2,))

    height, contact = readings_of([test], person)

    assert (height.kind, contact.kind) == (ReadingKind.REBOUND_HEIGHT, ReadingKind.REBOUND_CONTACT)
    assert height.drop_m < 0.30  # people bend before they leave the box
    assert contact.is_log
    assert contact.value == 0.2


def test_a_drop_jump_without_contact_times_gives_its_height_alone(person):
    assert len(readings_of([DropJump(date=DAY, drop_m=0.3, heights_m=(0.3,))], person)) == 1


def test_the_early_force_nearest_to_150_ms_is_read(person):
    pull = IsometricPull(date=DAY, peak_n=2500.0, force_at_n={50: 900.0, 100: 1300.0, 200: 1800.0})

    peak, early = readings_of([pull], person)

    assert peak.value == 2500.0
    assert (early.value, early.after_s) == (1300.0, 0.1)


@pytest.mark.parametrize(
    "test",
    [
        Maximum(date=DAY, lift=Lift.BACK_SQUAT, load_kg=140.0),
        Maximum(date=DAY, lift=Lift.FRONT_SQUAT, load_kg=115.0),
        RepSet(date=DAY, lift=Lift.BACK_SQUAT, load_kg=120.0, reps=5),
        BarSpeedSet(
            date=DAY,
            lift=Lift.BACK_SQUAT,
            loads_kg=(60.0, 80.0, 100.0),
            speeds_m_s=(0.95, 0.75, 0.55),
        ),
        BroadJump(date=DAY, distances_m=(2.2, 2.3)),
    ],
)
def test_every_test_of_the_push_gives_one_reading(person, test):
    assert len(readings_of([test], person)) == 1


def test_a_front_squat_says_less_of_the_squat_than_a_back_squat(person):
    back, front = readings_of(
        [
            Maximum(date=DAY, lift=Lift.BACK_SQUAT, load_kg=140.0),
            Maximum(date=DAY, lift=Lift.FRONT_SQUAT, load_kg=115.0),
        ],
        person,
    )

    assert front.sd > back.sd
    assert front.shift < 0 == back.shift


def test_a_clean_says_nothing_of_the_push_off(person):
    assert not readings_of([Maximum(date=DAY, lift=Lift.POWER_CLEAN, load_kg=80.0)], person)


def test_readings_come_in_order_of_date_and_name_their_test(person):
    earlier = jump(date=dt.date(2026, 1, 5))

    readings = readings_of([jump(), earlier], person)

    assert [r.date for r in readings] == [earlier.date, DAY]
    assert readings[0].source == "countermovement jump of 2026-01-05 (test[1])"
