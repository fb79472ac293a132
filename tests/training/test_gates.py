import datetime as dt
from dataclasses import replace

import pytest

from saltus.athlete.clearance import LIFT_WORDS
from saltus.athlete.health import Pain, Restriction
from saltus.athlete.observations import Lift
from saltus.quantities import Estimate
from saltus.training.gates import (
    check_gates,
    standing_pains,
    supervision_cautions,
    treated_as_minor,
    unknown_restrictions,
)

ON = dt.date(2026, 3, 2)


@pytest.fixture
def closed(method, strong, adult, situation):
    practised = replace(situation, landing_practice_weeks=10.0)

    def check(name, *, assessment=strong, person=adult, situation=practised, on=ON, **more):
        found = check_gates(method.exercises[name], assessment, person, situation, on, **more)
        return {gate.gate: gate for gate in found}

    check.situation = practised
    return check


def test_all_gates_are_open_for_a_strong_practised_adult(closed, method):
    assert {name: closed(name) for name in method.exercises if closed(name)} == {}


def test_age(closed, adult):
    young = replace(adult, born=dt.date(2010, 9, 1))
    gate = closed("depth_jump", person=young)["age"]
    assert "from 16 years; Ada Probe is 15" in gate.reason
    assert gate.opens_when == "on the 16th birthday."
    assert "age" not in closed("depth_jump", person=young, on=dt.date(2026, 9, 1))
    assert closed("box_jump", person=young) == {}


def test_an_unknown_age_is_treated_with_caution(closed, adult):
    unknown = replace(adult, born=None)
    gate = closed("depth_jump", person=unknown)["age"]
    assert "not known" in gate.reason
    assert "date of birth" in gate.opens_when
    assert treated_as_minor(unknown, ON)


def test_training_age(closed, adult):
    new = replace(adult, training_age_years=0.5)
    gate = closed("power_clean", person=new)["training_age"]
    assert "needs 1 year of regular training; so far it is 6 months" in gate.reason
    assert closed("hang_power_clean", person=new) == {}


def test_strength(closed, strong):
    weak = replace(strong, maxima_kg={Lift.BACK_SQUAT: Estimate.normal(100.0, 4.0)})
    gate = closed("depth_jump", assessment=weak)["strength"]
    assert "1.5 x body mass (112 kg)" in gate.reason
    assert "the estimate is 100 kg" in gate.reason
    assert "has been shown" in gate.opens_when
    none = replace(strong, maxima_kg={})
    assert "none is known" in closed("depth_jump", assessment=none)["strength"].reason


def test_an_untested_squat_is_read_at_its_low_end(closed, strong):
    guessed = replace(strong, maxima_kg={Lift.BACK_SQUAT: Estimate.normal(125.0, 15.0)})
    assert "test it" in closed("depth_jump", assessment=guessed)["strength"].reason
    tested = replace(strong, maxima_kg={Lift.BACK_SQUAT: Estimate.normal(125.0, 5.0)})
    assert closed("depth_jump", assessment=tested) == {}


def test_landing_practice_grows_with_the_weeks_of_the_plan(closed, situation):
    new = replace(situation, landing_practice_weeks=0.0)
    start = situation.start
    gate = closed("depth_jump", situation=new, on=start + dt.timedelta(weeks=5))["landing_practice"]
    assert "needs 6 weeks of landing practice; by then there are 5" in gate.reason
    assert "after 1 more weeks" in gate.opens_when
    assert closed("depth_jump", situation=new, on=start + dt.timedelta(weeks=6)) == {}
    late = start + dt.timedelta(weeks=8)
    assert "landing_practice" in closed("depth_jump", situation=new, on=late, practised_weeks=3)


def test_surface(closed):
    hard = replace(closed.situation, soft_surface=False)
    assert "soft_surface = true" in closed("depth_jump", situation=hard)["surface"].opens_when
    assert closed("hurdle_hops", situation=hard) == {}


# Pain, and what it closes: none of these, or "depth_jump", "box_jump", "back_squat", "dead_bug".
PAINS = [
    (2, None, set()),
    (2, False, {"depth_jump"}),
    (3, True, {"depth_jump"}),
    (5, None, {"depth_jump"}),
    (5, False, {"depth_jump", "box_jump", "back_squat"}),
    (6, True, {"depth_jump", "box_jump", "back_squat"}),
]


@pytest.mark.parametrize(("level", "settled", "shut"), PAINS)
def test_pain_closes_by_its_band(closed, level, settled, shut):
    pain = Pain(dt.date(2026, 2, 20), "left knee", level, settled)
    sore = replace(closed.situation, pains=(pain,))
    names = ("depth_jump", "box_jump", "back_squat", "dead_bug")
    assert {name for name in names if closed(name, situation=sore)} == shut


