"""A record written and read again says the same; one changed keeps its comments."""

import datetime as dt
import stat
from dataclasses import replace
from pathlib import Path, PurePosixPath

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from saltus.athlete.assessment import Goal
from saltus.athlete.health import Pain, Restriction
from saltus.athlete.history import TrainingBlock
from saltus.athlete.observations import (
    BarSpeedSet,
    BroadJump,
    DropJump,
    IsometricPull,
    Jump,
    JumpMethod,
    JumpStyle,
    Lift,
    Maximum,
    RepSet,
)
from saltus.athlete.person import BodyMass, Person, Sex, TestingTool
from saltus.athlete.qualities import TRAINABLE
from saltus.errors import RecordError
from saltus.quantities import INCH, POUND
from saltus.record import Record, parse, read, render, write
from saltus.record.encoding import alike, plain
from saltus.record.entries import (
    Agreement,
    BlockedDays,
    RecordedTest,
    Sport,
)
from saltus.training.exercises import EQUIPMENT
from saltus.training.log import LoggedSession, LoggedSet, Soreness
from saltus.training.situation import EventKind, Gym, Priority, TargetDate, Weekday


def tenths(low, high, unit=1.0):
    """Numbers as people write them: with one decimal, here in SI."""
    return st.integers(round(low * 10), round(high * 10)).map(
        lambda n: float(f"{n / 10 * unit:.12g}")
    )


def cm(low, high):
    return tenths(low, high, 0.01) | tenths(low / 2.54 + 1, high / 2.54 - 1, INCH)


def kg(low, high):
    return tenths(low, high) | tenths(low / POUND + 1, high / POUND - 1, POUND)


def many(values, least=1, most=4):
    return st.lists(values, min_size=least, max_size=most).map(tuple)


# Any text but lone surrogates, which no text file can hold.
text = st.text(st.characters(exclude_categories=("Cs",)), max_size=20)
said = text.filter(lambda words: words.strip())
dates = st.dates(dt.date(2024, 1, 1), dt.date(2027, 12, 31))
maybe = lambda values: st.none() | values  # noqa: E731
lifts = st.sampled_from(Lift)
files = st.sampled_from(["mine.toml", "plans/adä b.json"])
common = {"date": dates, "note": text}
heights = many(cm(10, 120))

