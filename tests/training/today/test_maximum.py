import datetime as dt
from dataclasses import replace
from math import exp, log

import numpy as np
import pytest

from saltus.athlete.observations import BarSpeedSet, Lift, RepSet
from saltus.athlete.strength import MAXIMUM_CV, maximum_from_reps
from saltus.quantities import Estimate
from saltus.training.log import LoggedSession
from saltus.training.today.expected import Shown, level_today
from saltus.training.today.maximum import day_maximum, sets_as_tests

DAY = dt.date(2026, 3, 9)


def logged(*sets, date=DAY):
    return [LoggedSession(date=date, sets=tuple(sets))]


def test_a_set_near_failure_is_a_test(method, a_set):
    (test,) = sets_as_tests(logged(a_set(load_kg=100.0, reps=5, reserve=1.0)), method)

    assert test == RepSet(
        date=DAY, label="log", lift=Lift.BACK_SQUAT, load_kg=100.0, reps=5, reserve=1.0
    )


@pytest.mark.parametrize(
    "what",
    [
        {"reps": 5},  # nothing told of what was left
        {"reps": 5, "reserve": 5.0},  # so far from failure that the telling says little
        {"reps": 9, "reserve": 3.0},  # more than ten in all
        {"reps": 0, "missed": 1},
        {"reps": 5, "reserve": 1.0, "skipped": "sore"},
    ],
)
def test_sets_that_say_nothing_are_none(method, a_set, what):
    assert sets_as_tests(logged(a_set(load_kg=100.0, **what)), method) == ()


def test_a_box_squat_is_no_test_of_the_squat(method, a_set):
    done = a_set("box_squat", load_kg=100.0, reps=5, reserve=1.0)

    assert sets_as_tests(logged(done), method) == ()


def test_a_missed_repetition_is_failure_whatever_was_told(method, a_set):
    (test,) = sets_as_tests(logged(a_set(load_kg=100.0, reps=3, missed=1, reserve=3.0)), method)

    assert test.reserve == 0.0


def test_of_one_day_the_surest_set_counts_once(method, a_set):
    sets = [a_set(load_kg=100.0, reps=5, reserve=r) for r in (4.0, 3.0, 0.0)]

    (test,) = sets_as_tests(logged(*sets), method)

    assert test.reserve == 0.0


def test_bar_speeds_of_a_day_make_one_line(method, a_set):
    sets = [a_set(load_kg=load, speed_m_s=v) for load, v in ((60.0, 0.9), (90.0, 0.6))]

    assert sets_as_tests(logged(*sets), method) == (
        BarSpeedSet(
            date=DAY,
            label="log",
            lift=Lift.BACK_SQUAT,
            loads_kg=(60.0, 90.0),
            speeds_m_s=(0.9, 0.6),
        ),
    )


def test_a_bar_speed_at_one_load_is_kept_since_other_days_have_others(method, a_set):
    (test,) = sets_as_tests(logged(a_set("leg_press", load_kg=160.0, speed_m_s=0.5)), method)

    assert (test.lift, test.speeds_m_s) == (Lift.LEG_PRESS, (0.5,))


def test_a_bar_speed_that_no_lift_has_is_left_out(method, a_set):
    assert sets_as_tests(logged(a_set(load_kg=100.0, speed_m_s=4.0)), method) == ()


def test_the_day_follows_the_formulas_of_the_field(facts, method, a_set):
    """100 kg for 5 to failure: 112.5 to 119.0 kg by seven published formulas (Epley 116.7,
    Brzycki 112.5, Mayhew 119.0, computed from the equations)."""
    wide = facts.assessment.maxima_kg[Lift.BACK_SQUAT]
    unsure = _with_maximum(facts, wide.value, 60.0)

    found = day_maximum(Lift.BACK_SQUAT, unsure, method, [a_set(load_kg=100.0, reps=5, missed=1)])

    assert 112.0 < found.value < 119.5


def test_a_set_moves_the_estimate_part_of_the_way_and_makes_it_surer(facts, method, a_set):
    before = day_maximum(Lift.BACK_SQUAT, facts, method)
    found = day_maximum(Lift.BACK_SQUAT, facts, method, [a_set(load_kg=90.0, reps=4, reserve=1.0)])

    told, _ = maximum_from_reps(
        RepSet(date=DAY, lift=Lift.BACK_SQUAT, load_kg=90.0, reps=4, reserve=1.0)
    )
    assert told < found.value < before.value
    assert found.sd < before.sd


