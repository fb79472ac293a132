"""An athlete is invited, signs in, and the coach takes it away again."""

import pytest
from django.test import Client

from saltus.web.models import AthleteInvitation, AuditEntry, User
from saltus.web.pocket.invitations import path_of
from saltus.web.records import change_text, record_of

pytestmark = pytest.mark.django_db

JOIN = {
    "name": "Ada Ilves",
    "email": "Ada@Ilves.example",
    "password": "a long enough phrase",
    "agreed": "on",
}
POUNDS = """
[gym]
unit = "lb"
bar_lb = 45
"""


@pytest.fixture
def link(coach, athlete):
    """The link that the coach's page shows."""
    page = f"/athletes/{athlete.pk}/invite/"
    answer = coach.post(page, follow=True)
    shown = answer.context["link"]
    assert shown in answer.content.decode()
    return shown.removeprefix("http://testserver")


def agreements(athlete):
    athlete.refresh_from_db()
    return record_of(athlete, recordings=False).agreed


def test_an_athlete_takes_the_invitation_up_once(link, athlete, coach):
    client = Client()
    assert "Saltus gives no medical advice" in client.get(link).content.decode()
    answer = client.post(link, JOIN)
    assert (answer.status_code, answer.url) == (302, "/pocket/")
    athlete.refresh_from_db()
    assert athlete.account.email == "ada@ilves.example"
    assert not athlete.account.is_coach
    assert {each.by for each in agreements(athlete)} == {"Ada Ilves"}
    assert client.get("/pocket/bundle.json").json()["athlete"]["id"] == str(athlete.pk)
    assert all(each["agreed"] for each in client.get("/pocket/bundle.json").json()["cautions"])
    assert Client().get(link).status_code == 404
    assert Client().post(link, JOIN | {"email": "b@c.example"}).status_code == 404
    actions = set(AuditEntry.objects.values_list("action", flat=True))
    assert {"athlete_invited", "athlete_joined"} <= actions


def test_weights_are_read_as_the_plates_are_stamped_and_heights_as_the_coach_reads_them(
    link, athlete, owner
):
    change_text(athlete, owner, athlete.text + POUNDS, what="another gym", revision=1)
    owner.length_unit = User.Length.INCHES
    owner.save()
    Client().post(link, JOIN)
    athlete.refresh_from_db()
    assert (athlete.account.mass_unit, athlete.account.length_unit) == ("lb", "in")


def test_signing_in_leads_to_the_own_page(link, athlete):
    Client().post(link, JOIN)
    door = {"username": "ada@ilves.example", "password": "a long enough phrase"}
    answer = Client().post("/sign-in/", door, follow=True)
    assert answer.redirect_chain[-1][0] == "/pocket/"


def test_the_password_is_guessed_no_more_often_than_a_coach_s(link, settings):
    Client().post(link, JOIN)
    door = {"username": "ada@ilves.example", "password": "wrong"}
    client = Client()
    answers = [client.post("/sign-in/", door).status_code for _ in range(9)]
    assert answers[-1] == 429


def test_the_cautions_must_be_agreed_to(link, athlete):
    answer = Client().post(link, {k: v for k, v in JOIN.items() if k != "agreed"})
    assert answer.status_code == 200
    assert not User.objects.filter(email="ada@ilves.example").exists()
    assert agreements(athlete) == ()


@pytest.mark.parametrize("born", ["born = 2012-05-17", ""])
def test_for_a_minor_or_an_unknown_age_a_guardian_agrees(link, athlete, owner, born):
    text = athlete.text.replace("born = 2003-05-17", born)
    change_text(athlete, owner, text, what="younger", revision=1)
    assert Client().post(link, JOIN).status_code == 200
    Client().post(link, JOIN | {"guardian": "Iva Ilves"})
    found = agreements(athlete)
    assert {each.by for each in found} == {"Ada Ilves, and Iva Ilves as parent or guardian"}
    assert any("Under 18" in each.caution for each in found)


def test_a_new_link_or_a_withdrawn_one_ends_the_old(link, coach, athlete):
    page = f"/athletes/{athlete.pk}/invite/"
    coach.post(page)
    assert Client().get(link).status_code == 404
    newest = athlete.invitations.first()
    newer = path_of(newest)
    assert Client().get(newer).status_code == 200
    coach.post(f"{page}{newest.pk}/withdraw/")
    assert Client().get(newer).status_code == 404


