"""A new address and a new password, asked on the coach's settings and on the athlete's own."""

import pytest

from saltus.web.models import User

pytestmark = pytest.mark.django_db

PASSWORD = "a long enough phrase"
SETTINGS = ["/settings/", "/pocket/settings/"]


@pytest.fixture
def person(athlete, outsider):
    """A coach who has an athlete's page of their own as well."""
    athlete.account = outsider
    athlete.save()
    return outsider


@pytest.mark.parametrize("settings_page", SETTINGS)
def test_the_address_changes_and_leads_back(person, client_of, settings_page):
    client, page = client_of(person), f"{settings_page}e-mail/"
    wanted = {"email": "new@example.org", "password": "wrong wrong wrong"}

    refused = client.post(page, wanted)
    assert f'href="{settings_page}"' in refused.text
    assert "<h1>Change the e-mail address</h1>" in refused.text
    assert not User.objects.filter(email="new@example.org").exists()

    answer = client.post(page, wanted | {"password": PASSWORD})
    assert answer.url == settings_page
    assert User.objects.get(email="new@example.org") == person


@pytest.mark.parametrize("settings_page", SETTINGS)
def test_the_password_changes_and_leads_back(person, client_of, settings_page):
    client, page, new = client_of(person), f"{settings_page}password/", "another long phrase"
    wanted = {"old_password": PASSWORD, "new_password1": new, "new_password2": new}

    refused = client.post(page, wanted | {"old_password": "wrong wrong wrong"})
    assert f'href="{settings_page}"' in refused.text
    assert "<h1>Change the password</h1>" in refused.text

    assert client.post(page, wanted).url == settings_page
    person.refresh_from_db()
    assert person.check_password(new)
    assert client.get(settings_page).status_code == 200, "signed in still"


@pytest.mark.parametrize("page", ["e-mail/", "password/"])
def test_what_is_typed_there_stays_out_of_reports_of_faults(person, client_of, page):
    for settings_page in SETTINGS:
        request = client_of(person).post(settings_page + page, {}).wsgi_request
        assert request.sensitive_post_parameters == "__ALL__"
