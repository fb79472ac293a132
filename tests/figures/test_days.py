"""The axis of days."""

import pytest

from saltus.figures.by_week import reports_by_day
from saltus.figures.days import day_axis
from saltus.figures.draw import as_svg
from saltus.figures.told_apart import told_apart


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


def test_a_single_day_is_named_below_it():
    drawn = as_svg(reports_by_day([{"date": "2026-09-14", "soreness": 2, "pain": None}]))
    assert ">14 Sep<" in drawn


def test_long_names_of_a_legend_stand_below_each_other_whole():
    long = "practice of the sport and matches"
    colour, _shape = told_apart("kind", ["all", long], ["black", "blue"], ["circle", "square"])
    legend = colour.to_dict()["legend"]
    assert legend["columns"] == 1
    assert legend["labelLimit"] == 0
    colour, _shape = told_apart("kind", ["all", "some"], ["black", "blue"], ["circle", "square"])
    assert "columns" not in colour.to_dict()["legend"]
