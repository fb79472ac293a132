import xml.etree.ElementTree as ET

import altair as alt
import pytest

from saltus.errors import UsageError
from saltus.figures.draw import Figure, as_svg, save, specification
from saltus.figures.theme import LIGHT


@pytest.fixture
def figure() -> Figure:
    chart = alt.Chart(alt.NamedData("points")).mark_point().encode(x="a:Q", y="b:Q")
    return Figure(chart, {"points": [{"a": 1, "b": 2}, {"a": 2, "b": 3}]})


def test_svg_is_well_formed_in_the_theme_with_even_digits(figure):
    svg = as_svg(figure)
    root = ET.fromstring(svg)
    assert root.tag.endswith("svg")
    assert svg.count("font-variant-numeric:tabular-nums") == 1
    assert LIGHT.paper.lower() in svg.lower()


def test_the_specification_carries_the_named_samples(figure):
    specified = specification(figure)
    assert specified["datasets"]["points"] == [{"a": 1, "b": 2}, {"a": 2, "b": 3}]
    assert specified["data"] == {"name": "points"}


@pytest.mark.parametrize(
    ("name", "starts"), [("f.svg", b"<svg"), ("f.PNG", b"\x89PNG"), ("f.pdf", b"%PDF")]
)
def test_each_format_is_written_as_itself(figure, tmp_path, name, starts):
    save(figure, tmp_path / name)
    assert (tmp_path / name).read_bytes().startswith(starts)


def test_another_extension_is_refused_with_the_known_ones(figure, tmp_path):
    with pytest.raises(UsageError, match=r"\.svg, \.pdf, \.png"):
        save(figure, tmp_path / "f.gif")


def test_a_folder_that_is_not_there_is_said(figure, tmp_path):
    with pytest.raises(UsageError, match="cannot be written"):
        save(figure, tmp_path / "nowhere" / "f.svg")
