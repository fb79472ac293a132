import contextlib
import sqlite3
import subprocess
import sys
import zipfile

import pytest
from django.core.management import call_command
from django.db import connections

from saltus.errors import UsageError
from saltus.web.backups import Place, add, backups_in, make, named, restore

# The databases here are files of their own; "backup" is the alias under which one is migrated.
pytestmark = [
    pytest.mark.django_db(databases=["default"]),
    pytest.mark.usefixtures("_unblocked"),
]


@pytest.fixture
def _unblocked(django_db_blocker):
    with django_db_blocker.unblock():
        yield


def migrate(path, *target):
    connections.databases["made"] = connections.databases["default"] | {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": str(path),
        "OPTIONS": {"init_command": "PRAGMA journal_mode=WAL"},
    }
    call_command("migrate", *target, database="made", verbosity=0)
    connections["made"].close()
    del connections["made"]
    del connections.databases["made"]


@pytest.fixture(scope="module")
def _empty(tmp_path_factory, django_db_blocker):
    """A migrated database, made once."""
    path = tmp_path_factory.mktemp("empty") / "saltus.sqlite3"
    with django_db_blocker.unblock():
        migrate(path)
    return path


def copy(source, target):
    with (
        contextlib.closing(sqlite3.connect(source)) as one,
        contextlib.closing(sqlite3.connect(target)) as other,
    ):
        one.backup(other)


@pytest.fixture
def place(_empty, tmp_path):
    data = tmp_path / "data"
    (data / "athletes" / "one").mkdir(parents=True)
    copy(_empty, data / "saltus.sqlite3")
    (data / "athletes" / "one" / "jump.csv").write_text("a recording")
    found = Place(data / "saltus.sqlite3", data / "athletes", data / "backups")
    squad(found, "before")
    return found


def run(place, statement, *values):
    with contextlib.closing(sqlite3.connect(place.database)) as connection, connection:
        return connection.execute(statement, values).fetchall()


def squad(place, name):
    run(
        place,
        "INSERT OR IGNORE INTO web_user (id, password, email, name, is_active, is_coach, "
        "is_superuser, joined, length_unit, mass_unit, language) "
        "VALUES (1, 'x', 'a@example.org', 'A', 1, 1, 1, '2026-01-01', 'cm', 'kg', '')",
    )
    run(place, "INSERT INTO web_squad (owner_id, name) VALUES (1, ?)", name)


def squads(place):
    return [name for (name,) in run(place, "SELECT name FROM web_squad ORDER BY id")]


def test_a_backup_brings_everything_back(place):
    kept = make(place)
    squad(place, "after")
    (place.files / "one" / "jump.csv").unlink()
    (place.files / "two").mkdir()
    (place.files / "two" / "later.csv").write_text("later")

    before = restore(place, kept.path)

    assert squads(place) == ["before"]
    assert (place.files / "one" / "jump.csv").read_text() == "a recording"
    assert not (place.files / "two").exists()
    # And what was there before can be had back in the same way.
    restore(place, before.path)
    assert squads(place) == ["before", "after"]
    assert (place.files / "two" / "later.csv").read_text() == "later"


def test_a_backup_is_put_back_under_a_running_server(place):
    kept = make(place)
    with contextlib.closing(sqlite3.connect(place.database, isolation_level=None)) as page:
        page.execute("BEGIN")
        seen = page.execute("SELECT count(*) FROM web_squad").fetchone()
        squad(place, "after")
        restore(place, kept.path)
        # A page that is being made sees one state until it is done, and then the other.
        assert page.execute("SELECT count(*) FROM web_squad").fetchone() == seen
        page.execute("COMMIT")
        squad(place, "later")
        assert page.execute("SELECT name FROM web_squad").fetchall() == [("before",), ("later",)]


def test_a_backup_without_recordings_leaves_none(place):
    (place.files / "one" / "jump.csv").unlink()
    kept = make(place)
    (place.files / "one" / "later.csv").write_text("later")

    restore(place, kept.path)

    assert [path for path in place.files.rglob("*") if path.is_file()] == []


