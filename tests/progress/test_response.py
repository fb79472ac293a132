"""What blocks brought, and what is learnt of an athlete's response."""

import datetime as dt
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from saltus.athlete.history import TrainingBlock
from saltus.athlete.observations import Lift, Maximum
from saltus.athlete.person import BodyMass, Person, Sex
from saltus.athlete.posterior import Problem, fit
from saltus.athlete.prior import N_STATE, RESPONSE
from saltus.athlete.qualities import TRAINABLE, Quality
from saltus.athlete.worth import expected_gains, worths
from saltus.progress.response import block_responses, joined, learnt_responses, targets
from saltus.progress.simulated import response_outcome

FIRST = dt.date(2026, 1, 5)
DAYS = [FIRST + dt.timedelta(weeks=8 * i) for i in range(4)]
STRENGTH, RATE = Quality.MAX_STRENGTH, Quality.RATE_OF_FORCE_DEVELOPMENT
BLOCKS = tuple(
    TrainingBlock(start, end - dt.timedelta(days=1), {STRENGTH: 1.0, RATE: 0.3})
    for start, end in pairwise(DAYS)
)
PERSON = Person(
    name="Runa Holt",
    sex=Sex.FEMALE,
    born=dt.date(2003, 4, 1),
    body_masses=(BodyMass(FIRST, 64.0),),
    stature_m=1.74,
    training_age_years=3.0,
)


def after_three_blocks(multiplier):
    """Squats without error of somebody ordinary who responds so many times as usual."""
    squats = tuple(
        Maximum(date=day, lift=Lift.BACK_SQUAT, load_kg=80.0) for day in DAYS for _ in range(3)
    )
    problem = Problem(PERSON, squats, BLOCKS, DAYS[-1])
    truth = np.zeros((1, problem.trajectory.size))
    prior, constant = problem.prior, RESPONSE[STRENGTH]
    truth[0, N_STATE * len(DAYS) + constant] = (
        np.log(multiplier) - prior.constant_mean[constant]
    ) / prior.constant_sd[constant]
    loads = np.exp(problem.predict(truth)[0])
    tested = tuple(replace(s, load_kg=float(kg)) for s, kg in zip(squats, loads, strict=True))
    return fit(Problem(PERSON, tested, BLOCKS, DAYS[-1]))


@pytest.fixture(scope="module")
def strong():
    return after_three_blocks(2.0)


@pytest.fixture(scope="module")
def weak():
    return after_three_blocks(0.4)


def of_strength(posterior):
    return next(each for each in learnt_responses(posterior) if each.quality is STRENGTH)


def test_the_learnt_response_is_drawn_towards_the_ordinary_one(strong, weak):
    more, less = of_strength(strong), of_strength(weak)
    assert more.ordinary == less.ordinary
    assert more.ordinary.value < more.learnt.value < 2.0
    assert 0.4 < less.learnt.value < less.ordinary.value
    assert more.probability_stronger > 0.7 > 0.3 > less.probability_stronger


def test_what_was_not_trained_is_not_learnt(strong):
    for each in learnt_responses(strong):
        if each.quality not in (STRENGTH, RATE):
            assert each.learnt.low == pytest.approx(each.ordinary.low, rel=0.1)
            assert each.learnt.high == pytest.approx(each.ordinary.high, rel=0.1)


def test_the_next_block_is_worth_more_to_who_responds_more(strong, weak):
    """At the same state, worth with what was learnt against worth with the ordinary response, and
    both less far from it than the truth is."""
    place = TRAINABLE.index(STRENGTH)
    ratio = []
    for posterior in (strong, weak):
        gains = expected_gains(posterior)
        ordinary = expected_gains(posterior, np.ones(len(TRAINABLE)))
        told = next(w for w in worths(gains) if w.quality is STRENGTH)
        possible = gains.possible_m[:, place]
        assert told.gain_m.low <= np.average(possible, weights=gains.weights) <= told.gain_m.high
        ratio.append(
            np.average(gains.expected_m[:, place], weights=gains.weights)
            / np.average(ordinary.expected_m[:, place], weights=gains.weights)
        )
    assert 1.1 < ratio[0] < 2.0
    assert 0.4 < ratio[1] < 0.9


