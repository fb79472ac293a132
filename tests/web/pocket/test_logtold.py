"""The log page: what was planned beside what was done, and what nobody logged."""

import datetime as dt
import re

import pytest
from django.urls import reverse
from django.utils import timezone

from saltus.training.plan import Item, Why
from saltus.web.models import StoredPlan
from saltus.web.plans.held_then import planned_between
from saltus.web.records import change_text

TODAY = dt.date(2027, 1, 21)  # a Thursday
MONDAY = dt.date(2027, 1, 4)
LOG = """
[[session]]
date = 2027-01-04
minutes = 50
effort = 5
landings = 12
sets = [
  { exercise = "back_squat", sets = 3, reps = 5, load_kg = 80 },
  { exercise = "box_jump", sets = 2, reps = 4, box_cm = 40 },
]

[[session]]
date = 2027-01-12
planned = 2027-01-11
minutes = 55
effort = 6

[[session]]
date = 2027-01-16
free = true
what = "beach volleyball"
"""


def items(load_kg):
    """Squats with a load, and hops."""
    return tuple(
        Item(exercise=name, sets=4, reps=5, load_kg=load, why=Why("", None, ""), minutes=20)
        for name, load in (("back_squat", load_kg), ("pogo_hops", None))
    )


@pytest.fixture
def trained(athlete, owner, keep_plan, monkeypatch):
    change_text(athlete, owner, athlete.text + LOG, what="log", revision=1)
    athlete.refresh_from_db()
    keep_plan(athlete, MONDAY, 6, items(85.0), accepted=dt.date(2027, 1, 2))
    monkeypatch.setattr(
        timezone, "localdate", lambda at=None, *_: TODAY if at is None else at.date()
    )
    return athlete


def week(shown, monday):
    """The part of the page that tells of one week, without tags."""
    found = next(
        part for part in re.split(r'<details class="log-week"', shown)[1:] if monday in part
    )
    return re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", found))


def test_what_was_planned_stands_beside_what_was_done(coach, trained):
    shown = coach.get(reverse("log", args=[trained.pk])).content.decode()
    first = week(shown, "Week of 4 January 2027")
    assert "Back squat 4 × 5, 85 kg 3 × 5 × 80 kg" in first
    assert "Pogo hops 4 × 5 not logged" in first
    assert "Box jump – 2 × 4, box 40 cm" in first
    assert re.search(r"Minutes \d+ 50 Landings \d+ 12", first)
    assert "1 of 2 planned sessions done" in first


def test_a_session_that_nobody_logged_is_told_and_one_that_was_moved_is_not_missed(coach, trained):
    shown = coach.get(reverse("log", args=[trained.pk])).content.decode()
    second = week(shown, "Week of 11 January 2027")
    assert "1 of 2 planned sessions done" in second
    assert "Tuesday 12 January planned for 11 Jan" in second
    assert "Thursday 14 January nothing logged" in second
    assert "beach volleyball not planned" in second
    assert "Monday 11 January" not in second
    this = week(shown, "Week of 18 January 2027")
    assert "Monday 18 January nothing logged" in this
    assert "Thursday 21 January" not in this  # today: it may still come


def test_each_day_is_told_by_the_plan_that_held_on_it(trained, keep_plan):
    keep_plan(trained, MONDAY, 6, items(90.0), accepted=dt.date(2027, 1, 13), number=2)
    found = planned_between(trained, MONDAY, TODAY)
    loads = {day.day: session.items[0].load_kg for day, session in found.items()}
    assert loads == {4: 85.0, 7: 85.0, 11: 85.0, 14: 90.0, 18: 90.0, 21: 90.0}


def test_days_before_the_first_plan_was_accepted_are_told_by_it(athlete, keep_plan):
    keep_plan(athlete, MONDAY, 6, items(85.0), accepted=dt.date(2027, 1, 6))
    found = planned_between(athlete, MONDAY, MONDAY + dt.timedelta(days=4))
    assert sorted(found) == [MONDAY, MONDAY + dt.timedelta(days=3)]


