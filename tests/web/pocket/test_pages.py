"""Pages that the athlete reads and writes in without a script, and the coach's page of the log."""

import datetime as dt
import re
import uuid
from dataclasses import replace

import pytest
from django.utils import timezone

from saltus.training.document import plan_document
from saltus.training.log import LoggedSession
from saltus.training.plan import Item, Plan, Session, SolverReport, Week, Why
from saltus.web.models import Athlete, PocketEntry, StoredPlan
from saltus.web.records import change_record, record_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def plan(athlete, owner):
    """A plan with a session today and one in two days."""
    today = timezone.localdate()
    item = Item(
        exercise="back_squat",
        sets=3,
        reps=5,
        load_kg=60.0,
        rest_s=120,
        why=Why("squat", None, "Squat all year."),
    )
    hop = Item(exercise="pogo_hops", sets=2, reps=10, why=Why("hops", None, "Small hops."))
    days = (today, today + dt.timedelta(days=2))
    start = today - dt.timedelta(days=today.weekday())
    weeks = tuple(
        Week(
            first,
            "building",
            tuple(
                Session(day, (item, hop))
                for day in days
                if first <= day < first + dt.timedelta(days=7)
            ),
        )
        for first in (start, start + dt.timedelta(days=7))
    )
    made = Plan(
        athlete="Ada Ilves",
        start=start,
        goal_date=start + dt.timedelta(days=13),
        weeks=weeks,
        unmet=(),
        solver=SolverReport("optimal", 0.0, 0.1),
    )
    return StoredPlan.objects.create(
        athlete=athlete,
        number=1,
        plan=plan_document(made),
        accepted=timezone.now(),
        made_from_revision=1,
        by=owner,
    )


def test_the_bundle_holds_the_sessions_around_today(plan, phone, athlete, send, entry):
    told = phone.get("/pocket/bundle.json").json()
    assert told["fault"] == ""
    today, _later = told["sessions"]
    assert [each["exercise"] for each in today["items"]] == ["back_squat", "pogo_hops"]
    squat = today["items"][0]
    assert (squat["sets"], squat["reps"], squat["load_kg"], squat["rest_s"]) == (3, 5, 60.0, 120)
    assert squat["answers"]
    assert today["state"] == "open"
    session = uuid.UUID(today["id"])
    send(
        entry("start", session, planned=today["date"], free=False, what=""),
        entry("set", session, exercise="back_squat", item=0, reps=5, load_kg=60, reserve=2),
        entry("after", session, effort=5, minutes=40),
    )
    again = phone.get("/pocket/bundle.json").json()["sessions"][0]
    assert (again["id"], again["state"]) == (today["id"], "done")
    assert [each["kind"] for each in again["entries"]] == ["start", "set", "after"]
    assert again["entries"][0]["at"].endswith("Z")
    (logged,) = record_of(Athlete.objects.get(), recordings=False).log
    assert logged.planned == timezone.localdate()
    assert not logged.free


def test_a_session_that_the_coach_wrote_down_is_not_asked_for_again(plan, phone, athlete, owner):
    today = timezone.localdate()
    done = LoggedSession(date=today, planned=today, effort=6, minutes=50)
    change_record(
        athlete, owner, lambda record: replace(record, log=(*record.log, done)), what="a session"
    )
    noted, later = phone.get("/pocket/bundle.json").json()["sessions"]
    assert (noted["date"], noted["noted"]) == (today.isoformat(), True)
    assert not later["noted"]


def test_a_session_id_of_the_plan_tells_its_day_by_itself(plan, phone, athlete, send, entry):
    session = phone.get("/pocket/bundle.json").json()["sessions"][0]
    send(entry("set", uuid.UUID(session["id"]), exercise="back_squat", item=0, reps=5))
    (logged,) = record_of(Athlete.objects.get(), recordings=False).log
    assert logged.planned == timezone.localdate()


def test_a_session_that_a_new_plan_drops_was_planned_all_the_same(
    plan, phone, athlete, send, entry, owner
):
    today, later = phone.get("/pocket/bundle.json").json()["sessions"]
    session = uuid.UUID(today["id"])
    send(
        entry("start", session, planned=today["date"], free=False, what=""),
        entry("set", session, exercise="back_squat", item=0, reps=5, load_kg=60),
        entry("after", session, effort=5, minutes=40),
    )
    weeks = [
        week | {"sessions": [s for s in week["sessions"] if s["date"] != today["date"]]}
        for week in plan.plan["weeks"]
    ]
    StoredPlan.objects.create(
        athlete=athlete,
        number=2,
        plan=plan.plan | {"weeks": weeks},
        accepted=timezone.now(),
        made_from_revision=1,
        by=owner,
    )

    told, other = phone.get("/pocket/bundle.json").json()["sessions"]

    assert (told["id"], told["title"], told["state"]) == (today["id"], today["title"], "done")
    assert not told["free"]
    assert told["items"] == []
    assert len(told["entries"]) == 3
    assert other["id"] == later["id"]


