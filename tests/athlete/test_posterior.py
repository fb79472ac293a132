import datetime as dt
from dataclasses import replace

import numpy as np
import pytest

from saltus.athlete.history import TrainingBlock
from saltus.athlete.observations import Jump, JumpMethod, JumpStyle, Lift, Maximum
from saltus.athlete.posterior import Problem, fit
from saltus.athlete.prior import RESPONSE, State, prior_for
from saltus.athlete.qualities import Quality

ON = dt.date(2026, 11, 1)


def cmj(height, date=ON):
    return Jump(
        date=date,
        style=JumpStyle.COUNTERMOVEMENT,
        method=JumpMethod.PLATE_IMPULSE,
        heights_m=(height,) * 3,
    )


def spread(posterior, place):
    values = posterior.now[:, place]
    mean = np.average(values, weights=posterior.weights)
    return mean, np.sqrt(np.average((values - mean) ** 2, weights=posterior.weights))


def test_without_tests_the_posterior_is_the_prior(person):
    posterior = fit(Problem(person, [], [], ON))
    prior = prior_for(person)

    for place in State:
        mean, sd = spread(posterior, place)
        # 2000 draws: four standard errors.
        assert mean == pytest.approx(prior.state_mean[place], abs=4 * sd / np.sqrt(2000))
        assert sd == pytest.approx(prior.state_sd[place], rel=0.08)


def test_the_jacobian_is_that_of_the_prediction(person, tests):
    block = TrainingBlock(dt.date(2026, 6, 1), ON, dict.fromkeys(RESPONSE, 0.5))
    earlier = [replace(test, date=dt.date(2026, 5, 1)) for test in tests]
    problem = Problem(person, [*earlier, *tests], [block], ON)
    at = 0.3 * np.random.default_rng(5).standard_normal(problem.trajectory.size)

    predicted, jacobian = problem.linearised(at)

    step = 1e-3
    shifts = step * np.eye(at.size)
    central = (problem.predict(at + shifts) - problem.predict(at - shifts)).T / (2 * step)
    assert predicted == pytest.approx(problem.predict(at[None])[0])
    assert jacobian == pytest.approx(central, abs=2e-4)


def test_a_squat_maximum_narrows_strength_and_little_else(person):
    before = fit(Problem(person, [cmj(0.36)], [], ON))
    squat = Maximum(date=ON, lift=Lift.BACK_SQUAT, load_kg=130.0)
    after = fit(Problem(person, [cmj(0.36), squat], [], ON))

    assert spread(after, State.TORQUE)[1] < 0.6 * spread(before, State.TORQUE)[1]
    assert spread(after, State.STRETCH)[1] > 0.8 * spread(before, State.STRETCH)[1]


def test_an_outlying_test_loses_its_weight_and_is_named(person):
    dates = [ON - dt.timedelta(days=7 * i) for i in range(6)]
    heights = [0.37, 0.365, 0.372, 0.55, 0.368, 0.371]
    jumps = [cmj(h, d) for h, d in zip(heights, dates, strict=True)]

    posterior = fit(Problem(person, jumps, [], ON))

    assert [reading.date for reading in posterior.outlying] == [dates[3]]


def test_tests_after_the_day_are_left_out(person):
    problem = Problem(person, [cmj(0.36), cmj(0.5, ON + dt.timedelta(days=1))], [], ON)

    assert len(problem.readings) == 1


def test_the_same_input_gives_the_same_figures(person, tests):
    one, two = (fit(Problem(person, tests, [], ON)) for _ in range(2))

    assert np.array_equal(one.states, two.states)
    assert np.array_equal(one.weights, two.weights)


def test_a_response_is_learnt_from_what_a_block_brought(person):
    start = ON - dt.timedelta(weeks=10)
    block = TrainingBlock(start, ON, {Quality.MAX_STRENGTH: 1.0})

    def response(after_kg):
        squats = [
            Maximum(date=start, lift=Lift.BACK_SQUAT, load_kg=100.0),
            Maximum(date=ON, lift=Lift.BACK_SQUAT, load_kg=after_kg),
        ]
        posterior = fit(Problem(person, squats, [block], ON))
        multiplier = np.exp(posterior.constants[:, RESPONSE[Quality.MAX_STRENGTH]])
        return np.average(multiplier, weights=posterior.weights)

    assert response(135.0) > 1.15 > 0.85 > response(100.0)


def test_the_sample_is_worth_a_good_share_of_its_draws(person, tests):
    posterior = fit(Problem(person, tests, [], ON))

    assert posterior.effective_sample_size > 400
    assert posterior.weights.sum() == pytest.approx(1.0)


def test_fewer_draws_than_chains_are_draws_all_the_same(person):
    squats = [
        Maximum(date=ON - dt.timedelta(weeks=2 * i), lift=Lift.BACK_SQUAT, load_kg=120.0 - i)
        for i in range(8)
    ]
    jumps = [cmj(0.40 - 0.002 * i, ON - dt.timedelta(weeks=2 * i)) for i in range(8)]
    problem = Problem(person, [*squats, *jumps], [], ON)
    few, many = fit(problem, draws=60), fit(problem, draws=1000)

    assert many.refined, "or no chains were asked for"
    assert few.states.shape == (60, 8, 5)
    (mean, sd), (more, _) = (spread(each, State.TORQUE) for each in (few, many))
    assert mean == pytest.approx(more, abs=sd)


def test_resampling_keeps_the_weighted_mean(person, tests):
    posterior = fit(Problem(person, tests, [], ON))
    index = posterior.resampled(4000)

    mean, sd = spread(posterior, State.TORQUE)
    assert posterior.now[index, State.TORQUE].mean() == pytest.approx(mean, abs=0.05 * sd)
