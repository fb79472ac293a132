import contextlib
import sqlite3

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from saltus.web import backups
from saltus.web.models import AuditEntry

pytestmark = pytest.mark.django_db


@pytest.fixture
def place(tmp_path, monkeypatch):
    """A place of its own: what is put back there does not reach the database of the tests."""
    database = tmp_path / "saltus.sqlite3"
    with contextlib.closing(sqlite3.connect(database)) as connection:
        connection.execute("CREATE TABLE web_athlete (name)")
    found = backups.Place(database, tmp_path / "athletes", tmp_path / "backups")
    found.files.mkdir()
    monkeypatch.setattr(backups, "place_here", lambda: found)
    return found


@pytest.fixture
def keeper(owner, client_of):
    owner.is_superuser = True
    owner.save()
    return client_of(owner)


def test_a_backup_is_made_listed_fetched_and_deleted(keeper, place):
    keeper.post("/settings/backups/make/")
    (made,) = backups.backups_in(place)

    assert made.name in keeper.get("/settings/backups/").text
    fetched = keeper.get(f"/settings/backups/{made.name}/")
    assert b"".join(fetched.streaming_content) == made.path.read_bytes()
    assert "attachment" in fetched.headers["Content-Disposition"]
    keeper.post(f"/settings/backups/{made.name}/delete/")
    assert backups.backups_in(place) == []
    assert set(AuditEntry.objects.values_list("action", flat=True)) == {
        "backup_made",
        "backup_fetched",
        "backup_deleted",
    }


def test_one_from_elsewhere_is_added_only_if_it_is_one(keeper, place):
    made = backups.make(place)
    data = made.path.read_bytes()
    made.path.unlink()

    keeper.post("/settings/backups/add/", {"file": SimpleUploadedFile("../x.zip", data)})
    assert [b.name.startswith("added-") for b in backups.backups_in(place)] == [True]

    answer = keeper.post("/settings/backups/add/", {"file": SimpleUploadedFile("y.zip", b"no")})
    assert answer.status_code == 400
    assert len(backups.backups_in(place)) == 1


def test_putting_back_asks_for_the_password_and_signs_everybody_out(keeper, place, monkeypatch):
    made = backups.make(place)
    done = []
    monkeypatch.setattr(backups, "restore", lambda where, path: done.append((where, path)))
    page = f"/settings/backups/{made.name}/restore/"

    assert keeper.post(page, {"password": "wrong wrong wrong"}).status_code == 200
    assert done == []
    assert keeper.post(page, {"password": "a long enough phrase"}).url == "/sign-in/"
    assert done == [(place, made.path)]
    assert keeper.get("/settings/").status_code == 302
    assert f"{made.name} is back in place" in keeper.get("/sign-in/").text


@pytest.mark.parametrize("name", ["..%2Fsaltus.sqlite3", "nothing.zip", "saltus.sqlite3"])
def test_a_name_reaches_no_other_file(keeper, place, name):
    assert keeper.get(f"/settings/backups/{name}/").status_code == 404


def test_the_first_account_keeps_the_backups_and_no_other(client, db):
    form = {"name": "O", "email": "o@example.org", "squad": "S", "password": "a long enough phrase"}
    client.post("/welcome/", form)

    assert client.get("/settings/backups/").status_code == 200


def test_postgresql_is_explained(keeper, monkeypatch):
    monkeypatch.setattr(backups, "place_here", lambda: None)

    assert "pg_restore" in keeper.get("/settings/backups/").text
    assert keeper.post("/settings/backups/make/").status_code == 404
