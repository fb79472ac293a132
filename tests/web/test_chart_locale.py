"""Charts and figures write numbers and dates as their reader does."""

import copy
import re

import vl_convert
from django.utils import translation

from saltus.web.chart_locale import localised
from saltus.web.decimals import decimals

SPECIFICATION = {
    "data": {"values": [{"day": "2027-10-01", "height": 1234.5}]},
    "mark": "text",
    "encoding": {
        "x": {"field": "day", "type": "temporal", "axis": {"format": "%b %Y"}},
        "text": {"field": "height", "type": "quantitative", "format": ",.1f"},
    },
    "config": {"background": "white"},
}


def test_a_german_chart_has_german_numbers_and_months():
    with translation.override("de"):
        drawn = vl_convert.vegalite_to_svg(localised(SPECIFICATION))
    assert "1.234,5" in drawn
    assert "Okt. 2027" in drawn
    assert "locale" not in SPECIFICATION["config"]


def test_a_german_chart_writes_days_as_ordinals():
    weeks = copy.deepcopy(SPECIFICATION)
    weeks["encoding"]["x"]["axis"]["format"] = "%-d %b"
    with translation.override("de"):
        drawn = vl_convert.vegalite_to_svg(localised(weeks))
    assert re.search(r">\d+\. (Sept|Okt)\.<", drawn)
    assert weeks["encoding"]["x"]["axis"]["format"] == "%-d %b"


def test_an_english_chart_is_left_as_it_is():
    with translation.override("en"):
        assert localised(SPECIFICATION) == SPECIFICATION
        assert decimals("41.5") == "41.5"


def test_a_german_figure_has_a_comma():
    with translation.override("de"):
        assert decimals("41.5 kg") == "41,5 kg"
