"""A season lived through the pages: invited, planned, logged without a signal, followed, replanned.

The athlete is invented: strength rises for some weeks and then no more, and jumps and squats are
read off with seeded noise. Between the visits the clock of the server and of the browsers is set
on, so that weeks pass.
"""

import contextlib
import datetime as dt
import re
import sqlite3
import subprocess
import sys
import threading
from pathlib import Path
from urllib.parse import urlsplit

import numpy as np
import pytest
from playwright.sync_api import expect

from saltus import record as records

COACH = ("olga@fjord.example", "a long enough phrase")
ATHLETE = ("ada@fjord.example", "another long phrase")
BEGIN = dt.date(2027, 1, 4)
"""A Monday."""
SOLVED_MS = 120_000

_RISES_FOR_DAYS = 28
_SQUAT_KG, _SQUAT_PER_DAY = 75.0, 0.45
_JUMP_M, _JUMP_PER_KG = 0.32, 0.0014

RECORD = """\
saltus_record = 1

[athlete]
name = "Ada Ilves"   # invented
sex = "female"
born = 2003-05-17
stature_cm = 178
training_age_years = 2
landing_practice_weeks = 6
testing_tools = ["mat", "barbell"]

[[body_mass]]
date = 2026-12-20
mass_kg = 68

[[test]]
kind = "countermovement_jump"
date = 2027-01-02
method = "mat"
heights_cm = [32.1, 32.4, 31.8]

[[test]]
kind = "maximum"
date = 2027-01-02
lift = "back_squat"
load_kg = 75

[[target]]
date = 2027-05-29
what = "the cup"

[week]
mon = 75
thu = 75

[gym]
equipment = ["barbell", "rack", "bench", "runway", "boxes"]
bar_kg = 20
plates_kg = [[20, 4], [15, 2], [10, 2], [5, 2], [2.5, 2], [1.25, 2]]
boxes_cm = [30, 45, 60]
"""


def truth(day):
    """Squat maximum, kg, and jump, m: both stop rising after four weeks."""
    days = min((day - BEGIN).days, _RISES_FOR_DAYS)
    squat = _SQUAT_KG + _SQUAT_PER_DAY * max(days, 0)
    return squat, _JUMP_M + _JUMP_PER_KG * (squat - _SQUAT_KG)


