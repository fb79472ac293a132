"""The demo's link: it is there in the demo alone, signs in once, and only within the hour."""

import pytest
from django.core import signing
from django.test import Client
from django.urls import NoReverseMatch, include, path, reverse

from saltus.web.accounts import one_time

pytestmark = pytest.mark.django_db

urlpatterns = [
    path("once/<str:token>/", one_time.one_time, name="one-time"),
    path("", include("saltus.web.urls")),
]


@pytest.fixture
def demo(settings):
    settings.ROOT_URLCONF = __name__


def signed_in(client):
    return client.get(reverse("squad")).status_code == 200


def test_it_signs_in_and_is_used_up(demo, owner):
    link = one_time.path_for(owner)
    first, second = Client(), Client()
    assert first.get(link).url == reverse("squad")
    assert signed_in(first)
    answer = second.get(link)
    assert (answer.status_code, b"no longer works" in answer.content) == (404, True)
    assert not signed_in(second)


def test_who_is_signed_in_may_open_it_again(demo, owner):
    link = one_time.path_for(owner)
    client = Client()
    client.get(link)
    assert client.get(link).status_code == 302
    assert signed_in(client)


def test_it_holds_for_an_hour(demo, owner, monkeypatch):
    link = one_time.path_for(owner)
    now = signing.time.time()
    monkeypatch.setattr(signing.time, "time", lambda: now + 3601)
    assert Client().get(link).status_code == 404


def test_another_s_number_does_not_fit(demo, owner, outsider):
    token = one_time.path_for(owner).split("/")[2]
    inner = token.split(".", 1)[1].rsplit(":", 2)[0]
    forged = one_time._SIGNER.sign(f"{outsider.pk}.{inner}")
    assert Client().get(reverse("one-time", args=[forged])).status_code == 404
    changed = token.replace(f"{owner.pk}.", f"{outsider.pk}.", 1)
    assert Client().get(reverse("one-time", args=[changed])).status_code == 404


def test_there_is_none_outside_the_demo():
    with pytest.raises(NoReverseMatch):
        reverse("one-time", args=["x"])
    assert Client().get("/once/x/").status_code == 404
