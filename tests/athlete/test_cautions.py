import datetime as dt
from dataclasses import replace

import pytest

from saltus.athlete.cautions import cautions, outlying_in_words
from saltus.athlete.health import Pain
from saltus.athlete.posterior import Problem, fit

ON = dt.date(2026, 11, 1)


def said(person, tests=(), pains=()):
    return " ".join(cautions(person, fit(Problem(person, tests, [], ON), draws=300), pains))


def test_licensed_practice_always_comes_first(person, tests):
    assert "no medical advice" in said(person, tests)


@pytest.mark.parametrize(
    ("born", "words"),
    [
        (dt.date(2011, 1, 1), "supervised"),
        (dt.date(1970, 1, 1), "hard landings"),
        (None, "date of birth"),
    ],
)
def test_age_brings_its_caution(person, tests, born, words):
    assert words in said(replace(person, born=born), tests)


def test_strong_pain_stops_and_says_whom_to_see(person, tests):
    text = said(person, tests, [Pain(ON, "left knee", 7)])

    assert "no jumping" in text
    assert "physiotherapist or doctor" in text


def test_the_latest_pain_of_a_place_counts_and_old_ones_are_forgotten(person, tests):
    better = [Pain(ON - dt.timedelta(days=9), "knee", 7), Pain(ON, "knee", 1, True)]
    old = [Pain(ON - dt.timedelta(days=60), "knee", 7)]

    assert "Pain of" not in said(person, tests, better)
    assert "Pain of" not in said(person, tests, old)


def test_what_the_figures_rest_on_is_said(person, tests):
    stale = [replace(test, date=ON - dt.timedelta(days=200)) for test in tests]

    assert "No tests are on record" in said(person)
    assert "grown vague" in said(person, stale)
    assert "Stature" in said(replace(person, stature_m=None), tests)


def test_an_outlying_test_is_told_with_what_to_do(person, tests):
    wrong = replace(tests[2], load_kg=310.0)
    posterior = fit(Problem(person, [*tests, wrong], [], ON), draws=300)

    (sentence,) = outlying_in_words(posterior)
    assert "back squat" in sentence
    assert "check" in sentence
