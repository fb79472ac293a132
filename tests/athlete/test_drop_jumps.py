import datetime as dt

import pytest

from saltus.athlete.drop_jumps import best_drop, box_for_true_drop
from saltus.athlete.measurement_error import true_drop
from saltus.athlete.observations import DropJump, JumpMethod

DAY = dt.date(2026, 1, 5)


def drops(rebounds, day=DAY, n=3, **more):
    return [
        DropJump(date=day, drop_m=box, heights_m=(height,) * n, **more)
        for box, height in rebounds.items()
    ]


def test_a_clear_winner_is_certain():
    best = best_drop(drops({0.20: 0.26, 0.30: 0.34, 0.45: 0.27}), DAY)
    assert best is not None
    assert (best.value, best.low, best.high) == (0.30, 0.30, 0.30)


def test_equal_rebounds_leave_every_box_open_and_name_a_middle_one():
    best = best_drop(drops({0.20: 0.30, 0.30: 0.30, 0.45: 0.30}), DAY)
    assert best is not None
    assert (best.low, best.value, best.high) == (0.20, 0.30, 0.45)


def test_the_form_of_the_day_does_not_hide_the_order_of_boxes_tested_together():
    together = best_drop(drops({0.20: 0.30, 0.30: 0.315}, n=6), DAY)
    apart = best_drop(
        [*drops({0.20: 0.30}, n=6), *drops({0.30: 0.315}, DAY - dt.timedelta(7), n=6)], DAY
    )
    assert together is not None
    assert apart is not None
    assert together.low == 0.30
    assert apart.low == 0.20


def test_one_box_alone_is_no_comparison():
    assert best_drop(drops({0.30: 0.34}), DAY) is None
    assert best_drop([], DAY) is None


def test_old_and_later_tests_are_left_out():
    tests = drops({0.20: 0.26, 0.30: 0.34})
    assert best_drop(tests, DAY + dt.timedelta(85)) is None
    assert best_drop(tests, DAY - dt.timedelta(1)) is None


def test_a_true_drop_is_told_as_the_box_to_set_up():
    for box in (0.15, 0.30, 0.45, 0.60):
        assert box_for_true_drop(true_drop(box)[0]) == pytest.approx(box)
    tests = [
        *drops({0.27: 0.34}, true_drop=True, method=JumpMethod.PLATE_FLIGHT),
        *drops({0.15: 0.26}),
    ]
    best = best_drop(tests, DAY)
    assert best is not None
    assert best.value == 0.30
