import numpy as np
import pytest

from saltus.athlete.prior import Constant, State
from saltus.athlete.qualities import TRAINABLE, Quality
from saltus.athlete.response import (
    TRAINED,
    block_effect,
    drift,
    gained_in_turn,
    novelty,
    strength_gain,
    trained_gain,
)

STATE = np.log(np.array([[11.5, 17.5, 75.0, 0.1, 0.41]]))
SEGMENT = np.array([0.505])


@pytest.mark.parametrize(("ratio", "gain"), [(1.0, 0.12), (1.5, 0.06), (2.0, 0.03)])
def test_strength_gains_shrink_with_the_strength_already_there(ratio, gain):
    """Design figures: 12 %, 6 % and 3 % at 1.0, 1.5 and 2.0 x body mass."""
    assert strength_gain(ratio) == pytest.approx(gain)


def test_a_beginner_below_body_mass_gains_more_but_not_without_end():
    def gain(torque):
        state = np.log(np.array([[torque, 17.5, 75.0, 0.1, 0.41]]))
        return np.expm1(
            trained_gain(state, SEGMENT, Quality.MAX_STRENGTH, response=1.0, training_years=0.0)
        )[0]

    assert 0.121 < gain(7.5) < 0.18
    assert gain(4.0) == pytest.approx(0.18)


@pytest.mark.parametrize("quality", TRAINABLE)
def test_gains_in_turn_are_those_of_stretch_after_stretch(quality):
    rng = np.random.default_rng(5)
    states = STATE + 0.1 * rng.standard_normal((20, 6, 5))
    segment, response = np.full(20, 0.505), rng.uniform(0.3, 2.0, 20)
    doses = np.array([1.0, 0.0, 0.5, 0.7, 0.0, 1.0])
    at_once = gained_in_turn(
        states, segment, quality, response=response, training_years=1.0, doses=doses
    )

    gained = np.zeros(20)
    for i, dose in enumerate(doses):
        here = states[:, i].copy()
        here[:, TRAINED[quality]] += gained
        gained += trained_gain(
            here, segment, quality, response=response, training_years=1.0, dose=dose
        )
        assert at_once[:, i] == pytest.approx(gained, rel=1e-9)


def test_a_block_changes_only_what_it_is_aimed_at():
    places = dict(
        zip(TRAINABLE, (State.TORQUE, State.RATE, State.SPEED, State.STRETCH), strict=True)
    )
    for quality, place in places.items():
        effect = block_effect(STATE, SEGMENT, quality, response=1.0, training_years=3.0)[0]

        assert effect[place] > 0
        assert np.count_nonzero(effect) == 1


def test_ordinary_effects_at_three_years():
    """Design figures: +15 % R, +2 % w0, +0.04 p."""

    def after(quality, place):
        years = -5 * np.log(0.3 / 0.55)  # where novelty is exactly 1
        effect = block_effect(STATE, SEGMENT, quality, response=1.0, training_years=years)
        return np.exp(STATE + effect)[0, place]

    assert after(Quality.RATE_OF_FORCE_DEVELOPMENT, State.RATE) == pytest.approx(75 * 1.15)
    assert after(Quality.PUSH_OFF_SPEED, State.SPEED) == pytest.approx(17.5 * 1.02)
    assert after(Quality.STRETCH_SHORTENING_GAIN, State.STRETCH) == pytest.approx(0.14)


def test_newcomers_gain_more_than_veterans():
    assert novelty(0) > novelty(3) > novelty(10) > 0.5


def test_half_a_dose_in_the_weeks_of_a_block_brings_less():
    constants = np.zeros((1, len(Constant)))
    constants[0, Constant.SEGMENT] = np.log(0.505)

    whole = drift(STATE, constants, {Quality.PUSH_OFF_SPEED: 6.0}, 3.0)
    half = drift(STATE, constants, {Quality.PUSH_OFF_SPEED: 3.0}, 3.0)
    none = drift(STATE, constants, {}, 3.0)

    assert 0 < half[0, State.SPEED] < whole[0, State.SPEED]
    assert not none.any()
