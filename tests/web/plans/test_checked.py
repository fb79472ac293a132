"""A plan is looked at anew once the record has changed, and faults keep health and paths apart."""

import pytest

from saltus.web.models import Athlete
from saltus.web.plans import checked
from saltus.web.plans.stored import held
from saltus.web.records import change_text

pytestmark = pytest.mark.django_db


def changed(athlete, owner, text):
    athlete.refresh_from_db()
    change_text(athlete, owner, athlete.text + text, what="days", revision=athlete.revision)
    athlete.refresh_from_db()


def test_a_day_blocked_in_the_record_is_told_on_the_page_of_the_plan(
    coach, owner, planned, address, session_days, monkeypatch
):
    day = session_days(held(planned))[-1]
    assert coach.get(address(planned)).context["breaches"] == ()
    changed(planned, owner, f'\n[[blocked]]\nstart = {day}\nend = {day}\nwhy = "feast"\n')

    page = coach.get(address(planned))

    assert page.context["breaches"] == (f"{day}: the day is blocked.",)
    assert "Rules that this plan breaks" in page.content.decode()
    # The second look is free until the record changes again.
    monkeypatch.setattr(checked, "audit", None)
    assert coach.get(address(planned)).context["breaches"] == page.context["breaches"]


def test_a_change_that_breaks_nothing_says_nothing(coach, owner, planned, address):
    changed(planned, owner, "\n# a comment\n")

    assert coach.get(address(planned)).context["breaches"] == ()


@pytest.mark.parametrize("rest", ["new/", "calendar/"])
def test_a_fault_of_the_record_is_quoted_to_whom_health_is_shown_alone(
    coach, editor, client_of, planned, address, settings, rest
):
    secret = '\n[[pain]]\ndate = 2027-01-01\nplace = "secret place"\nlevel = 99\n'
    Athlete.objects.filter(pk=planned.pk).update(text=planned.text + secret)

    told = coach.get(address(planned, rest)).content.decode()
    hidden = client_of(editor).get(address(planned, rest)).content.decode()

    assert "level" in told
    assert "level" not in hidden.split("<main")[1]
    assert "whose squad this is" in hidden
    assert str(settings.MEDIA_ROOT) not in told + hidden
