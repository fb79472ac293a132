import pytest
from django.utils import translation

from saltus.quantities import POUND
from saltus.training.method_file import load_method
from saltus.training.plan import Item, Why
from saltus.training.situation import Gym
from saltus.web.plans.health import shown
from saltus.web.plans.words import (
    height_words,
    load_words,
    percent_words,
    rest_words,
    sets_words,
    side_words,
)
from saltus.web.units import Units

KILOS = Gym(
    equipment=frozenset({"barbell", "rack"}),
    plates_kg={20.0: 2, 1.25: 2},
    dumbbells_kg=(12.5,),
    kettlebells_kg=(24.0,),
)
POUNDS = Gym(
    equipment=frozenset({"barbell", "rack"}),
    bar_kg=45 * POUND,
    plates_kg={45 * POUND: 2},
    unit="lb",
)
IMPERIAL = Units("in", "lb")


@pytest.fixture(scope="module")
def exercises():
    return load_method().exercises


def item(**fields):
    values = {"exercise": "back_squat", "sets": 3, "reps": 5, "why": Why("r", None, "t")}
    return Item(**(values | fields))


def test_a_load_is_told_exactly_in_the_unit_of_the_plates_and_to_a_tenth_in_another():
    assert load_words(61.25, Units(), KILOS) == "61.25 kg"
    assert load_words(135 * POUND, IMPERIAL, POUNDS) == "135 lb"
    assert load_words(135 * POUND, Units(), POUNDS) == "61.2 kg"
    assert load_words(60.0, IMPERIAL, KILOS) == "132.3 lb"
    assert load_words(None, Units(), KILOS) == ""


def test_what_to_put_on_is_told_as_it_is_stamped(exercises):
    squat = exercises["back_squat"]
    assert side_words(item(load_kg=62.5), squat, KILOS) == "20 + 1.25 kg a side"
    assert side_words(item(load_kg=20.0), squat, KILOS) == "the bar alone"
    assert side_words(item(load_kg=135 * POUND), squat, POUNDS) == "45 lb a side"
    assert "cannot make" in side_words(item(load_kg=61.0), squat, KILOS)
    swing = exercises["kettlebell_swing"]
    assert side_words(item(load_kg=24.0), swing, KILOS) == "kettlebell of 24 kg"
    assert side_words(item(), squat, KILOS) == ""


def test_sets_heights_rests_and_shares(exercises):
    assert sets_words(item(), exercises["back_squat"]) == "3 × 5"
    assert sets_words(item(), exercises["split_squat"]) == "3 × 5 each leg"
    warm_up = item(exercise="warm_up", sets=1, reps=1, minutes=9.0)
    assert sets_words(warm_up, exercises["warm_up"]) == "9 min"
    assert height_words(item(drop_m=0.3), Units()) == "from 30 cm"
    assert height_words(item(box_m=0.508), IMPERIAL) == "at 20 in"
    assert rest_words(item(rest_s=90.0)) == "90 s"
    assert rest_words(item(rest_s=150.0)) == "2.5 min"
    with translation.override("de"):
        assert rest_words(item(rest_s=150.0)) == "2,5 min"
    assert rest_words(item(rest_s=180.0, rest_between_reps_s=8.0)) == (
        "3 min, 8 s between repetitions"
    )
    assert rest_words(warm_up) == ""
    assert percent_words(item(percent=75.2, percent_of="back_squat")) == (
        "75 % of the back squat maximum"
    )
    assert percent_words(item(percent=10.0, percent_of="body_mass")) == "10 % of body mass"


@pytest.mark.parametrize(
    "line",
    [
        "Pain of 4 out of 10 (knee, 2027-01-05) closes depth jump. It opens when it is down.",
        "depth jump is restricted: landing (operation). It opens after 2027-02-01.",
        'The restriction "knee" speaks of no exercise or family and cannot be kept.',
    ],
)
def test_sentences_on_health_are_kept_back(line):
    other = "Squat once a week instead of twice: one more free day would make room."
    assert shown([line, other], sees_health=True).lines == (line, other)
    told = shown([line, other], sees_health=False)
    assert told.lines == (other,)
    assert told.hidden


def test_the_general_warning_is_for_everybody():
    general = "Stop an exercise that hurts. Pain above 5 out of 10 means no jumping."
    assert shown([general], sees_health=False).lines == (general,)
