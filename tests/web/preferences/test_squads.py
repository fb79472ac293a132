import re

import pytest
from django.test import Client
from django.utils import timezone

from saltus.web.models import AuditEntry, Invitation, Share, Squad, User

pytestmark = pytest.mark.django_db

ACCOUNT = {"name": "Nils", "email": "nils@example.org", "password": "a long enough phrase"}


def link_on(page):
    return re.search(r'value="http://testserver(/invitation/[^"]+)"', page.text)[1]


@pytest.fixture
def link(coach, squad):
    coach.post(f"/settings/squads/{squad.pk}/invite/", {"to": "Nils", "can_edit": "on"})
    return link_on(coach.get(f"/settings/squads/{squad.pk}/"))


def test_a_squad_is_made_and_renamed(coach, owner, squad):
    coach.post("/settings/squads/", {"name": "Juniors"})
    made = Squad.objects.get(name="Juniors", owner=owner)

    coach.post(f"/settings/squads/{made.pk}/", {"name": "Youth"})

    made.refresh_from_db()
    assert made.name == "Youth"
    page = coach.get("/settings/squads/")
    assert "Youth" in page.text
    assert "Fjord Jumpers" in page.text


def test_an_invited_coach_makes_an_account_and_is_in(link, squad):
    client = Client()
    assert client.get(link).status_code == 200

    client.post(link, ACCOUNT)

    nils = User.objects.get(email="nils@example.org")
    share = Share.objects.get(squad=squad, user=nils)
    assert (share.can_edit, share.sees_health) == (True, False)
    assert client.get("/").status_code == 200
    assert not nils.is_superuser
    assert not nils.squads.exists()


def test_a_coach_with_an_account_accepts_with_it(link, squad, outsider, client_of):
    client_of(outsider).post(link)

    assert Share.objects.get(squad=squad, user=outsider).can_edit
    assert AuditEntry.objects.filter(action="joined", by=outsider, squad=squad).exists()


def test_the_link_works_once(link, outsider, client_of):
    Client().post(link, ACCOUNT)

    assert client_of(outsider).post(link).status_code == 404
    assert Share.objects.count() == 1


def test_the_link_ends_after_a_week(link, outsider, client_of):
    Invitation.objects.update(made=timezone.now() - timezone.timedelta(days=7, minutes=1))

    assert client_of(outsider).post(link).status_code == 404


def test_a_withdrawn_link_is_useless(link, coach, squad, outsider, client_of):
    invitation = Invitation.objects.get()
    coach.post(f"/settings/squads/{squad.pk}/invitations/{invitation.pk}/withdraw/")

    assert client_of(outsider).post(link).status_code == 404


def test_a_link_cannot_be_made_up(link, squad, owner, outsider, client_of):
    known = Invitation.objects.get()
    other = Invitation.objects.create(squad=squad, by=owner, can_edit=True)
    forged = link.replace(f"/{known.pk}:", f"/{other.pk}:")
    assert forged != link

    assert client_of(outsider).post(forged).status_code == 404
    assert not Share.objects.exists()


def test_an_owner_does_not_let_themselves_in(link, coach):
    assert coach.post(link).status_code == 400
    assert Invitation.objects.get().holds


def test_a_share_is_changed_and_ended(coach, squad, reader, client_of):
    share = Share.objects.get(user=reader)
    page = f"/settings/squads/{squad.pk}/shares/{share.pk}/"

    coach.post(page, {"can_edit": "on", "sees_health": "on"})
    share.refresh_from_db()
    assert (share.can_edit, share.sees_health) == (True, True)

    coach.post(f"{page}end/")
    assert not Share.objects.exists()
    actions = set(AuditEntry.objects.values_list("action", "about__name"))
    assert {("share_changed", "Rita"), ("share_ended", "Rita")} <= actions


def test_a_coach_can_leave(reader, squad, client_of):
    client_of(reader).post(f"/settings/squads/{squad.pk}/leave/")

    assert not Share.objects.exists()


def test_athletes_allow_health_remarks_one_by_one(coach, squad, athlete):
    page = f"/settings/squads/{squad.pk}/health/"

    coach.post(page, {"athletes": [str(athlete.pk)]})
    athlete.refresh_from_db()
    assert athlete.health_shared

    coach.post(page, {})
    athlete.refresh_from_db()
    assert not athlete.health_shared


def test_deleting_a_squad_needs_the_password(coach, squad, athlete):
    page = f"/settings/squads/{squad.pk}/delete/"

    coach.post(page, {"password": "wrong wrong wrong"})
    assert Squad.objects.filter(pk=squad.pk).exists()

    coach.post(page, {"password": "a long enough phrase"})
    assert not Squad.objects.filter(pk=squad.pk).exists()
