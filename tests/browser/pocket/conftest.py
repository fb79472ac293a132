"""A phone at a server that a test may kill and start again, on data of the demo."""

import contextlib
import datetime as dt
import json
import shutil
import signal
import socket
import sqlite3
import subprocess
import sys
import time
import urllib.error
import urllib.request
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from playwright.sync_api import expect

from saltus import record as records

_STARTS_WITHIN_S = 120
_PATIENCE_MS = 120_000
"""For what a server works out that was just started, on processors that are shared."""
_NO_SIGNAL = ("ERR_INTERNET_DISCONNECTED", "ERR_CONNECTION", "ERR_EMPTY_RESPONSE", "ERR_FAILED")


@dataclass
class Host:
    """The server of one test, and what lies in its folder."""

    folder: Path
    hosting: object
    told: dict
    port: int
    site: object = None
    process: subprocess.Popen = None

    def start(self):
        said = self.folder.parent / "server.log"
        with said.open("a") as log:
            self.process = subprocess.Popen(
                [*self.hosting.command, "serve", "--port", str(self.port)],
                env=self.hosting.environment(SALTUS_DATA=str(self.folder)),
                stdout=log,
                stderr=subprocess.STDOUT,
            )
        until = time.monotonic() + _STARTS_WITHIN_S
        while True:
            try:
                urllib.request.urlopen(f"{self.site.address}/sign-in/", timeout=5).close()
            except (urllib.error.URLError, OSError):
                assert time.monotonic() < until, said.read_text()
                assert self.process.poll() is None, said.read_text()
                time.sleep(0.1)
            else:
                return

    def kill(self):
        """As a power cut does it."""
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()

    @property
    def path(self):
        return self.folder / "saltus.sqlite3"

    def record(self, athlete=0):
        """The record of an athlete, as it is in the database now."""
        with sqlite3.connect(self.path) as database:
            (text,) = database.execute(
                "select text from web_athlete where id = ?",
                [self.told["athletes"][athlete]["id"].replace("-", "")],
            ).fetchone()
        return records.parse(text, recordings=False)

    def logged(self, athlete=0):
        """Today's session in the record."""
        today = dt.datetime.now(dt.UTC).date()
        found = [each for each in self.record(athlete).log if each.date == today and each.id]
        assert len(found) == 1, found
        return found[0]

    def entries(self):
        with sqlite3.connect(self.path) as database:
            return database.execute("select id, kind from web_pocketentry").fetchall()

    def phone(self, athlete=0, **options):
        """A phone of an athlete; what it loses without a signal is no fault."""
        self.site.watched.expected += _NO_SIGNAL
        self.site.state = {
            "cookies": [
                {
                    "name": self.told["cookie"],
                    "value": self.told["athletes"][athlete]["session"],
                    "domain": "127.0.0.1",
                    "path": "/",
                    "expires": -1,
                    "httpOnly": True,
                    "secure": False,
                    "sameSite": "Lax",
                }
            ],
            "origins": [],
        }
        page = self.site.open("/pocket/", width=360, **options)
        return Phone(page, self)


