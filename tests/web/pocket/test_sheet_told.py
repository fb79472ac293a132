"""The sheet of a day reaches a German athlete in German, and keeps what a phone reckons with."""

import datetime as dt
from dataclasses import replace

import pytest
from django.utils import translation

from saltus.athlete.assess import assess
from saltus.athlete.health import Pain
from saltus.record.example.folder import member_files
from saltus.record.example.squad import SQUAD
from saltus.record.reading import parse
from saltus.training.log import LoggedSession, LoggedSet
from saltus.training.method_file import load_method
from saltus.training.planner import make_plan
from saltus.training.today.facts import Facts
from saltus.training.today.sheet import session_sheet
from saltus.web.pocket.sheet_told import sheet_told
from saltus.web.sentences import told

SAID = ("cue", "why", "load_words", "closed")


def sheets_of(name, method):
    """Sheets of a week of an invented athlete: with a log, and with a pain on the second day."""
    (member,) = [each for each in SQUAD if each.name == name]
    record = parse(member_files(member)[0], recordings=False)
    assessment = assess(record.person, record.observations, goal=record.goal, pains=record.pains)
    plan = make_plan(record.person, assessment, record.situation, method, time_limit_s=0.5)
    for place, session in enumerate(plan.sessions[:4]):
        pain = Pain(date=session.date, place="left knee", level=4)
        log = LoggedSession(
            date=session.date - dt.timedelta(days=1),
            planned=None,
            sets=tuple(
                LoggedSet(
                    exercise=item.exercise,
                    sets=3,
                    reps=item.reps,
                    load_kg=item.load_kg and 62.5,
                    box_m=item.box_m,
                    missed=1,
                    reserve=1.5,
                    speed_m_s=0.62,
                    jump_m=0.4,
                    soft_landings=False,
                )
                for item in session.items
            ),
        )
        situation = record.situation_from(session.date)
        facts = Facts(
            date=session.date,
            person=record.person,
            assessment=assessment,
            situation=replace(situation, pains=(pain,)) if place == 1 else situation,
            plan=plan,
            log=(log,) if place else (),
            observations=record.observations,
        )
        yield session, session_sheet(session, facts, method)


@pytest.fixture(scope="module")
def sheets():
    method = load_method()
    found = [each for name in ("tomas-breck", "nele-ostrin") for each in sheets_of(name, method)]
    return found, method


def sentences(sheet):
    """Everything of a sheet that is said in words."""
    for item in sheet["items"]:
        parts = [item, *item["answers"], item["if_below"] or {}, item["if_well_below"] or {}]
        yield from (part[key] for part in parts for key in SAID if part.get(key))
        yield from item["cautions"]
    form = sheet["form"] or {}
    yield from (text for key, text in form.items() if key.startswith("why_"))


def test_every_sentence_is_told(sheets):
    found, _ = sheets
    said = {text for _, sheet in found for text in sentences(sheet)}
    assert len(said) > 40
    with translation.override("de"):
        # A load without more to it, "40 kg", is the same in both.
        assert sorted(t for t in said if told(t) == t and len(t.split()) > 2) == []


def test_a_german_sheet_is_the_told_one(sheets):
    found, method = sheets
    with translation.override("de"):
        for session, sheet in found:
            german = sheet_told(sheet, session, method)
            assert list(sentences(german)) == [told(text) for text in sentences(sheet)]
            for item, own in zip(german["items"], sheet["items"], strict=True):
                assert item["name"] == told(own["name"][:1].upper() + own["name"][1:])


def test_sets_of_the_last_time_are_told(sheets):
    found, method = sheets
    session, sheet = found[1]
    last = next(item["last"] for item in sheet["items"] if item["load_kg"])
    with translation.override("de"):
        items = sheet_told(sheet, session, method)["items"]
    german = next(item["last"] for item in items if item["load_kg"])
    assert german[0] == last[0]
    assert last[1].endswith(
        " x 62.5 kg, 1 missed, 1.5 left, 0.62 m/s, jump 40 cm, landing not soft"
    )
    assert german[1].endswith(
        " × 62,5 kg, 1 nicht geschafft, 1,5 in Reserve, 0,62 m/s, Sprung 40 cm, Landung nicht weich"
    )


def test_what_a_phone_reckons_with_stays(sheets):
    found, method = sheets

    def numbers(part):
        if isinstance(part, dict):
            return {key: numbers(value) for key, value in part.items()}
        if isinstance(part, list):
            return [numbers(each) for each in part]
        return part if not isinstance(part, str) else None

    with translation.override("de"):
        for session, sheet in found:
            german = sheet_told(sheet, session, method)
            for told_besides in (*german["items"], german["form"] or {}):
                told_besides.pop("per_side", None)
                told_besides.pop("minutes", None)
                told_besides.pop("hurdle", None)
            if german["form"]:
                del german["form"]["name"]
            assert numbers(german) == numbers(sheet)
            for item, own in zip(german["items"], sheet["items"], strict=True):
                assert (item["exercise"], item["asks"]) == (own["exercise"], own["asks"])
                assert [a["rule"] for a in item["answers"]] == [a["rule"] for a in own["answers"]]


def test_a_warm_up_is_told_by_its_time_and_one_leg_after_the_other_as_such(sheets):
    found, method = sheets
    told_items = [
        (planned, item)
        for session, sheet in found
        for planned, item in zip(
            session.items, sheet_told(sheet, session, method)["items"], strict=True
        )
    ]
    assert {item["minutes"] for planned, item in told_items if planned.exercise == "warm_up"} == {9}
    assert {item["minutes"] for planned, item in told_items if planned.sets > 1} == {None}
    for planned, item in told_items:
        assert item["per_side"] == method.exercises[planned.exercise].per_side
