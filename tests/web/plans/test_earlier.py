import datetime as dt

import pytest
from django.utils import timezone

from saltus.web.models import Athlete, StoredPlan
from saltus.web.plans.stored import held

pytestmark = pytest.mark.django_db


def kept(athlete, number, plan, **more):
    """Keep another plan of an athlete."""
    values = {"made_from_revision": athlete.revision, "what": f"Asked as number {number}"}
    return StoredPlan.objects.create(athlete=athlete, number=number, plan=plan, **values | more)


def without(plan, date):
    """A plan document with a day taken out."""
    weeks = [
        week | {"sessions": [s for s in week["sessions"] if s["date"] != date]}
        for week in plan["weeks"]
    ]
    return plan | {"weeks": weeks}


@pytest.fixture
def seasons(planned, owner, session_days):
    """Three plans: an earlier one, one that was put away, and the one that holds."""
    first = held(planned)
    day = next(day for day in session_days(first) if day >= "2027-01-11")
    StoredPlan.objects.filter(pk=first.pk).update(what="The first of all")
    kept(planned, 2, without(first.plan, day), by=None, by_name="Old Hand", declined=timezone.now())
    kept(planned, 3, without(first.plan, day), by=owner, accepted=timezone.now())
    return planned, dt.date.fromisoformat(day)


def test_every_plan_is_listed_with_who_asked_and_what_came_of_it(coach, owner, seasons, address):
    athlete, _day = seasons
    proposal = kept(athlete, 4, held(athlete).plan, by=owner)

    page = coach.get(address(athlete, "earlier/")).content.decode()

    rows = page.split("<tr>")[2:]
    assert len(rows) == 4
    assert "waits to be accepted" in rows[0]
    assert proposal.what in rows[0]
    assert "holds" in rows[1]
    assert "accepted" in rows[1]
    assert owner.name in rows[1]
    assert "not accepted" in rows[2]
    assert "Old Hand" in rows[2]
    assert "The first of all" in rows[3]
    assert "accepted" in rows[3]
    assert "not accepted" not in rows[3]
    assert address(athlete, "earlier/1/compare/") in rows[3]
    for row in rows[:2]:
        assert f'href="{address(athlete)}"' in row
        assert "compare" not in row


def test_the_plan_page_leads_to_earlier_ones(coach, seasons, address):
    athlete, _day = seasons
    assert address(athlete, "earlier/") in coach.get(address(athlete)).content.decode()


def test_an_earlier_plan_is_read_and_says_that_it_does_not_hold(coach, seasons, address):
    athlete, day = seasons

    page = coach.get(address(athlete, "earlier/1/")).content.decode()

    assert "The first of all" in page
    assert "does not hold: do not train by it" in page
    assert f'id="day-{day.isoformat()}"' in page
    assert "Back squat" in page
    assert 'class="plan-flag">new' not in page
    for form in ("/move/", "/swap/", "/let-go/", "/accept/", "data-session"):
        assert form not in page


def test_an_earlier_plan_is_compared_with_the_one_that_holds(coach, seasons, address):
    athlete, day = seasons

    page = coach.get(address(athlete, "earlier/1/compare/"))

    assert page.context["differences"].gone == 1
    assert (page.context["differences"].new, page.context["differences"].changed) == (0, 0)
    text = page.content.decode()
    assert "the plan that holds; marked is what it has otherwise" in text
    assert f'id="day-{day.isoformat()}"' not in text
    assert "plan-gone" in text


def test_loads_that_differ_show_what_they_were(coach, seasons, address):
    athlete, day = seasons
    now = held(athlete)
    later = next(s for w in now.plan["weeks"] for s in w["sessions"] if s["date"] > day.isoformat())
    item = next(item for item in later["items"] if item["load_kg"])
    item["load_kg"] = 12.5
    now.save()

    page = coach.get(address(athlete, "earlier/1/compare/"))

    assert page.context["differences"].changed == 1
    assert "before: " in page.content.decode()


def test_plans_that_say_the_same_do_not_differ(coach, owner, planned, address):
    kept(planned, 2, held(planned).plan, by=owner, accepted=timezone.now())

    page = coach.get(address(planned, "earlier/1/compare/"))

    assert "No session differs." in page.content.decode()


def test_a_later_plan_that_was_put_away_is_laid_over_the_one_that_holds(
    coach, planned, session_days, address
):
    now = held(planned)
    day = next(day for day in session_days(now) if day >= "2027-01-11")
    kept(planned, 2, without(now.plan, day), declined=timezone.now())

    page = coach.get(address(planned, "earlier/2/compare/"))

    assert page.context["differences"].gone == 1
    assert "what it would have changed" in page.content.decode()


def test_the_plan_that_holds_and_the_open_one_have_their_own_page(coach, planned, address):
    kept(planned, 2, held(planned).plan)
    for number in (1, 2):
        for rest in ("", "compare/"):
            answer = coach.get(address(planned, f"earlier/{number}/{rest}"))
            assert answer.status_code == 302
            assert answer.url == address(planned)
    assert coach.get(address(planned, "earlier/9/")).status_code == 404


def test_nothing_holds_to_compare_with(coach, planned, address):
    StoredPlan.objects.update(accepted=None, declined=timezone.now())

    answer = coach.get(address(planned, "earlier/1/compare/"))

    assert answer.url == address(planned, "earlier/1/")
    assert "/compare/" not in coach.get(answer.url).content.decode()


def test_a_plan_that_cannot_be_read_is_a_sentence(coach, planned, address):
    kept(planned, 2, {"weeks": "no"}, declined=timezone.now())

    answer = coach.get(address(planned, "earlier/2/"))

    assert answer.status_code == 200
    assert "plan 2 of" in answer.content.decode()


@pytest.mark.parametrize("rest", ["earlier/", "earlier/1/", "earlier/1/compare/"])
def test_readers_read_without_health_and_outsiders_find_nothing(
    seasons, reader, outsider, client_of, address, rest
):
    athlete, _day = seasons
    first = athlete.plans.get(number=1)
    first.plan["cautions"] = ["A pain in the left heelbone (level 3)."]
    first.what = "Planned again after a pain in the left heelbone"
    first.breaches = [{"rule": "x", "where": "y", "text": "The pain in the heelbone forbids it."}]
    first.changes = [
        {"date": "2027-01-11", "what": "Back squat out", "why": "pain in the heelbone"}
    ]
    first.save()

    page = client_of(reader).get(address(athlete, rest))

    assert page.status_code == 200
    assert "heelbone" not in page.content.decode()
    assert "not shown to you" in page.content.decode()
    assert client_of(outsider).get(address(athlete, rest)).status_code == 404
    Athlete.objects.update(health_shared=True)
    athlete.squad.shares.update(sees_health=True)
    assert "heelbone" in client_of(reader).get(address(athlete, rest)).content.decode()
