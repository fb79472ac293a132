import datetime as dt

import pytest
from django.utils import timezone

from saltus.web.models import PlanRun, StoredPlan
from saltus.web.plans.stored import held
from saltus.web.records import record_of

pytestmark = pytest.mark.django_db

READ = ("", "print/", "calendar/", "progress/")
EDIT = (
    "new/",
    "stop/",
    "{n}/again/",
    "{n}/accept/",
    "{n}/decline/",
    "{n}/move/",
    "{n}/swap/?date=2027-01-11&exercise=back_squat",
    "{n}/let-go/",
    "calendar/block/",
    "calendar/sport/",
    "calendar/minutes/",
    "calendar/remove/",
)


@pytest.mark.parametrize("rest", READ)
def test_a_reader_reads_and_an_outsider_does_not(
    planned, reader, outsider, client_of, address, rest
):
    assert client_of(reader).get(address(planned, rest)).status_code in (200, 302)
    assert client_of(outsider).get(address(planned, rest)).status_code == 404


@pytest.mark.parametrize("rest", EDIT)
def test_only_those_who_may_edit_change_anything(
    planned, reader, outsider, client_of, address, rest
):
    before = StoredPlan.objects.values_list("number", "accepted", "declined")[::1]
    path = address(planned, rest.format(n=held(planned).number))
    form = {
        "start": "2027-01-11",
        "revision": planned.revision,
        "date": "2027-01-11",
        "to": "2027-01-13",
        "method": "shipped",
        "by": "front_squat",
    }
    for person in (reader, outsider):
        assert client_of(person).post(path, form).status_code == 404
    assert StoredPlan.objects.values_list("number", "accepted", "declined")[::1] == before
    assert not PlanRun.objects.exists()
    assert record_of(planned, recordings=False).blocked == ()


def test_a_reader_sees_no_forms(planned, reader, client_of, address):
    page = client_of(reader).get(address(planned)).content.decode()

    assert "/move/" not in page
    assert "/swap/" not in page
    assert "New plan" not in page
    assert "data-session" not in page


def test_an_editor_may_plan(planned, editor, client_of, address, work_off):
    client = client_of(editor)
    client.post(address(planned, f"{held(planned).number}/again/"))
    proposal = work_off(planned)

    client.post(address(planned, f"{proposal.number}/accept/"))

    assert held(planned) == proposal
    assert proposal.by == editor


def test_the_paper_has_everything_open_and_boxes_to_tick(coach, planned, address):
    page = coach.get(address(planned, "print/")).content.decode()

    assert "<details" not in page
    assert page.count("plan-tick") > 20
    assert "plan-sheet" in page
    assert "Back squat" in page
    assert "a side" in page


def test_the_paper_tells_once_a_phase_what_to_think_of(coach, planned, address):
    page = coach.get(address(planned, "print/")).content.decode()

    phases = page.split('<section class="plan-sheet">')[1:]
    assert phases
    for phase in phases:
        assert phase.count("plan-paper-how") == 1
        assert phase.count("Raise the pulse") == 1
        assert phase.count("<strong>Warm-up</strong>") > 1


def test_weeks_that_are_over_are_folded_away(coach, planned, address, monkeypatch):
    page = coach.get(address(planned)).content.decode()
    assert "These weeks are over" not in page

    monkeypatch.setattr(timezone, "localdate", lambda *_: dt.date(2027, 1, 13))
    page = coach.get(address(planned)).content.decode()
    over = page[page.index("These weeks are over") :]
    assert "4 Jan – 10 Jan 2027" in over
    assert 0 < over.index('id="week-2027-01-04"') < over.index('id="this-week"')


def test_loads_are_told_in_the_readers_unit_and_plates_as_they_are_stamped(
    coach, planned, owner, address
):
    owner.mass_unit = "lb"
    owner.length_unit = "in"
    owner.save()

    page = coach.get(address(planned)).content.decode()

    assert " lb</span>" in page
    assert "kg a side" in page
    assert " cm</span>" not in page


def test_no_page_carries_script_or_style_of_its_own(coach, planned, address):
    number = held(planned).number
    for rest in (*READ[:3], "new/", f"{number}/swap/?date=2027-01-11&exercise=back_squat"):
        page = coach.get(address(planned, rest)).content.decode()
        assert " style=" not in page
        assert "<style" not in page
        assert "onclick" not in page
        assert "<script>" not in page
