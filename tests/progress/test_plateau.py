import datetime as dt
from dataclasses import replace

import numpy as np
import pytest

from saltus.athlete.history import TrainingBlock
from saltus.athlete.observations import Lift, Maximum
from saltus.athlete.posterior import Problem, fit
from saltus.athlete.qualities import Quality
from saltus.progress.plateau import in_training, plateaus

START = dt.date(2026, 8, 3)


def week(number):
    return START + dt.timedelta(weeks=number)


def block(first, last, *aims):
    return TrainingBlock(week(first), week(last), dict.fromkeys(aims, 1.0))


def maxima(gaining_weeks, weeks, *, per_week=3, gain=0.03):
    """Maxima that rise by `gain` a week for some weeks, with an error of two per cent."""
    noise = 0.02 * np.random.default_rng(3).standard_normal(per_week * 20)
    return [
        Maximum(
            date=START + dt.timedelta(days=round(7 * i / per_week)),
            lift=Lift.BACK_SQUAT,
            load_kg=float(80 * np.exp(gain * min(i / per_week, gaining_weeks) + noise[i])),
        )
        for i in range(per_week * weeks + 1)
    ]


@pytest.fixture(scope="module")
def told(person):
    """Max strength after ten weeks of training, by the weeks that it truly rose."""
    blocks = (block(0, 10, Quality.MAX_STRENGTH),)
    found = {}
    for gaining in (4, 20):
        posterior = fit(Problem(person, maxima(gaining, 10), blocks, week(10)), draws=300)
        (found[gaining],) = plateaus(posterior, blocks)
    return found


def test_a_gain_that_stopped_is_called_a_plateau_with_its_start(told):
    plateau = told[4]

    assert plateau.quality is Quality.MAX_STRENGTH
    assert plateau.plateau
    assert plateau.probability_rising == pytest.approx(1 - plateau.probability)
    assert week(2) <= plateau.earliest <= plateau.start <= plateau.latest <= week(8)
    assert plateau.earliest <= week(4) <= plateau.latest


def test_a_plateau_is_told_with_where_the_emphasis_should_go_and_why(told):
    text = told[4].text
    assert text.startswith("Max strength has probably stopped rising")
    assert told[4].next_quality is not Quality.MAX_STRENGTH
    assert "promises most" in text
    assert " cm " in text


def test_a_gain_that_goes_on_is_none(told):
    rising = told[20]
    assert not rising.plateau
    assert rising.probability < 0.2
    assert "still rises" in rising.text


def test_few_tests_of_the_same_say_less(person, told):
    blocks = (block(0, 10, Quality.MAX_STRENGTH),)
    tests = [maxima(4, 10)[i] for i in (0, 15, 29)]
    posterior = fit(Problem(person, tests, blocks, week(10)), draws=300)
    (plateau,) = plateaus(posterior, blocks)
    assert 0.2 < plateau.probability < told[4].probability
    assert plateau.latest - plateau.earliest > told[4].latest - told[4].earliest


def test_how_long_a_plateau_stays_hidden_follows_from_the_readings(person, told):
    often = told[20].hidden_weeks
    assert often is not None
    assert 2 <= often <= 8
    assert f"after about {often} weeks" in told[20].text
    blocks = (block(0, 10, Quality.MAX_STRENGTH),)
    seldom = fit(Problem(person, maxima(20, 10)[::10], blocks, week(10)), draws=300)
    (plateau,) = plateaus(seldom, blocks)
    assert plateau.hidden_weeks is None or plateau.hidden_weeks > often


def test_two_tests_leave_about_what_was_believed_before(person):
    blocks = (block(0, 3, Quality.MAX_STRENGTH),)
    tests = [maxima(20, 3)[i] for i in (0, 9)]
    posterior = fit(Problem(person, tests, blocks, week(3)), draws=300)
    (plateau,) = plateaus(posterior, blocks)
    assert 0.02 < plateau.probability < 0.4, "about what the prior says"
    assert not plateau.plateau


@pytest.mark.parametrize(
    ("tests", "blocks"),
    [
        ([], [block(0, 10, Quality.MAX_STRENGTH)]),
        (maxima(10, 10), []),
        (maxima(10, 10), [block(0, 6, Quality.MAX_STRENGTH)]),
        (maxima(10, 10), [block(9, 10, Quality.MAX_STRENGTH)]),
        (maxima(10, 7), [block(0, 10, Quality.MAX_STRENGTH)]),
    ],
    ids=["no test", "no training", "training over", "just begun", "no test of late"],
)
def test_nothing_is_said_without_training_now_and_tests_of_late(person, tests, blocks):
    posterior = fit(Problem(person, tests, blocks, week(10)), draws=100)
    assert plateaus(posterior, blocks) == ()


def test_training_goes_on_over_a_short_break_and_is_told_from_upkeep():
    upkeep = {Quality.MAX_STRENGTH: 1.0, Quality.PUSH_OFF_SPEED: 0.2}
    blocks = [
        block(0, 3, Quality.RATE_OF_FORCE_DEVELOPMENT),
        replace(block(4, 7, Quality.MAX_STRENGTH), emphasis=upkeep),
        replace(block(8, 11, Quality.MAX_STRENGTH), emphasis=upkeep),
        block(11, 14, Quality.STRETCH_SHORTENING_GAIN),
    ]
    assert in_training(blocks, week(10)) == {Quality.MAX_STRENGTH: week(4)}
