import datetime as dt
from dataclasses import replace

import numpy as np
import pytest

from saltus.athlete.history import TrainingBlock
from saltus.athlete.person import BodyMass
from saltus.athlete.prior import RESPONSE, Constant, State, prior_for
from saltus.athlete.qualities import Quality
from saltus.athlete.trajectory import Trajectory

DATES = (dt.date(2026, 1, 5), dt.date(2026, 3, 2), dt.date(2026, 8, 3))


def trajectory(person, blocks=()):
    return Trajectory(DATES, person, blocks, prior_for(person))


def test_standard_normal_unknowns_give_the_prior_and_the_walk(person):
    made = trajectory(person)
    prior = prior_for(person)
    unknowns = np.random.default_rng(3).standard_normal((40_000, made.size))

    states = made.states(unknowns)

    # 40 000 draws: means within 0.02 and deviations within 2 % of a standard deviation.
    assert (states[:, 0].mean(axis=0) - prior.state_mean) / prior.state_sd == pytest.approx(
        np.zeros(5), abs=0.02
    )
    assert states[:, 0].std(axis=0) / prior.state_sd == pytest.approx(np.ones(5), rel=0.02)
    walked = (states[:, 2] - states[:, 1]).std(axis=0)
    weeks = (DATES[2] - DATES[1]).days / 7
    assert walked / (prior.walk_sd * np.sqrt(weeks)) == pytest.approx(np.ones(5), rel=0.02)


def test_training_moves_what_it_was_aimed_at(person):
    last_day = DATES[1] - dt.timedelta(days=1)
    block = TrainingBlock(DATES[0], last_day, {Quality.RATE_OF_FORCE_DEVELOPMENT: 1.0})
    unknowns = np.zeros((1, trajectory(person).size))

    states = trajectory(person, [block]).states(unknowns)[0]

    assert states[1, State.RATE] > states[0, State.RATE]
    assert states[2, State.RATE] == states[1, State.RATE]
    assert states[1, State.TORQUE] == states[0, State.TORQUE]


def test_a_heavier_body_has_the_same_newtons(person):
    heavier = replace(person, body_masses=(BodyMass(DATES[0], 70.0), BodyMass(DATES[1], 77.0)))
    made = trajectory(heavier)

    states = made.states(np.zeros((1, made.size)))[0]

    assert 70.0 * np.exp(states[0, State.TORQUE]) == pytest.approx(
        77.0 * np.exp(states[1, State.TORQUE])
    )
    assert states[1, State.SPEED] == states[0, State.SPEED]


def test_constants_are_the_last_unknowns(person):
    made = trajectory(person)
    unknowns = np.zeros((1, made.size))
    unknowns[0, -len(Constant) + Constant.ARMS] = 1.0

    constants = made.constants(unknowns)[0]

    prior = prior_for(person)
    assert constants[Constant.ARMS] == pytest.approx(
        prior.constant_mean[Constant.ARMS] + prior.constant_sd[Constant.ARMS]
    )


def test_slopes_are_carried_back_to_the_unknowns(person):
    blocks = [
        TrainingBlock(DATES[0], DATES[1], dict.fromkeys(RESPONSE, 0.7)),
        TrainingBlock(DATES[1], DATES[2], {Quality.MAX_STRENGTH: 1.0}),
    ]
    made = trajectory(person, blocks)
    rng = np.random.default_rng(8)
    at = 0.5 * rng.standard_normal((1, made.size))
    by_state, by_constant = rng.standard_normal((3, 5)), rng.standard_normal(len(Constant))

    def value(unknowns):
        return np.sum(made.states(unknowns) * by_state, axis=(1, 2)) + (
            made.constants(unknowns) @ by_constant
        )

    slope = made.pulled_back(
        made.states(at), made.constants(at), by_state[None], by_constant[None]
    )[0]

    step = 1e-5 * np.eye(made.size)
    assert slope == pytest.approx((value(at + step) - value(at - step)) / 2e-5, abs=2e-5)
