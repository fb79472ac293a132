import datetime as dt
from dataclasses import replace
from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from saltus.athlete.qualities import Quality
from saltus.quantities import Estimate
from saltus.training.heights import choose_height, height_ceiling
from saltus.training.loads import Unloadable
from saltus.training.situation import Gym

ON = dt.date(2026, 1, 5)


@pytest.fixture
def chosen(method, strong, adult, gym):
    def choose(name, *, assessment=strong, person=adult, gym=gym):
        return choose_height(method.exercises[name], method, assessment, person, gym, ON)

    return choose


def test_a_box_is_cleared_with_the_low_end_of_the_jump_and_half_the_crouch(
    method, strong, adult, chosen
):
    ceiling = height_ceiling(method.exercises["box_jump"], method, strong, adult, ON)
    distance = strong.qualities[Quality.PUSH_OFF_DISTANCE].low
    assert ceiling == pytest.approx(strong.squat_jump_m.low + 0.5 * distance)
    assert chosen("box_jump") == 0.45


def test_doubt_about_the_jump_lowers_the_box(strong, chosen):
    assert (
        chosen("box_jump", assessment=replace(strong, squat_jump_m=Estimate.normal(0.35, 0.1)))
        == 0.30
    )


def test_without_a_push_off_distance_the_box_is_no_higher_than_the_jump(method, strong, adult):
    unknown = replace(strong, qualities={})
    ceiling = height_ceiling(method.exercises["box_jump"], method, unknown, adult, ON)
    assert ceiling == strong.squat_jump_m.low


def test_minors_jump_on_lower_boxes(strong, adult, chosen):
    high = replace(strong, squat_jump_m=Estimate.normal(0.70, 0.01))
    tall = Gym(boxes_m=(0.5, 0.8))
    assert chosen("box_jump", assessment=high, gym=tall) == 0.8
    young = replace(adult, born=dt.date(2010, 1, 1))
    assert chosen("box_jump", assessment=high, gym=tall, person=young) == 0.5


def test_the_drop_starts_low_and_follows_the_best_one(strong, chosen):
    assert chosen("depth_jump") == 0.30
    sure = replace(strong, best_drop_m=Estimate.normal(0.46, 0.005))
    assert chosen("depth_jump", assessment=sure) == 0.45
    doubtful = replace(strong, best_drop_m=Estimate.normal(0.46, 0.1))
    assert chosen("depth_jump", assessment=doubtful) == 0.30
    low = replace(strong, best_drop_m=Estimate.normal(0.20, 0.01))
    assert isinstance(chosen("depth_jump", assessment=low), Unloadable)


def test_a_heavy_athlete_drops_from_46_cm_at_most(strong, chosen):
    heavy = replace(strong, mass_kg=101.0, best_drop_m=Estimate.normal(0.70, 0.0))
    assert chosen("depth_jump", assessment=heavy) == 0.45
    light = replace(heavy, mass_kg=100.0)
    assert chosen("depth_jump", assessment=light) == 0.60


def test_hurdles_are_no_higher_than_the_jump_in_steps_of_5_cm(strong, chosen):
    assert chosen("hurdle_hops") == 0.35
    assert (
        chosen("hurdle_hops", assessment=replace(strong, jump_m=Estimate.normal(0.30, 0.0))) == 0.30
    )


def test_no_box_low_enough_says_what_is_needed(chosen):
    high = chosen("box_jump", gym=Gym(boxes_m=(0.75,)))
    assert high.reason == "box jump: needs a box of 20 cm to 53 cm, and none is here."
    assert "needs a hurdle" in chosen("hurdle_hops", assessment=_low()).reason


def _low():
    return SimpleNamespace(jump_m=Estimate.normal(0.08, 0.0), mass_kg=60.0)


def test_what_has_no_height_has_none_to_choose(chosen):
    with pytest.raises(ValueError, match="no height"):
        chosen("back_squat")


@given(
    boxes=st.lists(st.floats(0.1, 1.2), max_size=6),
    jump=st.floats(0.02, 0.9),
    sd=st.floats(0, 0.1),
    mass=st.floats(40, 140),
)
def test_a_chosen_box_is_at_hand_and_low_enough(method, boxes, jump, sd, mass):
    known = SimpleNamespace(
        squat_jump_m=Estimate.normal(jump, sd),
        qualities={Quality.PUSH_OFF_DISTANCE: Estimate.normal(0.4, 0.02)},
        mass_kg=mass,
    )
    grown = SimpleNamespace(born=dt.date(1990, 1, 1), is_minor=lambda on: False)
    exercise = method.exercises["box_jump"]
    found = choose_height(exercise, method, known, grown, Gym(boxes_m=tuple(boxes)), ON)
    if isinstance(found, Unloadable):
        assert "none is here" in found.reason
    else:
        assert found in boxes
        assert found <= max(known.squat_jump_m.low, 0) + 0.5 * 0.4 + 1e-5
