import itertools
from dataclasses import replace
from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from saltus.athlete.observations import Lift
from saltus.quantities import POUND, Estimate
from saltus.training.exercises import Carrier
from saltus.training.gym_loads import (
    Loading,
    loadable,
)
from saltus.training.loads import (
    LIGHTEST_SHARE,
    Unloadable,
    choose_load,
    family_week,
    percent_ceiling,
    reference,
    rep_ceiling,
)
from saltus.training.situation import Gym


def test_reps_in_reserve_follow_the_published_table():
    # Epley 1985: 2 to 10 repetitions at 93.8, 90.9, 88.2, 85.7, 83.3, 81.1, 78.9, 76.9, 75.0 %.
    table = (93.8, 90.9, 88.2, 85.7, 83.3, 81.1, 78.9, 76.9, 75.0)
    found = [rep_ceiling(reps, 0) for reps in range(2, 11)]
    assert found == pytest.approx(table, abs=0.05)
    assert rep_ceiling(3, 2) == rep_ceiling(5, 0)
    assert rep_ceiling(1, 0) == 100


def test_weeks_of_use_are_counted_and_begin_anew_after_a_pause(method):
    speed, general = method.phase("speed_strength"), method.phase("general_strength")
    assert family_week("jump_squat", [speed]) == 0
    assert family_week("jump_squat", [general, speed, speed, speed]) == 2
    assert family_week("jump_squat", [speed, speed, general]) == 0
    assert family_week("jump_squat", [speed, speed, general, speed]) == 0
    assert family_week("squat", [general, speed, speed]) == 2


def test_weightlifting_creeps_from_seventy_to_eighty_five(method):
    clean = method.exercises["power_clean"]
    phases = [method.phase("strength_speed")]
    found = [percent_ceiling(clean, method, phases * n, 3) for n in range(1, 15)]
    assert found[0] == 70
    assert all(0 <= b - a <= 1.5 for a, b in itertools.pairwise(found))
    assert found[-1] == 85


def test_jump_squats_begin_well_below_ten_per_cent_and_are_held(method):
    jump = method.exercises["jump_squat"]
    before = [method.phase("strength_speed")] * 8
    speed = method.phase("speed_strength")
    found = [percent_ceiling(jump, method, before + [speed] * n, 3) for n in range(1, 12)]
    assert found == [2, 2, 4, 4, 6, 6, 8, 8, 10, 10, 10]


def test_more_repetitions_lower_the_ceiling(method):
    squat = method.exercises["back_squat"]
    phases = [method.phase("general_strength")] * 12
    found = [percent_ceiling(squat, method, phases, reps) for reps in (4, 6, 8)]
    assert found == pytest.approx([82.5, rep_ceiling(6, 2), rep_ceiling(8, 2)])


def test_an_exercise_out_of_its_phase_has_no_ceiling(method):
    jump = method.exercises["jump_squat"]
    assert percent_ceiling(jump, method, [method.phase("unloading")], 3) is None
    assert (
        percent_ceiling(method.exercises["box_jump"], method, [method.phase("peaking")], 3) is None
    )


def test_the_first_weeks_are_loaded_from_the_low_end_and_no_later_week_leaps(method, strong, gym):
    squat, phase = method.exercises["back_squat"], method.phase("general_strength")
    maximum = strong.maxima_kg[Lift.BACK_SQUAT]

    def side(weeks):
        chosen = choose_load(squat, method, [phase] * weeks, strong, gym, reps=5)
        return chosen.target_kg / (percent_ceiling(squat, method, [phase] * weeks, 5) / 100)

    assert [side(1), side(2)] == pytest.approx([maximum.low] * 2)
    assert [side(weeks) for weeks in range(3, 7)] == pytest.approx(
        [maximum.low + share * (120 - maximum.low) for share in (0.25, 0.5, 0.75, 1.0)]
    )
    assert side(12) == pytest.approx(120)


def test_a_load_says_what_it_is_a_share_of(method, strong, gym):
    squat, phase = method.exercises["back_squat"], method.phase("general_strength")
    later = choose_load(squat, method, [phase] * 6, strong, gym, reps=5)
    assert later.target_kg == pytest.approx(0.775 * 120)
    assert later.load_kg == 92.5
    assert later.percent_of == "back_squat"
    assert later.percent == pytest.approx(100 * 92.5 / 120)


def test_a_wider_estimate_makes_a_lighter_start(method, strong, gym):
    squat, phases = method.exercises["back_squat"], [method.phase("general_strength")]
    wide = replace(strong, maxima_kg={Lift.BACK_SQUAT: Estimate.normal(120.0, 20.0)})
    sure = choose_load(squat, method, phases, strong, gym, reps=5)
    unsure = choose_load(squat, method, phases, wide, gym, reps=5)
    assert unsure.load_kg < sure.load_kg


