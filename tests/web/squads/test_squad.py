import datetime as dt
import json

import pytest
from django.utils import timezone

from saltus.web import background
from saltus.web.models import Athlete, AuditEntry, StoredPlan
from saltus.web.records import add_athlete, change_text

pytestmark = pytest.mark.django_db


def html(answer):
    return " ".join(answer.content.decode().split())


@pytest.fixture
def named(squad, owner, athlete):
    def make(name, **fields):
        return add_athlete(squad, athlete.text.replace("Ada Ilves", name), owner, **fields)

    return make


def test_the_page_tells_jump_limit_and_what_comes(coach, athlete):
    background.ask([athlete.pk])
    background.work_off()

    page = html(coach.get("/"))

    assert "Ada Ilves" in page
    assert 'hx-trigger="every' not in page
    told = Athlete.objects.get().summary["assessed"]
    assert f"{100 * told['jump']['estimate']:.1f}" in page
    assert "undecided" in page or told["limiting"]["quality"]


def test_a_stale_assessment_is_worked_out_beside_the_page(coach, athlete):
    first = html(coach.get("/"))
    assert "being worked out" in first
    assert 'hx-trigger="every 3s"' in first

    background.work_off()

    assert "being worked out" not in html(coach.get("/squad/rows/"))


def test_an_edit_makes_the_assessment_stale(coach, athlete, owner):
    background.ask([athlete.pk])
    background.work_off()
    heavier = athlete.text.replace("mass_kg = 70", "mass_kg = 74")
    change_text(athlete, owner, heavier, what="heavier", revision=1)

    assert "being worked out" in html(coach.get("/squad/rows/"))


def test_a_record_that_cannot_be_assessed_is_told_once(coach, athlete):
    Athlete.objects.update(text="saltus_record = 1\n")
    background.ask([athlete.pk])
    background.work_off()

    page = html(coach.get("/"))

    assert "The record is at fault" in page
    assert "being worked out" not in page


def test_an_accepted_plan_is_told(coach, athlete, owner):
    soon = timezone.localdate() + dt.timedelta(days=3)
    plan = {"goal_date": soon.isoformat(), "weeks": [{"sessions": [{"date": soon.isoformat()}]}]}
    made = StoredPlan.objects.create(
        athlete=athlete, number=1, plan=plan, made_from_revision=1, by=owner
    )
    assert "The plan ends" not in html(coach.get("/"))

    made.accepted = timezone.now()
    made.save()

    page = html(coach.get("/"))
    assert "The plan ends" in page
    assert "Session" in page


def test_a_plan_that_changed_behind_the_summary_is_noticed(coach, athlete, owner):
    background.ask([athlete.pk])
    background.work_off()
    StoredPlan.objects.create(
        athlete=athlete, number=1, plan={}, made_from_revision=1, accepted=timezone.now()
    )
    Athlete.objects.filter(pk=athlete.pk).update(
        summary=Athlete.objects.get().summary | {"plan_number": None}
    )

    assert "being worked out" in html(coach.get("/"))


def test_two_hundred_athletes_take_no_more_queries_than_one(
    coach, athlete, named, django_assert_max_num_queries
):
    copies = [
        Athlete(squad=athlete.squad, name=f"Copy {i}", text=athlete.text, summary=athlete.summary)
        for i in range(200)
    ]
    Athlete.objects.bulk_create(copies)

    with django_assert_max_num_queries(12):
        answer = coach.get("/")

    assert "201 athletes" in html(answer)


def test_search_group_and_order(coach, athlete, named):
    named("Bo Hansen", group="juniors")

    assert "Bo Hansen" not in html(coach.get("/?q=ilv"))
    assert "Ada Ilves" not in html(coach.get("/squad/rows/?group=juniors"))
    assert "Nobody fits" in html(coach.get("/?q=zz"))
    assert coach.get("/?squad=nonsense&order=eye&group=%00").status_code == 200


def test_whoever_looks_at_the_archive_can_bring_back_at_once(coach, athlete, client_of, reader):
    asked = {"HTTP_HX_REQUEST": "true", "HTTP_HX_TARGET": "squad-rows"}
    answer = coach.get("/squad/rows/?archived=1", **asked)
    assert 'value="unarchive" hx-swap-oob="true"' in html(answer)
    assert answer["HX-Replace-Url"] == "/?archived=1"
    assert 'value="archive" hx-swap-oob="true"' in html(coach.get("/squad/rows/?q=a", **asked))
    assert "hx-swap-oob" not in html(client_of(reader).get("/squad/rows/?archived=1", **asked))
    # The table that draws itself anew leaves alone what somebody may be about to press.
    drawn = coach.get("/squad/rows/?archived=1", **asked, HTTP_HX_TRIGGER="squad-rows")
    assert "hx-swap-oob" not in html(drawn)
    assert "HX-Replace-Url" not in drawn


