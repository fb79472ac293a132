"""Figures have a minus that is one, no nought below nought, and the reader's words between ends."""

import pytest
from django.utils import translation

from saltus.web.athletes.figures_told import Scale, told


@pytest.mark.parametrize(
    ("language", "interval"), [("en", "−40.2 to −17.9"), ("de", "−40,2 bis −17,9")]
)
def test_an_interval_below_nought_can_be_read(language, interval):
    with translation.override(language):
        said = told({"estimate": -29.3, "low": -40.2, "high": -17.9}, Scale("N·s/m/kg"))
    assert said["interval"] == interval
    assert said["estimate"].startswith("−29")


def test_what_rounds_to_nought_has_no_sign():
    assert Scale("", digits=1)(-0.01) == "0.0"
