import datetime as dt

import pytest

from saltus.athlete.observations import DropJump
from saltus.training.method import DropBy
from saltus.training.today.drop_choice import choose_drop, drop_results
from saltus.training.today.simulated_drops import shares

ON = dt.date(2026, 3, 16)
BOXES = (0.15, 0.30, 0.45, 0.60)


def with_results(heights, contacts=(), days=(3,)):
    return [
        DropJump(
            date=ON - dt.timedelta(days=day),
            drop_m=box,
            heights_m=(height,) * 3,
            contacts_s=(contact,) * 3 if contact else (),
        )
        for day in days
        for box, height, contact in zip(
            BOXES, heights, contacts or (None,) * len(heights), strict=False
        )
    ]


def chosen(tests, by=DropBy.HEIGHT, probability=0.75):
    return choose_drop(drop_results(tests, (), ON), BOXES, by, probability)


def test_the_clearly_best_box_is_taken():
    choice = chosen(with_results((0.30, 0.36, 0.42, 0.36), days=(3, 7)))

    assert choice.box_m == choice.best_m == 0.45
    assert choice.probability == 0.0
    assert choice.results[0.45].value > choice.results[0.30].value


def test_the_lower_one_when_undecided():
    choice = chosen(with_results((0.360, 0.362, 0.365, 0.366)))

    assert choice.box_m == 0.15
    assert 0.5 <= choice.probability < 0.75
    assert "the lower one is taken when in doubt" in choice.why


def test_the_more_certainty_is_asked_for_the_lower_the_box():
    tests = with_results((0.34, 0.36, 0.375, 0.38))
    boxes = [chosen(tests, probability=p).box_m for p in (0.5, 0.7, 0.9, 0.99)]

    assert boxes == sorted(boxes, reverse=True)
    assert boxes[0] > boxes[-1]


def test_the_time_on_the_floor_can_count_too():
    tests = with_results((0.30, 0.36, 0.42, 0.43), (0.16, 0.18, 0.30, 0.40), days=(3, 7))

    assert chosen(tests).box_m >= 0.45
    assert chosen(tests, DropBy.RSI).box_m <= 0.30
    # Rebound over contact time: 0.36 m in 0.18 s is 2.0 m/s.
    assert chosen(tests, DropBy.RSI).results[0.30].value == pytest.approx(2.0, rel=0.05)


def test_one_box_alone_is_no_choice():
    assert chosen(with_results((0.36,))) is None
    assert chosen([]) is None


def test_a_bad_day_does_not_speak_against_its_boxes():
    """All boxes of one day stand lower; the order between them is what counts."""
    good = with_results((0.36, 0.40), days=(3,))
    bad = [
        DropJump(date=ON - dt.timedelta(days=10), drop_m=box, heights_m=(h * 0.9,) * 3)
        for box, h in ((0.30, 0.40), (0.45, 0.44))
    ]

    assert chosen([*good, *bad]).box_m == 0.45


def test_simulated_athletes_get_a_box_beside_their_best_one():
    within, _, above = shares(300, days=1, seed=7)

    assert within >= 0.90
    assert above <= 0.10
