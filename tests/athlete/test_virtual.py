import datetime as dt

import numpy as np
import pytest

from saltus.athlete.calibration import battery
from saltus.athlete.virtual import random_person, virtual_athlete

ON = dt.date(2026, 11, 1)


def test_tests_scatter_about_the_truth_by_their_published_error():
    person = random_person(np.random.default_rng(1), ON)
    squats, jumps, truths = [], [], []
    for seed in range(300):
        made = virtual_athlete(
            person, battery(["cmj", "squat"], ON), np.random.default_rng(seed), on=ON
        )
        jump, squat = made.observations
        jumps.append(jump.heights_m[0])
        squats.append(squat.load_kg / person.mass_kg(ON))
        truths.append(made.states[-1])

    assert 0.2 < np.mean(jumps) < 0.45
    assert 0.8 < np.mean(squats) < 2.4
    # Stronger athletes squat more: the tests speak of the truth behind them.
    assert np.corrcoef(np.array(truths)[:, 0], np.log(squats))[0, 1] > 0.85


def test_the_same_seed_gives_the_same_athlete():
    person = random_person(np.random.default_rng(1), ON)
    tests = battery(["cmj", "pull", "drops"], ON)

    one, two = (virtual_athlete(person, tests, np.random.default_rng(7), on=ON) for _ in range(2))

    assert one.observations == two.observations
    assert one.states == pytest.approx(two.states)
