import uuid
from dataclasses import replace

import pytest

from saltus.web.models import PocketEntry
from saltus.web.records import change_record, record_of

pytestmark = pytest.mark.django_db


def logged(athlete):
    athlete.refresh_from_db()
    return record_of(athlete, recordings=False).log


def test_what_is_sent_is_kept_and_stands_in_the_record(send, entry, athlete):
    sent = [
        entry("start", planned=None, free=True, what="gym"),
        entry(
            "before",
            sleep_hours=7.5,
            soreness=[{"place": "left calf", "level": 3}],
            pain=[{"place": "right knee", "level": 4}],
        ),
        entry("set", exercise="back_squat", item=0, number=1, reps=5, load_kg=80, reserve=2),
        entry("set", exercise="box_jump", item=1, number=1, reps=3, box_m=0.5, soft_landings=True),
        entry("skip", exercise="depth_jump", item=2, why="knee"),
        entry("after", effort=6, minutes=50, note="fine"),
    ]
    answer = send(*sent)
    assert answer == {"kept": [each["id"] for each in sent], "refused": []}
    (session,) = logged(athlete)
    assert (session.what, session.effort, session.minutes, session.load) == ("gym", 6, 50, 300)
    assert session.id == str(uuid.UUID(int=7))
    assert [(s.exercise, s.reps, s.load_kg, s.box_m) for s in session.sets] == [
        ("back_squat", 5, 80, None),
        ("box_jump", 3, None, 0.5),
        ("depth_jump", 0, None, None),
    ]
    assert session.sets[2].skipped == "knee"
    assert (session.pain, session.soreness[0].level, session.sleep_hours) == (4, 3, 7.5)
    (pain,) = record_of(athlete, recordings=False).pains
    assert (pain.place, pain.level) == ("right knee", 4)


def test_sent_twice_is_stored_once(send, entry, athlete):
    done = entry("set", exercise="back_squat", reps=5)
    assert send(done)["kept"] == send(done)["kept"] == send(done, done)["kept"] == [done["id"]]
    assert PocketEntry.objects.count() == 1
    assert len(logged(athlete)[0].sets) == 1


@pytest.mark.parametrize(
    ("kind", "data", "about"),
    [
        ("set", {"exercise": "back_squat", "reps": -1}, "reps"),
        ("set", {"exercise": "back_squat", "reps": 5, "load_kg": 6000}, "load"),
        ("set", {"exercise": "back_squat", "reps": 5, "box_m": 9}, "box"),
        ("set", {"exercise": "", "reps": 5}, "word is missing"),
        ("set", {"exercise": "x" * 81, "reps": 5}, "longer"),
        ("set", {"exercise": "back_squat"}, "reps"),
        ("set", {"exercise": "\ud800", "reps": 5}, "character"),
        ("set", {"exercise": "a", "reps": 5, "replaces": "no"}, "could not be read"),
        ("before", {"pain": [{"place": "knee", "level": 11}]}, "level"),
        ("before", {"sleep_hours": 30}, "sleep_hours"),
        ("after", {"effort": 11}, "effort"),
        ("after", {"minutes": "long"}, "minutes"),
        ("skip", {"exercise": "a", "why": ""}, "word is missing"),
        ("agree", {"caution": "none such"}, "not known"),
        ("agree", {"caution": "minor", "by": "athlete"}, "who has read this with you"),
        ("dance", {}, "not known"),
    ],
)
def test_one_that_is_wrong_is_refused_with_a_sentence_and_the_others_kept(
    send, entry, athlete, kind, data, about
):
    wrong, right = entry(kind, **data), entry("set", exercise="back_squat", reps=5)
    answer = send(wrong, right)
    assert answer["kept"] == [right["id"]]
    ((refused,)) = answer["refused"]
    assert refused["id"] == wrong["id"]
    assert about in refused["why"]
    assert len(logged(athlete)[0].sets) == 1


def test_a_guardian_agrees_by_name_for_whoever_is_under_18(send, entry, athlete):
    send(entry("agree", caution="minor", by="athlete", guardian="Iva Ilves"))
    athlete.refresh_from_db()
    (agreed,) = record_of(athlete).agreed
    assert agreed.by == f"{athlete.name}, and Iva Ilves as parent or guardian"


@pytest.mark.parametrize("date", ["2020-01-01", "2099-01-01", "tomorrow", None, 3])
def test_a_day_that_cannot_be_is_refused(send, entry, date):
    assert send(entry("start", free=True) | {"date": date})["refused"]


@pytest.mark.parametrize(
    "body",
    [b"", b"[]", b"{}", b'{"device": "x", "entries": []}', b'{"entries": NaN}', b"[" * 10_000],
)
def test_what_no_phone_sends_is_told_apart(phone, body):
    answer = phone.post("/pocket/entries/", body, content_type="application/json")
    assert answer.status_code == 400


def test_too_much_at_once_is_refused(phone):
    answer = phone.post("/pocket/entries/", b" " * 600_000, content_type="application/json")
    assert answer.status_code == 413


def test_an_entry_of_somebody_else_is_neither_told_nor_changed(send, entry, athlete, squad, owner):
    from saltus.web.records import add_athlete

    other = add_athlete(squad, athlete.text.replace("Ada Ilves", "Bo Ruun"), owner)
    mine = entry("set", exercise="back_squat", reps=5)
    PocketEntry.objects.create(
        id=mine["id"],
        athlete=other,
        session=uuid.UUID(int=9),
        date=mine["date"],
        kind="set",
        data={"exercise": "secret", "reps": 1},
        at=mine["at"],
        device=uuid.UUID(int=2),
    )
    answer = send(mine)
    assert answer["kept"] == []
    assert "secret" not in str(answer)
    assert PocketEntry.objects.get(pk=mine["id"]).data["exercise"] == "secret"
    assert logged(athlete) == ()


def test_signed_out_is_said_to_the_script(client, athlete):
    for method, address in (("get", "/pocket/bundle.json"), ("post", "/pocket/entries/")):
        assert getattr(client, method)(address).status_code == 401


def test_entries_of_another_account_are_not_taken(phone, athlete):
    body = {"device": str(uuid.uuid4()), "athlete": str(uuid.uuid4()), "entries": []}
    answer = phone.post("/pocket/entries/", body, content_type="application/json")
    assert answer.status_code == 409


def test_a_session_set_by_set_is_one_revision(send, entry, athlete, owner):
    for reps in (5, 5, 4):
        send(entry("set", exercise="back_squat", reps=reps))
    athlete.refresh_from_db()
    newest, first = athlete.revisions.all()
    assert (newest.number, first.number, newest.what) == (4, 1, "logged from the phone")
    assert (newest.text, athlete.revision) == (athlete.text, 4)
    change_record(athlete, owner, lambda r: replace(r, start=r.latest), what="begins today")
    send(entry("set", exercise="back_squat", reps=3))
    assert [each.number for each in athlete.revisions.all()] == [6, 5, 4, 1]
    assert len(logged(athlete)[0].sets) == 4