def test_one_set_is_the_textbook_mean_of_two_normals(facts, method, a_set):
    done = a_set(load_kg=100.0, reps=5, reserve=1.0)
    told, sd = maximum_from_reps(
        RepSet(date=DAY, lift=Lift.BACK_SQUAT, load_kg=100.0, reps=5, reserve=1.0)
    )
    prior = (5.0 / 120.0) ** 2 + MAXIMUM_CV**2
    error = sd**2 - MAXIMUM_CV**2
    expected = (log(120.0) / prior + log(told) / error) / (1 / prior + 1 / error)

    found = day_maximum(Lift.BACK_SQUAT, facts, method, [done])

    assert found.value == pytest.approx(exp(expected), rel=1e-9)
    assert found.sd / found.value == pytest.approx((1 / prior + 1 / error) ** -0.5, rel=1e-9)


def test_the_same_set_again_and_again_does_not_make_it_certain(facts, method, a_set):
    done = a_set(load_kg=100.0, reps=5, reserve=1.0)

    many = day_maximum(Lift.BACK_SQUAT, facts, method, [done] * 40)
    _, sd = maximum_from_reps(
        RepSet(date=DAY, lift=Lift.BACK_SQUAT, load_kg=100.0, reps=5, reserve=1.0)
    )

    assert many.sd / many.value > 0.4 * (sd**2 - MAXIMUM_CV**2) ** 0.5


def test_old_sets_count_less(after, method, a_set):
    done = a_set(load_kg=110.0, reps=5, reserve=0.0)
    values = [
        day_maximum(Lift.BACK_SQUAT, after((ago, [done])), method).value for ago in (2, 30, 60)
    ]

    assert values[0] > values[1] > values[2] == pytest.approx(120.0)


def test_a_set_that_is_a_test_already_counts_once(after, method, a_set):
    done = a_set(load_kg=110.0, reps=5, reserve=0.0)
    known = after((2, [done]))
    tested = replace(known, observations=sets_as_tests(known.log, method))

    assert day_maximum(Lift.BACK_SQUAT, tested, method).value == pytest.approx(120.0)
    assert day_maximum(Lift.BACK_SQUAT, known, method).value > 121.0


def test_a_mistyped_load_does_not_rule_the_day(facts, method, a_set):
    found = day_maximum(Lift.BACK_SQUAT, facts, method, [a_set(load_kg=1000.0, reps=5, reserve=1)])

    assert found.value < 150.0


def test_the_level_is_the_conditional_of_a_joint_normal():
    """Against draws of the same model: readings near the given ones, today's level beside them."""
    shown = [
        Shown(value=1.05, weeks_ago=2.0, sd=0.03, common_sd=0.04, kind="a"),
        Shown(value=1.02, weeks_ago=0.0, sd=0.05, common_sd=0.04, kind="a"),
    ]
    rng = np.random.default_rng(3)
    n = 400_000
    long_run = rng.normal(1.0, 0.05, n)
    then = long_run + rng.normal(0, 0.02 * 2**0.5, n)
    today = long_run + rng.normal(0, 0.04, n)
    common = rng.normal(0, 0.04, n)
    first = then + rng.normal(0, 0.04, n) + common + rng.normal(0, 0.03, n)
    second = today + common + rng.normal(0, 0.05, n)
    joint = np.cov([today, first, second])
    gain = joint[0, 1:] @ np.linalg.inv(joint[1:, 1:])

    level = level_today(shown, mean=1.0, sd=0.05, day_sd=0.04, drift_per_root_week=0.02)

    assert level.mean == pytest.approx(1.0 + gain @ [0.05, 0.02], abs=0.001)
    left = joint[0, 0] - gain @ joint[1:, 0]
    assert level.sd == pytest.approx(left**0.5, abs=0.001)


def _with_maximum(facts, value, sd):
    maxima = {Lift.BACK_SQUAT: Estimate.normal(value, sd)}
    return replace(facts, assessment=replace(facts.assessment, maxima_kg=maxima))
