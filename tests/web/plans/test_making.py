import datetime as dt
import json
import re

import pytest
from django.utils import timezone

from saltus.errors import UsageError
from saltus.training.exercise_file import shipped_text
from saltus.web.models import AuditEntry, MethodCopy, PlanRun, StoredPlan
from saltus.web.plans.stored import accept, changed_since, held, proposed
from saltus.web.plans.working_out import Asked, begin, running, work
from saltus.web.records import LOGGED, change_text, record_of

pytestmark = pytest.mark.django_db

ASK = {"start": "2027-01-04", "method": "shipped"}


def test_a_plan_is_asked_for_worked_out_shown_and_accepted(
    coach, jumper, address, work_off, session_days
):
    assert b"has no plan yet" in coach.get(address(jumper)).content

    answer = coach.post(address(jumper, "new/"), ASK)

    assert answer.status_code == 302
    waiting = coach.get(address(jumper))
    assert b"A plan is being worked out" in waiting.content
    assert b"See how far it is" in waiting.content
    proposal = work_off(jumper)
    assert proposal.breaches == []
    assert proposal.accepted is None
    assert held(jumper) is None
    page = coach.get(address(jumper)).content.decode()
    assert "Proposed plan" in page
    assert "the mark at last" in page
    assert "a side" in page
    coach.post(address(jumper, f"{proposal.number}/accept/"))
    assert held(jumper) == proposal
    assert AuditEntry.objects.get(action="plan_accepted").athlete == jumper
    # What the squad page and the command line read: the document of the training floor.
    assert {"athlete", "start", "goal_date", "solver", "unmet", "weeks", "pins"} <= set(
        held(jumper).plan
    )
    assert session_days(held(jumper))[0] >= "2027-01-04"
    jumper.refresh_from_db()
    assert jumper.summary["plan_number"] == proposal.number


def test_a_gym_that_nobody_described_is_asked_for_before_a_plan_is_made(coach, jumper, address):
    bare = re.sub(r"\[gym\].*?(?=\n\[|\Z)", "", jumper.text, flags=re.DOTALL)
    described = b"holds nothing to train with" not in coach.get(address(jumper, "new/")).content
    assert described == ("[gym]" in jumper.text)
    change_text(jumper, jumper.squad.owner, bare + "\n", what="no gym", revision=jumper.revision)
    page = coach.get(address(jumper, "new/")).content.decode()
    assert "holds nothing to train with" in page
    assert f'href="/athletes/{jumper.pk}/record/gym/"' in page


def test_progress_is_told_to_the_page_and_a_run_can_be_stopped(coach, jumper, address):
    coach.post(address(jumper, "new/"), ASK)
    run = PlanRun.objects.get()
    PlanRun.objects.update(stage="planning", share=0.42)

    part = coach.get(address(jumper, "progress/"), headers={"HX-Request": "true"})
    assert b"42 %" in part.content
    assert b"laying out the weeks" in part.content
    assert coach.get(address(jumper, "progress/")).status_code == 302

    coach.post(address(jumper, "stop/"))

    assert running(jumper) is None
    assert work(run.token) is None
    assert not StoredPlan.objects.exists()
    done = coach.get(address(jumper, "progress/"), headers={"HX-Request": "true"})
    assert done["HX-Refresh"] == "true"


def test_a_run_that_is_stopped_while_it_works_proposes_nothing(coach, jumper, address, monkeypatch):
    coach.post(address(jumper, "new/"), ASK)
    run = PlanRun.objects.get()
    from saltus.web.plans import working_out

    real = working_out.audit

    def stopped_meanwhile(*args, **kwargs):
        PlanRun.objects.all().delete()
        return real(*args, **kwargs)

    monkeypatch.setattr(working_out, "audit", stopped_meanwhile)

    assert work(run.token) is None
    assert not StoredPlan.objects.exists()


def test_only_one_plan_is_worked_out_for_an_athlete_at_a_time(coach, jumper, address):
    coach.post(address(jumper, "new/"), ASK)

    again = coach.post(address(jumper, "new/"), ASK)

    assert again.status_code == 400
    assert b"being worked out already" in again.content
    assert PlanRun.objects.count() == 1


def test_a_run_that_fell_silent_counts_for_nothing(jumper, owner):
    old = begin(jumper, owner, Asked(what="x", start=dt.date(2027, 1, 4)))
    PlanRun.objects.update(touched=timezone.now() - dt.timedelta(minutes=5))

    new = begin(jumper, owner, Asked(what="y", start=dt.date(2027, 1, 4)))

    assert PlanRun.objects.get().token == new.token != old.token


