"""Every address of this part, for everybody: 404 for what is not theirs."""

import uuid

import pytest

from saltus.web.models import IncomingRecording, StoredRecording
from saltus.web.testdays.urls import urlpatterns

pytestmark = pytest.mark.django_db

READ = {
    "test-day",
    "test-day-one",
    "recordings",
    "recording",
    "recording-file",
    "recording-figure",
}
EDIT = {
    "test-day-set-up",
    "test-day-delete",
    "test-day-add-test",
    "test-day-move-test",
    "test-day-remove-test",
    "test-day-save",
    "test-day-recordings",
    "test-day-recordings-save",
    "recording-options",
    "recording-remove",
    "recording-decision",
    "incoming",
    "incoming-discard",
}
OWN = {"test-days", "test-day-new"}


@pytest.fixture
def addresses(day, athlete, owner):
    recording = StoredRecording.objects.create(
        athlete=athlete, name="a.csv", sha256="0" * 64, suffix=".csv", size=1, date=day.date
    )
    incoming = IncomingRecording.objects.create(
        squad=day.squad, name="b.csv", sha256="1" * 64, suffix=".csv", size=1, date=day.date
    )
    values = {
        "day_id": day.pk,
        "athlete_id": athlete.pk,
        "key": "cmj",
        "recording_id": recording.pk,
        "number": 1,
        "incoming_id": incoming.pk,
    }

    from django.urls import reverse

    return {
        pattern.name: reverse(
            pattern.name,
            kwargs={name: values[name] for name in pattern.pattern.converters},
        )
        for pattern in urlpatterns
    }


def test_every_address_is_sorted():
    assert {pattern.name for pattern in urlpatterns} == READ | EDIT | OWN


@pytest.mark.parametrize("name", sorted(READ | EDIT))
def test_an_outsider_finds_nothing(client_of, outsider, addresses, name):
    client = client_of(outsider)

    for answer in (client.get(addresses[name]), client.post(addresses[name])):
        assert answer.status_code in (404, 405)
    assert 404 in {
        client.get(addresses[name]).status_code,
        client.post(addresses[name]).status_code,
    }


@pytest.mark.parametrize("name", sorted(EDIT))
def test_a_reader_changes_nothing(client_of, reader, addresses, name):
    client = client_of(reader)

    answers = {client.get(addresses[name]).status_code, client.post(addresses[name]).status_code}
    assert answers <= {404, 405}
    assert 404 in answers


def test_a_reader_uploads_nothing(client_of, reader, addresses):
    assert client_of(reader).get(addresses["recordings"]).status_code == 200
    assert client_of(reader).post(addresses["recordings"]).status_code == 404


@pytest.mark.parametrize("name", sorted(READ - {"recording-file", "recording-figure"}))
def test_a_reader_sees(client_of, reader, addresses, name):
    assert client_of(reader).get(addresses[name]).status_code == 200


@pytest.mark.parametrize("name", sorted(READ | EDIT | OWN))
def test_nobody_is_asked_to_sign_in(client, addresses, name):
    answer = client.get(addresses[name])

    assert answer.status_code in (302, 405)
    if answer.status_code == 302:
        assert answer.url.startswith("/sign-in/") or "next=" in answer.url


def test_someone_without_squads_to_change_makes_no_day(client_of, reader, squad):
    assert client_of(reader).get("/test-days/new/").status_code == 404


def test_a_squad_that_is_not_ones_own_is_no_choice(client_of, outsider, squad):
    answer = client_of(outsider).post(
        "/test-days/new/", {"squad": squad.pk, "date": "2026-12-01", "title": ""}
    )

    assert answer.status_code == 200
    assert answer.context["form"].errors


def test_an_athlete_who_is_not_on_the_list_is_not_found(coach, day, athlete, second):
    day.athletes.remove(second)

    assert coach.get(f"/test-days/{day.pk}/athletes/{second.pk}/cmj/").status_code == 404
    assert coach.get(f"/test-days/{day.pk}/athletes/{uuid.uuid4()}/cmj/").status_code == 404
    assert coach.get(f"/test-days/{day.pk}/athletes/{athlete.pk}/none/").status_code == 404
