import datetime as dt

import numpy as np
import pytest

from saltus.athlete.observations import DropJump, IsometricPull, Jump, JumpMethod, JumpStyle
from saltus.athlete.prediction import Predictor, jump_height_m
from saltus.athlete.prior import Constant
from saltus.athlete.pushoff import Start
from saltus.athlete.readings import readings_of

DAY, LATER = dt.date(2026, 3, 2), dt.date(2026, 11, 1)
# The design's worked example as log-qualities per kg.
STATE = np.log(np.array([900 / 78, 18.0, 6000 / 78, 0.1, 0.42]))
SEGMENT = np.array([0.505])


def predict(person, tests, constants=None):
    readings = readings_of(tests, person)
    predictor = Predictor(readings, (DAY, LATER), person)
    states = np.broadcast_to(STATE, (1, len(readings), 5))
    constants = np.zeros((1, len(Constant))) if constants is None else constants
    return predictor.finish(predictor.raw(states, SEGMENT), constants)[0], readings


def test_the_design_figures_come_through():
    """Design: SJ 29.95 cm, CMJ 33.15 cm, DJ from 0.30 m 17.69 cm."""
    heights = [
        jump_height_m(start, STATE[None], SEGMENT, 78.0, drop_m=0.30)[0]
        for start in (Start.SQUAT, Start.COUNTERMOVEMENT, Start.DROP)
    ]

    assert heights == pytest.approx([0.2995, 0.3315, 0.1769], abs=1e-4)


def test_a_method_is_read_with_its_bias_and_the_arms(person):
    test = Jump(
        date=DAY,
        style=JumpStyle.COUNTERMOVEMENT,
        method=JumpMethod.REACH,
        heights_m=(0.5,),
        arms=True,
    )
    constants = np.zeros((1, len(Constant)))
    constants[0, Constant.ARMS] = np.log(1.2)
    constants[0, Constant.BIAS_REACH] = 0.01

    predicted, (reading,) = predict(person, [test], constants)

    assert predicted == pytest.approx([0.3315 * 1.2 + reading.shift + 0.01], abs=2e-4)


def test_contact_time_goes_with_its_own_drop(person):
    tests = [
        DropJump(date=day, drop_m=drop, heights_m=(0.2,), contacts_s=(0.2,), true_drop=True)
        for day, drop in ((DAY, 0.60), (DAY, 0.15), (LATER, 0.15))
    ]

    predicted, readings = predict(person, tests)

    contacts = [p for p, r in zip(predicted, readings, strict=True) if r.is_log]
    # Design: contacts of 0.355 and 0.143 s from 0.60 and 0.15 m.
    assert np.exp(contacts) == pytest.approx([0.355, 0.143, 0.143], abs=1e-3)


def test_a_pull_is_compared_by_its_logarithm(person):
    pull = IsometricPull(date=DAY, peak_n=2500.0, force_at_n={150: 1800.0})

    predicted, _ = predict(person, [pull])

    assert np.exp(predicted[1]) < np.exp(predicted[0])
    assert 25 * 78 < np.exp(predicted[0]) < 45 * 78


def test_a_load_that_cannot_be_stood_up_with_is_no_jump():
    height = jump_height_m(Start.SQUAT, STATE[None], SEGMENT, 78.0, load_kg=400.0)

    assert height[0] < 1e-3
