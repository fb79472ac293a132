import datetime as dt
from dataclasses import replace

import pytest

from saltus.training.today.caps import load_cap
from saltus.training.today.planned import planned_today

TODAY = dt.date(2026, 3, 16)  # as the facts have it


@pytest.fixture
def loaded(make_item):
    return make_item("jump_squat", reps=3, load_kg=25.0, percent_of="back_squat", percent=21.0)


def jumps(a_set, height, load=20.0):
    return [a_set("jump_squat", reps=3, load_kg=load, jump_m=height)] * 3


def test_the_weight_rises_when_height_held(loaded, after, method, a_set):
    held = after((10, jumps(a_set, 0.30)), (6, jumps(a_set, 0.30)), (3, jumps(a_set, 0.31)))

    found = planned_today(loaded, held, method)

    assert found.item.load_kg == 25.0
    assert found.rule == "jump_squats_held"


@pytest.mark.parametrize("last", [0.285, 0.27, None])
def test_the_weight_stays_when_that_is_not_sure(last, loaded, after, method, a_set):
    """Lower, much lower, or not measured."""
    known = after((10, jumps(a_set, 0.30)), (6, jumps(a_set, 0.30)), (3, jumps(a_set, last)))

    found = planned_today(loaded, known, method)

    assert found.item.load_kg == 20.0
    assert found.rule == "jump_squats_held"


def test_without_a_past_and_on_the_way_down_the_plan_stands(loaded, facts, after, method, a_set):
    assert planned_today(loaded, facts, method).item.load_kg == 25.0
    lighter = replace(loaded, load_kg=20.0)
    assert (
        planned_today(lighter, after((3, jumps(a_set, 0.2, load=25.0))), method).item.load_kg
        == 20.0
    )


def boxes(a_set, box, soft):
    return [a_set("box_jump", reps=3, box_m=box, soft_landings=soft)] * 3


def test_the_box_rises_after_two_soft_sessions(make_item, after, method, a_set):
    item = make_item("box_jump", reps=3, box_m=0.45)
    wide = replace(method, day=replace(method.day, box_step_m=0.15))
    soft = after((7, boxes(a_set, 0.30, True)), (3, boxes(a_set, 0.30, True)))

    assert planned_today(item, soft, wide).item.box_m == 0.45
    # 10 cm a time do not reach the next box at hand.
    assert planned_today(item, soft, method).item.box_m == 0.30
    once = after((3, boxes(a_set, 0.30, True)))
    assert planned_today(item, once, wide).item.box_m == 0.30
    unknown = after((7, boxes(a_set, 0.30, None)), (3, boxes(a_set, 0.30, None)))
    assert planned_today(item, unknown, wide).item.box_m == 0.30


def test_the_box_falls_after_an_unsound_landing(make_item, after, method, a_set):
    item = make_item("box_jump", reps=3, box_m=0.45)
    bad = after((3, [*boxes(a_set, 0.45, True), a_set("box_jump", box_m=0.45, missed=1)]))

    found = planned_today(item, bad, method)

    assert found.item.box_m == 0.30
    assert found.rule == "box_follows_landings"


def test_the_drop_follows_the_athletes_own_results(make_item, after, method, a_set):
    item = make_item("depth_jump", reps=4, drop_m=0.30)

    def session(*heights):
        return [
            a_set("depth_jump", drop_m=d, jump_m=h)
            for d, h in zip((0.15, 0.30, 0.45), heights, strict=True)
        ]

    clear = after(
        *((d, session(0.30, 0.33, 0.39)) for d in (24, 20, 17)), (60, session(0.30, 0.33, 0.39))
    )
    found = planned_today(item, clear, method)
    assert found.item.drop_m == 0.45
    assert found.rule == "depth_jump_box"

    even = after(*((d, session(0.36, 0.36, 0.361)) for d in (17, 20)))
    assert planned_today(item, even, method).item.drop_m == 0.15


def test_minors_and_heavy_bodies_keep_their_limits(make_item, after, minor, method, a_set):
    item = make_item("depth_jump", reps=4, drop_m=0.30)
    sets = [
        a_set("depth_jump", drop_m=d, jump_m=h) for d, h in ((0.15, 0.3), (0.30, 0.33), (0.6, 0.45))
    ]
    known = after((10, sets), (14, sets), (17, sets), of=minor)

    assert planned_today(item, known, method).item.drop_m <= 0.30


def test_a_hard_landing_lowers_the_drop(make_item, after, method, a_set):
    item = make_item("depth_jump", reps=4, drop_m=0.30)
    bad = after((3, [a_set("depth_jump", drop_m=0.30, soft_landings=False)]))

    assert planned_today(item, bad, method).item.drop_m == 0.15


def test_the_depth_jumps_end_when_they_bring_nothing_more(make_item, after, method, a_set):
    item = make_item("depth_jump", reps=4, drop_m=0.30)

    def block(*heights):
        days = range(3 + 3 * (len(heights) - 1), 2, -3)
        return after(
            *(
                (day, [a_set("depth_jump", drop_m=0.30, jump_m=h)] * 3)
                for day, h in zip(days, heights, strict=True)
            )
        )

    flat = planned_today(item, block(*[0.35] * 9), method)
    rising = planned_today(item, block(*(0.35 + 0.004 * i for i in range(9))), method)

    assert flat.ended
    assert flat.rule == "depth_jump_end"
    assert not rising.ended


def test_a_little_less_within_the_error_still_counts_as_held(loaded, after, method, a_set):
    known = after((10, jumps(a_set, 0.30)), (6, jumps(a_set, 0.30)), (3, jumps(a_set, 0.296)))

    assert planned_today(loaded, known, method).item.load_kg == 25.0


def lifted_until(day, **loads):
    """Three logged days, the last on a day, with loads in kg."""
    return {day - dt.timedelta(days=3 * i): loads for i in range(3)}


def test_after_a_break_that_the_plan_does_not_know_of_the_load_is_eased(squat, facts, method):
    # The first week back at about 90 % of what was lifted (common practice).
    away = lifted_until(TODAY - dt.timedelta(days=17), back_squat=80.0)
    back = replace(facts, situation=replace(facts.situation, trained=away))
    now = planned_today(squat, back, method)
    assert now.item.load_kg <= 72.0
    assert now.item.load_kg > 65.0
    assert (now.rule, now.why) == (
        method.easing.rule,
        "Eased in after 16 days without lifts or jumps on record.",
    )
    # No set of the day brings it back up.
    assert load_cap(now.item, back, method) == now.item.load_kg


def test_without_a_break_or_in_a_week_that_the_plan_eases_the_load_stands(squat, facts, method):
    assert planned_today(squat, facts, method).item == squat
    near = lifted_until(TODAY - dt.timedelta(days=4), back_squat=80.0)
    here = replace(facts, situation=replace(facts.situation, trained=near))
    assert planned_today(squat, here, method).item == squat
    away = lifted_until(TODAY - dt.timedelta(days=17), back_squat=80.0)
    weeks = (replace(facts.plan.weeks[0], eased_after=16),)
    planned = replace(
        facts,
        plan=replace(facts.plan, weeks=weeks),
        situation=replace(facts.situation, trained=away),
    )
    assert planned_today(squat, planned, method).item == squat