def test_why_nothing_came_of_it_is_told(coach, jumper, owner, reader, client_of, address):
    text = jumper.text.replace('"rack"', '"rak"')
    type(jumper).objects.filter(pk=jumper.pk).update(text=text)
    run = begin(jumper, owner, Asked(what="x", start=dt.date(2027, 1, 4)))

    assert work(run.token) is None

    jumper.refresh_from_db()
    page = coach.get(address(jumper))
    assert b"No plan could be worked out" in page.content
    assert b"rak" in page.content
    theirs = client_of(reader).get(address(jumper)).content
    assert b"No plan could be worked out" in theirs
    assert b"rak" not in theirs  # it may quote what speaks of health
    coach.post(address(jumper, "stop/"))
    assert b"No plan could be worked out" not in coach.get(address(jumper)).content


def test_the_day_that_counts_can_be_given_with_the_plan(coach, athlete, address, today):
    form = coach.get(address(athlete, "new/")).content
    assert b"The day that counts" in form

    coach.post(
        address(athlete, "new/"),
        ASK | {"target": "2027-03-06", "target_what": "cup"},
    )

    athlete.refresh_from_db()
    (target,) = record_of(athlete).targets
    assert (target.date, target.what) == (dt.date(2027, 3, 6), "cup")
    assert PlanRun.objects.get().asked["what"] == "A plan from 4 Jan 2027 on"


def test_a_plan_follows_the_squads_own_method(coach, jumper, squad, owner, address, work_off):
    text = shipped_text("method.toml").replace(
        'name = "general strength"', 'name = "bounding months"', 1
    )
    squad.method = MethodCopy.objects.create(owner=owner, name="Fjord way", text=text)
    squad.save()

    form = coach.get(address(jumper, "new/")).content.decode()
    assert "Fjord way" in form
    coach.post(address(jumper, "new/"), {"start": "2027-01-04", "method": "own"})

    proposal = work_off(jumper)
    assert proposal.method_name == "Fjord way"
    page = coach.get(address(jumper)).content
    assert b"Method: Fjord way" in page
    assert b"Bounding months" in page


def test_an_open_proposal_gives_way_to_a_newer_one(coach, jumper, address, work_off):
    coach.post(address(jumper, "new/"), ASK)
    first = work_off(jumper)
    coach.post(address(jumper, "new/"), ASK)
    second = work_off(jumper)

    first.refresh_from_db()
    assert first.declined is not None
    assert proposed(jumper) == second
    late = coach.post(address(jumper, f"{first.number}/accept/"))
    assert late.status_code == 409
    assert held(jumper) is None


def test_a_proposal_is_not_accepted_once_the_record_says_something_else(
    coach, jumper, owner, address, work_off
):
    coach.post(address(jumper, "new/"), ASK)
    proposal = work_off(jumper)
    sore = '\n[[pain]]\ndate = 2027-01-05\nplace = "knee"\nlevel = 6\n'
    change_text(jumper, owner, jumper.text + sore, what="sore", revision=jumper.revision)

    answer = coach.post(address(jumper, f"{proposal.number}/accept/"))

    assert answer.status_code == 400
    assert held(jumper) is None
    assert b"Work it out again" in coach.get(address(jumper)).content
    coach.post(address(jumper, f"{proposal.number}/again/"))
    again = work_off(jumper)
    assert any("knee" in text for text in again.plan["cautions"])
    coach.post(address(jumper, f"{again.number}/accept/"))
    assert held(jumper) == again


def test_a_declined_proposal_leaves_the_plan_as_it_was(coach, planned, address, work_off):
    before = held(planned)
    coach.post(address(planned, f"{before.number}/again/"))
    proposal = work_off(planned)

    coach.post(address(planned, f"{proposal.number}/decline/"))

    assert proposed(planned) is None
    assert held(planned) == before
    assert AuditEntry.objects.filter(action="plan_declined", athlete=planned).exists()
    # Its number is not given again: a page that still shows it is told.
    coach.post(address(planned, f"{before.number}/again/"))
    assert work_off(planned).number == proposal.number + 1


def test_missed_sessions_are_told_and_the_plan_follows(
    coach, planned, address, work_off, session_days
):
    page = coach.get(address(planned)).content.decode()
    assert "Which of these sessions did not take place?" in page
    stored = held(planned)
    missed = [day for day in session_days(stored) if day < "2027-01-06"]
    assert missed

    coach.post(address(planned, f"{stored.number}/again/"), {"missed": missed})

    proposal = work_off(planned)
    assert proposal.what == "Planned again after missed sessions"
    assert proposal.plan["start"] == "2027-01-06"
    assert not set(missed) & set(session_days(proposal))