jumps = st.builds(
    Jump,
    style=st.sampled_from(JumpStyle),
    method=st.sampled_from(JumpMethod),
    heights_m=heights,
    arms=st.booleans(),
    load_kg=kg(0, 100),
    frame_rate_hz=maybe(st.sampled_from([60.0, 120.0, 240.0])),
    **common,
)
drop_jumps = st.integers(1, 4).flatmap(
    lambda n: st.builds(
        DropJump,
        drop_m=cm(10, 100),
        heights_m=many(cm(10, 70), n, n),
        contacts_s=st.just(()) | many(tenths(120, 600, 0.001), n, n),
        method=st.sampled_from(JumpMethod),
        arms=st.booleans(),
        true_drop=st.booleans(),
        frame_rate_hz=maybe(st.sampled_from([60.0, 240.0])),
        **common,
    )
)
bar_speeds = st.builds(
    lambda first, step, speeds, **rest: BarSpeedSet(
        loads_kg=tuple(float(f"{first + i * step:.12g}") for i in range(len(speeds))),
        speeds_m_s=speeds,
        **rest,
    ),
    first=kg(20, 80),
    step=kg(20, 40),
    speeds=st.sampled_from([(0.9, 0.5), (1.05, 0.78, 0.5), (1.0, 0.8, 0.62, 0.41)]),
    lift=st.sampled_from([Lift.BACK_SQUAT, Lift.DEADLIFT]),
    **common,
)
tests = st.one_of(
    jumps,
    drop_jumps,
    bar_speeds,
    st.builds(BroadJump, distances_m=many(cm(150, 330)), arms=st.booleans(), **common),
    st.builds(Maximum, lift=lifts, load_kg=kg(20, 300), **common),
    st.builds(
        RepSet,
        lift=lifts,
        load_kg=kg(20, 300),
        reps=st.integers(1, 6),
        reserve=tenths(0, 4),
        **common,
    ),
    st.builds(
        IsometricPull,
        peak_n=tenths(3000, 6000),
        force_at_n=st.dictionaries(st.integers(50, 250), tenths(900, 2900), max_size=3),
        **common,
    ),
    st.builds(
        RecordedTest,
        file=st.sampled_from(["a.csv", "recordings/b c.csv"]).map(PurePosixPath),
        jump=maybe(st.sampled_from(["countermovement_jump", "drop_jump"])),
        box_m=maybe(cm(10, 100)),
        rate_hz=maybe(st.just(1000.0)),
        unit=maybe(st.just("kN")),
        force=maybe(said),
        **common,
    ),
)
stretches = st.tuples(dates, st.integers(0, 60)).map(
    lambda pair: (pair[0], pair[0] + dt.timedelta(days=pair[1]))
)
persons = st.builds(
    Person,
    name=said,
    body_masses=st.dictionaries(dates, kg(40, 140), min_size=1, max_size=4).map(
        lambda masses: tuple(BodyMass(day, mass) for day, mass in sorted(masses.items()))
    ),
    sex=st.sampled_from(Sex),
    born=maybe(st.dates(dt.date(1950, 1, 1), dt.date(2012, 1, 1))),
    stature_m=st.just(1.8),
    standing_reach_m=cm(215, 245),
    push_off_distance_m=maybe(cm(25, 60)),
    training_age_years=tenths(0, 30),
    sport=text,
    testing_tools=st.frozensets(st.sampled_from(TestingTool), min_size=1),
)
goals = st.builds(
    Goal,
    date=maybe(dates),
    jump_m=cm(30, 100),
    approach=st.booleans(),
    arms=st.booleans(),
    what=text,
) | st.builds(Goal, touch_m=cm(260, 380), hand_above_m=cm(2.6, 20), what=text)
blocks = st.builds(
    lambda stretch, emphasis: TrainingBlock(*stretch, emphasis),
    stretches,
    st.dictionaries(st.sampled_from(TRAINABLE), tenths(0.1, 1.5), max_size=4),
)
sport = st.builds(
    Sport,
    kind=st.just(EventKind.MATCH),
    date=dates,
    landings=tenths(0, 200),
    what=text,
) | st.builds(
    lambda days, stretch, landings: Sport(
        kind=EventKind.PRACTICE,
        weekdays=days,
        start=stretch[0],
        end=stretch[1],
        landings=landings,
    ),
    st.lists(st.sampled_from(Weekday), min_size=1, unique=True).map(tuple),
    stretches,
    tenths(0, 200),
)
gyms = st.builds(
    Gym,
    equipment=st.frozensets(st.sampled_from(list(EQUIPMENT))),
    bar_kg=kg(5, 25),
    plates_kg=st.dictionaries(kg(3, 25), st.integers(0, 8), max_size=4),
    boxes_m=many(cm(10, 120), 0),
    dumbbells_kg=many(kg(5, 40), 0),
    unit=st.sampled_from(["kg", "lb"]),
)
logged_sets = st.builds(
    LoggedSet,
    exercise=said,
    sets=st.integers(1, 10),
    reps=st.integers(0, 30),
    missed=st.integers(0, 5),
    load_kg=maybe(kg(5, 200)),
    box_m=maybe(cm(10, 120)),
    drop_m=maybe(cm(10, 100)),
    reserve=maybe(tenths(0, 5)),
    speed_m_s=maybe(tenths(0.2, 3)),
    jump_m=maybe(cm(5, 100)),
    contact_s=maybe(tenths(90, 900, 0.001)),
    soft_landings=maybe(st.booleans()),
    skipped=text,
    note=text,
)
sessions = st.builds(
    LoggedSession,
    date=dates,
    id=text,
    planned=maybe(dates),
    free=st.booleans(),
    what=text,
    sleep_hours=maybe(tenths(0, 12)),
    soreness=many(st.builds(Soreness, said, st.integers(0, 10)), 0, 2),
    pain=maybe(st.integers(0, 10)),
    minutes=maybe(tenths(10, 120)),
    effort=maybe(tenths(0, 10)),
    landings=maybe(tenths(0, 200)),
    sets=many(logged_sets, 0, 3),
    note=text,
)


