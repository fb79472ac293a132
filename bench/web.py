"""The pages of a large squad over HTTP, against the same page as a file from http.server.

The squad is invented: athletes drawn from the prior, with two years of tests and of logged
sessions. Working out an assessment takes a second or two, so only some of the athletes are
assessed; the others keep a copy of one of those, which costs their pages the same. The load
comes from ``ab`` where it is installed (apache2-utils), else from a plain loop.
"""

import datetime as dt
import http.client
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from urllib.parse import urlsplit

import numpy as np

_YEARS = 2
_SALTUS = [sys.executable, "-c", "from saltus.cli import main; main()"]


def _record(number: int, today: dt.date):
    """An athlete with a test every quarter and three sessions a week."""
    from dataclasses import replace

    from saltus.athlete.history import TrainingBlock
    from saltus.athlete.observations import Jump, JumpMethod, JumpStyle, Lift, Maximum
    from saltus.athlete.qualities import Quality
    from saltus.athlete.virtual import random_person, virtual_athlete
    from saltus.record.record import Record
    from saltus.training.log import LoggedSession, LoggedSet
    from saltus.training.situation import Gym, TargetDate, Weekday

    rng = np.random.default_rng([20261125, number])
    first = today - dt.timedelta(days=365 * _YEARS)
    person = replace(random_person(rng, first), name=f"Invented {number:03}")
    battery, blocks = [], []
    for quarter in range(4 * _YEARS):
        day = first + dt.timedelta(days=91 * quarter)
        battery += [
            Jump(
                date=day,
                style=JumpStyle.COUNTERMOVEMENT,
                method=JumpMethod.MAT,
                heights_m=(0.3, 0.3, 0.3),
            ),
            Maximum(date=day + dt.timedelta(days=2), lift=Lift.BACK_SQUAT, load_kg=90.0),
        ]
        blocks.append(
            TrainingBlock(
                day + dt.timedelta(days=7),
                day + dt.timedelta(days=63),
                {Quality.MAX_STRENGTH: 0.6, Quality.PUSH_OFF_SPEED: 0.4},
            )
        )
    drawn = virtual_athlete(person, battery, rng, on=today, blocks=blocks)
    squat = float(rng.uniform(60, 140))
    log = [
        LoggedSession(
            date=first + dt.timedelta(days=7 * week + weekday),
            minutes=60.0,
            effort=float(rng.integers(4, 9)),
            landings=30.0,
            sets=(
                LoggedSet(exercise="box_jump", sets=4, reps=4, box_m=0.5),
                LoggedSet(
                    exercise="back_squat",
                    sets=4,
                    reps=5,
                    load_kg=round(squat * rng.uniform(0.7, 0.85) / 2.5) * 2.5,
                    reserve=2.0,
                ),
                LoggedSet(exercise="romanian_deadlift", sets=3, reps=8, load_kg=60.0),
            ),
        )
        for week in range(52 * _YEARS)
        for weekday in (0, 2, 4)
    ]
    gym = Gym(frozenset({"barbell", "rack", "boxes"}), 20.0, {20.0: 4, 10.0: 4, 5.0: 4, 2.5: 4})
    return Record(
        person=replace(drawn.person, testing_tools=person.testing_tools),
        tests=drawn.observations,
        blocks=drawn.blocks,
        targets=(TargetDate(today + dt.timedelta(days=100)),),
        minutes=dict.fromkeys((Weekday.MON, Weekday.WED, Weekday.FRI), 75),
        gym=gym,
        log=tuple(log),
    )


