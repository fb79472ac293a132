"""The page that follows an athlete."""

import datetime as dt

import pytest
from django.urls import reverse
from django.utils import timezone

from saltus.web.following.tables import changes_told
from saltus.web.models import Athlete, PlanRun
from saltus.web.plans.working_out import Asked
from saltus.web.records import change_text

pytestmark = pytest.mark.django_db

TODAY = dt.date(2027, 1, 20)
MONDAY = dt.date(2027, 1, 4)

LOG = """
[[target]]
date = 2027-03-06
what = "the mark at last"

[[pain]]
date = 2027-01-15
place = "left heelbone"
level = 6

[[session]]
date = 2027-01-04
minutes = 60
effort = 5
sleep_hours = 8
soreness = [{ place = "right calf", level = 7 }]
sets = [{ exercise = "depth_jump", sets = 3, reps = 5, drop_cm = 30 }]

[[session]]
date = 2027-01-11
minutes = 60
effort = 6
sleep_hours = 7
"""


@pytest.fixture(autouse=True)
def today(monkeypatch, settings, tmp_path):
    settings.PLAN_IN_BACKGROUND = False
    settings.MEDIA_ROOT = tmp_path / "athletes"
    monkeypatch.setattr(timezone, "localdate", lambda *_: TODAY)


@pytest.fixture
def jumper(athlete, owner):
    change_text(athlete, owner, athlete.text + LOG, what="log", revision=1)
    athlete.refresh_from_db()
    return athlete


@pytest.fixture
def planned(jumper, keep_plan):
    """With a plan of Mondays and Thursdays that was made at the new year."""
    keep_plan(jumper, MONDAY, 9, accepted=dt.date(2027, 1, 2))
    return jumper


def page(client, athlete):
    return client.get(reverse("follow", args=[athlete.pk])).content.decode()


def test_what_training_cost_is_told_week_by_week(coach, jumper):
    shown = page(coach, jumper)
    assert "4 Jan 2027" in shown
    assert "300" in shown, "5 times 60 minutes"
    assert "No plan holds." in shown


@pytest.mark.parametrize("name", ["load", "landings", "place-0", "place-1"])
def test_each_chart_draws_what_was_logged(coach, jumper, name):
    spec = coach.get(reverse("follow-chart", args=[jumper.pk, name])).json()
    (rows,) = spec["datasets"].values()
    assert rows


def test_there_is_no_chart_of_another_name(coach, jumper):
    for name in ("place-2", "place-x", "response", "nothing"):
        assert coach.get(reverse("follow-chart", args=[jumper.pk, name])).status_code == 404


def test_soreness_and_pain_are_for_those_who_may_see_them(jumper, planned, reader, client_of):
    client = client_of(reader)
    shown = page(client, jumper)
    assert "heelbone" not in shown
    assert "right calf" not in shown
    assert "reasons that are not shown to you" in shown
    assert client.get(reverse("follow-chart", args=[jumper.pk, "place-0"])).status_code == 404
    Athlete.objects.update(health_shared=True)
    jumper.squad.shares.update(sees_health=True)
    shown = page(client, jumper)
    assert "left heelbone" in shown
    assert "right calf" in shown


def test_reasons_to_plan_anew_are_told_and_asked_of_the_planner(coach, planned):
    shown = page(coach, planned)
    assert "Pain of 6 out of 10" in shown
    assert "3 planned sessions" in shown
    answer = coach.post(reverse("follow-plan-again", args=[planned.pk]))
    assert answer.url == reverse("plan", args=[planned.pk])
    asked = Asked.from_json(PlanRun.objects.get(athlete=planned).asked)
    assert asked.start == TODAY
    assert asked.missed == (dt.date(2027, 1, 7), dt.date(2027, 1, 14), dt.date(2027, 1, 18))
    assert asked.what == "Planned again: missed sessions", "what speaks of health stays out of it"


def test_only_who_may_edit_can_ask(planned, reader, client_of):
    client = client_of(reader)
    assert client.post(reverse("follow-plan-again", args=[planned.pk])).status_code == 404
    assert "Work the plan out again" not in page(client, planned)
    assert not PlanRun.objects.exists()


def test_without_a_plan_there_is_nothing_to_work_out_anew(coach, jumper):
    answer = coach.post(reverse("follow-plan-again", args=[jumper.pk]))
    assert answer.status_code == 400
    assert "make one first" in answer.content.decode()


def test_a_fault_of_the_record_is_told_and_no_error(coach, jumper):
    Athlete.objects.filter(pk=jumper.pk).update(text="saltus_record = 1\n")
    answer = coach.get(reverse("follow", args=[jumper.pk]))
    assert answer.status_code == 200
    assert 'role="alert"' in answer.content.decode()


def test_tests_on_neighbouring_days_are_no_change():
    def change(since, until):
        figures = {"estimate": 0.01, "low": 0.0, "high": 0.02, "probability_real": 0.5}
        return {"from": since, "to": until, "verdict": "unclear", **figures}

    told = changes_told(
        [change("2026-09-02", "2026-11-16"), change("2026-11-16", "2026-11-18")],
    )
    assert [(each["from"], each["to"]) for each in told] == [("2 Sep 2026", "16 Nov 2026")]
