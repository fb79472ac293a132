"""An invented athlete with a short way to the day that counts, so that plans are quick."""

import datetime as dt

import pytest
from django.utils import timezone

from saltus.web.models import PlanRun, StoredPlan
from saltus.web.plans.stored import accept, proposed
from saltus.web.plans.working_out import work
from saltus.web.records import change_text

TODAY = dt.date(2027, 1, 6)
"""A Wednesday; the pages of these tests think that it is today."""

PLANNING = """
[plan]
start = 2027-01-04

[[target]]
date = 2027-02-06
what = "the mark at last"

[week]
mon = 70
tue = 70
thu = 70

[[match]]
date = 2027-01-30
landings = 20

[gym]
equipment = ["barbell", "rack", "bench", "runway"]
bar_kg = 20
plates_kg = [[20, 4], [15, 2], [10, 2], [5, 2], [2.5, 2], [1.25, 2]]
boxes_cm = [30, 45, 60]
dumbbells_kg = [10, 15, 20]
"""

_first = {}
"""The first plan, worked out once and kept for every test."""


@pytest.fixture(autouse=True)
def today(monkeypatch, settings):
    """The day stands still, and plans are worked off by the tests themselves."""
    settings.PLAN_IN_BACKGROUND = False
    monkeypatch.setattr(timezone, "localdate", lambda *_: TODAY)
    return TODAY


@pytest.fixture
def jumper(athlete, owner, settings, tmp_path):
    """The athlete with days, a gym and a day that counts."""
    settings.MEDIA_ROOT = tmp_path / "athletes"
    change_text(athlete, owner, athlete.text + PLANNING, what="planning", revision=1)
    athlete.refresh_from_db()
    return athlete


@pytest.fixture
def work_off():
    """Gives what works the waiting plan of an athlete out; the proposal comes back."""

    def worked(athlete):
        run = PlanRun.objects.get(athlete=athlete)
        work(run.token)
        return proposed(athlete)

    return worked


@pytest.fixture
def planned(jumper, owner, coach, work_off):
    """The athlete with a plan that holds, from Monday of this week on."""
    if not _first:
        coach.post(f"/athletes/{jumper.pk}/plan/new/", {"start": "2027-01-04", "method": "shipped"})
        made = work_off(jumper)
        accept(jumper, made.number, owner)
        _first.update(plan=made.plan, changes=made.changes, what=made.what)
    else:
        StoredPlan.objects.create(
            athlete=jumper,
            number=1,
            accepted=timezone.now(),
            made_from_revision=jumper.revision,
            by=owner,
            **_first,
        )
    return jumper


@pytest.fixture
def address():
    """Gives the address of a page of an athlete's plan."""
    return lambda athlete, rest="": f"/athletes/{athlete.pk}/plan/{rest}"


@pytest.fixture
def session_days():
    """Gives the days of a stored plan on which there is a session."""

    def days(stored):
        return [s["date"] for week in stored.plan["weeks"] for s in week["sessions"]]

    return days
