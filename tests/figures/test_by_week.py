"""Sums by the week, reports of a place, and what blocks brought."""

import json
import xml.etree.ElementTree as ET

import altair as alt
import pytest

from saltus.figures.by_week import cost_by_week, reports_by_day
from saltus.figures.draw import as_svg, specification
from saltus.figures.response import response_dots
from saltus.figures.theme import DARK, LIGHT

WEEKS = [
    {"start": "2026-09-07", "landing_load": 120.0, "sport": 40.0, "load": 900.0},
    {"start": "2026-09-14", "landing_load": 131.25, "sport": 40.0, "load": None},
    {"start": "2026-09-21", "landing_load": 90.0, "sport": 0.0, "load": 850.0},
]
REPORTS = [
    {"date": "2026-09-07", "soreness": 4, "pain": None},
    {"date": "2026-09-14", "soreness": 6, "pain": 3},
]
BLOCKS = [
    {
        "label": "max strength, to October",
        "expected": {"estimate": 0.06, "low": 0.02, "high": 0.1},
        "observed": {"estimate": -0.01, "low": -0.04, "high": 0.02},
    }
]


def drawn(**how):
    lines = {"landing_load": "all landings", "sport": "practice and matches"}
    return {
        "landings": cost_by_week(WEEKS, lines, title="landings", **how),
        "load": cost_by_week(WEEKS, {"load": "session load"}, title="load", **how),
        "reports": reports_by_day(REPORTS, **how),
        "response": response_dots(BLOCKS, **how),
    }


NAMES = ("landings", "load", "reports", "response")


@pytest.mark.parametrize("name", NAMES)
def test_each_is_valid_and_can_be_drawn(name):
    figure = drawn()[name]
    alt.Chart.from_dict(json.loads(json.dumps(specification(figure))), validate=True)
    assert ET.fromstring(as_svg(figure)).tag.endswith("svg")


@pytest.mark.parametrize("name", NAMES)
def test_in_the_dark_nothing_keeps_the_colours_of_day(name):
    spec = json.dumps(specification(drawn(palette=DARK)[name], DARK))
    for colour in (LIGHT.paper, LIGHT.ink, LIGHT.accent, LIGHT.muted):
        assert colour not in spec


def test_an_unknown_week_leaves_a_gap():
    rows = drawn()["load"].samples["weeks"]
    assert [(row["value"], row["run"]) for row in rows] == [(900.0, 0), (850.0, 1)]


def test_what_was_not_told_is_not_drawn():
    rows = drawn()["reports"].samples["reports"]
    assert [(row["kind"], row["level"]) for row in rows] == [
        ("soreness", 4),
        ("soreness", 6),
        ("pain", 3),
    ]


def test_gains_are_told_in_per_cent():
    rows = {row["kind"]: row for row in drawn()["response"].samples["blocks"]}
    assert rows["expected"]["estimate"] == 6.0
    assert rows["observed"]["low"] == -4.0
