import datetime as dt

import pytest

from saltus.athlete.history import TrainingBlock
from saltus.athlete.qualities import Quality

MONDAY = dt.date(2026, 9, 7)


def weeks(n):
    return dt.timedelta(weeks=n)


@pytest.mark.parametrize(
    ("start", "end", "expected"),
    [
        (-10, 20, 6.0),  # all of it
        (-10, 2, 2.0),
        (4, 20, 2.0),
        (6, 20, 0.0),
        (-3, 0, 0.0),
    ],
)
def test_weeks_within_counts_the_shared_part(start, end, expected):
    block = TrainingBlock(
        MONDAY, MONDAY + weeks(6) - dt.timedelta(days=1), {Quality.MAX_STRENGTH: 1}
    )

    assert block.weeks_within(MONDAY + weeks(start), MONDAY + weeks(end)) == pytest.approx(expected)


def test_parts_add_up_to_the_whole():
    block = TrainingBlock(MONDAY, MONDAY + weeks(6) - dt.timedelta(days=1), {})
    middle = MONDAY + dt.timedelta(days=17)

    parts = block.weeks_within(MONDAY, middle) + block.weeks_within(middle, MONDAY + weeks(6))
    assert parts == pytest.approx(6.0)
