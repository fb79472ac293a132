"""The curves of a jump and its measures are in the words and units of whoever reads the page."""

import json
import re
from html import unescape

import pytest
from django.utils import translation

from saltus.jumps.catalogue import CATALOGUE
from saltus.quantities import INCH
from saltus.web.models import StoredRecording
from saltus.web.testdays.trace_told import trace_told
from saltus.web.units import Units, current_units

DRAWN = {
    "title": {"text": "jump.csv · 1 · squat jump", "subtitle": ["sound"]},
    "vconcat": [
        {"layer": [{"data": {"values": [{"name": "braking", "middle": 0.2}, {"name": "force"}]}}]},
        {"encoding": {"y": {"axis": {"title": "displacement (cm)"}, "field": "displacement"}}},
        {"encoding": {"x": {"axis": {"title": None}}}},
    ],
    "datasets": {"jump0": [{"time": 0.1, "force": 700.0, "displacement": 25.4}, {"time": 0.2}]},
}


def test_it_is_told_in_inches_to_whoever_thinks_in_them():
    token = current_units.set(Units("in", "lb"))
    try:
        told = trace_told(DRAWN)
    finally:
        current_units.reset(token)
    assert told["vconcat"][1]["encoding"]["y"]["axis"]["title"] == "displacement (in)"
    # An inch is 25.4 mm exactly (international yard and pound agreement, 1959).
    assert told["datasets"]["jump0"] == [
        {"time": 0.1, "force": 700.0, "displacement": 10.0},
        {"time": 0.2},
    ]
    assert DRAWN["datasets"]["jump0"][0]["displacement"] == 25.4


def test_it_is_told_in_german_without_the_title_that_its_heading_says():
    with translation.override("de"):
        told = trace_told(DRAWN)
    assert "title" not in told
    names = [each["name"] for each in told["vconcat"][0]["layer"][0]["data"]["values"]]
    assert names == ["Bremsphase", "force"]  # the second names no phase
    assert told["vconcat"][1]["encoding"]["y"]["axis"]["title"] == "Weg (cm)"
    assert told["vconcat"][2]["encoding"]["x"]["axis"]["title"] is None
    assert told["datasets"] == DRAWN["datasets"]


def test_the_strip_has_room_for_the_longest_name_of_a_phase():
    strip = {
        "height": 77,
        "layer": [
            {
                "mark": {"type": "text"},
                "data": {"values": [{"name": "propulsion", "middle": 1.0}]},
                "encoding": {"y": {"value": 72}},
            }
        ],
    }
    spec = {"vconcat": [strip], "datasets": {}}
    with translation.override("de"):
        (told,) = trace_told(spec)["vconcat"]
    # "Beschleunigung" is 14 letters of 11 px type, each some 6 to 7 px wide.
    assert told["height"] >= 14 * 6 + 2 * 5
    assert told["layer"][0]["encoding"]["y"]["value"] == told["height"] - 5
    assert strip["height"] == 77


@pytest.fixture
def page(coach, owner, athlete, recorded, in_process):
    def read(language, length):
        type(owner).objects.filter(pk=owner.pk).update(language=language, length_unit=length)
        stored = StoredRecording.objects.first()
        if stored is None:
            coach.post(
                f"/athletes/{athlete.pk}/recordings/", {"date": "2026-10-20", "files": [recorded()]}
            )
            stored = StoredRecording.objects.get()
        text = coach.get(f"/recordings/{stored.pk}/").text
        chart = coach.get(f"/recordings/{stored.pk}/figures/1/").json()
        return unescape(text), json.dumps(chart, ensure_ascii=False), stored

    return read


@pytest.mark.django_db
def test_a_german_page_has_no_english_measure(page):
    text, chart, stored = page("de", "cm")
    named = set(stored.analysis["jumps"][0]["measures"])
    english = {CATALOGUE[name][1] for name in named} - {"RSI", "RFD"}
    assert len(named) > 20
    assert [title for title in english if f">{title}<" in text] == []
    assert "Höhe aus der Flugzeit" in text
    assert "Zeit (s)" in chart
    assert "time (s)" not in chart
    assert "Beschleunigung" in chart


@pytest.mark.django_db
def test_heights_are_in_inches_and_no_error_is_nought(page):
    centimetres, _chart, stored = page("en", "cm")
    inches, _chart, _stored = page("en", "in")
    impulse = stored.analysis["jumps"][0]["measures"]["height_impulse"]
    (height, error) = re.search(r"([\d.]+) ± ([\d.]+) in by impulse", inches).groups()
    assert float(height) == pytest.approx(impulse["value"] / INCH, abs=0.051)
    assert float(error) > 0
    assert "cm by impulse" in centimetres
    assert ">cm<" not in inches