def test_a_block_of_a_strong_responder_brought_more_than_expected(strong, weak):
    first_strong, first_weak = (
        block_responses(posterior, BLOCKS, BLOCKS)[0] for posterior in (strong, weak)
    )
    assert (first_strong.start, first_strong.end) == (BLOCKS[0].start, BLOCKS[0].end)
    assert first_strong.quality is STRENGTH
    assert first_strong.dose_weeks == pytest.approx(8 - 1 / 7, abs=0.15)
    assert first_strong.observed.value > first_strong.expected.value
    assert first_weak.observed.value < first_weak.expected.value
    assert first_strong.probability_more > 0.7 > 0.3 > first_weak.probability_more
    assert first_strong.expected.value == pytest.approx(first_weak.expected.value, rel=0.25)
    assert "was to be expected" in first_strong.text


def test_only_what_lies_between_tests_is_told(strong):
    later = TrainingBlock(DAYS[-1], DAYS[-1] + dt.timedelta(weeks=6), {RATE: 1.0})
    hardly = TrainingBlock(DAYS[-1] - dt.timedelta(days=13), later.end, {RATE: 1.0})
    earlier = TrainingBlock(FIRST - dt.timedelta(weeks=9), FIRST, {RATE: 1.0})
    assert block_responses(strong, BLOCKS, (earlier, hardly, later)) == ()
    longer = replace(BLOCKS[-1], end=later.end)
    (told,) = block_responses(strong, BLOCKS, (longer,))
    assert told.end == later.end
    assert told.dose_weeks == pytest.approx(8, abs=0.2)


def test_nothing_is_told_of_one_test_day():
    squat = Maximum(date=FIRST, lift=Lift.BACK_SQUAT, load_kg=80.0)
    posterior = fit(Problem(PERSON, (squat,), BLOCKS, DAYS[-1]), draws=200)
    assert block_responses(posterior, BLOCKS, BLOCKS) == ()


def test_weeks_with_the_same_aim_are_one_block():
    def week(number, **emphasis):
        start = FIRST + dt.timedelta(weeks=number)
        shares = {Quality(name): share for name, share in emphasis.items()}
        return TrainingBlock(start, start + dt.timedelta(days=6), shares)

    rate, strength = "rate_of_force_development", "max_strength"
    weeks = [
        week(0, **{strength: 1.0, rate: 0.4}),
        week(1, **{strength: 0.6, rate: 0.7}),  # near enough to go on
        week(3, **{strength: 0.8}),  # a week without anything between them
        week(4, **{strength: 0.3, rate: 0.9}),
        week(8, **{rate: 0.9}),
    ]
    found = joined(weeks)
    assert [(b.start, b.end) for b in found] == [
        (weeks[0].start, weeks[2].end),
        (weeks[3].start, weeks[3].end),
        (weeks[4].start, weeks[4].end),
    ]
    assert found[0].emphasis[STRENGTH] == pytest.approx((1.0 + 0.6 + 0.8) / 4)
    assert targets(found[0]) == (STRENGTH,)
    assert targets(found[1]) == (RATE,)


def test_bands_hold_known_truths_as_often_as_they_say():
    """A small version of ``python -m bench response``: 0.80 within what so few can tell."""
    found = [
        response_outcome(np.random.default_rng([20170, seed]), DAYS[-1], draws=800)
        for seed in range(36)
    ]
    for band, low, high in (
        ("learnt response", 0.71, 0.89),
        ("gain of a block", 0.69, 0.91),
        ("expected gain", 0.69, 0.91),
    ):
        inside = np.mean([side == 0 for each in found for side in each[band]])
        assert low < inside < high, band