def test_a_lift_never_tested_is_taken_from_another_with_more_doubt(method, strong):
    clean = method.exercises["power_clean"]
    squat_only = replace(strong, maxima_kg={Lift.BACK_SQUAT: Estimate.normal(120.0, 5.0)})
    tested, taken = reference(clean, strong), reference(clean, squat_only)
    assert taken.value == pytest.approx(0.65 * 120)
    assert taken.sd / taken.value > tested.sd / tested.value
    assert taken.sd == pytest.approx(((0.65 * 5) ** 2 + (0.1 * 78) ** 2) ** 0.5)
    assert reference(clean, replace(strong, maxima_kg={})) is None


def test_a_light_jump_squat_goes_without_a_bar(method, strong, gym):
    jump = method.exercises["jump_squat"]
    speed = method.phase("speed_strength")
    first = choose_load(jump, method, [speed], strong, gym, reps=3)
    assert first.load_kg is None
    assert first.percent_of is None
    later = choose_load(jump, method, [speed] * 9, strong, gym, reps=3)
    assert later.loading == Loading(10.0, Carrier.DUMBBELLS)


def test_the_carrier_that_comes_near_is_taken(method, strong, gym):
    split = method.exercises["split_squat"]
    phase = method.phase("general_strength")
    early = choose_load(split, method, [phase] * 4, strong, gym, reps=6)
    late = choose_load(split, method, [phase] * 16, strong, gym, reps=6)
    assert early.loading.carrier is Carrier.DUMBBELLS
    assert late.loading.carrier is Carrier.BARBELL
    assert late.load_kg > 2 * max(gym.dumbbells_kg)


def test_a_goblet_squat_keeps_its_own_range_in_a_phase_of_heavy_squats(method, strong, gym):
    goblet = method.exercises["goblet_squat"]
    chosen = choose_load(goblet, method, [method.phase("speed_strength")], strong, gym, reps=5)
    assert chosen.percent_of == "body_mass"
    assert 0 < chosen.percent <= 10


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"equipment": frozenset()}, "needs a barbell"),
        ({"bar_kg": 90.0}, "a lighter bar"),
        ({"plates_kg": {25.0: 2}}, "loads go from 20 to 70 kg: smaller plates"),
        ({"plates_kg": {10.0: 2}}, "the heaviest here is 40 kg: more plates"),
    ],
)
def test_what_cannot_be_loaded_says_what_would_help(method, strong, gym, changes, said):
    squat, phase = method.exercises["back_squat"], method.phase("general_strength")
    light = replace(strong, maxima_kg={Lift.BACK_SQUAT: Estimate.normal(95.0, 0.0)})
    chosen = choose_load(squat, method, [phase], light, replace(gym, **changes), reps=5)
    assert isinstance(chosen, Unloadable)
    assert said in chosen.reason


def test_what_is_not_known_or_not_used_says_so(method, strong, gym):
    squat, phase = method.exercises["back_squat"], method.phase("general_strength")
    nothing = replace(strong, maxima_kg={})
    assert "test it" in choose_load(squat, method, [phase], nothing, gym, reps=5).reason
    jump = method.exercises["jump_squat"]
    assert "not used" in choose_load(jump, method, [phase], strong, gym, reps=3).reason
    press = method.exercises["leg_press"]
    pressing = replace(strong, maxima_kg={Lift.LEG_PRESS: Estimate.normal(200.0, 5.0)})
    machine = Gym(equipment=frozenset({"leg_press"}))
    high = choose_load(press, method, [method.phase("speed_strength")], pressing, machine, reps=12)
    assert "take fewer repetitions" in high.reason


@given(
    squat=st.floats(30, 250),
    sd=st.floats(0, 30),
    plates_kg=st.dictionaries(
        st.sampled_from((20.0, 10.0, 5.0, 1.25, 45 * POUND, 2.5 * POUND)), st.integers(0, 9)
    ),
    bar=st.sampled_from((7.5, 20.0, 45 * POUND)),
    weeks=st.integers(1, 20),
    reps=st.integers(2, 8),
)
def test_a_chosen_load_never_exceeds_what_is_allowed(
    method, squat, sd, plates_kg, bar, weeks, reps
):
    maximum = Estimate.normal(squat, min(sd, squat / 2))
    strong = _only_squat(maximum)
    exercise, phase = method.exercises["back_squat"], method.phase("general_strength")
    gym = Gym(equipment=frozenset({"barbell", "rack"}), bar_kg=bar, plates_kg=plates_kg)
    chosen = choose_load(exercise, method, [phase] * weeks, strong, gym, reps=reps)
    if isinstance(chosen, Unloadable):
        assert chosen.reason.startswith("back squat: ")
        return
    ceiling = percent_ceiling(exercise, method, [phase] * weeks, reps)
    share = min(max(weeks - method.careful.weeks, 0) / (method.careful.ease_weeks + 1), 1)
    side = maximum.low + share * (maximum.value - maximum.low)
    assert chosen.load_kg <= ceiling / 100 * side + 1e-5
    assert chosen.load_kg >= LIGHTEST_SHARE * 0.65 * maximum.low - 1e-5
    assert chosen.load_kg in loadable(gym, Carrier.BARBELL)


def _only_squat(maximum):
    return SimpleNamespace(maxima_kg={Lift.BACK_SQUAT: maximum}, mass_kg=75.0)