class Season:
    """A coach and an athlete at a server whose clock moves on."""

    def __init__(self, browser, hosting, folder):
        self.browser, self.hosting, self.folder = browser, hosting, folder
        self.running = []
        self.states = {"coach": None, "athlete": None}
        self.rng = np.random.default_rng(20270104)

    def start(self, day, port=0):
        """The server on a day; gives its address."""
        script = Path(__file__).with_name("serve_on.py")
        process = subprocess.Popen(
            [sys.executable, script, day.isoformat(), "serve", "--port", str(port)],
            env=self.hosting.environment(SALTUS_DATA=str(self.folder)),
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
        )
        said = []
        for line in process.stdout:
            said.append(line)
            if found := re.search(r"http://[\d.:]+\d", line):
                break
        else:
            raise AssertionError("".join(said))
        # What is said later must not fill the pipe.
        drain = threading.Thread(target=process.stdout.read, daemon=True)
        drain.start()
        self.running.append((process, drain))
        return found[0]

    def stop(self):
        for process, drain in self.running:
            process.terminate()
            process.wait(20)
            drain.join(20)
            process.stdout.close()
        self.running.clear()

    @contextlib.contextmanager
    def on(self, day):
        """The server, and sites of both, on a day."""
        try:
            address = self.start(day)
            with self.hosting.watching(self.hosting.site(address, self.browser)) as site:
                site.watched.expected += (
                    "ERR_INTERNET_DISCONNECTED",
                    "ERR_CONNECTION",
                    "ERR_FAILED",
                    "422",
                )
                self.site, self.day = site, day
                yield self
        finally:
            self.stop()

    @contextlib.contextmanager
    def without_a_signal(self, context):
        """Nothing reaches the server: also not what a page sends that is just closed or opened."""
        port = urlsplit(self.site.address).port
        context.set_offline(True)
        self.stop()
        yield
        self.start(self.day, port)
        context.set_offline(False)

    def page(self, who, path, **options):
        """A page of one of them, signed in, its clock on the day."""
        self.site.state = self.states[who]
        page = self.site.open("about:blank", width=360 if who == "athlete" else 1280, **options)
        page.clock.install(time=dt.datetime.combine(self.day, dt.time(9), tzinfo=dt.UTC))
        page.goto(path)
        if "/sign-in/" in page.url:
            email, password = COACH if who == "coach" else ATHLETE
            page.get_by_label("E-mail").fill(email)
            page.get_by_label("Password").fill(password)
            page.get_by_role("button", name="Sign in").click()
            page.wait_for_url(lambda url: "/sign-in/" not in url)
            page.goto(path)
        return page

    def keep(self, who, page):
        self.states[who] = page.context.storage_state()

    @property
    def record(self):
        with sqlite3.connect(self.folder / "saltus.sqlite3") as database:
            (text,) = database.execute("select text from web_athlete").fetchone()
        return records.parse(text, recordings=False)

    def accept_plan(self, page):
        expect(page.locator("#proposal")).to_be_visible(timeout=SOLVED_MS)
        # A plan that comes out as it is can be accepted too.
        accept = re.compile("^(Accept|Keep the plan as it is)$")
        page.get_by_role("button", name=accept).click()
        expect(page.locator("#proposal")).to_have_count(0)

    def add_test(self, page, athlete, kind, **fields):
        page.goto(f"{athlete}record/test/add/{kind}/")
        for label, value in fields.items():
            field = page.locator(f"[name={label}]")
            if field.evaluate("each => each.tagName") == "SELECT":
                field.select_option(value)
            else:
                field.fill(value)
        page.get_by_role("button", name="Save", exact=True).last.click()
        kept = page.get_by_role("button", name="Keep it")
        added = page.get_by_text("added to the record")
        expect(kept.or_(added)).to_be_visible()
        if kept.is_visible():
            kept.click()
        expect(added).to_be_visible()

    def add_tests_of(self, page, athlete, day):
        """Three jumps and a heavy set, as they turn out on a day."""
        squat, jump = truth(day)
        jumps = 100 * (jump * (1 + 0.02 * self.rng.standard_normal()) + 0.012)
        attempts = jumps + 0.6 * self.rng.standard_normal(3)
        self.add_test(
            page,
            athlete,
            "countermovement_jump",
            date=day.isoformat(),
            method="mat",
            heights="; ".join(f"{each:.1f}" for each in attempts),
        )
        heaviest = 2.5 * round(squat * (1 + 0.015 * self.rng.standard_normal()) / 2.5)
        self.add_test(
            page, athlete, "maximum", date=day.isoformat(), lift="back_squat", load=f"{heaviest}"
        )

    def agree(self, page):
        today = page.get_by_role("heading", name="Today", exact=True)
        agree = page.get_by_role("button", name="Agree")
        expect(today.or_(agree)).to_be_visible()
        if agree.is_visible():
            for box in page.get_by_role("checkbox").all():
                box.check()
            agree.click()
        expect(today).to_be_visible()

    def catch_up(self):
        """The athlete writes down every session of the last days as it was planned."""
        page = self.page("athlete", "/pocket/")
        self.agree(page)
        while True:
            waiting = page.evaluate(
                """async () => {
                  const store = await import("/static/saltus/pocket/store.js");
                  const { sessions, today, athlete } = await store.bundle.read();
                  const own = await store.entriesOf(athlete.id);
                  const known = new Set(own.map(({ session }) => session));
                  return sessions.filter((each) => each.date < today && each.items.length
                    && !each.entries.length && !known.has(each.id)).map(({ id }) => id);
                }"""
            )
            if not waiting:
                break
            page.evaluate(f"location.hash = '/session/{waiting[0]}'")
            page.get_by_role("button", name="Everything went as planned").click()
            page.get_by_role("button", name="Yes, keep them").click()
            page.get_by_role("group", name="How hard was it?").get_by_text("6", exact=True).click()
            page.get_by_label("Minutes").fill("60")
            page.get_by_role("button", name="Keep").click()
            page.goto("/pocket/")
            expect(page.get_by_role("heading", name="Today", exact=True)).to_be_visible()
        page.locator("#state").click()
        expect(page.locator("#state")).to_have_text("All sent", timeout=60_000)
        self.keep("athlete", page)


@pytest.fixture
def season(browser, hosting, tmp_path):
    return Season(browser, hosting, tmp_path)


