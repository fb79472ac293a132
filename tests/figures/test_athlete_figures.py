import json
import xml.etree.ElementTree as ET

import altair as alt
import pytest

from saltus.athlete.qualities import Quality
from saltus.figures.draw import as_svg, specification
from saltus.figures.force_velocity import force_velocity
from saltus.figures.over_time import jump_over_time, quality_over_time
from saltus.figures.theme import DARK, LIGHT
from saltus.figures.worth import worth_dots


def drawn(assessment, timeline, **how):
    return {
        "jump": jump_over_time(timeline["moments"], timeline["tests"], **how),
        "quality": quality_over_time(timeline["moments"], Quality.MAX_STRENGTH, **how),
        "worth": worth_dots(assessment["worth"], **how),
        "force_velocity": force_velocity(assessment["force_velocity"], **how),
    }


NAMES = ("jump", "quality", "worth", "force_velocity")


@pytest.fixture(scope="module")
def figures(documents):
    return drawn(*documents)


@pytest.mark.parametrize("name", NAMES)
def test_each_is_valid_and_can_be_drawn(figures, name):
    spec = json.loads(json.dumps(specification(figures[name])))

    alt.Chart.from_dict(spec, validate=True)
    root = ET.fromstring(as_svg(figures[name]))
    assert root.tag.endswith("svg")


@pytest.mark.parametrize("name", NAMES)
def test_in_the_dark_nothing_keeps_the_colours_of_day(documents, name):
    spec = json.dumps(specification(drawn(*documents, palette=DARK)[name], DARK))

    for colour in (LIGHT.paper, LIGHT.ink, LIGHT.accent, LIGHT.muted):
        assert colour not in spec
    assert DARK.paper in spec


def test_heights_are_told_in_the_readers_unit(documents):
    assessment, timeline = documents
    inches = jump_over_time(timeline["moments"], timeline["tests"], unit="in", per_metre=1 / 0.0254)

    assert inches.samples["band"][-1]["estimate"] == pytest.approx(
        timeline["moments"][-1]["jump"]["estimate"] / 0.0254, abs=1e-3
    )
    assert "(in)" in as_svg(inches)
    worth = worth_dots(assessment["worth"], unit="in", per_centimetre=1 / 2.54)
    assert worth.samples["worth"][0]["estimate"] == pytest.approx(
        assessment["worth"][0]["estimate_cm"] / 2.54, abs=1e-3
    )


def test_only_the_methods_that_were_used_are_in_the_key(figures):
    svg = as_svg(figures["jump"])

    assert "jump and reach" in svg
    assert ">mat<" in svg
    assert "film" not in svg


def test_a_decided_quality_is_drawn_full(documents):
    assessment, _ = documents
    first = assessment["worth"][0]["quality"]

    rows = worth_dots(assessment["worth"], named=first).samples["worth"]

    assert [row["named"] for row in rows] == [True, False, False, False]


def test_one_date_alone_is_a_dot_with_its_interval(documents):
    _, timeline = documents

    svg = as_svg(jump_over_time(timeline["moments"][-1:], []))

    assert "mark-rule" in svg
    assert svg.count("circle") >= 1


def test_words_can_be_said_in_another_language(documents):
    assessment, _ = documents
    svg = as_svg(worth_dots(assessment["worth"], say=lambda words: f"«{words}»"))

    assert "«max strength»" in svg
    assert "«jump gained»" in svg
