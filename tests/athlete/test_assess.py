import datetime as dt
import json
from dataclasses import replace

import pytest

from saltus.athlete.assess import assess
from saltus.athlete.assessment import Goal
from saltus.athlete.document import assessment_document
from saltus.athlete.observations import Jump, JumpMethod, JumpStyle
from saltus.athlete.qualities import Quality

ON = dt.date(2026, 11, 1)


@pytest.fixture
def assessment(person, tests):
    goal = Goal(date=dt.date(2027, 5, 1), touch_m=3.05, what="the rim")
    return assess(person, tests, goal=goal)


def test_it_speaks_of_the_day_of_the_latest_test(assessment):
    assert assessment.date == ON
    assert assessment.mass_kg == 78.0


def test_a_later_day_is_less_sure(person, tests, assessment):
    later = assess(person, tests, on=ON + dt.timedelta(weeks=26))

    def width(found):
        strength = found.qualities[Quality.MAX_STRENGTH]
        return strength.high - strength.low

    assert width(later) > 1.1 * width(assessment)


def test_the_squat_jump_is_below_the_countermovement_jump(assessment):
    assert assessment.squat_jump_m.value < assessment.jump_m.value


def test_no_figures_about_body_mass_for_minors_or_unknown_age(person, tests, assessment):
    assert assessment.body_mass is not None
    for born in (dt.date(2010, 1, 1), None):
        assert assess(replace(person, born=born), tests).body_mass is None


def test_the_run_up_is_told_only_where_it_was_tested(person, tests, assessment):
    run_up = Jump(
        date=ON, style=JumpStyle.APPROACH, method=JumpMethod.REACH, heights_m=(0.62,), arms=True
    )

    assert assessment.approach_jump_m is None
    found = assess(person, [*tests, run_up])
    assert found.approach_jump_m.value > found.jump_m.value


def test_loaded_jumps_give_the_published_profile(person, tests, assessment):
    loaded = [
        replace(tests[1], load_kg=load, heights_m=(h,) * 3)
        for load, h in ((20.0, 0.27), (40.0, 0.205), (60.0, 0.155))
    ]

    assert assessment.force_velocity is None
    assert "loads" in assessment.force_velocity_why
    assert len(assess(person, [*tests, *loaded]).force_velocity.points) == 4


def test_without_any_test_the_prior_speaks_and_says_so(person):
    found = assess(person, [])

    assert any("No tests" in caution for caution in found.cautions)
    assert found.date == person.body_masses[-1].date


def test_the_document_is_json_with_the_promised_names(assessment):
    document = json.loads(json.dumps(assessment_document(assessment)))

    assert {
        "athlete",
        "date",
        "jump",
        "qualities",
        "worth",
        "limiting",
        "next_tests",
        "goal",
        "force_velocity",
        "cautions",
    } <= set(document)
    assert set(document["jump"]) == {"estimate", "low", "high"}
    assert [q["name"] for q in document["qualities"]] == [
        "max_strength",
        "rate_of_force_development",
        "push_off_speed",
        "stretch_shortening_gain",
        "push_off_distance",
    ]
    assert set(document["qualities"][0]) == {"name", "unit", "estimate", "low", "high"}
    assert set(document["worth"][0]) == {
        "quality",
        "estimate_cm",
        "low_cm",
        "high_cm",
        "probability_largest",
    }
    assert {"needed_m", "date", "probability"} <= set(document["goal"])
    assert {"test", "information_bits", "why"} <= set(document["next_tests"][0])
    assert document["interval"] == 0.8
    assert document["force_velocity"] is None
    assert document["force_velocity_why"]
    assert document["jump"]["estimate"] == assessment.jump_m.value
