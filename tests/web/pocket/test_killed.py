"""A real server is killed in the middle of taking entries: nothing confirmed is lost or doubled.

On SQLite; where the tests run against a PostgreSQL, on a database of its own there.
"""

import contextlib
import datetime as dt
import http.client
import json
import os
import queue
import random
import re
import sqlite3
import subprocess
import sys
import textwrap
import threading
import uuid
from urllib.parse import urlsplit, urlunsplit

import psycopg
import pytest
from psycopg import sql

from saltus import record as records
from saltus.web.environment import SETTINGS

_START = [sys.executable, "-c", "from saltus.cli import main; main()", "serve", "--port", "0"]
_SETUP = textwrap.dedent("""
    import sys
    from saltus.web.serve import prepare
    prepare(lambda text: None)
    from django.contrib.sessions.backends.db import SessionStore
    from saltus.web.models import Squad, User
    from saltus.web.records import add_athlete
    coach = User.objects.create_user("olga@example.org", name="Olga")
    squad = Squad.objects.create(owner=coach, name="Fjord Jumpers")
    athlete = add_athlete(squad, sys.stdin.read(), coach)
    athlete.account = User.objects.create_user("ada@example.org", name="Ada", is_coach=False)
    athlete.save()
    session = SessionStore()
    session["_auth_user_id"] = str(athlete.account.pk)
    session["_auth_user_backend"] = "django.contrib.auth.backends.ModelBackend"
    session["_auth_user_hash"] = athlete.account.get_session_auth_hash()
    session.save()
    print(session.session_key)
""")
_RECORD = """\
saltus_record = 1
[athlete]
name = "Ada Ilves"
sex = "female"
born = 2003-05-17
training_age_years = 4
[[body_mass]]
date = 2026-10-01
mass_kg = 70
"""
_TOKEN = "t" * 32
_WITHIN_S = 120
_ENTRIES, _AT_ONCE, _KILLS = 120, 4, 3


class Killable:
    """A server that can be killed without warning, and started again on the same data."""

    def __init__(self, environment):
        self.environment = environment
        self.start()

    def start(self):
        self.process = subprocess.Popen(
            _START,
            env=self.environment,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
        )
        lines = queue.Queue()
        self.reader = threading.Thread(
            target=lambda out=self.process.stdout: [lines.put(line) for line in out], daemon=True
        )
        self.reader.start()
        printed = ""
        while not (found := re.search(r"http://127.0.0.1:(\d+)", printed)):
            printed += lines.get(timeout=_WITHIN_S)
        self.port = int(found[1])

    def kill(self):
        self.process.kill()
        self.process.wait(_WITHIN_S)
        self.reader.join(_WITHIN_S)
        self.process.stdout.close()


def post(port, session, device, entries):
    """Send, and give the ids that were confirmed; none where the answer never came."""
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=_WITHIN_S)
    try:
        connection.request(
            "POST",
            "/pocket/entries/",
            json.dumps({"device": device, "entries": entries}),
            {
                "Content-Type": "application/json",
                "Cookie": f"sessionid={session}; csrftoken={_TOKEN}",
                "X-CSRFToken": _TOKEN,
            },
        )
        answer = connection.getresponse()
        body = answer.read()
    except (OSError, http.client.HTTPException):
        return set()
    finally:
        connection.close()
    assert answer.status == 200, body
    told = json.loads(body)
    assert told["refused"] == []
    return set(told["kept"])


@pytest.fixture
def address(tmp_path):
    """Where the server keeps its data: a file, or a fresh database of the PostgreSQL at hand."""
    given = os.environ.get("SALTUS_TEST_DATABASE_URL")
    if given is None:
        yield f"sqlite:///{tmp_path / 'saltus.sqlite3'}"
        return
    name = f"killed_{uuid.uuid4().hex}"
    with psycopg.connect(given, autocommit=True) as server:
        server.execute(sql.SQL("CREATE DATABASE {}").format(sql.Identifier(name)))
        yield urlunsplit(urlsplit(given)._replace(path=f"/{name}"))
        server.execute(sql.SQL("DROP DATABASE {} WITH (FORCE)").format(sql.Identifier(name)))


def in_database(address):
    """Ids of the entries in the database, and the athlete's record there."""
    if address.startswith("sqlite:"):
        opened = sqlite3.connect(address.removeprefix("sqlite:///"), timeout=_WITHIN_S)
    else:
        opened = psycopg.connect(address)
    with contextlib.closing(opened) as connection:
        rows = connection.execute("SELECT id FROM web_pocketentry").fetchall()
        ((text,),) = connection.execute("SELECT text FROM web_athlete").fetchall()
    return [str(uuid.UUID(str(row[0]))) for row in rows], records.parse(text, recordings=False)


def test_killed_in_the_middle_of_sending(tmp_path, address):
    kept = {name: value for name, value in os.environ.items() if name not in SETTINGS}
    kept.pop("DJANGO_SETTINGS_MODULE", None)
    environment = kept | {"SALTUS_DATA": str(tmp_path), "DATABASE_URL": address}
    made = subprocess.run(
        [sys.executable, "-c", _SETUP],
        input=_RECORD,
        env=environment,
        capture_output=True,
        text=True,
        check=True,
    )
    session = made.stdout.split()[-1]
    now = dt.datetime.now(dt.UTC)
    own, device = str(uuid.uuid4()), str(uuid.uuid4())
    entries = [
        {
            "id": str(uuid.uuid4()),
            "session": own,
            "date": now.date().isoformat(),
            "kind": "set",
            "at": (now + dt.timedelta(seconds=n)).isoformat(),
            "data": {"exercise": "back_squat", "reps": n % 20 + 1},
        }
        for n in range(_ENTRIES)
    ]
    rng = random.Random(1)
    confirmed, kills = set(), 0
    server = Killable(environment)
    try:
        while waiting := [each for each in entries if each["id"] not in confirmed]:
            some = waiting[:_AT_ONCE]
            due = len(confirmed) >= (kills + 1) * _ENTRIES // (_KILLS + 1)
            if kills < _KILLS and due:
                # At any moment of the request: before it, in it, or after the answer.
                killing = threading.Timer(rng.uniform(0, 0.06), server.kill)
                killing.start()
                confirmed |= post(server.port, session, device, some)
                killing.join()
                kills += 1
                ids, _ = in_database(address)
                assert confirmed <= set(ids)
                server.start()
            else:
                confirmed |= post(server.port, session, device, some)
    finally:
        server.kill()
    ids, record = in_database(address)
    assert kills == _KILLS
    assert sorted(ids) == sorted(each["id"] for each in entries)
    (logged,) = record.log
    assert [each.reps for each in logged.sets] == [n % 20 + 1 for n in range(_ENTRIES)]
    kept_in_file = (tmp_path / "saltus.sqlite3").exists()
    assert kept_in_file == address.startswith("sqlite:")
