"""What protects accounts and pages: settings, headers, templates."""

import os
import re
import secrets
import subprocess
import sys
from pathlib import Path

import pytest
from django.conf import settings as django_settings
from django.test import Client

import saltus.web

pytestmark = pytest.mark.django_db

WEB = Path(saltus.web.__file__).parent
TEMPLATES = sorted((WEB / "templates").rglob("*.html"))
CODE = sorted(path for path in WEB.rglob("*.py") if "migrations" not in path.parts)


def test_djangos_own_check_for_deployment_is_content(tmp_path):
    environment = os.environ | {
        "SALTUS_DATA": str(tmp_path),
        "SALTUS_HTTPS": "1",
        "SALTUS_ALLOWED_HOSTS": "saltus.example.org",
        "SALTUS_SECRET_KEY": secrets.token_urlsafe(60),
        "DJANGO_SETTINGS_MODULE": "saltus.web.settings",
    }
    done = subprocess.run(
        [sys.executable, "-m", "django", "check", "--deploy", "--fail-level", "WARNING"],
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert "no issues" in done.stdout


@pytest.mark.parametrize("address", ["/", "/settings/", "/sign-in/", "/nowhere/"])
def test_every_answer_carries_the_protecting_headers(coach, address):
    headers = coach.get(address).headers

    policy = headers["Content-Security-Policy"]
    assert "default-src 'self'" in policy
    assert "unsafe" not in policy
    assert "frame-ancestors 'none'" in policy
    assert "form-action 'self'" in policy
    assert "object-src 'none'" in policy
    assert "http" not in policy, "nothing is loaded from another host"
    assert headers["X-Frame-Options"] == "DENY"
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "same-origin"
    assert headers["Cross-Origin-Opener-Policy"] == "same-origin"


def test_passwords_are_kept_with_argon2(owner):
    assert owner.password.startswith("argon2$argon2id$")


def test_a_session_gets_a_new_key_at_the_door_and_ends_with_sign_out(owner):
    client = Client()
    client.get("/sign-in/")
    session = client.session
    session["before"] = True
    session.save()
    before = session.session_key

    client.post("/sign-in/", {"username": owner.email, "password": "a long enough phrase"})

    after = client.session.session_key
    assert after != before
    cookie = client.cookies["sessionid"]
    assert cookie["httponly"]
    assert cookie["samesite"] == "Lax"
    client.post("/sign-out/")
    thief = Client()
    thief.cookies["sessionid"] = after
    assert thief.get("/").status_code == 302


def test_a_form_from_elsewhere_is_refused(owner):
    client = Client(enforce_csrf_checks=True)
    client.force_login(owner, backend="django.contrib.auth.backends.ModelBackend")

    assert client.post("/settings/", {"name": "x"}).status_code == 403
    assert client.post("/sign-in/", {}).status_code == 403


def test_the_door_leads_to_no_other_host(owner):
    answer = Client().post(
        "/sign-in/?next=https://example.com/",
        {
            "username": owner.email,
            "password": "a long enough phrase",
            "next": "https://example.com/",
        },
    )
    assert answer.url == "/"


def test_wrong_passwords_lock_one_account_from_one_address_only(owner, outsider):
    client = Client()
    wrong = {"username": owner.email, "password": "wrong wrong wrong"}
    for _ in range(8):
        client.post("/sign-in/", wrong)
    right = {"password": "a long enough phrase"}

    assert client.post("/sign-in/", right | {"username": owner.email}).status_code == 429
    # Nobody can shut another out from elsewhere.
    elsewhere = Client(REMOTE_ADDR="203.0.113.7")
    assert elsewhere.post("/sign-in/", right | {"username": owner.email}).url == "/"
    assert client.post("/sign-in/", right | {"username": outsider.email}).url == "/"


def test_whoever_is_unknown_is_answered_like_a_wrong_password(owner):
    pages = [
        Client().post("/sign-in/", {"username": name, "password": "wrong wrong wrong"})
        for name in (owner.email, "nobody@example.org")
    ]
    said = [list(page.context["form"].non_field_errors()) for page in pages]
    assert said[0] == said[1] != []


INLINE = {
    "a script without a file": re.compile(r"<script(?![^>]*\bsrc=)", re.IGNORECASE),
    "a style of its own": re.compile(r"<style\b|\sstyle\s*=", re.IGNORECASE),
    "a handler in an attribute": re.compile(r"\son[a-z]+\s*=\s*[\"']|\shx-on", re.IGNORECASE),
    "a script as an address": re.compile(r"javascript:", re.IGNORECASE),
    "another host": re.compile(r"(?:src|href|action)\s*=\s*[\"'](?:https?:)?//", re.IGNORECASE),
    "values that are evaluated": re.compile(r"hx-vals\s*=\s*[\"']js:|hx-vars", re.IGNORECASE),
    "a condition that is evaluated": re.compile(r"hx-trigger\s*=\s*\"[^\"]*\[", re.IGNORECASE),
    "text that is not escaped": re.compile(r"\|\s*safe\b|autoescape\s+off|\|\s*safeseq"),
}


@pytest.mark.parametrize("what", INLINE)
def test_no_template_has(what):
    found = [
        f"{path.relative_to(WEB)}: {match[0]}"
        for path in TEMPLATES
        for match in INLINE[what].finditer(path.read_text(encoding="utf-8"))
    ]
    assert len(TEMPLATES) > 20
    assert found == []


def test_the_scan_of_templates_finds_what_it_looks_for():
    bad = {
        "a script without a file": "<script>go()</script>",
        "a style of its own": '<p style="color: red">',
        "a handler in an attribute": '<button onclick="go()">',
        "a script as an address": '<a href="javascript:go()">',
        "another host": '<img src="https://example.com/x.png">',
        "values that are evaluated": "<p hx-vals='js:{a: 1}'>",
        "a condition that is evaluated": '<p hx-trigger="click[ctrlKey]">',
        "text that is not escaped": "{{ text|safe }}",
    }
    assert set(bad) == set(INLINE)
    assert all(INLINE[what].search(text) for what, text in bad.items())


def test_every_form_that_posts_carries_the_token():
    form = re.compile(r"<form\b[^>]*method=[\"']?post[^>]*>(.*?)</form>", re.IGNORECASE | re.DOTALL)
    without = [
        path.relative_to(WEB)
        for path in TEMPLATES
        for match in form.finditer(path.read_text(encoding="utf-8"))
        if "csrf_token" not in match[1]
    ]
    assert without == []


def test_nothing_is_called_safe_by_hand():
    unsafe = re.compile(
        r"\bmark_safe\(|csrf_exempt|objects\.raw\(|\.extra\(|\beval\(|import pickle"
    )
    found = [path.name for path in CODE if unsafe.search(path.read_text(encoding="utf-8"))]
    assert found == []


def test_uploads_have_limits():
    assert django_settings.DATA_UPLOAD_MAX_MEMORY_SIZE <= 5_000_000
    assert django_settings.FILE_UPLOAD_MAX_MEMORY_SIZE <= 5_000_000


def test_whoever_asks_under_a_wrong_name_is_sent_off_without_a_word_in_the_log(tmp_path):
    environment = os.environ | {
        "SALTUS_DATA": str(tmp_path),
        "SALTUS_ALLOWED_HOSTS": "saltus.example.org",
        "DJANGO_SETTINGS_MODULE": "saltus.web.settings",
    }
    asked = (
        "import django; django.setup(); from django.test import Client; "
        "print(Client().get('/sign-in/', HTTP_HOST='elsewhere.example.org').status_code)"
    )
    done = subprocess.run(
        [sys.executable, "-c", asked], env=environment, capture_output=True, text=True, check=True
    )
    assert done.stdout == "400\n"
    assert "elsewhere" not in done.stderr
