import dataclasses
import datetime as dt
import itertools

import pytest

from saltus.athlete.measurement_error import (
    METHODS,
    drop_jump_error,
    isometric_error,
    jump_error,
    maximum_from,
    summary_m,
)
from saltus.athlete.observations import (
    DropJump,
    Jump,
    JumpMethod,
    JumpStyle,
    Lift,
    Maximum,
    RepSet,
)
from saltus.errors import TestError

DAY = dt.date(2026, 1, 5)


def a_jump(method=JumpMethod.MAT, heights=(0.35,), **more):
    return Jump(date=DAY, style=JumpStyle.COUNTERMOVEMENT, method=method, heights_m=heights, **more)


def test_every_method_has_its_error_with_an_equation_and_a_source():
    assert set(METHODS) == set(JumpMethod)
    for published in METHODS.values():
        assert published.bias_sd_m > 0
        assert published.equation
        assert published.source


def test_more_attempts_help_but_never_beyond_the_form_of_the_day():
    sds = [jump_error(a_jump(heights=(0.35,) * n)).sd_m for n in (1, 3, 10, 1000)]
    assert all(more < fewer for fewer, more in itertools.pairwise(sds))
    assert sds[-1] == pytest.approx(0.03 * 0.35, rel=0.01)


def test_attempts_do_not_average_out_the_bias():
    one, many = jump_error(a_jump()), jump_error(a_jump(heights=(0.35,) * 10))
    assert (one.bias_m, one.bias_sd_m) == (many.bias_m, many.bias_sd_m)


def test_a_slow_film_is_worse_than_a_fast_one_and_an_unknown_one_is_as_bad_as_the_slowest():
    slow, fast, unknown = (
        jump_error(a_jump(JumpMethod.FILM, frame_rate_hz=rate)) for rate in (30, 240, None)
    )
    assert slow.sd_m > 2 * fast.sd_m
    assert slow.bias_sd_m > fast.bias_sd_m
    assert unknown == slow


def test_a_light_load_is_already_a_loaded_jump():
    loaded, free = jump_error(a_jump(load_kg=10)), jump_error(a_jump())
    assert loaded.sd_m > free.sd_m


def test_the_summary_is_what_the_error_speaks_of():
    assert summary_m(a_jump(heights=(0.30, 0.34))) == pytest.approx(0.32)


def test_drop_jump_reports_means_and_a_box_that_is_higher_than_the_drop():
    error = drop_jump_error(
        DropJump(date=DAY, drop_m=0.30, heights_m=(0.30, 0.32), contacts_s=(0.20, 0.22))
    )
    assert error.height_m == pytest.approx(0.31)
    assert error.contact_s == pytest.approx(0.21)
    assert error.drop_m < 0.30
    assert 0.005 < error.contact_sd_s < 0.02


def test_a_true_drop_is_taken_as_it_is():
    error = drop_jump_error(DropJump(date=DAY, drop_m=0.27, heights_m=(0.3,), true_drop=True))
    assert error.drop_m == 0.27
    assert error.contact_s is None


def test_contact_from_a_slow_film_is_nearly_useless():
    film = drop_jump_error(
        DropJump(
            date=DAY,
            drop_m=0.3,
            heights_m=(0.3,),
            contacts_s=(0.2,),
            method=JumpMethod.FILM,
            frame_rate_hz=30,
        )
    )
    mat = drop_jump_error(DropJump(date=DAY, drop_m=0.3, heights_m=(0.3,), contacts_s=(0.2,)))
    assert film.contact_sd_s > 2 * mat.contact_sd_s


@pytest.mark.parametrize("contacts", [(0.2,), (0.2, 0.0), (0.2, 210.0)])
def test_contact_times_that_cannot_be_right_are_refused(contacts):
    with pytest.raises(TestError):
        drop_jump_error(DropJump(date=DAY, drop_m=0.3, heights_m=(0.3, 0.31), contacts_s=contacts))


@pytest.mark.parametrize("lift", list(Lift))
def test_a_lifted_maximum_is_itself_on_any_lift(lift):
    assert maximum_from(Maximum(date=DAY, lift=lift, load_kg=120)) == (120, 0.042)


def test_a_maximum_of_nothing_is_refused():
    with pytest.raises(TestError):
        maximum_from(Maximum(date=DAY, lift=Lift.BACK_SQUAT, load_kg=0))


def test_what_is_wrong_names_the_test():
    unnamed = RepSet(date=DAY, lift=Lift.BACK_SQUAT, load_kg=60, reps=15)
    with pytest.raises(TestError, match=r"^2026-01-05: 15 repetitions"):
        maximum_from(unnamed)
    with pytest.raises(TestError, match=r"^test\[3\], 2026-01-05: 15 repetitions"):
        maximum_from(dataclasses.replace(unnamed, label="test[3]"))
    with pytest.raises(TestError, match=r"^2026-01-05: A test without an attempt"):
        jump_error(a_jump(heights=()))


def test_early_isometric_force_is_less_certain_the_earlier_it_is():
    peak, *early = (isometric_error(ms) for ms in (None, 250, 225, 150, 125, 50, 30))
    assert all(later < earlier for later, earlier in itertools.pairwise([peak, *early]))
    assert isometric_error(500) == isometric_error(250)


@pytest.mark.parametrize("at_ms", [10, 501])
def test_a_force_before_any_rise_or_long_after_is_refused(at_ms):
    with pytest.raises(TestError, match="30 to 500 ms"):
        isometric_error(at_ms)