def test_what_waited_to_be_given_to_somebody_is_gone_after_it(place):
    waiting = place.files.with_name("incoming")
    waiting.mkdir()
    (waiting / "x.csv").write_text("x")
    restore(place, make(place).path)

    assert not waiting.exists()


def test_nobody_is_signed_in_after_it(place):
    run(place, "INSERT INTO django_session VALUES ('k', 'd', '2099-01-01')")
    restore(place, make(place).path)

    assert run(place, "SELECT * FROM django_session") == []


def test_an_older_shape_of_the_tables_is_brought_up_to_date(place):
    migrate(place.database, "web", "0002")
    kept = make(place)
    with pytest.raises(sqlite3.OperationalError):
        run(place, "SELECT about_id FROM web_auditentry")

    restore(place, kept.path)

    assert run(place, "SELECT about_id FROM web_auditentry") == []


def test_a_copy_made_before_an_update_is_put_back_without_touching_recordings(place):
    old = place.backups / "saltus-20260101-000000.sqlite3"
    place.backups.mkdir()
    copy(place.database, old)
    squad(place, "after")

    restore(place, old)

    assert squads(place) == ["before"]
    assert (place.files / "one" / "jump.csv").exists()


def damaged(path, at):
    data = bytearray(path.read_bytes())
    data[int(len(data) * at)] ^= 0xFF
    path.write_bytes(data)


def cut(path, at):
    path.write_bytes(path.read_bytes()[: int(path.stat().st_size * at)])


@pytest.mark.parametrize("harm", [damaged, cut])
@pytest.mark.parametrize("at", [0.0, 0.3, 0.6])
def test_a_damaged_backup_changes_nothing(place, harm, at):
    kept = make(place)
    squad(place, "after")
    harm(kept.path, at)

    with pytest.raises(UsageError, match="Nothing was changed"):
        restore(place, kept.path)
    assert squads(place) == ["before", "after"]


def test_a_backup_that_was_meddled_with_is_refused(place, tmp_path):
    kept = make(place)
    with zipfile.ZipFile(kept.path, "a") as archive:
        archive.writestr("athletes/../../x", "x")

    with pytest.raises(UsageError, match="Nothing was changed"):
        restore(place, kept.path)
    assert not (place.database.parent.parent / "x").exists()


def test_a_backup_of_a_newer_saltus_is_refused(place):
    run(
        place,
        "INSERT INTO django_migrations (app, name, applied) VALUES ('web', '9999_x', '2099-01-01')",
    )

    with pytest.raises(UsageError, match="newer"):
        restore(place, make(place).path)


def test_something_else_is_no_backup(place, tmp_path):
    other = tmp_path / "x.zip"
    other.write_text("hello")

    with pytest.raises(UsageError, match="no database of Saltus"):
        add(place, other, "x.zip")
    assert backups_in(place) == []


def test_one_that_was_kept_elsewhere_is_added(place, tmp_path):
    elsewhere = make(place, to=tmp_path / "mine.zip").path

    added = add(place, elsewhere, "mine.zip")

    assert [backup.name for backup in backups_in(place)] == [added.name]


def test_ten_are_kept(place):
    for _ in range(12):
        make(place)

    assert len(backups_in(place)) == 10


@pytest.mark.parametrize("name", ["../saltus.sqlite3", "/etc/passwd", "x.txt", "", "..", "a.zip"])
def test_a_name_is_no_path(place, name):
    make(place)

    assert named(place, name) is None


def test_the_command_line_backs_up_and_restores(place, monkeypatch):
    monkeypatch.setenv("SALTUS_DATA", str(place.database.parent))
    monkeypatch.delenv("DATABASE_URL", raising=False)
    kept = place.database.parent / "kept.zip"

    def saltus(*arguments):
        code = "from saltus.cli import main; main()"
        return subprocess.run(
            [sys.executable, "-c", code, *arguments], capture_output=True, text=True, check=False
        )

    assert saltus("backup", "--to", str(kept)).returncode == 0
    squad(place, "after")
    done = saltus("restore", str(kept), "--yes")

    assert done.returncode == 0, done.stderr
    assert squads(place) == ["before"]
