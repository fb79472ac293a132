from dataclasses import fields
from importlib import resources

import pytest

from saltus.athlete.qualities import TRAINABLE, Quality
from saltus.errors import MethodError
from saltus.training.method import PhaseKind
from saltus.training.method_file import load_method, parse_method
from saltus.training.spans import Count, Span

SHIPPED = resources.files("saltus.training").joinpath("data/method.toml").read_text("utf-8")


@pytest.fixture
def copy(tmp_path):
    """Write a copy of the method that ships with one text replaced by another."""

    def write(old="", new=""):
        assert SHIPPED.count(old) >= 1
        path = tmp_path / "copy.toml"
        path.write_text(SHIPPED.replace(old, new, 1), encoding="utf-8")
        return path

    return write


def line_of(text):
    return SHIPPED[: SHIPPED.index(text)].count("\n") + 1


def test_every_rule_has_a_text_and_a_source(method):
    assert len(method.rules) >= 25
    for name, rule in method.rules.items():
        assert rule.id == name
        assert rule.text.endswith("."), name
        assert rule.source, name


def test_every_rule_that_is_told_with_figures_is_there(method):
    named = {use.rule for phase in method.phases for use in phase.uses}
    for part in (*method.phases, *method.emphases, *method.spacings, *method.match_gaps):
        named.add(part.rule)
    for part in (*method.budgets, *method.progressions):
        named.add(part.rule)
    for field in fields(method):
        rule = getattr(getattr(method, field.name), "rule", None)
        if rule is not None:
            named.add(rule)
    assert named <= set(method.rules)


def test_phases_run_from_building_over_peaking_to_unloading(method):
    assert [phase.kind for phase in method.phases] == [
        PhaseKind.BUILDING,
        PhaseKind.BUILDING,
        PhaseKind.BUILDING,
        PhaseKind.PEAKING,
        PhaseKind.UNLOADING,
    ]
    assert method.phase("peaking").weeks == Count(4, 6)
    with pytest.raises(KeyError):
        method.phase("holiday")


def test_every_phase_squats_and_warms_up(method):
    for phase in method.phases:
        used = {use.family: use for use in phase.uses}
        assert used["squat"].per_week.low >= 1
        assert "warm_up" in used


def test_every_exercise_of_the_file_has_a_phase(method):
    idle = {e.id for e in method.exercises.values() if not any(p.use_of(e) for p in method.phases)}
    assert idle == set()


def test_every_use_can_be_done(method):
    for phase in method.phases:
        for use in phase.uses:
            fit = [
                e
                for e in method.family(use.family)
                if e.reps.meet(use.reps) and (e.load is None or e.load.within(use.percent))
            ]
            assert fit, (phase.id, use.family)


def test_the_limiting_quality_gets_the_longer_phase(method):
    shares = {e.limiting: e.shares for e in method.emphases}
    assert set(shares) == {None, *TRAINABLE}
    assert shares[Quality.MAX_STRENGTH]["general_strength"] > shares[None]["general_strength"]
    rate = Quality.RATE_OF_FORCE_DEVELOPMENT
    assert shares[rate]["strength_speed"] > shares[None]["strength_speed"]
    for quality in (Quality.PUSH_OFF_SPEED, Quality.STRETCH_SHORTENING_GAIN):
        assert shares[quality]["speed_strength"] > shares[None]["speed_strength"]
    assert method.emphasis(Quality.PUSH_OFF_DISTANCE) is method.emphasis(None)


def test_a_lighter_week_asks_for_less(method):
    use = method.phase("general_strength").use_of(method.exercises["back_squat"])
    assert use.lighter.per_week == Count(1, 3)
    assert use.lighter.sets == Count(1, 5)
    assert use.lighter.reps == use.reps


def test_an_unchanged_copy_is_the_same_method(copy, method):
    assert load_method(copy()) == method


def test_a_copy_changes_a_figure(copy):
    changed = load_method(copy("percent = [70, 85]", "percent = [72, 80]"))
    use = changed.phase("general_strength").use_of(changed.exercises["power_clean"])
    assert use.percent == Span(72, 80)


def test_a_short_file_changes_a_section_and_keeps_the_rest(tmp_path, method):
    path = tmp_path / "mine.toml"
    path.write_text(
        'name = "mine"\n'
        '[back_off]\nrule = "back_off"\nevery_weeks = 3\nsets_share = 0.5\n'
        '[rule.back_off]\ntext = "Every third week is lighter."\nsource = "my own"\n'
        "[exercise.depth_jump]\nsets = [2, 3]\n",
        encoding="utf-8",
    )
    mine = load_method(path)
    assert mine.name == "mine"
    assert mine.back_off.every_weeks == 3
    assert mine.rules["back_off"].source == "my own"
    assert mine.exercises["depth_jump"].sets == Count(2, 3)
    assert mine.phases == method.phases
    assert set(mine.rules) == set(method.rules)


