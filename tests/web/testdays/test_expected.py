"""What was expected comes from what is known of the athlete."""

import datetime as dt

import pytest

from saltus.record.trials import Trial
from saltus.web.assessments import assess_now
from saltus.web.models import Athlete
from saltus.web.records import record_of
from saltus.web.testdays.expected import knowledge_of, questions
from saltus.web.units import Units

pytestmark = pytest.mark.django_db

DAY = dt.date(2026, 10, 20)
METRIC = Units()
TRIAL = Trial(kind="countermovement_jump", method="mat")


def asked(athlete, height, units=METRIC, trial=TRIAL, key="heights.1"):
    record = record_of(athlete, recordings=False)
    test = trial.observation({key: height}, DAY, standing_reach_m=2.32)
    return questions(athlete, record, trial, test, units)


def test_a_kept_assessment_is_asked_first(athlete):
    assess_now(athlete)
    athlete = Athlete.objects.select_related("assessment").get(pk=athlete.pk)

    known = knowledge_of(athlete, record_of(athlete), DAY)

    assert known.on == dt.date(2026, 10, 6)  # of the assessment, which is the latest test's
    assert known.states.shape == (400, 5)
    assert asked(athlete, 0.34) == {}
    assert "above what was expected" in asked(athlete, 0.55)[1][0]


def test_without_one_the_tests_before_the_day_count(athlete):
    known = knowledge_of(athlete, record_of(athlete), DAY)

    assert known.on == DAY
    assert knowledge_of(athlete, record_of(athlete), DAY) is known
    assert asked(athlete, 0.34) == {}
    assert "below what was expected" in asked(athlete, 0.13)[1][0]


def test_it_is_told_in_the_readers_units(athlete):
    (sentence,) = asked(athlete, 0.60, Units("in", "lb"))[1]

    assert sentence.startswith("23.6 in is ")
    assert "in above what was expected (1" in sentence


def test_what_was_read_off_is_told_as_a_jump(athlete):
    flight = Trial(kind="countermovement_jump", method="mat", way="flight")

    (sentence,) = asked(athlete, 0.75, trial=flight, key="flight.1")[1]

    assert sentence.startswith("That makes a jump of 69.0 cm, ")  # g t² / 8
