"""Measures in sentences of the core, in the units of whoever reads them."""

import pytest
from django.utils import translation

from saltus.web.units import Units, current_units, in_units


@pytest.fixture
def inches_and_pounds():
    token = current_units.set(Units("in", "lb"))
    yield
    current_units.reset(token)


# By 1 in = 2.54 cm and 1 lb = 0.45359237 kg, exactly (the yard and pound agreement of 1959).
@pytest.mark.parametrize(
    ("sentence", "language", "said"),
    [
        ("squat jump with 20 kg", "en", "squat jump with 44.1 lb"),
        ("drop jumps from about 20 and 40 cm", "en", "drop jumps from about 7.9 and 15.7 in"),
        ("bar speed at 60, 80, 100 kg", "en", "bar speed at 132.3, 176.4, 220.5 lb"),
        ("by +0.4 cm (-0.3 to +1.0), 2 weeks", "en", "by +0.2 in (-0.1 to +0.4), 2 weeks"),
        ("um +0,4 cm (-0,3 bis +1,0)", "de", "um +0,2 in (-0,1 bis +0,4)"),
        ("150 N/s/kg, 12 kg·m", "en", "150 N/s/kg, 12 kg·m"),
        ("2026-11-16-drop-jump-30cm.csv", "en", "2026-11-16-drop-jump-30cm.csv"),
        ("2.54 cm", "en", "1 in"),
    ],
)
def test_measures_are_told_in_the_readers_units(inches_and_pounds, sentence, language, said):
    with translation.override(language):
        assert in_units(sentence) == said


def test_who_reads_metric_units_reads_what_the_core_says():
    for sentence in ("squat jump with 20 kg", "+0.4 cm (-0.3 to +1.0)", "41.50 cm"):
        assert in_units(sentence) == sentence