# What is replaced, by what, where the fault is, and what must be said.
FAULTS = [
    ('name = "common practice"', 'nam = "x"', "nam", 'Did you mean "name"'),
    ('kind = "peaking"', 'kind = "peeking"', "kind", "is not one of"),
    ("weeks = [4, 6]", "weeks = [6, 4]", "weeks", "runs backwards"),
    ('id = "peaking"', 'id = "unloading"', "id", 'two phases "unloading"'),
    ('family = "depth_jump", rule', 'family = "deep_jump", rule', "family", '"deep_jump"'),
    ('rule = "depth_jump_block"\nkind', 'rule = "nothing"\nkind', "rule", 'no rule "nothing"'),
    ('family = "hurdle_hop", rule', 'family = "pogo", rule', "use", '"pogo" is used twice'),
    ("percent = [0, 10]", "percent = [40, 50]", "use", "widen the ranges"),
    ("reps = [3, 3], percent = [0, 10]", "reps = [9, 9], percent = [0, 10]", "use", "widen"),
    ("general_strength = 0.50", "general_strength = 0.60", "shares", "add up to 1.1"),
    ("general_strength = 0.50", "general_strenght = 0.50", "shares", "general_strength"),
    ('limiting = "undecided"', 'limiting = "max_strength"', "emphasis", 'for "undecided"'),
    ('limiting = "max_strength"', 'limiting = "max_power"', "limiting", "is not one of"),
    ("days_minors = 3", "days_minors = 1", "days_minors", "at least that of adults, 2"),
    ("per_session = 100", "per_session = 350", "per_session", "more than the week's 300"),
    ("first_week = 80", "first_week = 301", "first_week", "more than per_week, 300"),
    ("from_years = 0\nminors = false", "from_years = 1\nminors = false", "budget", "for adults"),
    ("from_years = 0\nminors = true", "from_years = 1\nminors = true", "budget", "under 18"),
    ("every_weeks = 4", "every_weeks = 1", "every_weeks", "least allowed is 2"),
    ("sets_share = 0.6", "sets_share = 1.6", "sets_share", "most allowed is 1"),
    ("step_points = 2.5", "step_points = 50", "step_points", "most allowed is 20 points"),
    ("rest_days = 2", "rest_days = -1", "rest_days", "least allowed is 0"),
    ("step = 0.20", 'step = "slow"', "step", "must be a number"),
    ("well_below = 0.02", "well_below = 0.3", "well_below", "at most that of below, 0.1"),
    ("well_below_lighter = 0.10", "well_below_lighter = 0.01", "well_below_lighter", "at least"),
    ("from_days = 10", "from_days = 3", "from_days", "least allowed is 7"),
    ("long_days = 28", "long_days = 9", "long_days", "at least that of from_days, 10"),
    ("long_weeks = 4", "long_weeks = 1", "long_weeks", "at least that of weeks, 2"),
    ("long_load_share = 0.80", "long_load_share = 0.95", "long_load_share", "that of load_share"),
    (
        "long_volume_share = 0.50",
        "long_volume_share = 0.8",
        "long_volume_share",
        "at most that of volume_share, 0.7",
    ),
    ('drop_by = "height"', 'drop_by = "hight"', "drop_by", "is not one of"),
    ("missed_lighter = 0.05", "missed_lighter = 0", "missed_lighter", "least allowed is 0.01"),
    ('form_rule = "day_form"', 'form_rule = "mood"', "form_rule", 'no rule "mood"'),
    ('family = "hinge"\nstart_share', 'family = "trunk"\nstart_share', "family", "no load"),
]


@pytest.mark.parametrize(("old", "new", "field", "said"), FAULTS)
def test_a_fault_names_its_line_and_field(copy, old, new, field, said):
    with pytest.raises(MethodError) as caught:
        load_method(copy(old, new))
    told = [fault for fault in caught.value.faults if said in fault.what]
    assert told, caught.value
    assert field in told[0].where.replace("[", ".").split(".")
    assert told[0].line is not None


def test_the_line_is_that_of_the_fault(copy):
    with pytest.raises(MethodError) as caught:
        load_method(copy("every_weeks = 4", "every_weeks = 0"))
    (fault,) = caught.value.faults
    assert fault.line == line_of("every_weeks = 4")


def test_an_unloading_with_jumps_is_no_unloading(copy):
    old = '{ family = "swing", rule = "weightlifting_threes", per_week = [0, 1]'
    new = old.replace("swing", "box_jump")
    with pytest.raises(MethodError, match=r'"box_jump" has landings, and the phase "unloading"'):
        load_method(copy(old, new))


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('kind = "unloading"', 'kind = "building"', "order of time"),
        ('kind = "building"', 'kind = "peaking"', "only one phase of kind"),
        ('kind = "peaking"', 'kind = "unloading"', 'only one phase of kind "unloading"'),
    ],
)
def test_phases_in_disorder(copy, old, new, said):
    with pytest.raises(MethodError, match=said):
        load_method(copy(old, new))


def test_a_method_needs_building_and_unloading(tmp_path):
    path = tmp_path / "mine.toml"
    path.write_text(
        '[[phase]]\nid = "peak"\nname = "peak"\nrule = "warm_up"\nkind = "peaking"\nweeks = 4\n',
        encoding="utf-8",
    )
    with pytest.raises(MethodError) as caught:
        load_method(path)
    said = str(caught.value)
    assert 'no phase of kind "building"' in said
    assert 'no phase of kind "unloading"' in said
    assert "uses no family" in said


def test_the_text_of_a_file_reads_like_the_file(copy):
    path = copy("every_weeks = 4", "every_weeks = 3")
    assert parse_method(path.read_text(encoding="utf-8")) == load_method(path)
    assert parse_method("") == load_method()


def test_a_fault_in_a_text_is_told_with_its_line():
    with pytest.raises(MethodError, match=r"ours: *\n  line 2, wek: there is no such field"):
        parse_method('name = "x"\nwek = 3\n', "ours")
