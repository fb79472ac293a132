"""The axis of days."""

import pytest

from saltus.figures.days import day_axis


@pytest.mark.parametrize(
    ("days", "written"),
    [
        (["2026-11-02", "2026-11-23"], "%-d %b"),
        (["2026-01-05", "2026-11-23"], "%b %Y"),
        (["2023-01-05", "2026-11-23"], "%b %Y"),
        ([], "%-d %b"),
    ],
)
def test_days_are_written_as_on_the_rest_of_the_page(days, written):
    axis = day_axis(days).to_dict()["axis"]
    assert axis["format"] == written
    assert axis["labelOverlap"]