def test_what_is_done_to_athletes_is_on_record(coach, owner, athlete):
    for action in ("group", "archive", "unarchive"):
        coach.post(
            "/squad/ticked/", {"athlete": str(athlete.pk), "action": action, "group": "juniors"}
        )
    entries = AuditEntry.objects.filter(athlete=athlete, by=owner).order_by("pk")
    assert [(entry.action, entry.detail) for entry in entries] == [
        ("athlete_grouped", "juniors"),
        ("athlete_archived", ""),
        ("athlete_unarchived", ""),
    ]
    page = html(coach.get("/settings/history/"))
    assert "archived an athlete" in page
    assert 'changed the group of an athlete <span class="note">juniors</span>' in page


def test_archive_and_back(coach, athlete):
    coach.post("/squad/ticked/", {"athlete": str(athlete.pk), "action": "archive"})
    assert "to-" not in html(coach.get("/"))
    assert "Ada Ilves" in html(coach.get("/?archived=1"))

    coach.post("/squad/ticked/", {"athlete": str(athlete.pk), "action": "unarchive"})
    assert f"to-{athlete.pk}" in html(coach.get("/"))


def test_delete_and_undo(coach, athlete, owner):
    coach.post("/squad/ticked/", {"athlete": str(athlete.pk), "action": "delete"})
    page = html(coach.get("/"))
    assert f"to-{athlete.pk}" not in page
    assert "Undo" in page
    assert "Undo" not in html(coach.get("/"))
    assert "Ada Ilves" in html(coach.get("/squad/deleted/"))

    coach.post("/squad/bring-back/", {"athlete": str(athlete.pk)})

    assert f"to-{athlete.pk}" in html(coach.get("/"))
    actions = list(AuditEntry.objects.order_by("at").values_list("action", "by"))
    assert actions == [("athlete_deleted", owner.pk), ("athlete_brought_back", owner.pk)]


def test_put_into_a_group(coach, athlete):
    coach.post(
        "/squad/ticked/", {"athlete": str(athlete.pk), "action": "group", "group": "juniors"}
    )
    athlete.refresh_from_db()
    assert athlete.group == "juniors"


@pytest.mark.parametrize("action", ["archive", "delete", "group"])
def test_nobody_else_may(client_of, reader, outsider, athlete, action):
    for person in (reader, outsider):
        answer = client_of(person).post(
            "/squad/ticked/", {"athlete": [str(athlete.pk), "x"], "action": action, "group": "x"}
        )
        assert answer.status_code == 302
    athlete.refresh_from_db()
    assert (athlete.archived, athlete.deleted, athlete.group) == (None, None, "seniors")


def test_bringing_back_is_for_those_who_may_edit(client_of, reader, outsider, athlete):
    Athlete.objects.update(deleted=timezone.now())
    for person in (reader, outsider):
        client_of(person).post("/squad/bring-back/", {"athlete": str(athlete.pk)})
        assert "Ada" not in html(client_of(person).get("/squad/deleted/"))
    athlete.refresh_from_db()
    assert athlete.deleted is not None


def test_an_unknown_action_is_refused(coach, athlete):
    answer = coach.post("/squad/ticked/", {"athlete": str(athlete.pk), "action": "burn"})
    assert answer.status_code == 400


def test_pain_is_shown_only_to_whom_it_may_be(client_of, owner, reader, athlete):
    pain = f'\n[[pain]]\ndate = {timezone.localdate()}\nplace = "left knee"\nlevel = 4\n'
    change_text(athlete, owner, athlete.text + pain, what="pain", revision=1)

    assert "Pain 4/10, left knee" in html(client_of(owner).get("/"))
    assert "left knee" not in html(client_of(reader).get("/"))

    Athlete.objects.update(health_shared=True)
    athlete.squad.shares.update(sees_health=True)
    assert "Pain 4/10, left knee" in html(client_of(reader).get("/"))


def test_a_summary_holds_nothing_that_json_cannot(athlete):
    assert json.loads(json.dumps(athlete.summary)) == athlete.summary
    assert athlete.summary == Athlete.objects.get().summary


def test_an_outsider_sees_nobody(client_of, outsider, athlete):
    assert "Ada" not in html(client_of(outsider).get("/"))


def test_ticks_stay_while_the_table_is_drawn_anew(coach, athlete, named):
    named("Bo Hansen")

    page = html(coach.get(f"/squad/rows/?q=&athlete={athlete.pk}"))

    assert f'value="{athlete.pk}" checked' in page
    assert page.count(" checked") == 1
    assert '/squad/rows/?q="' in page


def test_who_may_edit_an_empty_squad_may_add_to_it(client_of, reader, editor, squad):
    assert "Add an athlete" in html(client_of(editor).get("/"))
    assert "Add an athlete" not in html(client_of(reader).get("/"))


def test_recordings_that_are_missing_are_told_in_short(coach, athlete, owner, settings):
    missing = '\n[[test]]\nkind = "recording"\ndate = 2026-11-01\nfile = "a.csv"\n'
    change_text(athlete, owner, athlete.text + 2 * missing, what="recordings", revision=1)
    background.ask([athlete.pk])
    background.work_off()

    page = html(coach.get("/"))

    assert "No assessment: line" in page
    assert "a.csv" in page
    assert "(+1)" in page
    assert str(settings.MEDIA_ROOT) not in page
