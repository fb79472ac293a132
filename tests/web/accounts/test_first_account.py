import pytest

from saltus.web.models import Squad, User

pytestmark = pytest.mark.django_db

FORM = {
    "name": "Olga",
    "email": "Olga@Example.org",
    "squad": "Fjord Jumpers",
    "password": "a long enough phrase",
}


def test_the_first_visit_makes_the_account_and_the_squad(client):
    assert client.get("/sign-in/").url == "/welcome/"

    answer = client.post("/welcome/", FORM)

    assert answer.url == "/"
    assert User.objects.get().email == "olga@example.org"
    assert Squad.objects.get().name == "Fjord Jumpers"
    assert client.get("/").status_code == 200


def test_the_door_closes_behind_the_first(client, owner):
    assert client.get("/welcome/").url == "/sign-in/"
    client.post("/welcome/", FORM)
    assert User.objects.count() == 1


@pytest.mark.parametrize("password", ["short", "password123", "0123456789"])
def test_a_weak_password_is_refused_with_a_reason(client, password):
    answer = client.post("/welcome/", FORM | {"password": password})

    assert answer.status_code == 200
    assert answer.context["form"].errors["password"]
    assert not User.objects.exists()


def test_signing_in_ignores_the_case_of_the_address(client, owner):
    answer = client.post(
        "/sign-in/", {"username": "OLGA@example.org", "password": "a long enough phrase"}
    )

    assert answer.url == "/"


def test_too_many_wrong_passwords_close_the_door_for_a_while(client, owner):
    for _ in range(8):
        client.post("/sign-in/", {"username": owner.email, "password": "wrong wrong wrong"})

    answer = client.post("/sign-in/", {"username": owner.email, "password": "a long enough phrase"})

    assert answer.status_code == 429
    assert b"Too many attempts" in answer.content