def without_thursdays(athlete, number, accepted):
    """Accept a plan that holds no Thursday any more."""
    old = athlete.plans.get(number=1)
    plan = old.plan | {
        "weeks": [week | {"sessions": week["sessions"][:1]} for week in old.plan["weeks"]]
    }
    StoredPlan.objects.bulk_create(
        [
            StoredPlan(
                athlete=athlete,
                number=number,
                plan=plan,
                made_from_revision=2,
                by=old.by,
                accepted=dt.datetime.combine(accepted, dt.time(18), dt.UTC),
            )
        ]
    )


def test_a_session_stays_what_it_was_when_a_plan_of_the_same_day_drops_it(coach, trained, owner):
    thursday = dt.date(2027, 1, 14)
    done = """
[[session]]
date = 2027-01-14
planned = 2027-01-14
minutes = 45
sets = [{ exercise = "back_squat", sets = 3, reps = 5, load_kg = 80 }]
"""
    change_text(trained, owner, trained.text + done, what="log", revision=2)
    without_thursdays(trained, 2, accepted=thursday)

    shown = coach.get(reverse("log", args=[trained.pk])).content.decode()

    second = week(shown, "Week of 11 January 2027")
    assert "2 of 2 planned sessions done" in second
    told = second[second.index("Thursday 14 January") :]
    assert not told.startswith("Thursday 14 January not planned")
    assert "Back squat 4 × 5, 85 kg 3 × 5 × 80 kg" in told
    # The next Thursday was dropped before anybody did it.
    assert sorted(planned_between(trained, thursday, TODAY, logged=[thursday])) == [
        thursday,
        dt.date(2027, 1, 18),
    ]
    assert thursday not in planned_between(trained, thursday, TODAY)


def test_a_planned_session_is_not_told_as_unplanned_where_no_plan_tells_it(
    coach, athlete, owner, monkeypatch
):
    log = "\n[[session]]\ndate = 2027-01-14\nplanned = 2027-01-14\nminutes = 45\n"
    change_text(athlete, owner, athlete.text + log, what="log", revision=1)
    monkeypatch.setattr(timezone, "localdate", lambda *_: TODAY)
    shown = coach.get(reverse("log", args=[athlete.pk])).content.decode()
    assert "Thursday 14 January" in week(shown, "Week of 11 January 2027")
    assert "not planned" not in week(shown, "Week of 11 January 2027")


def test_a_pain_is_told_with_the_session_that_it_was_told_with(coach, trained, owner):
    more = """
[[session]]
date = 2027-01-16
planned = 2027-01-14
minutes = 40
pain = 3
[[pain]]
date = 2027-01-16
place = "left knee"
level = 3
"""
    change_text(trained, owner, trained.text + more, what="log", revision=2)
    shown = coach.get(reverse("log", args=[trained.pk])).content.decode()
    second = week(shown, "Week of 11 January 2027")
    sessions = second.split("Saturday 16 January")[1:]
    free, planned = sorted(sessions, key=lambda told: "planned for 14 Jan" in told)
    assert "beach volleyball" in free
    assert "left knee" not in free
    assert "left knee" in planned


def test_weeks_long_past_are_folded_away_and_a_year_has_pages(coach, athlete, owner, monkeypatch):
    text = "\n".join(
        f"[[session]]\ndate = {MONDAY - dt.timedelta(weeks=w)}\nminutes = 40\n" for w in range(20)
    )
    change_text(athlete, owner, athlete.text + "\n" + text, what="log", revision=1)
    monkeypatch.setattr(timezone, "localdate", lambda *_: MONDAY)
    page = reverse("log", args=[athlete.pk])
    shown = coach.get(page).content.decode()
    assert shown.count('<details class="log-week" open>') == 3
    assert shown.count('<details class="log-week"') == 12
    assert "?from=12" in shown
    rest = coach.get(page + "?from=12").content.decode()
    assert rest.count('<details class="log-week"') == 8
    assert "?from=24" not in rest
