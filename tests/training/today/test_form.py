from dataclasses import replace

import numpy as np
import pytest

from saltus.athlete.load_velocity import percent_of_maximum
from saltus.training.log import LoggedSession
from saltus.training.today.facts import FormState
from saltus.training.today.form import (
    expected_jump,
    expected_speed,
    form_of_day,
    jump_form,
    speed_form,
    states,
)

JUMP = "countermovement_jump"


@pytest.fixture(scope="module")
def jumped(after, a_set):
    """Six earlier days with jumps about 42 cm."""
    heights = (0.41, 0.43, 0.42, 0.42, 0.40, 0.44)
    return after(*((3 + 4 * i, [a_set(JUMP, jump_m=h)]) for i, h in enumerate(heights)))


@pytest.mark.parametrize(
    ("jump_m", "state"),
    [
        (0.43, FormState.AS_USUAL),
        (0.41, FormState.AS_USUAL),
        (0.39, FormState.BELOW),
        (0.36, FormState.WELL_BELOW),
    ],
)
def test_a_jump_against_the_athletes_own_days(jump_m, state, jumped, method, a_set):
    form = jump_form(a_set(JUMP, jump_m=jump_m), jumped, method)

    assert form.state is state
    assert form.rule == "day_form"
    assert f"{100 * jump_m:.0f} cm" in form.why


def test_without_own_days_hardly_anything_is_unusual(facts, method, a_set):
    """Arms alone make a fifth or more: nothing is known yet of how this one is measured."""
    for jump in (0.33, 0.40, 0.50):
        assert jump_form(a_set(JUMP, jump_m=jump), facts, method).state is FormState.AS_USUAL


def test_ordinary_days_are_called_below_as_often_as_stated(after, method, a_set):
    rng = np.random.default_rng(5)
    called = []
    for _ in range(400):
        level = rng.uniform(0.3, 0.5)
        heights = level * (1 + rng.normal(0, 0.045, 7))
        known = after(
            *((3 + 4 * i, [a_set(JUMP, jump_m=float(h))]) for i, h in enumerate(heights[1:]))
        )
        called.append(jump_form(a_set(JUMP, jump_m=float(heights[0])), known, method).state)
    shares = [np.mean([one <= state for one in called]) for state in FormState]

    assert shares[FormState.WELL_BELOW] <= 0.04
    assert 0.04 <= shares[FormState.BELOW] <= 0.14


def test_the_lines_are_quantiles_of_what_is_expected(jumped, method, a_set):
    level = expected_jump(a_set(JUMP), jumped, method)
    below, well = states(level, method)

    # Quantiles of the normal distribution at 0.10 and 0.02: any table.
    assert below == pytest.approx(level.mean - 1.2816 * level.sd, abs=1e-4)
    assert well == pytest.approx(level.mean - 2.0537 * level.sd, abs=1e-4)


def test_jumps_of_another_kind_or_load_say_nothing(after, method, a_set):
    known = after((3, [a_set("jump_squat", jump_m=0.25, load_kg=20.0)]))

    assert expected_jump(a_set("jump_squat", load_kg=40.0), known, method).n == 0
    assert expected_jump(a_set("jump_squat", load_kg=20.0), known, method).n == 1
    assert expected_jump(a_set("box_jump"), known, method) is None


def test_the_expected_speed_is_on_the_published_curve(facts, method, a_set):
    """Sánchez-Medina et al. 2017: -12.87 v² - 46.31 v + 116.3 per cent (from memory, checked at
    the maximum, 0.32 m/s)."""
    level = expected_speed(a_set(load_kg=90.0), facts, method)

    assert float(percent_of_maximum(level.mean)) == pytest.approx(75.0, abs=0.2)
    assert level.sd > 0.08


def test_own_speeds_move_what_is_expected_and_make_it_surer(after, facts, method, a_set):
    slow = after(*((d, [a_set(load_kg=85.0, speed_m_s=0.60)]) for d in (3, 7, 10, 14)))

    before = expected_speed(a_set(load_kg=90.0), facts, method)
    found = expected_speed(a_set(load_kg=90.0), slow, method)

    assert found.mean < before.mean - 0.05
    assert found.sd < before.sd
    assert speed_form(a_set(load_kg=90.0, speed_m_s=0.55), slow, method).state is (
        FormState.AS_USUAL
    )
    assert speed_form(a_set(load_kg=90.0, speed_m_s=0.38), slow, method).state < (
        FormState.AS_USUAL
    )


def test_lifts_without_a_curve_need_the_same_load_before(after, facts, method, a_set):
    clean = a_set("power_clean", load_kg=60.0, speed_m_s=1.2)

    assert expected_speed(clean, facts, method) is None
    level = expected_speed(clean, after((4, [clean])), method)
    assert level.mean == pytest.approx(1.2)


def test_todays_first_jump_speaks_before_todays_bar(jumped, method, a_set):
    today = LoggedSession(
        date=jumped.date,
        sets=(
            a_set(load_kg=90.0, speed_m_s=0.65),
            a_set(JUMP, jump_m=0.34),
            a_set(JUMP, jump_m=0.43),
        ),
    )
    assert form_of_day(jumped, method) is None
    found = form_of_day(replace(jumped, log=(*jumped.log, today)), method)

    assert found.state is FormState.WELL_BELOW
