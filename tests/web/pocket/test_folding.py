"""Entries in any order come to the same session, and what a coach changed by hand stays."""

import datetime as dt
import itertools
import uuid
from dataclasses import dataclass, field, replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from saltus import record as records
from saltus.record import Record
from saltus.training.log import LoggedSession
from saltus.web.pocket.folding import Folded, changed, fold

SESSION = uuid.UUID(int=7)
DAY = dt.date(2026, 11, 24)
START = dt.datetime(2026, 11, 24, 12, tzinfo=dt.UTC)
BARE = records.parse(
    'saltus_record = 1\n[athlete]\nname = "Ada Ilves"\nsex = "female"\nborn = 2003-05-17\n'
    "training_age_years = 4\n[[body_mass]]\ndate = 2026-10-01\nmass_kg = 70\n",
    recordings=False,
)


@dataclass(frozen=True)
class Entry:
    kind: str
    data: dict = field(hash=False)
    id: uuid.UUID
    at: dt.datetime
    date: dt.date = DAY


def entry(number, kind, second=None, **data):
    second = number if second is None else second
    return Entry(kind, data, uuid.UUID(int=number), START + dt.timedelta(seconds=second))


def folded(*entries):
    return fold(SESSION, None, entries, "Ada Ilves")


SET = {"exercise": "back_squat", "reps": 5}


def test_the_latest_answer_counts_and_sets_are_all_there_are():
    session = folded(
        entry(1, "start", planned=None, free=True, what="gym"),
        entry(2, "set", **SET),
        entry(3, "after", effort=5, minutes=50),
        entry(4, "set", **SET),
        entry(5, "after", effort=7, minutes=55),
    ).session
    assert (session.effort, session.minutes, len(session.sets)) == (7, 55, 2)


def test_a_corrected_set_keeps_its_place_and_one_taken_back_is_gone():
    session = folded(
        entry(1, "set", exercise="a", reps=1),
        entry(2, "set", exercise="b", reps=1),
        entry(3, "set", exercise="a", reps=2, replaces=str(uuid.UUID(int=1))),
        entry(4, "set", exercise="c", reps=1),
        entry(5, "remove", entry=str(uuid.UUID(int=4))),
    ).session
    assert [(each.exercise, each.reps) for each in session.sets] == [("a", 2), ("b", 1)]


def test_two_sets_that_claim_to_correct_each_other_do_no_harm():
    one, two = (str(uuid.UUID(int=n)) for n in (1, 2))
    told = folded(entry(1, "set", **SET, replaces=two), entry(2, "set", **SET, replaces=one))
    assert told.session is None


def test_no_pain_is_told_from_not_asked():
    assert folded(entry(1, "before", pain=[], soreness=[])).session.pain == 0
    assert folded(entry(1, "set", **SET)).session.pain is None


def test_what_is_all_taken_back_leaves_nothing():
    assert (
        folded(entry(1, "set", **SET), entry(2, "remove", entry=str(uuid.UUID(int=1)))) == Folded()
    )


