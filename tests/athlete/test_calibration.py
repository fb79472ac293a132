import datetime as dt

import numpy as np
import pytest

from saltus.athlete.calibration import battery, calibrate_one, season

ON = dt.date(2026, 11, 1)
ATHLETES = 60


@pytest.fixture(scope="module")
def outcomes():
    found = []
    for seed in range(ATHLETES):
        rng = np.random.default_rng([99, seed])
        tests, blocks = season(rng, ON, dates=1 + seed % 2)
        found.append(calibrate_one(rng, ON, tests, blocks, draws=800))
    return found


@pytest.mark.slow
def test_intervals_of_eighty_per_cent_hold_about_eighty(outcomes):
    """60 athletes: 80 % ± four standard errors of 5.2 %, pooled over qualities ± 10 %."""
    ranks = {name: np.array([o.ranks[name] for o in outcomes]) for name in outcomes[0].ranks}
    inside = {name: np.mean((r > 0.1) & (r < 0.9)) for name, r in ranks.items()}

    assert min(inside.values()) > 0.80 - 4 * 0.052
    assert np.mean(list(inside.values())) == pytest.approx(0.80, abs=0.07)


@pytest.mark.slow
def test_ranks_are_centred(outcomes):
    """A uniform rank has mean 1/2 and deviation 0.289: four standard errors of 60."""
    for name in outcomes[0].ranks:
        ranks = [o.ranks[name] for o in outcomes]
        assert np.mean(ranks) == pytest.approx(0.5, abs=4 * 0.289 / np.sqrt(ATHLETES))


@pytest.mark.slow
def test_the_leading_quality_is_right_as_often_as_it_says(outcomes):
    said = np.mean([o.probability for o in outcomes])
    right = np.mean([o.named is o.truly for o in outcomes])

    assert right == pytest.approx(said, abs=0.17)  # three standard errors of 60 at 0.75


def test_a_battery_names_its_tests():
    assert len(battery(["cmj", "squat", "drops"], ON)) == 4
    with pytest.raises(KeyError):
        battery(["sprint"], ON)