def _records():
    return st.builds(
        Record,
        person=persons,
        tests=many(tests, 0, 6),
        goal=maybe(goals),
        blocks=many(blocks, 0, 2),
        start=maybe(dates),
        targets=many(st.builds(TargetDate, dates, st.sampled_from(Priority), text), 0, 2),
        minutes=st.dictionaries(st.sampled_from(Weekday), st.integers(1, 200), max_size=4),
        sport=many(sport, 0, 3).map(
            lambda all_: tuple(sorted(all_, key=lambda s: s.kind is EventKind.MATCH))
        ),
        blocked=many(st.builds(lambda s, why: BlockedDays(*s, why), stretches, text), 0, 2),
        gym=gyms,
        pains=many(st.builds(Pain, dates, said, st.integers(0, 10), maybe(st.booleans())), 0, 2),
        restrictions=many(
            st.builds(
                lambda what, s, why: Restriction(what, s[0], s[1], why), said, stretches, text
            ),
            0,
            2,
        ),
        landing_practice_weeks=tenths(0, 50),
        soft_surface=st.booleans(),
        method=maybe(files),
        plan=maybe(files),
        log=many(sessions, 0, 2),
        agreed=many(st.builds(Agreement, said, dates, said), 0, 2),
        remark=text,
    ).map(lambda record: replace(record, tests=labelled(record.tests)))


def labelled(tests):
    return tuple(replace(test, label=f"test[{i}]") for i, test in enumerate(tests))


records = _records()
thorough = settings(
    max_examples=50,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
    # Shrinking so large a record takes minutes; the table that differs is named instead.
    phases=[Phase.explicit, Phase.reuse, Phase.generate],
)


def assert_alike(one, other):
    """Alike to the twelve digits that are written: 5 kg is no round number of pounds."""
    for name, rows in plain(one).items():
        assert alike(plain(other)[name], rows), name


def unread(text):
    return parse(text, recordings=False)


@thorough
@given(records)
def test_written_and_read_again_is_the_same(record):
    assert_alike(unread(render(record)), record)


@thorough
@given(records, records)
def test_changed_into_another_and_read_again_is_the_other(one, other):
    assert_alike(unread(render(other, render(one))), other)


@thorough
@given(records)
def test_writing_what_is_there_changes_no_byte(record):
    text = render(record)

    assert render(record, text) == text


def test_unchanged_record_keeps_every_byte(full):
    assert render(parse(full), full) == full


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_line_ends_stay(full, newline):
    text = full.replace("\n", newline)

    changed = render(replace(parse(text), remark="Right-handed."), text)

    assert changed == text.replace("Left-handed", "Right-handed")


@pytest.mark.parametrize("separator", ["\u2028", "\x85", "\x1c", "\x0b"])
def test_odd_separators_inside_a_text_do_not_shift_lines(minimal, separator):
    record = replace(parse(minimal), remark=f"one{separator}[two]")
    text = render(record)

    changed = render(replace(record, pains=(Pain(dt.date(2026, 2, 1), "knee", 2),)), text)

    assert parse(changed).remark == record.remark
    with pytest.raises(RecordError) as caught:
        parse(changed.replace("level = 2", "level = 20"))
    (fault,) = caught.value.faults
    assert changed.split("\n")[fault.line - 1] == "level = 2"


COMMENTED = """\
# Ada's record. Kept by the coach.
saltus_record = 1

[athlete]
name = "Ada Ilves"  # as she spells it
standing_reach_cm = 232
remark = "quick"

# Weighed before breakfast.
[[body_mass]]
date = 2026-01-10
mass_kg = 70.0

# ---- Tests ----

# On the old floor.
[[test]]
kind = "countermovement_jump"
date = 2026-01-10
touched_cm = [275, 276]   # chalk on the wall
# third one missed

[[test]]
kind = "maximum"
date = 2026-01-16
lift = "back_squat"
load_lb = 200  # two plates and some

# ---- The week ----

[week]
mon = 60   # after school
"""


def comments(text):
    return [line.partition("#")[2] for line in text.splitlines() if "#" in line]


def test_comments_and_order_stay_when_a_value_changes():
    record = parse(COMMENTED)
    squat = replace(record.tests[1], load_kg=220 * POUND)

    text = render(replace(record, tests=(record.tests[0], squat)), COMMENTED)

    assert text == COMMENTED.replace("load_lb = 200  #", "load_lb = 220  #")


def test_a_new_test_comes_after_the_others_and_before_the_next_heading():
    record = parse(COMMENTED)
    new = RepSet(date=dt.date(2026, 2, 1), lift=Lift.BACK_SQUAT, load_kg=80.0, reps=5)

    text = render(replace(record, tests=(*record.tests, new)), COMMENTED)

    written = (
        '[[test]]\nkind = "rep_set"\ndate = 2026-02-01\nlift = "back_squat"\nload_kg = 80\n'
        "reps = 5\n"
    )
    assert text == COMMENTED.replace("# ---- The week", written + "\n# ---- The week")


