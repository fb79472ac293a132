import pytest

from saltus.athlete.observations import Lift
from saltus.athlete.qualities import TRAINABLE, Quality
from saltus.errors import MethodError
from saltus.training.exercise_file import load_exercises
from saltus.training.exercises import Carrier, HeightKind, Place
from saltus.training.spans import Count, Span

# The list that a coach expects, over the whole continuum.
WANTED = {
    "back_squat",
    "front_squat",
    "pin_squat",
    "box_squat",
    "leg_press",
    "split_squat",
    "deadlift",
    "romanian_deadlift",
    "calf_raise",
    "front_plank",
    "power_clean",
    "power_snatch",
    "hang_power_clean",
    "hang_power_snatch",
    "block_power_clean",
    "block_power_snatch",
    "clean_high_pull",
    "push_jerk",
    "jump_squat",
    "trap_bar_jump",
    "kettlebell_swing",
    "box_jump",
    "seated_box_jump",
    "broad_jump",
    "hurdle_hops",
    "approach_jump",
    "sprint",
    "pogo_hops",
    "drop_landing",
    "depth_jump",
    "warm_up",
    "landing_practice",
}


@pytest.fixture(scope="module")
def exercises():
    return load_exercises()


@pytest.fixture
def own(tmp_path):
    def write(text):
        path = tmp_path / "own.toml"
        path.write_text(text, encoding="utf-8")
        return path

    return write


def test_at_least_forty_over_the_whole_continuum(exercises):
    assert len(exercises) >= 40
    assert set(exercises) >= WANTED
    assert {exercise.place for exercise in exercises.values()} == set(Place)


def test_each_quality_is_trained_by_several(exercises):
    for quality in TRAINABLE:
        assert sum(e.adds.get(quality, 0) > 0 for e in exercises.values()) >= 5


def test_nobody_trains_the_push_off_distance(exercises):
    assert not any(Quality.PUSH_OFF_DISTANCE in e.adds for e in exercises.values())


def test_each_has_cues_and_a_source(exercises):
    for exercise in exercises.values():
        assert exercise.cues, exercise.id
        assert exercise.source, exercise.id


def test_what_jumps_says_who_should_not(exercises):
    hard = [e for e in exercises.values() if e.landing_cost >= 1]
    assert len(hard) >= 6
    assert all(e.not_for for e in hard)


def test_stand_ins_train_alike(exercises):
    for exercise in exercises.values():
        for name in exercise.stand_ins:
            easier = exercises[name].place is Place.PREPARATION
            both = set(exercise.adds) & set(exercises[name].adds)
            assert both or easier or not exercise.adds, (exercise.id, name)


def test_stand_ins_of_a_jump_are_not_harder_on_the_joints(exercises):
    depth = exercises["depth_jump"]
    for name in depth.stand_ins:
        stand_in = exercises[name]
        assert stand_in.landing_load(1, 1) < depth.landing_load(1, 1, 0.3)


def test_minutes_count_setting_up_work_and_rest(exercises):
    squat = exercises["back_squat"]
    # 6 min of setting up, and three sets of five at 4 s each with 180 s of rest.
    assert squat.minutes(3, 5) == pytest.approx(6 + 3 * (20 + 180) / 60)
    split = exercises["split_squat"]
    # Both legs, one after the other.
    assert split.minutes(2, 6) == pytest.approx(2 + 2 * (2 * 18 + 75) / 60)
    box = exercises["box_jump"]
    # Rests between the repetitions too: one fewer than repetitions.
    assert box.minutes(1, 4) == pytest.approx(2 + (4 * 3 + 3 * 8 + 90) / 60)


def test_landings_of_a_drop_cost_more_from_higher(exercises):
    depth = exercises["depth_jump"]
    assert depth.landings(3, 5) == 30
    assert depth.landing_load(3, 5, 0.3) < depth.landing_load(3, 5, 0.6)
    assert depth.landing_load(3, 5) == depth.landing_load(3, 5, depth.height.range_m.high)


