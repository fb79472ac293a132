"""Who should not do which test."""

import datetime as dt

import pytest

from saltus.athlete.clearance import Why, objections
from saltus.athlete.health import Pain, Restriction
from saltus.athlete.person import BodyMass, Person

DAY = dt.date(2026, 11, 20)
EARLIER = DAY - dt.timedelta(days=5)


def person(born=dt.date(2000, 1, 1), years=4.0):
    return Person(
        name="Ada",
        body_masses=(BodyMass(EARLIER, 70.0),),
        born=born,
        training_age_years=years,
    )


def whys(kind, who=None, **more):
    return [each.why for each in objections(kind, who or person(), DAY, **more)]


@pytest.mark.parametrize(
    ("pain", "cmj", "drop"),
    [
        (Pain(EARLIER, "left knee", 1), [], []),
        (Pain(EARLIER, "left knee", 4), [], [Why.PAIN_BEFORE_DROPS]),
        (Pain(EARLIER, "left knee", 4, False), [Why.PAIN], [Why.PAIN]),
        (Pain(EARLIER, "left knee", 7), [Why.PAIN], [Why.PAIN]),
        (Pain(DAY - dt.timedelta(days=29), "left knee", 7), [], []),
    ],
)
def test_pain_stops_jumps_by_its_band(pain, cmj, drop):
    assert whys("countermovement_jump", pains=[pain]) == cmj
    assert whys("drop_jump", pains=[pain]) == drop
    assert whys("body_mass", pains=[pain]) == []


def test_the_latest_word_on_a_place_counts():
    pains = [Pain(DAY, "left knee", 1), Pain(EARLIER, "left knee", 8)]

    assert whys("squat_jump", pains=pains) == []


@pytest.mark.parametrize(
    ("what", "kind", "lift", "stopped"),
    [
        ("jumping", "broad_jump", None, True),
        ("Landing", "approach_jump", None, True),
        ("depth jump", "drop_jump", None, True),
        ("depth_jump", "squat_jump", None, False),
        ("back_squat", "rep_set", "back_squat", True),
        ("back_squat", "rep_set", "deadlift", False),
        ("jumping", "rep_set", "back_squat", False),
    ],
)
def test_restrictions_stop_what_they_name(what, kind, lift, stopped):
    found = whys(kind, lift=lift, restrictions=[Restriction(what, EARLIER)])

    assert found == ([Why.RESTRICTED] if stopped else [])


def test_a_restriction_that_has_ended_stops_nothing():
    over = Restriction("jumping", EARLIER, EARLIER)

    assert whys("squat_jump", restrictions=[over]) == []


def test_maximal_attempts_are_for_grown_ups_who_have_learnt_the_lift():
    assert whys("maximum") == []
    assert whys("maximum", person(born=dt.date(2010, 1, 1))) == [Why.MINOR]
    assert whys("maximum", person(born=None)) == [Why.AGE_UNKNOWN]
    assert whys("maximum", person(years=0.5)) == [Why.NOVICE]
    assert whys("rep_set", person(born=dt.date(2010, 1, 1))) == []


@pytest.mark.parametrize("what", ["jumps", "Jumping", "plyometrics", "landings", "landing"])
def test_a_restriction_on_all_jumps_speaks_of_every_jump(what):
    bound = [Restriction(what, EARLIER)]
    assert whys("countermovement_jump", restrictions=bound) == [Why.RESTRICTED]


@pytest.mark.parametrize(
    ("what", "lift", "shut"),
    [
        ("squat", "back_squat", True),
        ("heavy legs", "deadlift", True),
        ("weightlifting", "power_clean", True),
        ("squat", "power_clean", False),
    ],
)
def test_a_restriction_on_a_kind_of_work_speaks_of_its_lifts(what, lift, shut):
    found = whys("rep_set", lift=lift, restrictions=[Restriction(what, EARLIER)])
    assert found == ([Why.RESTRICTED] if shut else [])
