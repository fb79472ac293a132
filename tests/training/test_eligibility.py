import datetime as dt
from dataclasses import replace

import pytest

from saltus.athlete.observations import Lift
from saltus.quantities import Estimate
from saltus.training.eligibility import Eligibility

MONDAY = dt.date(2026, 1, 5)


@pytest.fixture
def eligible(adult, strong, situation, method):
    timeline = (
        *4 * (method.phase("general_strength"),),
        *4 * (method.phase("strength_speed"),),
        *4 * (method.phase("peaking"),),
        method.phase("unloading"),
    )
    return Eligibility(adult, strong, situation, method, timeline)


def test_repetitions_fall_as_the_loads_climb(eligible, method):
    squat = method.exercises["back_squat"]

    options = [eligible.option(squat, n, MONDAY) for n in range(8)]
    loads = [eligible.load(squat, n, o.reps).load_kg for n, o in enumerate(options)]

    reps = [o.reps for o in options]
    assert reps == sorted(reps, reverse=True)
    assert reps[0] > reps[-1]
    assert loads == sorted(loads)


def test_an_unloading_week_takes_few_repetitions(eligible, method):
    squat = method.exercises["back_squat"]

    assert eligible.option(squat, 12, MONDAY).reps == 2


def test_a_lighter_week_may_do_with_fewer_sets(eligible, method):
    squat = method.exercises["back_squat"]

    full = eligible.option(squat, 0, MONDAY)
    lighter = eligible.option(squat, 0, MONDAY, lighter=True)

    assert lighter.sets.low < full.sets.low
    assert lighter.sets.high == full.sets.high


def test_why_not_names_the_equipment_then_the_gate_then_the_load(eligible, method):
    clean, jump = method.exercises["power_clean"], method.exercises["depth_jump"]
    bare = replace(
        eligible,
        situation=replace(
            eligible.situation, gym=replace(eligible.situation.gym, equipment=frozenset())
        ),
    )
    unknown = replace(eligible, assessment=replace(eligible.assessment, maxima_kg={}))

    assert bare.why_not([clean], 0, MONDAY, 8) == ("power clean needs: barbell.",)
    assert "landing practice" in eligible.why_not([jump], 8, MONDAY, 2)[0]
    assert "nothing is known of the maximum" in unknown.why_not([clean], 0, MONDAY, 8)[0]


def test_one_exercise_that_may_be_given_is_enough(eligible, method):
    both = [method.exercises["power_clean"], method.exercises["block_power_clean"]]

    assert eligible.why_not(both, 0, MONDAY, 8) == ()


def test_a_load_that_the_phase_does_not_leave_repetitions_for_is_no_option(eligible, method):
    weak = replace(
        eligible,
        assessment=replace(
            eligible.assessment, maxima_kg={Lift.POWER_CLEAN: Estimate.normal(18.0, 1.0)}
        ),
    )

    assert "power clean" in weak.option(method.exercises["power_clean"], 0, MONDAY)
