"""Sentences of the core as pages write them."""

import pytest
from django.utils import translation

from saltus.web.templatetags.figures_in_words import dated, source_words
from saltus.web.units import Units, current_units


@pytest.mark.parametrize(
    ("sentence", "language", "said"),
    [
        ("the session moves to Sun 2026-12-06", "en", "the session moves to Sun 6 Dec 2026"),
        ("die Woche vom 2026-12-21", "de", "die Woche vom 21. Dez. 2026"),
        ("back squat 2 x 3 instead of 3 x 3", "en", "back squat 2 × 3 instead of 3 × 3"),
        ("2026-13-45 is no day", "en", "2026-13-45 is no day"),
        ("a box x of 5", "en", "a box x of 5"),
        ("um +0,2 cm (-0,3 bis +1,0)", "de", "um +0,2 cm (−0,3 bis +1,0)"),
        ("cmj-2.csv, 60-70 and 1e-5", "en", "cmj-2.csv, 60-70 and 1e-5"),
    ],
)
def test_dates_and_repetitions_are_told_as_on_the_rest_of_the_page(sentence, language, said):
    with translation.override(language):
        assert dated(sentence) == said


def test_what_lies_below_nought_does_so_in_inches_too():
    token = current_units.set(Units("in", "lb"))
    try:
        assert dated("+0.5 cm (-2.5 to +1.0)") == "+0.2 in (−1 to +0.4)"
    finally:
        current_units.reset(token)


@pytest.mark.parametrize(
    ("source", "said"),
    [
        ("common practice", "übliche Praxis"),
        ("common practice; Epley 1985", "übliche Praxis; Epley 1985"),
        ("judgement", "Ermessen"),
        ("Epley 1985; common practice", "Epley 1985; common practice"),
    ],
)
def test_what_is_no_publication_is_told_in_the_readers_language(source, said):
    with translation.override("de"):
        assert source_words(source) == said
    with translation.override("en"):
        assert source_words(source) == source
