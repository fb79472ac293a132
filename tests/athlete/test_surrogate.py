import datetime as dt
from dataclasses import replace

import numpy as np
import pytest

from saltus.athlete.calibration import battery
from saltus.athlete.history import TrainingBlock
from saltus.athlete.person import BodyMass
from saltus.athlete.posterior import Problem, fit
from saltus.athlete.prior import RESPONSE
from saltus.athlete.surrogate import Surrogate

ON = dt.date(2026, 11, 1)
EARLIER = ON - dt.timedelta(weeks=8)


@pytest.fixture
def problem(person):
    person = replace(person, body_masses=(BodyMass(EARLIER, 78.0), BodyMass(ON, 81.0)))
    kinds = ("cmj", "sj", "squat", "pull", "drops", "loaded")
    tests = [*battery(kinds, EARLIER), *battery(kinds, ON)]
    block = TrainingBlock(EARLIER, ON, dict.fromkeys(RESPONSE, 0.5))
    return Problem(person, tests, [block], ON)


@pytest.fixture
def surrogate(problem):
    unknowns = 0.5 * np.random.default_rng(1).standard_normal((400, problem.trajectory.size))
    return Surrogate(problem.trajectory, problem.predictor, unknowns, problem.raw(unknowns))


def test_cubics_predict_what_is_simulated(problem, surrogate):
    unknowns = 0.5 * np.random.default_rng(2).standard_normal((50, problem.trajectory.size))

    missed = problem.residuals(surrogate.predict(unknowns)[0]) - problem.residuals(
        problem.predict(unknowns)
    )

    # In errors of the tests, over half the prior's spread; the weights put the rest right.
    assert np.sqrt(np.mean(missed**2)) < 0.03


def test_the_slope_is_that_of_the_density(problem, surrogate):
    at = 0.3 * np.random.default_rng(3).standard_normal((1, problem.trajectory.size))

    slope = problem.log_density_near(surrogate, at)[1][0]

    step = 1e-4 * np.eye(at.size)
    above = problem.log_density_near(surrogate, at + step)[0]
    below = problem.log_density_near(surrogate, at - step)[0]
    assert slope == pytest.approx((above - below) / 2e-4, rel=1e-4, abs=1e-2)


def test_readings_of_one_posture_are_simulated_once_and_told_twice(person):
    problem = Problem(person, battery(("cmj", "cmj", "drops", "drops"), ON), [], ON)
    at = np.random.default_rng(4).standard_normal((6, problem.trajectory.size))
    single = Problem(person, battery(("cmj", "drops"), ON), [], ON)

    raw, once = problem.raw(at), single.raw(at)

    kinds = [(r.kind, r.drop_m) for r in single.readings]
    for column, reading in enumerate(problem.readings):
        assert np.array_equal(raw[:, column], once[:, kinds.index((reading.kind, reading.drop_m))])


def test_a_year_of_tests_gives_a_good_sample(person):
    days = [ON - dt.timedelta(weeks=2 * i) for i in range(20)]
    tests = [
        test for day in days for test in battery(("cmj", "sj", "squat", "pull", "loaded"), day)
    ]

    posterior = fit(Problem(person, tests, [], ON), draws=1000)

    assert posterior.refined
    assert posterior.effective_sample_size > 200
    assert posterior.weights.sum() == pytest.approx(1.0)
