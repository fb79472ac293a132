"""What makes the page an application on a phone: shell, worker, manifest."""

import json
import re
from pathlib import Path

import pytest
from django.contrib.staticfiles import finders
from django.urls import reverse

from saltus.web.pocket import phone

pytestmark = pytest.mark.django_db


def kept(client):
    """What the worker is told to keep."""
    text = client.get(reverse("pocket-worker")).content.decode()
    return json.loads(re.match(r"const SHELL = (.*);\n", text)[1])


def test_the_worker_keeps_every_file_of_the_page(client):
    files = set(kept(client)["files"])
    folder = Path(finders.find("saltus/pocket/main.js")).parent
    modules = {path.name for path in folder.glob("*.js")} - {"worker.js"}
    assert {f"/static/saltus/pocket/{name}" for name in modules} <= files
    imported = {
        name
        for path in folder.glob("*.js")
        for name in re.findall(r'from "\./(\w+\.js)"', path.read_text())
    }
    assert imported <= modules
    assert "/static/saltus/pocket/pocket.css" in files
    assert "/static/saltus/saltus.css" in files


def test_a_changed_file_or_language_is_another_version(client, monkeypatch):
    first = kept(client)["version"]
    assert kept(client)["version"] == first
    german = client.get(reverse("pocket-worker"), headers={"accept-language": "de"})
    assert first not in german.content.decode()
    read = phone._read
    monkeypatch.setattr(
        phone, "_read", lambda name: read(name) + (b" " if name.endswith("queue.js") else b"")
    )
    assert kept(client)["version"] != first


def test_the_worker_is_open_and_asked_for_anew_each_time(client):
    answer = client.get(reverse("pocket-worker"))
    assert answer.headers["content-type"].startswith("text/javascript")
    assert answer.headers["cache-control"] == "no-cache"


def test_the_manifest_names_icons_of_their_true_size(client):
    told = client.get(reverse("pocket-manifest")).json()
    assert (told["start_url"], told["scope"], told["display"]) == (
        "/pocket/",
        "/pocket/",
        "standalone",
    )
    assert {each["purpose"] for each in told["icons"]} == {"any", "maskable"}
    for icon in told["icons"]:
        picture = Path(finders.find(icon["src"].removeprefix("/static/"))).read_bytes()
        # PNG (W3C): the header chunk begins with width and height, four bytes each, at byte 16.
        size = f"{int.from_bytes(picture[16:20])}x{int.from_bytes(picture[20:24])}"
        assert size == icon["sizes"]


def test_the_page_asks_to_sign_in_and_sends_a_coach_to_the_squad(client, coach):
    answer = client.get(reverse("pocket"))
    assert answer.status_code == 302
    assert answer.url.startswith(reverse("sign-in"))
    assert coach.get(reverse("pocket")).url == reverse("squad")


def words_used():
    """Words that the script asks for by a fixed name."""
    folder = Path(finders.find("saltus/pocket/main.js")).parent
    return {
        name
        for path in folder.glob("*.js")
        for name in re.findall(r'\bword\(\s*"([\w-]+)"', path.read_text())
    }


def test_every_word_and_screen_that_the_script_asks_for_is_in_the_page():
    text = phone._shell_text()
    spoken = set(re.findall(r'data-word="([\w-]+)"', text))
    assert words_used() <= spoken
    folder = Path(finders.find("saltus/pocket/main.js")).parent
    drawn = {
        name
        for path in folder.glob("*.js")
        for name in re.findall(r'\bcopy\("([\w-]+)"', path.read_text())
    }
    assert {f"draw-{name}" for name in drawn} <= set(re.findall(r'id="(draw-[\w-]+)"', text))


def test_the_page_carries_nothing_inline_and_nothing_of_a_person():
    text = phone._shell_text()
    assert not re.search(r"<script(?![^>]*\bsrc=)", text)
    assert not re.search(r"\sstyle=|\son\w+=|<style", text)
    assert "csrfmiddlewaretoken" not in text