@pytest.mark.parametrize("field", ["archived", "deleted"])
def test_a_link_ends_with_the_athlete(link, athlete, field):
    from django.utils import timezone

    setattr(athlete, field, timezone.now())
    athlete.save()
    assert Client().get(link).status_code == 404


def test_a_link_ends_after_a_week_and_cannot_be_forged(link, athlete):
    import datetime as dt

    assert Client().get(link[:-3] + "AA/").status_code == 404
    AthleteInvitation.objects.update(
        made=AthleteInvitation.objects.get().made - dt.timedelta(days=7, seconds=1)
    )
    assert Client().get(link).status_code == 404


def test_the_code_says_the_link(link, coach, athlete):
    found = athlete.invitations.get()
    answer = coach.get(f"/athletes/{athlete.pk}/invite/{found.pk}.svg")
    assert answer["Content-Type"] == "image/svg+xml"
    assert b"style" not in answer.content
    assert b"<script" not in answer.content
    found.withdrawn = found.made
    found.save()
    assert coach.get(f"/athletes/{athlete.pk}/invite/{found.pk}.svg").status_code == 404


def test_taken_away_the_account_is_gone_and_another_can_be_made(link, coach, athlete):
    client = Client()
    client.post(link, JOIN)
    coach.post(f"/athletes/{athlete.pk}/invite/end/")
    assert client.get("/pocket/bundle.json").status_code == 401
    assert not User.objects.filter(email="ada@ilves.example").exists()
    coach.post(f"/athletes/{athlete.pk}/invite/")
    athlete.refresh_from_db()
    assert Client().post(path_of(athlete.invitations.first()), JOIN).status_code == 302


def test_a_coach_who_trains_keeps_the_coach_s_account(link, coach, owner, athlete):
    assert coach.get("/pocket/").status_code == 302
    coach.post(link, {"agreed": "on"})
    assert coach.get("/pocket/").status_code == 200
    assert coach.get("/").status_code == 200
    coach.post(f"/athletes/{athlete.pk}/invite/end/")
    assert User.objects.filter(pk=owner.pk).exists()


def test_an_athlete_gives_the_sign_in_up(link, athlete):
    client = Client()
    client.post(link, JOIN)
    page = "/pocket/settings/delete/"
    assert client.post(page, {"password": "wrong"}).status_code == 200
    client.post(page, {"password": "a long enough phrase"})
    athlete.refresh_from_db()
    assert athlete.account is None
    assert not User.objects.filter(email="ada@ilves.example").exists()


def test_who_reads_of_health_is_for_the_athlete_to_say(link, coach, athlete, squad):
    client = Client()
    client.post(link, JOIN)
    told = {"name": "Ada", "length_unit": "in", "mass_unit": "lb", "language": ""}
    client.post("/pocket/settings/", told | {"health_shared": "on"})
    athlete.refresh_from_db()
    assert athlete.health_shared
    coach.post(f"/settings/squads/{squad.pk}/health/", {})
    athlete.refresh_from_db()
    assert athlete.health_shared, "the coach cannot say it for an athlete with a sign-in"
    units = client.get("/pocket/bundle.json").json()["units"]
    assert (units["length"], units["mass"]) == ("in", "lb")
    assert units["m_per_unit"] == pytest.approx(0.0254)
    assert units["kg_per_unit"] == pytest.approx(0.45359237)


def test_the_password_is_changed(link):
    client = Client()
    client.post(link, JOIN)
    new = "another long phrase"
    told = {
        "old_password": "a long enough phrase",
        "new_password1": new,
        "new_password2": new,
    }
    assert client.post("/pocket/settings/password/", told).status_code == 302
    door = {"username": "ada@ilves.example", "password": new}
    assert Client().post("/sign-in/", door).status_code == 302


@pytest.mark.parametrize(
    ("host", "here_only"),
    [
        ("localhost:8000", True),
        ("127.0.0.1:8000", True),
        ("[::1]:8000", True),
        ("192.168.1.7:8000", False),
        ("saltus.example", False),
    ],
)
def test_a_link_that_no_phone_can_open_is_told(link, coach, athlete, settings, host, here_only):
    settings.ALLOWED_HOSTS = ["*"]
    shown = coach.get(f"/athletes/{athlete.pk}/invite/", headers={"host": host}).content.decode()
    assert ("no phone can open it" in shown) == here_only
    assert ("is not secure" in shown) != here_only
