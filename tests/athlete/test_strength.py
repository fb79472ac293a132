import datetime as dt
import itertools

import pytest

from saltus.athlete.observations import Lift, RepSet
from saltus.athlete.strength import LIFT_RATIO, MAXIMUM_CV, maximum_from_reps
from saltus.errors import TestError


def a_set(reps: int, reserve: float = 0.0, load: float = 100.0) -> RepSet:
    return RepSet(
        date=dt.date(2026, 1, 5), lift=Lift.BACK_SQUAT, load_kg=load, reps=reps, reserve=reserve
    )


def test_a_single_to_failure_is_the_load_itself():
    assert maximum_from_reps(a_set(1)) == (pytest.approx(100), MAXIMUM_CV)


def test_a_repetition_left_counts_like_one_done_but_is_less_certain():
    felt, felt_sd = maximum_from_reps(a_set(4, reserve=1))
    done, done_sd = maximum_from_reps(a_set(5))
    assert felt == pytest.approx(done)
    assert felt_sd > done_sd


def test_the_error_grows_with_the_repetitions_and_with_what_is_left():
    to_failure = [maximum_from_reps(a_set(r))[1] for r in range(1, 11)]
    assert all(a < b for a, b in itertools.pairwise(to_failure))
    left = [maximum_from_reps(a_set(3, reserve=k))[1] for k in (0, 1, 2, 4)]
    assert all(a < b for a, b in itertools.pairwise(left))


def test_the_maximum_grows_with_every_repetition_and_half_of_one():
    maxima = [maximum_from_reps(a_set(3, reserve=k / 2))[0] for k in range(15)]
    assert all(a < b for a, b in itertools.pairwise(maxima))


@pytest.mark.parametrize(("reps", "reserve"), [(11, 0), (8, 3), (20, 0)])
def test_long_sets_are_refused_with_the_way_out(reps, reserve):
    with pytest.raises(TestError, match="at most 10, better 3 to 6"):
        maximum_from_reps(a_set(reps, reserve))


@pytest.mark.parametrize(("reps", "reserve", "load"), [(0, 0, 100), (3, -1, 100), (3, 0, 0)])
def test_what_is_no_set_is_refused(reps, reserve, load):
    with pytest.raises(TestError, match="no set"):
        maximum_from_reps(a_set(reps, reserve, load))


def test_every_lift_has_a_ratio_to_the_back_squat():
    assert set(LIFT_RATIO) == set(Lift)
    assert LIFT_RATIO[Lift.BACK_SQUAT].mean == 1
    assert all(r.sd_log > 0 for lift, r in LIFT_RATIO.items() if lift is not Lift.BACK_SQUAT)
    # Common practice: the front squat is 80 to 85 % of the back squat, the clean 60 to 70 %.
    assert 0.80 <= LIFT_RATIO[Lift.FRONT_SQUAT].mean <= 0.85
    assert 0.60 <= LIFT_RATIO[Lift.POWER_CLEAN].mean <= 0.70