def test_own_file_changes_a_field_and_keeps_the_rest(own, exercises):
    changed = load_exercises(own("[exercise.back_squat]\nsets = [2, 4]\n"))
    assert changed["back_squat"].sets == Count(2, 4)
    assert changed["back_squat"].reps == exercises["back_squat"].reps
    assert {k: v for k, v in changed.items() if k != "back_squat"} == {
        k: v for k, v in exercises.items() if k != "back_squat"
    }


def test_own_file_adds_an_exercise(own):
    text = """
[exercise.step_jump]
name = "step jump"
place = "speed_strength"
families = ["box_jump", "jump"]
adds = { push_off_speed = 0.03 }
load = { of = "body_mass", percent = [0, 5], on = ["dumbbells"], may_be_none = true }
height = { kind = "box", range_m = [0.2, 0.5], limits = [{ over_kg = 95, max_m = 0.4 }] }
sets = 3
reps = [2, 4]
per_week = [0, 2]
rep_s = 3
rest_s = 60
landing = { per_rep = 1, cost = 0.5 }
equipment = ["boxes"]
needs = { landing_practice_weeks = 2, pain = "safe" }
cues = ["Up."]
"""
    added = load_exercises(own(text))["step_jump"]
    assert added.sets == Count(3, 3)
    assert added.load.of is None
    assert added.load.on == (Carrier.DUMBBELLS,)
    assert added.height.kind is HeightKind.BOX
    assert added.height.limits[0].max_m == 0.4
    assert added.source == "judgement"


def test_shipped_loads_refer_to_lifts_that_tests_know(exercises):
    of = {e.load.of for e in exercises.values() if e.load is not None}
    assert of - {None} == set(Lift)


# A fault in a field of the back squat, and what must be said about it.
FAULTS = [
    ('place = "strenght"', "exercise.back_squat.place", '"strenght" is not one of', "strength"),
    ("sets = [5, 2]", "exercise.back_squat.sets", "runs backwards", "5 is more than 2"),
    ("sets = [0, 2]", "exercise.back_squat.sets", "0 is out of range", "least allowed is 1"),
    ("reps = [1.5, 3]", "exercise.back_squat.reps", "two whole numbers", "[1.5, 3]"),
    ("rest_s = 5000", "exercise.back_squat.rest_s", "5000 s is out of range", "900 s"),
    ('rest_s = "long"', "exercise.back_squat.rest_s", "it must be a number", "'long'"),
    ("rest_s = true", "exercise.back_squat.rest_s", "it must be a number", "True"),
    ("rest_s = nan", "exercise.back_squat.rest_s", "nan s is out of range", "finite"),
    ("name = ' '", "exercise.back_squat.name", "it is empty", "give a text"),
    ("families = []", "exercise.back_squat.families", "it is empty", "at least one family"),
    ("restt_s = 60", "exercise.back_squat.restt_s", "no such field", 'Did you mean "rest_s"'),
    ('equipment = ["bar"]', "exercise.back_squat.equipment", '"bar" is not one of', "barbell"),
    ('stand_ins = ["flying"]', "exercise.back_squat.stand_ins", '"flying" is no exercise', ""),
    ("adds = { max_strenght = 0.1 }", "exercise.back_squat.adds", "is not one of", "max_strength"),
    (
        "adds = { max_strength = 3 }",
        "exercise.back_squat.adds",
        "3 is out of range",
        "allowed is 1",
    ),
    ("adds = { push_off_distance = 0.1 }", "exercise.back_squat.adds", "measured", "leave it out"),
    ("load = { percent = [50, 80], on = ['barbell'] }", "load.of", "it is missing", "add it"),
    (
        "load = { of = 'back_squat', percent = [50, 180], on = ['barbell'] }",
        "percent",
        "180 %",
        "130",
    ),
    ("load = { of = 'back_squat', percent = [50, 80], on = [] }", "load.on", "it is empty", ""),
    ("load = 7", "exercise.back_squat.load", "it must be a table", "7"),
    ("landing = { per_rep = 1 }", "exercise.back_squat.landing", "without a cost", ""),
    ("landing = { per_rep = 1, cost = 1, cost_per_drop_m = 1 }", "landing", "needs a height", ""),
    ("height = { kind = 'drop', range_m = [0.2, 0.4] }", "height", "who drops also lands", ""),
    (
        "height = { kind = 'box', range_m = [0.2, 4] }",
        "height.range_m",
        "4 m is out of range",
        "1.5",
    ),
    ("height = { kind = 'box', range_m = 0.3, limits = [{ max_m = 1 }] }", "limits", "whom", ""),
    ("needs = { pain = 'none' }", "exercise.back_squat.needs", '"none" is not one of', "safe"),
    ("needs = { age_years = 16.5 }", "needs.age_years", "it must be a whole number", "16.5"),
]


