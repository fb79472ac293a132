from dataclasses import replace

import pytest

from saltus.athlete.health import PLACES, Pain
from saltus.training.today.pain import cautions_of, closed_today, stops_at_pain, stops_by_place


@pytest.mark.parametrize(
    ("exercise", "stops"),
    [
        # Up to 2 safe, up to 5 acceptable, above that stop (Silbernagel et al. 2007, Am J Sports
        # Med 35:897-906).
        ("back_squat", 6),
        ("box_jump", 6),
        ("depth_jump", 3),
        ("countermovement_jump", 3),
        ("front_plank", None),
        ("warm_up", None),
    ],
)
def test_the_limits_are_those_of_the_published_scale(exercise, stops, facts, method):
    assert stops_at_pain(method.exercises[exercise], facts) == stops


def test_a_sore_arm_stops_a_jump_later_than_a_sore_knee(facts, method):
    by_place = stops_by_place(method.exercises["countermovement_jump"], facts)

    assert by_place["left elbow"] == 6
    assert not any("knee" in place or "Achilles" in place for place in by_place)
    assert set(by_place) <= set(PLACES)


@pytest.mark.parametrize("name", ["back_squat", "depth_jump", "box_jump", "pogo_hops"])
def test_what_is_told_ahead_is_what_closes(name, facts, method):
    exercise = method.exercises[name]
    for place in ("left knee", "right shoulder"):
        limit = stops_by_place(exercise, facts).get(place, stops_at_pain(exercise, facts))
        for level in range(1, 11):
            closed = closed_today(exercise, hurting(facts, place, level))
            assert (closed is not None) == (limit is not None and level >= limit)


def test_above_five_it_says_whom_to_see(facts, method):
    told = closed_today(method.exercises["depth_jump"], hurting(facts, "left knee", 7))

    assert "7 out of 10 (left knee" in told
    assert "physiotherapist or doctor" in told


def test_what_may_go_on_says_so(facts, method):
    told = cautions_of(method.exercises["back_squat"], hurting(facts, "left knee", 4))

    assert any("may go on with pain of 4" in text and "to 6" in text for text in told)
    assert not any(
        "may go on" in text
        for text in cautions_of(method.exercises["depth_jump"], hurting(facts, "left knee", 4))
    )


def test_minors_and_unknown_ages_get_their_notes(facts, minor, method):
    depth, squat = method.exercises["depth_jump"], method.exercises["back_squat"]
    unknown = replace(facts, person=replace(facts.person, born=None))

    for young in (minor, unknown):
        assert "someone qualified watching" in cautions_of(depth, young)[0]
        assert "never a maximal attempt" in cautions_of(squat, young)[0]
    assert not any("Under 18" in text for text in cautions_of(squat, facts))


def test_a_depth_jump_is_closed_to_the_too_young(facts, method):
    child = replace(facts, person=replace(facts.person, born=facts.date.replace(year=2012)))

    assert "16 years" in closed_today(method.exercises["depth_jump"], child)


def hurting(facts, place, level):
    pains = (Pain(facts.date, place, level),)
    return replace(facts, situation=replace(facts.situation, pains=pains))