places = st.lists(
    st.fixed_dictionaries(
        {"place": st.sampled_from(["left knee", "neck"]), "level": st.integers(0, 10)}
    ),
    max_size=2,
)
numbers = st.integers(1, 8).map(lambda n: str(uuid.UUID(int=n)))
kinds = st.one_of(
    st.tuples(
        st.just("set"),
        st.fixed_dictionaries(
            {
                "exercise": st.sampled_from(["back_squat", "box_jump"]),
                "reps": st.integers(0, 10),
                "replaces": st.none() | numbers,
            }
        ),
    ),
    st.tuples(st.just("before"), st.fixed_dictionaries({"pain": places, "soreness": places})),
    st.tuples(st.just("after"), st.fixed_dictionaries({"effort": st.integers(0, 10)})),
    st.tuples(st.just("remove"), st.fixed_dictionaries({"entry": numbers})),
    st.tuples(st.just("skip"), st.just({"exercise": "depth_jump", "why": "knee"})),
)
several = st.lists(kinds, max_size=8).map(
    lambda told: [
        Entry(kind, data, uuid.UUID(int=n), START + dt.timedelta(seconds=n // 2))
        for n, (kind, data) in enumerate(told, start=1)
    ]
)


def arrived(entries, cuts):
    """The record once entries have come in several requests, as the server tells it."""
    record, known = BARE, []
    cuts = sorted({0, *cuts, len(entries)})
    for low, high in itertools.pairwise(cuts):
        before = folded(*known)
        known += entries[low:high]
        record = changed(record, SESSION, before, folded(*known))
    return record


# Processors are shared: a slow draw says nothing of what is drawn.
@settings(suppress_health_check=[HealthCheck.too_slow])
@given(several, st.randoms(use_true_random=False), st.lists(st.integers(0, 8), max_size=4))
def test_in_any_order_and_any_portions_the_same(entries, random, cuts):
    shuffled = entries[:]
    random.shuffle(shuffled)
    cuts = [cut for cut in cuts if cut <= len(entries)]
    once, pieces = arrived(entries, ()), arrived(shuffled, cuts)
    assert once.log == pieces.log
    assert {(p.place, p.level) for p in once.pains} == {(p.place, p.level) for p in pieces.pains}


@given(several)
def test_told_again_nothing_changes(entries):
    record = arrived(entries, ())
    told = folded(*entries)
    assert changed(record, SESSION, told, told) == record


def by_hand(record: Record, **values) -> Record:
    return replace(record, log=tuple(replace(each, **values) for each in record.log))


def test_what_the_coach_changed_stays_and_what_is_new_comes_in():
    first = [entry(1, "set", **SET), entry(2, "after", effort=5, minutes=50)]
    more = [entry(3, "set", exercise="box_jump", reps=3), entry(4, "after", effort=9, minutes=60)]
    record = by_hand(arrived(first, ()), minutes=45.0, sets=())
    record = changed(record, SESSION, folded(*first), folded(*first, *more))
    (session,) = record.log
    assert (session.minutes, session.effort) == (45, 9)
    assert [each.exercise for each in session.sets] == ["box_jump"]


def test_a_session_that_the_coach_took_out_stays_out_until_something_new_comes():
    first = [entry(1, "set", **SET)]
    told, gone = folded(*first), replace(arrived(first, ()), log=())
    assert changed(gone, SESSION, told, told).log == ()
    more = folded(*first, entry(2, "set", exercise="box_jump", reps=3))
    (session,) = changed(gone, SESSION, told, more).log
    assert [each.exercise for each in session.sets] == ["box_jump"]


def test_a_pain_is_corrected_and_taken_back_but_the_coach_s_own_stays():
    def pain(*told):
        return [{"place": place, "level": level} for place, level in told]

    one = [entry(1, "before", pain=pain(("left knee", 6), ("neck", 2)))]
    two = [*one, entry(2, "before", pain=pain(("left knee", 3)))]
    record = arrived(one, ())
    assert [(p.place, p.level) for p in record.pains] == [("left knee", 6), ("neck", 2)]
    record = changed(record, SESSION, folded(*one), folded(*two))
    assert [(p.place, p.level) for p in record.pains] == [("left knee", 3)]
    own = replace(record, pains=tuple(replace(p, level=8) for p in record.pains))
    three = [*two, entry(3, "before", pain=[])]
    record = changed(own, SESSION, folded(*two), folded(*three))
    assert [(p.place, p.level) for p in record.pains] == [("left knee", 8)]


@pytest.mark.parametrize("other", ["", "somebody else's"])
def test_other_sessions_are_left_alone(other):
    log = (LoggedSession(date=DAY, id=other, what="beach"),)
    record = changed(replace(BARE, log=log), SESSION, Folded(), folded(entry(1, "set", **SET)))
    assert record.log[0] == log[0]
    assert len(record.log) == 2