def test_breaches_are_shown_as_warnings(coach, planned, address):
    stored = held(planned)
    stored.breaches = [{"rule": "days", "where": "2027-01-11", "text": "the day is blocked."}]
    stored.save()

    page = coach.get(address(planned)).content.decode()

    assert "Rules that this plan breaks" in page
    assert "11 Jan 2027: the day is blocked." in page


def test_a_plan_that_cannot_be_read_says_so(coach, planned, address):
    StoredPlan.objects.update(plan={"athlete": "Ada"})

    page = coach.get(address(planned))

    assert page.status_code == 200
    assert b"is missing" in page.content


def test_health_is_kept_from_those_who_may_not_read_it(planned, reader, squad, client_of, address):
    stored = held(planned)
    stored.plan["cautions"] = ["Pain of 4 out of 10 (left knee, 2027-01-05): note it."]
    stored.plan["unmet"] = ["No depth jumps: Depth jump is restricted: landing (operation)."]
    stored.changes = [
        {
            "date": "2027-01-11",
            "what": "without pogo hops",
            "why": "pain of 4 out of 10 (left knee)",
        }
    ]
    stored.accepted = None
    stored.save()

    page = client_of(reader).get(address(planned)).content.decode()

    assert "left knee" not in page
    assert "operation" not in page
    assert "without pogo hops" in page
    assert "for a reason that is not shown to you" in page
    assert "Remarks on health are not shown to you" in page
    planned.health_shared = True
    planned.save()
    squad.shares.update(sees_health=True)
    told = client_of(reader).get(address(planned)).content.decode()
    assert "left knee" in told
    assert "operation" in told


def test_the_document_reads_as_the_command_line_wrote_it(planned):
    document = held(planned).plan

    assert json.loads(json.dumps(document)) == document
    item = document["weeks"][0]["sessions"][0]["items"][0]
    assert {"exercise", "sets", "reps", "load_kg", "percent_of", "box_cm", "drop_cm"} <= set(item)


def test_a_plan_that_begins_later_leaves_the_days_before_it_as_they_are(
    coach, planned, address, work_off, session_days
):
    before = held(planned)
    coach.post(address(planned, "new/"), {"start": "2027-01-18", "method": "shipped"})

    proposal = work_off(planned)

    soon = [day for day in session_days(before) if "2027-01-06" <= day < "2027-01-18"]
    assert soon
    assert [d for d in session_days(proposal) if "2027-01-06" <= d < "2027-01-18"] == soon
    assert proposal.plan["start"] == "2027-01-06"
    assert coach.get(address(planned)).status_code == 200


def test_the_work_begins_once_the_request_is_kept(
    jumper, owner, settings, monkeypatch, django_capture_on_commit_callbacks
):
    from saltus.web.plans import working_out

    settings.PLAN_IN_BACKGROUND = True
    begun = []
    monkeypatch.setattr(working_out, "_start", begun.append)

    with django_capture_on_commit_callbacks(execute=True):
        run = begin(jumper, owner, Asked(what="x", start=dt.date(2027, 1, 4)))
        assert begun == []

    assert begun == [run.token]


SESSION = """
[[session]]
date = 2027-01-06
minutes = 50
effort = 6
"""
PAIN = """
[[pain]]
date = 2027-01-06
place = "left knee"
level = 4
"""


def test_what_is_logged_meanwhile_makes_a_proposal_no_older_but_a_pain_does(planned, owner):
    holds = held(planned)
    proposal = StoredPlan.objects.create(
        athlete=planned,
        number=2,
        plan=holds.plan,
        based_on=1,
        made_from_revision=planned.revision,
        by=owner,
    )
    change_text(planned, owner, planned.text + SESSION, what=LOGGED, revision=planned.revision)
    planned.refresh_from_db()
    assert not changed_since(planned, proposal)
    more = planned.text + SESSION + PAIN
    change_text(planned, owner, more, what=LOGGED, revision=planned.revision)
    planned.refresh_from_db()
    assert changed_since(planned, proposal)
    with pytest.raises(UsageError, match="record has changed"):
        accept(planned, 2, owner)


def test_any_other_change_of_the_record_makes_a_proposal_older(planned, owner):
    holds = held(planned)
    change_text(planned, owner, planned.text + SESSION, what="by hand", revision=planned.revision)
    planned.refresh_from_db()
    assert changed_since(planned, holds)
