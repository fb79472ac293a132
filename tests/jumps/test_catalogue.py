import re
from pathlib import Path

import pytest

from saltus.jumps.catalogue import CATALOGUE, measure

PAGE = Path(__file__).parents[2] / "docs" / "jumps.md"


def test_the_page_lists_every_measure_with_its_unit():
    rows = re.findall(r"^\| `(\w+)` \| (.+?) \| (.+?) \|$", PAGE.read_text("utf-8"), re.MULTILINE)

    assert rows == [(name, unit or "ratio", title) for name, (unit, title) in CATALOGUE.items()]


def test_a_measure_carries_its_unit_and_title():
    found = measure("flight_time", 0.5, 0.001)

    assert (found.value, found.se, found.unit, found.title) == (0.5, 0.001, "s", "flight time")
    with pytest.raises(KeyError):
        measure("hang_time", 0.5, 0.001)