@dataclass
class Phone:
    """A page on a phone, and what an athlete does on it."""

    page: object
    host: Host
    left: list = field(default_factory=list)

    @property
    def context(self):
        return self.page.context

    def ready(self):
        """Past the cautions, and able to open without a signal."""
        today = self.page.get_by_role("heading", name="Today", exact=True)
        agree = self.page.get_by_role("button", name="Agree")
        expect(today.or_(agree)).to_be_visible(timeout=_PATIENCE_MS)
        if agree.is_visible():
            guardian = self.page.get_by_label("Name of the parent or guardian")
            if guardian.is_visible():
                guardian.fill("Rasmus Holt")
            for box in self.page.get_by_role("checkbox").all():
                box.check()
            agree.click()
        expect(today).to_be_visible()
        self.state("All sent")
        self.page.evaluate("async () => { await navigator.serviceWorker.ready; }")
        return self

    def bundle(self):
        return self.page.request.get("/pocket/bundle.json").json()

    def today(self):
        """Today's planned session of the bundle."""
        bundle = self.bundle()
        return next(
            each for each in bundle["sessions"] if each["date"] == bundle["today"] and each["items"]
        )

    def places(self):
        """Exercises of today that have two sets or more, as the phone knows them."""
        return self.page.evaluate(
            """async () => {
              const store = await import("/static/saltus/pocket/store.js");
              const { sessions, today } = await store.bundle.read();
              const { items } = sessions.find((each) => each.date === today && each.items.length);
              return items.filter((each) => each.sets > 1 && !each.closed).map(({ item }) => item);
            }"""
        )

    def waiting(self):
        """How many entries of the athlete are on this phone alone."""
        return self.page.evaluate(
            """async () => {
              const store = await import("/static/saltus/pocket/store.js");
              const { athlete } = await store.bundle.read();
              const own = await store.entriesOf(athlete.id);
              return own.filter((each) => !each.sent).length;
            }"""
        )

    def begin(self):
        """To the first exercise, by the page's own buttons."""
        self.page.get_by_role("link", name="Begin").first.click()
        self.page.get_by_role("button", name="Begin").click()
        expect(self.page.get_by_role("heading", name="How are you today?")).to_be_visible()
        self.page.get_by_role("button", name="Go on", exact=True).click()
        expect(self.page.get_by_role("button", name="Done:")).to_be_visible()
        self.settled()

    def settled(self):
        """What was entered is sent, and the screen is drawn with it; without a signal, at once."""
        if self.page.evaluate("navigator.onLine"):
            self.state("All sent")
            self.page.wait_for_load_state("networkidle")
            self.page.wait_for_timeout(800)

    def to(self, place):
        """To an exercise of the session on the page, counted from 0."""
        base = self.page.evaluate("location.hash").split("/")[2]
        shown = self.page.get_by_text(f"Exercise {place + 1} of")
        # What was just sent draws the screen anew, and may come in between.
        for _ in range(4):
            self.page.evaluate(f"location.hash = '/session/{base}/exercise/{place}'")
            with contextlib.suppress(AssertionError):
                expect(shown).to_be_visible(timeout=6_000)
                return
            self.page.evaluate(f"location.hash = '/session/{base}'")
        expect(shown).to_be_visible()

    def sets(self):
        return self.page.locator(".pocket-sets > li")

    def log(self, reserve="2"):
        """One set in two taps, its numbers as planned."""
        before = self.sets().count()
        self.page.get_by_role("button", name="Done:").click()
        sheet = self.page.locator(".pocket-sheet")
        kept = self.sets().nth(before)
        expect(sheet.or_(kept)).to_be_visible()
        if sheet.is_visible():
            left = sheet.get_by_role("group", name="How many more could you have done?")
            keep = sheet.get_by_role("button", name="Keep")
            yes = sheet.get_by_role("button", name="Yes")
            if left.is_visible():
                left.get_by_role("button", name=reserve, exact=True).click()
            elif keep.is_visible():
                keep.click()
            else:
                yes.click()
        expect(kept).to_be_visible()

    def offline(self, off=True):
        """Nothing reaches the server: also not what a page sends that is just closed or opened."""
        if off:
            self.context.set_offline(True)
            self.host.kill()
            return
        if self.host.process.poll() is not None:
            self.host.start()
        self.context.set_offline(False)

    def reopen(self):
        """Close the page, and open it again."""
        context = self.context
        self.page.close()
        self.page = context.new_page()
        self.host.site.watched.follow(self.page)
        self.page.goto("/pocket/")
        expect(self.page.locator("body[data-drawn]")).to_be_attached()

    def sign_in(self, athlete=0):
        """On the page for it, as whoever holds the phone."""
        told = self.host.told
        self.page.get_by_label("E-mail").fill(told["athletes"][athlete]["email"])
        self.page.get_by_label("Password").fill(told["password"])
        self.page.get_by_role("button", name="Sign in").click()
        expect(self.page.locator("body[data-drawn]")).to_be_attached()

    def state(self, text):
        expect(self.page.locator("#state")).to_have_text(text, timeout=_PATIENCE_MS)

    def sent(self):
        """Ask to send now, as a tap on the state does, and wait until all is sent."""
        self.page.locator("#state").click()
        self.state("All sent")


def _free_port():
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return found.getsockname()[1]


@pytest.fixture(scope="session")
def _with_accounts(prepared, tmp_path_factory, hosting):
    """The demo's folder with two athletes who may sign in; copied for each test."""
    folder = tmp_path_factory.mktemp("pocket") / "demo"
    shutil.copytree(prepared, folder)
    script = Path(__file__).with_name("an_athletes_account.py")
    done = subprocess.run(
        [sys.executable, script, folder],
        env=hosting.environment(),
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return folder, json.loads(done.stdout.splitlines()[-1])


@pytest.fixture
def host(browser, _with_accounts, hosting, tmp_path):
    """A server with two athletes, at a port of its own."""
    folder, told = _with_accounts
    place = tmp_path / "data"
    shutil.copytree(folder, place)
    port = _free_port()
    made = Host(place, hosting, told, port)
    made.site = hosting.site(f"http://127.0.0.1:{port}", browser)
    made.start()
    try:
        with hosting.watching(made.site):
            yield made
    finally:
        made.process.terminate()
        made.process.wait(20)
