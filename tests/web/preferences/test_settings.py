import pytest

from saltus.web.models import AuditEntry

pytestmark = pytest.mark.django_db

PASSWORD = "a long enough phrase"
YOU = {"name": "Olga", "length_unit": "in", "mass_unit": "lb", "language": "de"}


def test_units_and_language_hold_from_then_on(coach, owner):
    coach.post("/settings/", YOU)

    owner.refresh_from_db()
    assert (owner.length_unit, owner.mass_unit, owner.language) == ("in", "lb", "de")
    page = coach.get("/settings/")
    assert page.headers["Content-Language"] == "de"
    assert '<html lang="de">' in page.text
    assert "Einstellungen" in page.text


def test_a_language_that_there_is_not_is_refused(coach, owner):
    page = coach.post("/settings/", YOU | {"language": "xx"})

    assert page.context["form"].errors["language"]
    owner.refresh_from_db()
    assert owner.language == ""


@pytest.mark.parametrize("page", ["/settings/e-mail/", "/settings/password/"])
def test_the_pages_open(coach, page):
    assert coach.get(page).status_code == 200


def test_another_address_needs_the_password(coach, owner):
    wanted = {"email": "New@Example.org", "password": "wrong wrong wrong"}
    assert coach.post("/settings/e-mail/", wanted).context["form"].errors["password"]

    coach.post("/settings/e-mail/", wanted | {"password": PASSWORD})

    owner.refresh_from_db()
    assert owner.email == "new@example.org"
    assert AuditEntry.objects.get().action == AuditEntry.Action.EMAIL_CHANGED


def test_the_address_of_another_cannot_be_taken(coach, reader):
    wanted = {"email": "RITA@example.org", "password": PASSWORD}

    assert coach.post("/settings/e-mail/", wanted).context["form"].errors["email"]


def test_another_password_ends_the_other_sessions(coach, owner, client_of):
    elsewhere = client_of(owner)
    new = "an even longer phrase"

    coach.post(
        "/settings/password/",
        {"old_password": PASSWORD, "new_password1": new, "new_password2": new},
    )

    assert coach.get("/settings/").status_code == 200
    assert elsewhere.get("/settings/").status_code == 302
    owner.refresh_from_db()
    assert owner.check_password(new)


def test_guessing_the_password_inside_closes_the_door_too(coach, owner):
    for _ in range(8):
        coach.post("/settings/account/delete/", {"password": "wrong wrong wrong"})

    assert coach.post("/settings/account/delete/", {"password": PASSWORD}).status_code == 429
    assert type(owner).objects.filter(pk=owner.pk).exists()