def begin(season):
    """The coach makes account, athlete, plan and invitation; the athlete takes it up."""
    page = season.page("coach", "/")
    page.get_by_label("Name", exact=True).fill("Olga Ness")
    page.get_by_label("E-mail").fill(COACH[0])
    page.get_by_label("Name of your squad").fill("Fjord Jumpers")
    page.get_by_label("Password").fill(COACH[1])
    page.get_by_role("button", name="Begin").click()
    page.get_by_role("link", name="Add an athlete").click()
    page.get_by_label("Name", exact=True).fill("Ada Ilves")
    page.get_by_label(re.compile("mass", re.IGNORECASE)).first.fill("68")
    page.get_by_role("button", name="Add", exact=True).click()
    page.get_by_role("link", name="Squad", exact=True).click()
    page.get_by_role("link", name="Ada Ilves", exact=True).click()
    athlete = page.url
    page.goto(f"{athlete}record/text/")
    page.locator("textarea").fill(RECORD)
    page.get_by_role("button", name="Check and save").click()
    page.goto(f"{athlete}plan/new/")
    page.get_by_role("button", name="Work out the plan").click()
    season.accept_plan(page)
    page.goto(f"{athlete}invite/")
    page.get_by_role("button", name="Make a link").click()
    expect(page.get_by_alt_text("The link below as a QR code")).to_be_visible()
    link = page.get_by_label("Link", exact=True).input_value()
    season.keep("coach", page)

    phone = season.page("athlete", link)
    phone.get_by_label("E-mail").fill(ATHLETE[0])
    phone.get_by_label("Password").fill(ATHLETE[1])
    phone.get_by_label("I have read these cautions and agree").check()
    phone.get_by_role("button", name="Make the sign-in").click()
    season.agree(phone)
    season.keep("athlete", phone)
    return athlete.removeprefix(season.site.address)


def train_without_a_signal(season):
    """The first session, two sets of it without a signal; the page is closed and opened again."""
    phone = season.page("athlete", "/pocket/")
    season.agree(phone)
    phone.evaluate("async () => { await navigator.serviceWorker.ready; }")
    context = phone.context
    with season.without_a_signal(context):
        again = two_sets(season, phone)
    again.locator("#state").click()
    expect(again.locator("#state")).to_have_text("All sent")
    (session,) = season.record.log
    assert session.planned == season.day
    assert sum(each.sets for each in session.sets) == 2
    season.states["athlete"] = context.storage_state()


def two_sets(season, phone):
    """Two sets in the first session; gives the page opened again."""
    phone.get_by_role("link", name="Begin").first.click()
    phone.get_by_role("button", name="Begin").click()
    phone.get_by_role("button", name="Answer none of these").click()
    done = phone.get_by_role("button", name="Done:")
    expect(done).to_be_visible()
    place = phone.evaluate(
        """async () => {
          const store = await import("/static/saltus/pocket/store.js");
          const { sessions, today } = await store.bundle.read();
          const { items } = sessions.find((each) => each.date === today && each.items.length);
          return items.find((each) => each.sets > 1 && !each.closed).item;
        }"""
    )
    phone.evaluate(f"location.hash = location.hash.replace(/exercise.*/, 'exercise/{place}')")
    expect(phone.get_by_text(f"Exercise {place + 1} of")).to_be_visible()
    for number in range(2):
        done.click()
        sheet = phone.locator(".pocket-sheet")
        kept = phone.locator(".pocket-sets > li").nth(number)
        expect(sheet.or_(kept)).to_be_visible()
        if sheet.is_visible():
            left = sheet.get_by_role("group", name="How many more could you have done?")
            keep = sheet.get_by_role("button", name="Keep")
            if left.is_visible():
                left.get_by_role("button", name="2", exact=True).click()
            else:
                keep.or_(sheet.get_by_role("button", name="Yes")).first.click()
        expect(kept).to_be_visible()
    context = phone.context
    phone.close()
    assert not season.record.log
    again = context.new_page()
    season.site.watched.follow(again)
    again.goto("/pocket/")
    expect(again.locator("#state")).to_have_text(re.compile("On this phone"))
    return again


def test_a_season_from_the_invitation_to_another_plan(season):
    with season.on(BEGIN):
        athlete = begin(season)
        train_without_a_signal(season)

    last = BEGIN + dt.timedelta(weeks=12)
    tested = BEGIN + dt.timedelta(days=5)
    visit = BEGIN + dt.timedelta(days=12)
    while visit <= last:
        with season.on(visit):
            season.catch_up()
            page = season.page("coach", athlete)
            while tested <= visit:
                season.add_tests_of(page, athlete, tested)
                tested += dt.timedelta(weeks=1)
            season.keep("coach", page)
        visit += dt.timedelta(weeks=2)

    with season.on(last):
        season.catch_up()
        page = season.page("coach", f"{athlete}assessment/")
        page.goto(f"{athlete}follow/")
        told = re.compile("^max strength has probably stopped rising", re.IGNORECASE)
        expect(page.locator("#plateau ~ ul li").filter(has_text=told)).to_have_count(1)
        expect(page.locator("#plan-again ~ ul li").filter(has_text=told)).to_have_count(1)
        page.get_by_role("button", name="Work the plan out again").click()
        season.accept_plan(page)
        expect(page.locator(".plan-session").first).to_be_attached()
    assert len(season.record.log) >= 15