def test_a_new_table_comes_in_its_place():
    record = parse(COMMENTED)
    pain = Pain(dt.date(2026, 2, 1), "left knee", 2)

    text = render(replace(record, pains=(pain,)), COMMENTED)

    written = '\n[[pain]]\ndate = 2026-02-01\nplace = "left knee"\nlevel = 2\n'
    assert text == COMMENTED + written


def test_a_test_taken_out_leaves_headings_alone():
    record = parse(COMMENTED)

    text = render(replace(record, tests=record.tests[:1]), COMMENTED)

    assert "# ---- The week ----" in text
    assert "back_squat" not in text
    assert parse(text).tests == record.tests[:1]


def test_a_changed_remark_on_a_jump_leaves_the_touched_heights():
    record = parse(COMMENTED)
    jump = replace(record.tests[0], note="cold hall")

    text = render(replace(record, tests=(jump, record.tests[1])), COMMENTED)

    assert "touched_cm = [275, 276]   # chalk on the wall" in text
    assert comments(text) == comments(COMMENTED)
    assert parse(text).tests[0] == jump


def test_changed_heights_replace_the_touched_ones():
    record = parse(COMMENTED)
    jump = replace(record.tests[0], heights_m=(0.45,))

    text = render(replace(record, tests=(jump, record.tests[1])), COMMENTED)

    assert "touched" not in text
    assert parse(text).tests[0] == jump


def test_a_field_taken_out_goes():
    text = render(replace(parse(COMMENTED), remark=""), COMMENTED)

    assert text == COMMENTED.replace('remark = "quick"\n', "")


def test_weighings_out_of_order_keep_their_places(full):
    record = parse(full)
    first, second = record.person.body_masses
    person = replace(record.person, body_masses=(replace(first, mass_kg=71.0), second))

    text = render(replace(record, person=person), full)

    assert text == full.replace("mass_kg = 70.0", "mass_kg = 71")


def test_layout_that_cannot_be_changed_is_refused(minimal):
    text = minimal.replace(
        "saltus_record = 1\n",
        'saltus_record = 1\npain = [{ date = 2026-01-01, place = "x", level = 1 }]\n',
    )
    record = parse(text)

    assert render(record, text) == text
    with pytest.raises(RecordError, match="laid out"):
        render(replace(record, pains=()), text)


def test_file_is_written_whole_and_keeps_its_rights(minimal, tmp_path):
    path = tmp_path / "team" / "ada.toml"
    record = parse(minimal)

    write(record, path)
    path.chmod(0o600)
    write(replace(record, remark="late"), path)

    assert read(path).remark == "late"
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert [p.name for p in path.parent.iterdir()] == ["ada.toml"]


def test_faulty_file_is_not_overwritten(minimal, tmp_path):
    path = Path(tmp_path) / "ada.toml"
    path.write_text("name = Ada", encoding="utf-8")

    with pytest.raises(RecordError, match="line 1"):
        write(parse(minimal), path)

    assert path.read_text(encoding="utf-8") == "name = Ada"


def test_a_new_standing_reach_leaves_the_jumps_that_were_touched_as_high_as_they_were(full):
    record = parse(full, recordings=False)
    person = replace(record.person, standing_reach_m=2.34)

    text = render(replace(record, person=person), full)

    changed = parse(text, recordings=False)
    assert changed.tests == record.tests
    assert changed.person.standing_reach_m == pytest.approx(2.34)
    assert "touched_cm = [275.41, 276.41]" in text
    assert "standing_reach_in = 91.5" in text
    assert "# measured with a tape in inches" in text


def test_a_comment_goes_with_the_test_it_touches():
    record = parse(COMMENTED)

    text = render(replace(record, tests=record.tests[1:]), COMMENTED)

    assert "# On the old floor." not in text
    assert "# third one missed" not in text
    assert "# ---- Tests ----" in text
    assert parse(text).tests[0].load_kg == record.tests[1].load_kg


def test_a_new_test_does_not_part_a_remark_from_the_one_above():
    record = parse(COMMENTED)
    jump, squat = record.tests
    new = replace(jump, date=dt.date(2026, 1, 12))

    text = render(replace(record, tests=(jump, new, squat)), COMMENTED)

    assert "chalk on the wall\n# third one missed\n\n[[test]]" in text
