import datetime as dt
from dataclasses import replace

import numpy as np
import pytest

from saltus.athlete.observations import Jump, JumpMethod, JumpStyle, Lift, Maximum
from saltus.athlete.posterior import Problem, fit
from saltus.athlete.qualities import TRAINABLE, Quality
from saltus.athlete.worth import expected_gains, limiting, what_if, what_if_draws, worths

ON = dt.date(2026, 11, 1)


def assessed(person, squat_kg, height=0.36):
    tests = [
        Jump(
            date=ON,
            style=JumpStyle.COUNTERMOVEMENT,
            method=JumpMethod.PLATE_IMPULSE,
            heights_m=(height,) * 3,
        ),
        Maximum(date=ON, lift=Lift.BACK_SQUAT, load_kg=squat_kg),
    ]
    return fit(Problem(person, tests, [], ON))


def test_strength_limits_the_weak(person):
    """Common practice: first gains in maximal strength raise the jump."""
    found = limiting(expected_gains(assessed(person, 78.0)))

    assert found.quality is Quality.MAX_STRENGTH
    assert found.probability > 0.9


def test_strength_does_not_limit_the_very_strong(person):
    """Common practice: past an intermediate level strength without faster force does not pay."""
    found = limiting(expected_gains(assessed(person, 180.0)))

    assert found.leading is not Quality.MAX_STRENGTH


def test_undecided_is_said_below_the_threshold(person):
    gains = expected_gains(assessed(person, 145.0))

    sure = limiting(gains, decided=0.5)
    unsure = limiting(gains, decided=1.0)

    assert sure.leading is unsure.leading
    assert unsure.quality is None


def test_worth_is_sorted_and_its_probabilities_add_up(person):
    found = worths(expected_gains(assessed(person, 130.0)))

    assert {w.quality for w in found} == set(TRAINABLE)
    assert [w.gain_m.value for w in found] == sorted((w.gain_m.value for w in found), reverse=True)
    assert sum(w.probability_largest for w in found) == pytest.approx(1.0)
    assert all(w.gain_m.low > 0 for w in found)


def test_what_if_nothing_changed_changes_nothing(person):
    jump, change = what_if(assessed(person, 130.0), {})

    assert change.value == 0.0
    assert jump.value == pytest.approx(0.36, abs=0.01)


def test_a_kilogram_more_costs_height_and_one_less_gives_it_back(person):
    posterior = assessed(person, 130.0)

    more = what_if(posterior, {}, mass_change_kg=1.0)[1]
    less = what_if(posterior, {}, mass_change_kg=-1.0)[1]

    assert more.high < 0 < less.low
    assert -more.value == pytest.approx(less.value, rel=0.1)


def test_kept_draws_answer_like_the_posterior(person):
    posterior = assessed(person, 130.0)
    kept = posterior.resampled(400)
    factors = {Quality.MAX_STRENGTH: 1.1, Quality.PUSH_OFF_SPEED: 1.05}

    whole = what_if(posterior, factors)[1]
    short = what_if_draws(posterior.now[kept], posterior.segment_m[kept], 78.0, factors)[1]

    assert short.value == pytest.approx(whole.value, rel=0.05)
    assert short.sd == pytest.approx(whole.sd, rel=0.2)


def test_gains_do_not_depend_on_the_order_of_tests(person, tests):
    forward = expected_gains(fit(Problem(person, tests, [], ON)))
    backward = expected_gains(fit(Problem(replace(person), tests[::-1], [], ON)))

    assert forward.probabilities == pytest.approx(backward.probabilities, abs=0.05)
    assert np.average(forward.jump_m, weights=forward.weights) == pytest.approx(
        np.average(backward.jump_m, weights=backward.weights), abs=0.002
    )
