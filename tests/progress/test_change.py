import datetime as dt

import numpy as np
import pytest

from saltus.athlete.history import TrainingBlock
from saltus.athlete.observations import Jump, JumpMethod, JumpStyle, Lift, Maximum
from saltus.athlete.posterior import Problem, fit
from saltus.athlete.qualities import Quality
from saltus.progress.change import (
    SMALLEST_WORTHWHILE_M,
    Change,
    change_between,
    change_since,
    changes,
    compared_with,
    since_first,
)
from saltus.quantities import Estimate

EARLY, LATE = dt.date(2026, 8, 1), dt.date(2026, 10, 1)


def jumps(*days_and_heights):
    return [
        Jump(
            date=day,
            style=JumpStyle.COUNTERMOVEMENT,
            method=JumpMethod.MAT,
            heights_m=(height,) * 3,
        )
        for day, height in days_and_heights
    ]


def fitted(person, *days_and_heights, blocks=()):
    return fit(Problem(person, jumps(*days_and_heights), blocks, LATE))


def test_the_same_height_twice_is_no_change(person):
    change = change_since(fitted(person, (EARLY, 0.38), (LATE, 0.38)), EARLY)

    assert change.change.low < 0 < change.change.high
    assert abs(change.change.value) < SMALLEST_WORTHWHILE_M
    assert 0.3 < change.probability_up < 0.75


def test_five_centimetres_more_are_likely_real_and_less_than_read(person):
    change = change_since(fitted(person, (EARLY, 0.36), (LATE, 0.41)), EARLY)

    assert 0.005 < change.change.value < 0.05
    assert change.probability_up > 0.8
    assert change.probability_worthwhile > 10 * change.probability_worse


def test_a_rise_after_training_is_believed_more(person):
    days = (EARLY, 0.36), (LATE, 0.41)
    block = TrainingBlock(EARLY, LATE, {Quality.MAX_STRENGTH: 1.0, Quality.PUSH_OFF_SPEED: 1.0})

    trained = change_since(fitted(person, *days, blocks=[block]), EARLY)

    assert trained.probability_up > 0.9
    assert trained.change.value > change_since(fitted(person, *days), EARLY).change.value


def test_five_centimetres_less_are_seen_as_well(person):
    change = change_since(fitted(person, (EARLY, 0.41), (LATE, 0.36)), EARLY)

    assert change.change.value < -0.005
    assert change.probability_worse > 5 * change.probability_worthwhile


def test_the_bias_of_the_method_cancels_out(person):
    posterior = fitted(person, (EARLY, 0.38), (LATE, 0.40))
    change = change_since(posterior, EARLY)
    # Were the two days independent, the spread would be that of two single heights.
    single = change_since(fitted(person, (EARLY, 0.38)), EARLY).change.sd

    assert change.change.sd < 0.03
    assert single > change.change.sd
    assert np.isclose(
        change.probability_up + np.sum(posterior.weights[_height_change(posterior) <= 0]),
        1.0,
    )


def _height_change(posterior):
    from saltus.athlete.prediction import jump_height_m
    from saltus.athlete.pushoff import Start

    mass = posterior.problem.person.mass_kg(LATE)
    first, last = (
        jump_height_m(Start.COUNTERMOVEMENT, posterior.states[:, i], posterior.segment_m, mass)
        for i in (0, -1)
    )
    return last - first


def test_compared_with_the_test_before_the_latest_block(person):
    block = TrainingBlock(dt.date(2026, 8, 20), dt.date(2026, 9, 25), {Quality.MAX_STRENGTH: 1.0})
    within = dt.date(2026, 9, 1)
    posterior = fitted(person, (EARLY, 0.38), (within, 0.39), (LATE, 0.40), blocks=[block])

    assert compared_with(posterior, [block]) == EARLY
    assert compared_with(posterior, []) == within


def test_nothing_to_compare_with_is_said(person):
    assert compared_with(fitted(person, (LATE, 0.38)), []) is None
    with pytest.raises(ValueError, match="not in"):
        change_since(fitted(person, (LATE, 0.38)), EARLY)


@pytest.mark.parametrize(
    ("better", "worse", "verdict"),
    [(0.85, 0.0, "rise"), (0.0, 0.85, "fall"), (0.1, 0.05, "none"), (0.6, 0.02, "unclear")],
)
def test_the_verdict_is_given_only_where_it_is_sure(better, worse, verdict):
    change = Change(EARLY, LATE, None, Estimate.normal(0.0, 0.01), 0.01, 0.5, better, worse)

    assert change.verdict == verdict


def test_changes_run_from_one_test_day_to_the_next(person):
    middle = dt.date(2026, 9, 1)
    posterior = fitted(person, (EARLY, 0.36), (middle, 0.38), (LATE, 0.42))
    first, second = changes(posterior)

    assert [(c.since, c.until) for c in (first, second)] == [(EARLY, middle), (middle, LATE)]
    assert second.probability_real == second.probability_worthwhile
    assert first.change.value + second.change.value == pytest.approx(
        change_since(posterior, EARLY).change.value, abs=0.003
    )


def test_changes_since_the_first_test_day_end_on_each_later_one(person):
    middle = dt.date(2026, 9, 1)
    posterior = fitted(person, (EARLY, 0.36), (middle, 0.38), (LATE, 0.42))
    first, last = since_first(posterior)

    assert [(c.since, c.until) for c in (first, last)] == [(EARLY, middle), (EARLY, LATE)]
    assert last == change_since(posterior, EARLY)
    assert since_first(fitted(person)) == ()


def test_a_quality_changes_by_a_share_and_by_what_matters_between_athletes(person):
    tests = [
        Maximum(date=EARLY, lift=Lift.BACK_SQUAT, load_kg=100.0),
        Maximum(date=LATE, lift=Lift.BACK_SQUAT, load_kg=125.0),
    ]
    block = TrainingBlock(EARLY, LATE, {Quality.MAX_STRENGTH: 1.0})
    posterior = fit(Problem(person, tests, [block], LATE))
    strength = change_between(posterior, EARLY, LATE, Quality.MAX_STRENGTH)
    stretch = change_between(posterior, EARLY, LATE, Quality.STRETCH_SHORTENING_GAIN)

    assert 0.05 < strength.change.low < strength.change.high < 0.35
    assert 0.02 < strength.smallest < 0.05, "0.2 of a spread of 18 % or less"
    assert strength.verdict == "rise"
    assert stretch.verdict in ("unclear", "none")


def test_the_wrong_way_round_is_refused(person):
    posterior = fitted(person, (EARLY, 0.36), (LATE, 0.42))
    with pytest.raises(ValueError, match="before"):
        change_between(posterior, LATE, EARLY)
