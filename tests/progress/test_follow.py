"""Everything gathered, and its document."""

import datetime as dt
import json
from itertools import pairwise

import pytest

from saltus.athlete.history import TrainingBlock
from saltus.athlete.observations import Jump, JumpMethod, JumpStyle, Lift, Maximum
from saltus.athlete.person import BodyMass, Person, Sex, TestingTool
from saltus.athlete.posterior import Problem, fit
from saltus.athlete.qualities import TRAINABLE, Quality
from saltus.athlete.timeline import moments
from saltus.progress.document import follow_document
from saltus.progress.follow import Ahead, Done, follow
from saltus.training.log import LoggedSession, LoggedSet, Soreness
from saltus.training.method_file import load_method

START = dt.date(2026, 1, 5)
DAYS = [START + dt.timedelta(weeks=8 * i) for i in range(4)]
ON = DAYS[-1] + dt.timedelta(days=1)
PERSON = Person(
    name="Runa Holt",
    sex=Sex.FEMALE,
    born=dt.date(2003, 4, 1),
    body_masses=(BodyMass(START, 64.0),),
    stature_m=1.74,
    training_age_years=3.0,
    testing_tools=frozenset({TestingTool.MAT}),
)
JUMPS = (0.30, 0.315, 0.33, 0.345)
TESTS = tuple(
    test
    for day, height, kg in zip(DAYS, JUMPS, (70.0, 76.0, 82.0, 88.0), strict=True)
    for test in (
        Jump(
            date=day,
            style=JumpStyle.COUNTERMOVEMENT,
            method=JumpMethod.MAT,
            heights_m=(height,) * 3,
        ),
        Maximum(date=day, lift=Lift.BACK_SQUAT, load_kg=kg),
    )
)
BY_HAND = (TrainingBlock(DAYS[0], DAYS[1], {Quality.MAX_STRENGTH: 1.0}),)
WEEKS = tuple(
    TrainingBlock(monday, monday + dt.timedelta(days=6), {Quality.RATE_OF_FORCE_DEVELOPMENT: 0.9})
    for monday in (DAYS[2] + dt.timedelta(weeks=i) for i in range(8))
)
LOG = tuple(
    LoggedSession(
        date=ON - dt.timedelta(days=days),
        minutes=60,
        effort=6,
        soreness=(Soreness("left knee", 5),),
        sets=(LoggedSet(exercise="back_squat", sets=4, reps=5),),
    )
    for days in (2, 4, 6, 12)
)


@pytest.fixture(scope="module")
def found():
    posterior = fit(Problem(PERSON, TESTS, (*BY_HAND, *WEEKS), ON))
    done = Done(blocks=BY_HAND, from_log=WEEKS, log=LOG)
    days = [ON + dt.timedelta(days=i) for i in range(1, 80)]
    return follow(posterior, done, load_method(), Ahead(test_days=days))


def test_jump_and_qualities_are_told_on_every_test_day_and_today(found):
    assert [m.date for m in found.moments] == [*DAYS, ON]
    assert found.tested == tuple(DAYS)
    values = [moment.jump_m.value for moment in found.moments[:4]]
    assert values == sorted(values)
    assert found.moments == moments(fit(Problem(PERSON, TESTS, (*BY_HAND, *WEEKS), ON)))


def test_blocks_of_the_record_and_weeks_of_the_log_are_told(found):
    assert [(each.start, each.end, each.quality) for each in found.response] == [
        (DAYS[0], DAYS[1], Quality.MAX_STRENGTH),
        (DAYS[2], DAYS[3] - dt.timedelta(days=1), Quality.RATE_OF_FORCE_DEVELOPMENT),
    ]
    assert {each.quality for each in found.learnt} == set(TRAINABLE)


def test_load_soreness_and_the_next_test_are_there(found):
    assert sum(week.sessions for week in found.weeks) == len(LOG)
    assert "sore" in found.places[0].text
    assert found.retest is not None
    assert found.retest.date > ON


def test_the_document_holds_what_it_promises(found):
    document = json.loads(json.dumps(follow_document(found)))
    assert set(document["jump"]) == set(document["qualities"])
    for date, jump in document["jump"].items():
        assert jump["low"] <= jump["estimate"] <= jump["high"]
        for name in (*TRAINABLE, Quality.PUSH_OFF_DISTANCE):
            quality = document["qualities"][date][name]
            assert quality["low"] <= quality["estimate"] <= quality["high"]
    assert [(c["from"], c["to"]) for c in document["changes"]] == [
        (before.isoformat(), after.isoformat()) for before, after in pairwise(DAYS)
    ]
    whole = document["jump"][DAYS[3].isoformat()]["estimate"]
    first = document["jump"][DAYS[0].isoformat()]["estimate"]
    steps = sum(change["estimate"] for change in document["changes"])
    assert steps == pytest.approx(whole - first, abs=0.003)
    for change in document["changes"]:
        assert change["low"] <= change["estimate"] <= change["high"]
        assert 0 <= change["probability_real"] <= change["probability_up"] <= 1
    for block in document["response"]:
        assert block["expected"]["low"] < block["expected"]["estimate"] < block["expected"]["high"]
        assert block["observed"]["low"] < block["observed"]["estimate"] < block["observed"]["high"]
    assert all(0 <= each["probability"] <= 1 for each in document["plateau"].values())


def test_without_any_test_little_is_told():
    posterior = fit(Problem(PERSON, (), (), ON), draws=200)
    found = follow(posterior, Done(), load_method(), Ahead(test_days=[ON + dt.timedelta(days=9)]))
    document = follow_document(found)
    assert document["changes"] == document["response"] == document["load"] == []
    assert document["plateau"] == {}
    assert document["retest"] is None
    assert list(document["jump"]) == [ON.isoformat()]
