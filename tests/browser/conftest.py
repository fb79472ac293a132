"""A real Chromium at pages served by the real server, on data of the demo.

The demo is prepared once for each state of what makes it, and copied for each worker, so that
what a test changes is gone afterwards. Every page that a test opens is watched: a fault on the
console, a breach of the content security policy or a request to another host fails the test.
"""

import contextlib
import fcntl
import os
import queue
import re
import shutil
import subprocess
import sys
import tempfile
import threading
import time
from dataclasses import dataclass, field
from pathlib import Path
from types import SimpleNamespace
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Page, expect, sync_playwright

from saltus.web.environment import SETTINGS

_ARGUMENTS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-dev-shm-usage",
)
SALTUS = [sys.executable, "-c", "from saltus.cli import main; main()"]
_STARTS_WITHIN_S = 60
PATIENCE_MS = 60_000
"""For one step of a page: generous, as tests share their processors."""


def pytest_collection_modifyitems(items):
    here = Path(__file__).parent
    for item in items:
        if here in item.path.parents:
            item.add_marker(pytest.mark.browser)


def chromium():
    """Where Chromium is, or None."""
    named = os.environ.get("CHROMIUM")
    return named or shutil.which("chromium") or shutil.which("chromium-browser")


@pytest.fixture(scope="session")
def browser():
    path = chromium()
    if path is None:
        sentence = (
            "Chromium is missing: install it (on Debian 'apt install chromium'), or name it in "
            "the variable CHROMIUM."
        )
        if os.environ.get("CI"):
            pytest.fail(sentence)
        pytest.skip(sentence)
    expect.set_options(timeout=PATIENCE_MS)
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=path, args=_ARGUMENTS)
        yield started
        started.close()


def until(page, script, within_s=PATIENCE_MS / 1000):
    """Wait until a script gives true, and say whether it did.

    Asked from here: what polls inside the page is refused by its content security policy.
    """
    end = time.monotonic() + within_s
    while not page.evaluate(script):
        if time.monotonic() > end:
            return False
        page.wait_for_timeout(50)
    return True


def _environment(**given):
    kept = {name: value for name, value in os.environ.items() if name not in SETTINGS}
    kept.pop("DJANGO_SETTINGS_MODULE", None)
    return kept | given


@pytest.fixture(scope="session")
def prepared(pytestconfig):
    """Folder of the demo as it is made; never served itself."""
    place = pytestconfig.rootpath / ".build"
    place.mkdir(exist_ok=True)
    folder = place / "demo-for-tests"
    with (place / "demo-for-tests.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        done = subprocess.run(
            [*SALTUS, "demo", "--folder", folder, "--prepare-only"],
            env=_environment(),
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stdout + done.stderr
        with tempfile.TemporaryDirectory(prefix="saltus-browser-") as copy:
            shutil.copytree(folder, copy, dirs_exist_ok=True)
            fcntl.flock(lock, fcntl.LOCK_UN)
            yield Path(copy)


@contextlib.contextmanager
def served(*command, **environment):
    """A server of its own; gives what it printed up to the first line that fits, and its end."""
    process = subprocess.Popen(
        [*SALTUS, *map(str, command), "--port", "0"],
        env=_environment(**environment),
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    lines = queue.Queue()
    reader = threading.Thread(target=lambda: [lines.put(line) for line in process.stdout])
    reader.start()
    printed = []

    def wait_for(pattern):
        while True:
            try:
                printed.append(lines.get(timeout=_STARTS_WITHIN_S))
            except queue.Empty:
                raise AssertionError(f"no {pattern} in {''.join(printed)}") from None
            if found := re.search(pattern, printed[-1]):
                return found[0]

    try:
        yield wait_for
    finally:
        process.terminate()
        process.wait(10)
        reader.join(10)
        process.stdout.close()


@dataclass
class Watched:
    """What went wrong on pages, and the hosts that were asked."""

    host: str
    faults: list[str] = field(default_factory=list)
    expected: tuple[str, ...] = (
        # A page that is left gives up what it still asks for; htmx reports that as two errors.
        "error: htmx:sendAbort,",
        "error: htmx:afterRequest,",
    )
    """Parts of what the console says that are no fault: a page left early, or a test's purpose."""

    def follow(self, page: Page) -> None:
        page.on("console", self._console)
        page.on("pageerror", lambda error: self.faults.append(f"error: {error}"))
        page.on("request", self._request)

    def _console(self, message) -> None:
        if message.type in ("error", "warning"):
            self.faults.append(f"{message.type}: {message.text} ({message.location.get('url')})")

    def _request(self, request) -> None:
        parts = urlsplit(request.url)
        if parts.scheme not in ("data", "blob", "about") and parts.netloc != self.host:
            self.faults.append(f"asks another host: {request.url}")

    def left(self) -> list[str]:
        return [f for f in self.faults if not any(part in f for part in self.expected)]


@dataclass
class Site:
    """A server with somebody signed in, and a way to open pages on it."""

    address: str
    browser: object
    state: dict | None = None
    contexts: list = field(default_factory=list)
    watched: Watched | None = None

    def open(self, path="/", *, width=1280, dark=False, script=True, signed_in=True) -> Page:
        context = self.browser.new_context(
            base_url=self.address,
            viewport={"width": width, "height": 900 if width > 500 else 740},
            color_scheme="dark" if dark else "light",
            java_script_enabled=script,
            storage_state=self.state if signed_in else None,
            locale="en-GB",
            timezone_id="UTC",
            reduced_motion="reduce",
        )
        self.contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(PATIENCE_MS)
        page.set_default_navigation_timeout(PATIENCE_MS)
        self.watched.follow(page)
        page.goto(path)
        return page

    def close(self) -> None:
        while self.contexts:
            self.contexts.pop().close()


@contextlib.contextmanager
def watching(site):
    site.watched = Watched(urlsplit(site.address).netloc)
    yield site
    site.close()
    assert site.watched.left() == []


@pytest.fixture(scope="session")
def _demo(browser, prepared):
    with served("demo", "--folder", prepared) as wait_for:
        link = wait_for(r"http://\S+/once/\S+")
        parts = urlsplit(link)
        context = browser.new_context()
        page = context.new_page()
        page.goto(link)
        state = context.storage_state()
        context.close()
        yield Site(f"{parts.scheme}://{parts.netloc}", browser, state)


@pytest.fixture
def demo(_demo):
    """The demo with its coach signed in."""
    with watching(_demo) as site:
        yield site


@pytest.fixture
def empty(browser, tmp_path):
    """A server on an empty folder."""
    with served("serve", SALTUS_DATA=str(tmp_path)) as wait_for:
        address = wait_for(r"http://[\d.:]+")
        with watching(Site(address, browser)) as site:
            yield site


@pytest.fixture(scope="session")
def hosting():
    """What a test needs that stops and starts a server itself."""
    return SimpleNamespace(command=SALTUS, environment=_environment, site=Site, watching=watching)


@pytest.fixture(scope="session", name="until")
def _until():
    return until


@pytest.fixture
def athlete_at(demo):
    """Path of an athlete's page, by name."""

    def find(name):
        page = demo.open("/")
        path = page.get_by_role("link", name=name, exact=True).get_attribute("href")
        page.context.close()
        demo.contexts.remove(page.context)
        return path

    return find