@pytest.mark.parametrize(("line", "field", "what", "limit"), FAULTS)
def test_a_fault_names_its_line_field_value_and_limit(own, line, field, what, limit):
    with pytest.raises(MethodError) as caught:
        load_exercises(own(f"# mine\n[exercise.back_squat]\n\n{line}\n"))
    (fault,) = caught.value.faults
    assert fault.line == 4
    assert field in fault.where
    assert what in fault.what
    assert limit in fault.what


def test_all_faults_are_told_at_once(own):
    text = "[exercise.back_squat]\nsets = 0\nreps = 0\n\n[exercise.box_jump]\nrep_s = -1\n"
    with pytest.raises(MethodError) as caught:
        load_exercises(own(text))
    assert [fault.line for fault in caught.value.faults] == [2, 3, 6]
    assert "own.toml" in str(caught.value)


def test_a_new_exercise_needs_its_fields(own):
    with pytest.raises(MethodError) as caught:
        load_exercises(own('\n[exercise.flying]\nname = "flying"\n'))
    missing = {fault.where.split(".")[-1] for fault in caught.value.faults}
    assert missing == {"place", "families", "sets", "reps", "per_week", "rep_s", "rest_s"}
    assert {fault.line for fault in caught.value.faults} == {2}


@pytest.mark.parametrize("text", ["exercise = 3\n", "[exercise]\nback_squat = 3\n"])
def test_exercises_are_tables(own, text):
    with pytest.raises(MethodError, match="written as tables"):
        load_exercises(own(text))


def test_what_is_no_toml_and_what_is_no_file(own, tmp_path):
    with pytest.raises(MethodError, match="line 3, the text: this is not valid TOML"):
        load_exercises(own("[exercise.back_squat]\nsets = [\n= 3"))
    with pytest.raises(MethodError, match="there is no such file"):
        load_exercises(tmp_path / "nowhere.toml")
    binary = tmp_path / "binary.toml"
    binary.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(MethodError, match="not UTF-8"):
        load_exercises(binary)


def test_ranges_know_what_lies_in_them():
    assert 3 in Count(2, 4)
    assert 5 not in Count(2, 4)
    assert Count(2, 4).meet(Count(4, 6)) == Count(4, 4)
    assert Count(2, 4).meet(Count(5, 6)) is None
    assert Span(0.2, 0.4).meet(None) == Span(0.2, 0.4)
    assert Span(70, 85).meet(Span(50, 75)) == Span(70, 75)
    assert Span(70, 85).meet(Span(50, 60)) is None
    assert str(Count(3, 3)) == "3"
    assert str(Span(70, 82.5)) == "70 to 82.5"
    with pytest.raises(ValueError, match="low to high"):
        Count(4, 2)
    with pytest.raises(ValueError, match="low to high"):
        Span(-1, 2)