def test_a_free_session_is_in_the_bundle_as_well(phone, send, entry):
    send(entry("start", planned=None, free=True, what="beach"))
    (session,) = phone.get("/pocket/bundle.json").json()["sessions"]
    assert (session["free"], session["items"], session["state"]) == (True, [], "begun")


def test_a_session_is_written_down_afterwards_without_a_script(plan, phone, athlete):
    assert "Training on" in phone.get("/pocket/enter/").content.decode()
    page = f"/pocket/enter/?session={timezone.localdate().isoformat()}"
    shown = phone.get(page).content.decode()
    token = re.search(r'name="token" value="([^"]+)"', shown)[1]
    typed = {
        "token": token,
        "sets-0": "3",
        "reps-0": "5",
        "load-0": "60",
        "reserve-0": "2",
        "skipped-1": "calf",
        "minutes": "45",
        "effort": "6,5",
        "sleep": "7 1/2",
        "pain_place": "left knee",
        "pain_level": "3",
        "note": "fine",
    }
    for _ in range(2):  # sent twice, written once
        assert phone.post(page, typed).status_code == 302
    (session,) = record_of(Athlete.objects.get(), recordings=False).log
    assert [(s.exercise, s.reps, s.load_kg, s.reserve) for s in session.sets] == [
        ("back_squat", 5, 60, None),
        ("back_squat", 5, 60, None),
        ("back_squat", 5, 60, 2),
        ("pogo_hops", 0, None, None),
    ]
    assert (session.effort, session.minutes, session.sleep_hours, session.pain) == (6.5, 45, 7.5, 3)
    assert PocketEntry.objects.count() == 7


def test_a_free_session_is_written_down(phone, athlete):
    page = "/pocket/enter/?session=free"
    typed = {
        "token": str(uuid.uuid4()),
        "date": timezone.localdate().isoformat(),
        "what": "beach",
        "exercise-0": "sprints",
        "sets-0": "4",
        "reps-0": "1",
    }
    assert phone.post(page, typed).status_code == 302
    (session,) = record_of(Athlete.objects.get(), recordings=False).log
    assert (session.free, session.what, len(session.sets)) == (True, "beach", 4)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"effort": "12"}, "effort"),
        ({"minutes": "long"}, "is no number"),
        ({"pain_level": "3"}, "Give the place"),
        ({"reps-0": "1000", "sets-0": "1"}, "reps"),
    ],
)
def test_what_cannot_be_is_said_and_nothing_is_written(plan, phone, typed, said):
    page = f"/pocket/enter/?session={timezone.localdate().isoformat()}"
    answer = phone.post(page, {"token": str(uuid.uuid4())} | typed)
    assert answer.status_code == 200
    assert said in answer.content.decode()
    assert not PocketEntry.objects.exists()


def test_own_results_and_plan_are_readable(plan, phone):
    results = phone.get("/pocket/results/").content.decode()
    assert "Countermovement" in results or "countermovement" in results
    shown = phone.get("/pocket/plan/").content.decode()
    assert "back squat" in shown.lower()


def test_the_coach_reads_the_log_and_others_without_health(
    coach, client_of, reader, athlete, send, entry
):
    send(
        entry("start", planned=None, free=True, what="gym"),
        entry("before", pain=[{"place": "left heel", "level": 4}], soreness=[]),
        entry("set", exercise="back_squat", reps=5, load_kg=80, reserve=2),
        entry("skip", exercise="depth_jump", why="my heel"),
        entry("after", effort=6, minutes=50, note="heel again"),
    )
    page = f"/athletes/{athlete.pk}/log/"
    shown = coach.get(page).content.decode()
    for said in ("5 × 80", "300", "left heel", "my heel", "heel again"):
        assert said in shown
    shown = client_of(reader).get(page).content.decode()
    assert "5 × 80" in shown
    assert "heel" not in shown


def test_a_pain_from_the_phone_is_on_the_squad_page(coach, squad, send, entry):
    send(entry("before", pain=[{"place": "left heel", "level": 7}], soreness=[]))
    shown = coach.get("/").content.decode()
    assert "left heel" in shown
