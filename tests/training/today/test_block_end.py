import datetime as dt

import numpy as np

from saltus.training.today.block_end import next_week
from saltus.training.today.drop_choice import DropResult

BEGUN = dt.date(2026, 2, 2)


def result(day, height, box=0.45):
    return DropResult(
        date=BEGUN + dt.timedelta(days=day),
        box_m=box,
        height_m=height,
        contact_s=None,
        n=3,
        source="log",
        reading_sd_m=0.004,
    )


def after(day):
    return BEGUN + dt.timedelta(days=day)


def test_too_few_sessions_say_nothing(method):
    assert next_week([result(d, 0.35) for d in (0, 3, 7)], after(10), method.day) is None


def test_jumps_before_a_pause_belong_to_another_block(method):
    rows = [result(d, 0.35) for d in (-60, -57, 0, 3, 7)]

    assert next_week(rows, after(10), method.day) is None


def test_flat_jumps_end_it_and_rising_ones_do_not(method):
    days = range(0, 25, 3)
    flat = next_week([result(d, 0.35) for d in days], after(27), method.day)
    rising = next_week([result(d, 0.35 * (1 + 0.003 * d)) for d in days], after(27), method.day)

    assert flat.ended
    assert not rising.ended
    assert rising.probability > flat.probability
    assert "flattened" in flat.why


def test_a_change_of_the_box_is_no_gain(method):
    days = range(0, 25, 3)
    moved = [result(d, 0.33 if d < 12 else 0.37, 0.30 if d < 12 else 0.45) for d in days]
    same = [result(d, 0.33 if d < 12 else 0.37) for d in days]

    found = [next_week(rows, after(27), method.day).gain for rows in (moved, same)]

    assert found[0] < found[1]


def test_while_it_still_rises_it_is_seldom_ended_in_the_first_four_weeks(method):
    """Invented athletes that gain 2 % a week, with day and attempt errors as published."""
    rng = np.random.default_rng(11)
    early = 0
    for _ in range(40):
        rows = []
        for day in range(0, 28, 3):
            found = next_week(rows, after(day), method.day)
            if found is not None and found.ended:
                early += 1
                break
            noise = rng.normal(0, 0.03) + rng.normal(0, 0.03, 3).mean()
            rows.append(result(day, float(0.35 * (1 + 0.02 * day / 7) * (1 + noise))))
    assert early / 40 <= 0.2
