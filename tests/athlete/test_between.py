"""Days between the tests, against a posterior that was fitted with those days in it."""

import datetime as dt

import numpy as np
import pytest

from saltus.athlete.between import states_on
from saltus.athlete.history import TrainingBlock
from saltus.athlete.observations import Lift, Maximum
from saltus.athlete.posterior import Problem, fit
from saltus.athlete.prediction import Predictor
from saltus.athlete.prior import State
from saltus.athlete.qualities import Quality
from saltus.athlete.trajectory import Trajectory

START = dt.date(2026, 1, 5)
MIDDLE, END = START + dt.timedelta(weeks=8), START + dt.timedelta(weeks=20)
BLOCKS = (TrainingBlock(START, MIDDLE, {Quality.MAX_STRENGTH: 1.0}),)


def squat(date, kg):
    return Maximum(date=date, lift=Lift.BACK_SQUAT, load_kg=kg)


def spread(states, weights, part):
    mean = np.average(states[:, part], weights=weights)
    return mean, np.sqrt(np.average((states[:, part] - mean) ** 2, weights=weights))


@pytest.fixture
def tests():
    return squat(START, 100.0), squat(END, 118.0)


class Asked(Problem):
    """The same problem with a state on the day in between, which no test reads."""

    def __init__(self, *parts):
        super().__init__(*parts)
        dates = (START, MIDDLE, END)
        self.trajectory = Trajectory(dates, self.person, BLOCKS, self.prior)
        self.predictor = Predictor(self.readings, dates, self.person)


def test_a_day_in_between_is_as_if_it_had_been_asked_about(person, tests):
    without = fit(Problem(person, tests, BLOCKS, END), draws=20000)
    asked = fit(Asked(person, tests, BLOCKS, END), draws=20000)
    between = states_on(without, BLOCKS, [MIDDLE])[:, 0]
    for part in (State.TORQUE, State.RATE):
        mean, sd = spread(asked.states[:, 1], asked.weights, part)
        assert spread(between, without.weights, part) == (
            pytest.approx(mean, abs=0.06 * sd),
            pytest.approx(sd, rel=0.06),
        )


def test_on_the_days_of_tests_it_is_the_posterior_itself(person, tests):
    posterior = fit(Problem(person, tests, BLOCKS, END), draws=200)
    states = states_on(posterior, BLOCKS, [START, START, MIDDLE, END])
    assert np.array_equal(states[:, 0], posterior.states[:, 0])
    assert np.array_equal(states[:, 1], posterior.states[:, 0])
    assert np.array_equal(states[:, 3], posterior.states[:, 1])


def test_days_out_of_range_or_order_are_refused(person, tests):
    posterior = fit(Problem(person, tests, BLOCKS, END), draws=200)
    with pytest.raises(ValueError, match="runs from"):
        states_on(posterior, BLOCKS, [END + dt.timedelta(days=1)])
    with pytest.raises(ValueError, match="in order"):
        states_on(posterior, BLOCKS, [END, START])