def _fill(athletes: int, assessed: int) -> tuple[str, str, list[str]]:
    """Fill the database; gives the name and value of a session's cookie, and athletes' keys."""
    from importlib import import_module

    from django.conf import settings
    from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
    from django.utils import timezone

    from saltus.record.known import assess_record
    from saltus.training.document import plan_document
    from saltus.training.method_file import load_method
    from saltus.training.planner import make_plan
    from saltus.web.assessments import assess_now, inputs_of
    from saltus.web.models import Squad, StoredAssessment, StoredPlan, User
    from saltus.web.records import add_athlete
    from saltus.web.summaries import retell

    today = timezone.localdate()
    coach = User.objects.create_user("bench@example.org", None, name="Bench")
    squad = Squad.objects.create(owner=coach, name="Two hundred, invented")
    kept, plan, keys = [], None, []
    for number in range(athletes):
        record = _record(number, today)
        athlete = add_athlete(squad, record, coach, group=f"group {number % 8}")
        keys.append(str(athlete.pk))
        if plan is None:
            found = assess_record(record)
            start = today - dt.timedelta(days=14 + today.weekday())
            situation = record.situation_from(start)
            plan = plan_document(make_plan(record.person, found, situation, load_method(None)))
        StoredPlan.objects.create(
            athlete=athlete,
            number=1,
            plan=plan | {"athlete": athlete.name},
            accepted=timezone.now(),
            made_from_revision=1,
            by=coach,
        )
        if number < assessed:
            kept.append(assess_now(athlete))
        else:
            like = kept[number % len(kept)]
            StoredAssessment.objects.create(
                athlete=athlete,
                inputs=inputs_of(athlete),
                document=like.document,
                draws=like.draws,
            )
        retell(athlete)
    session = import_module(settings.SESSION_ENGINE).SessionStore()
    session[SESSION_KEY] = str(coach.pk)
    session[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
    session[HASH_SESSION_KEY] = coach.get_session_auth_hash()
    session.save()
    return settings.SESSION_COOKIE_NAME, session.session_key, keys


def _started(environment: dict[str, str]) -> tuple[subprocess.Popen, str, float]:
    """Start ``saltus serve``; gives it, its address, and the seconds until it answered."""
    begun = time.perf_counter()
    process = subprocess.Popen(
        [*_SALTUS, "serve", "--port", "0"], env=environment, stdout=subprocess.PIPE, text=True
    )
    for line in process.stdout:
        if found := re.search(r"http://[\d.:]+", line):
            _answer(f"{found[0]}/sign-in/", "")
            return process, found[0], time.perf_counter() - begun
    raise RuntimeError("the server did not start")


def _answer(address: str, cookie: str, headers: dict[str, str] | None = None) -> bytes:
    parts = urlsplit(address)
    connection = http.client.HTTPConnection(parts.netloc, timeout=60)
    try:
        path = f"{parts.path}?{parts.query}" if parts.query else parts.path
        connection.request("GET", path, headers={"Cookie": cookie} | (headers or {}))
        answer = connection.getresponse()
        content = answer.read()
    finally:
        connection.close()
    if answer.status != 200:
        raise RuntimeError(f"{address}: {answer.status}")
    return content


def _percentiles(address: str, cookie: str, requests: int, header: str = "") -> dict[int, float]:
    """Milliseconds within which so many per cent of the answers came."""
    extra = dict([header.split(": ", 1)]) if header else {}
    for _ in range(3):
        _answer(address, cookie, extra)
    if tool := shutil.which("ab"):
        command = [tool, "-q", "-n", str(requests), "-c", "1", "-H", f"Cookie: {cookie}"]
        if header:
            command += ["-H", header]
        with tempfile.NamedTemporaryFile("r") as table:
            subprocess.run([*command, "-e", table.name, address], check=True, capture_output=True)
            rows = [line.split(",") for line in table.read().splitlines()[1:]]
        return {int(float(percent)): float(ms) for percent, ms in rows}
    took = []
    for _ in range(requests):
        begun = time.perf_counter()
        _answer(address, cookie, extra)
        took.append(1000 * (time.perf_counter() - begun))
    return {percent: float(np.percentile(took, percent)) for percent in (50, 95)}


def run(athletes: int = 200, assessed: int = 20, requests: int = 200) -> None:
    """Latency of pages for a squad of so many athletes, one request after another."""
    with tempfile.TemporaryDirectory(prefix="saltus-bench-") as folder:
        from saltus.web.environment import SETTINGS

        for name in SETTINGS:
            os.environ.pop(name, None)
        os.environ["SALTUS_DATA"] = folder
        from saltus.web.serve import prepare

        prepare(lambda _: None)
        begun = time.perf_counter()
        name, key, keys = _fill(athletes, max(1, min(assessed, athletes)))
        print(
            f"{athletes} athletes made in {time.perf_counter() - begun:.0f} s, {assessed} of them"
        )
        print(f"assessed; load: {os.getloadavg()[0]:.1f} runnable on {os.cpu_count()} processors")
        environment = dict(os.environ)
        process, address, _ = _started(environment)
        process.terminate()
        process.wait()
        starts = []
        for _ in range(3):
            process, address, took = _started(environment)
            starts.append(took)
            process.terminate()
            process.wait()
        print(f"saltus serve answers {min(starts):.2f} s after it was called (least of 3)")
        process, address, _ = _started(environment)
        cookie = f"{name}={key}"
        try:
            _report(address, cookie, keys, requests, Path(folder))
        finally:
            process.terminate()
            process.wait()


def _report(address: str, cookie: str, keys: list[str], requests: int, folder: Path) -> None:
    one = f"{address}/athletes/{keys[len(keys) // 2]}/"
    pages = {
        "squad page": (f"{address}/", "", 100),
        "athlete page": (one, "", 150),
        "what if": (f"{one}what-if/?max_strength=10&push_off_speed=5", "HX-Request: true", 150),
    }
    tool = "ab" if shutil.which("ab") else "a loop over http.client"
    print(f"{requests} requests each, one after another, by {tool}; milliseconds")
    print(f"{'':14}{'p50':>8}{'p95':>8}{'allowed':>9}{'as a file, p50':>16}{'ratio':>8}")
    for title, (page, header, allowed) in pages.items():
        extra = dict([header.split(": ", 1)]) if header else {}
        content = _answer(page, cookie, extra)
        took = _percentiles(page, cookie, requests, header)
        plain = _as_a_file(content, requests, folder)
        print(
            f"{title:14}{took[50]:8.1f}{took[95]:8.1f}{allowed:9}{plain:16.2f}"
            f"{took[50] / plain:8.0f}   {len(content) / 1000:.0f} kB"
        )


def _as_a_file(content: bytes, requests: int, folder: Path) -> float:
    """Median, ms, of the same bytes from Python's own file server."""
    site = folder / "file"
    site.mkdir(exist_ok=True)
    (site / "page.html").write_bytes(content)
    command = [sys.executable, "-u", "-m", "http.server", "0", "--bind", "127.0.0.1"]
    process = subprocess.Popen(
        command, cwd=site, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
    )
    try:
        port = re.search(r"port (\d+)", process.stdout.readline())[1]
        return _percentiles(f"http://127.0.0.1:{port}/page.html", "", requests)[50]
    finally:
        process.terminate()
        process.wait()