def test_a_pain_to_stop_for_says_whom_to_see(closed):
    sore = replace(closed.situation, pains=(Pain(dt.date(2026, 2, 20), "Achilles tendon", 7),))
    gate = closed("back_squat", situation=sore)["pain"]
    assert "Pain of 7 out of 10 (Achilles tendon, 2026-02-20)" in gate.reason
    assert "someone qualified" in gate.opens_when


def test_a_newer_report_of_the_same_place_counts(closed):
    pains = (
        Pain(dt.date(2026, 2, 20), "Left knee ", 7),
        Pain(dt.date(2026, 2, 27), "left knee", 1),
    )
    better = replace(closed.situation, pains=pains)
    assert closed("depth_jump", situation=better) == {}
    assert closed("depth_jump", situation=better, on=dt.date(2026, 2, 24))
    other = replace(closed.situation, pains=(pains[0], replace(pains[1], place="right knee")))
    assert closed("depth_jump", situation=other)


def test_slight_pain_of_long_ago_has_lapsed_and_bad_pain_has_not(closed):
    long_ago = closed.situation.start - dt.timedelta(days=43)
    slight = replace(closed.situation, pains=(Pain(long_ago, "knee", 4),))
    bad = replace(closed.situation, pains=(Pain(long_ago, "knee", 8),))
    assert closed("depth_jump", situation=slight) == {}
    assert closed("depth_jump", situation=bad)
    assert len(standing_pains(bad, ON)) == 1


def test_a_sore_wrist_matters_to_what_is_held(closed):
    def shut(level):
        pain = Pain(dt.date(2026, 2, 20), "right wrist", level)
        sore = replace(closed.situation, pains=(pain,))
        names = ("trap_bar_jump", "depth_jump", "power_clean", "leg_press")
        return [name for name in names if closed(name, situation=sore)]

    assert shut(2) == []
    assert shut(4) == ["trap_bar_jump"]
    assert shut(6) == ["trap_bar_jump", "depth_jump", "power_clean"]


# What a restriction says, and an exercise that it closes and one that it leaves open.
RESTRICTIONS = [
    ("depth_jump", "depth_jump", "box_jump"),
    ("Depth jump", "depth_jump", "hurdle_hops"),
    ("jumping", "box_jump", "back_squat"),
    ("landing", "drop_landing", "sprint"),
    ("squat", "front_squat", "deadlift"),
    ("weightlifting", "power_snatch", "kettlebell_swing"),
    ("reactive", "pogo_hops", "box_jump"),
]


@pytest.mark.parametrize(("what", "shut", "left_open"), RESTRICTIONS)
def test_restrictions_name_an_exercise_a_family_or_all_jumping(closed, what, shut, left_open):
    bound = replace(closed.situation, restrictions=(Restriction(what, ON, why="by the physio"),))
    gate = closed(shut, situation=bound)["restriction"]
    assert "by the physio" in gate.reason
    assert closed(left_open, situation=bound) == {}


def test_a_restriction_holds_between_its_days(closed):
    bound = replace(
        closed.situation, restrictions=(Restriction("squat", ON, ON + dt.timedelta(days=7)),)
    )
    assert closed("back_squat", situation=bound, on=ON - dt.timedelta(days=1)) == {}
    assert "after 2026-03-09" in closed("back_squat", situation=bound)["restriction"].opens_when
    assert closed("back_squat", situation=bound, on=ON + dt.timedelta(days=8)) == {}


def test_a_restriction_on_nothing_known_is_told(closed, method):
    bound = replace(
        closed.situation, restrictions=(Restriction("squat", ON), Restriction("levitation", ON))
    )
    assert [r.what for r in unknown_restrictions(bound, method.exercises)] == ["levitation"]


def test_a_tested_lift_and_its_exercise_are_restricted_alike(method):
    for lift, words in LIFT_WORDS.items():
        exercise = method.exercises["push_jerk" if lift == "jerk" else lift]
        assert exercise.families <= words <= exercise.families | {exercise.id}


def test_minors_do_depth_jumps_under_qualified_eyes_only(method, adult):
    young = replace(adult, born=dt.date(2009, 1, 1))
    every = method.exercises.values()
    assert "depth jump" in supervision_cautions(every, young, ON)[0]
    assert "unknown age" in supervision_cautions(every, replace(adult, born=None), ON)[0]
    assert supervision_cautions(every, adult, ON) == ()
    assert "every session" in supervision_cautions([], young, ON)[0]
