"""Gives two invented athletes of the demo a sign-in, and one a session of the plan today.

Run on a data folder that nobody serves; tells what a test needs as one line of JSON.
"""

import datetime as dt
import json
import os
import re
import sys

_PASSWORD = "a long enough phrase"


def main(folder):
    os.environ["SALTUS_DATA"] = folder
    os.environ["DJANGO_SETTINGS_MODULE"] = "saltus.web.settings"
    import django

    django.setup()
    from django.conf import settings
    from django.core.management import call_command

    call_command("migrate", interactive=False, verbosity=0)
    lift_and_jump_today("Ines Adler")
    told = {
        "cookie": settings.SESSION_COOKIE_NAME,
        "password": _PASSWORD,
        "athletes": [
            with_account("Ines Adler", "ines@marrowby-harbour.example"),
            with_account("Nele Ostrin", "nele@marrowby-harbour.example"),
        ],
    }
    sys.stdout.write(json.dumps(told) + "\n")


def with_account(name, email):
    from saltus.web.models import Athlete, User

    athlete = Athlete.objects.get(name=name)
    # The demo may have given one already.
    user = athlete.account or User.objects.create_user(email, None, name=name, is_coach=False)
    user.set_password(_PASSWORD)
    user.save()
    athlete.account = user
    athlete.save()
    return {"id": str(athlete.pk), "name": name, "email": user.email, "session": sign_in(user)}


def sign_in(user):
    """A session as signing in on a page makes it."""
    from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
    from django.contrib.sessions.backends.db import SessionStore

    session = SessionStore()
    session[SESSION_KEY] = str(user.pk)
    session[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
    session[HASH_SESSION_KEY] = user.get_session_auth_hash()
    session.create()
    return session.session_key


def lift_and_jump_today(name):
    """Move the whole plan by days, so that a rich session near today is today's."""
    from saltus.web.models import Athlete

    stored = Athlete.objects.get(name=name).plans.exclude(accepted=None).first()
    today = dt.datetime.now(dt.UTC).date()
    sessions = [session for week in stored.plan["weeks"] for session in week["sessions"]]
    near = min(
        (each for each in sessions if any(item["load_kg"] for item in each["items"])),
        key=lambda each: (
            abs((dt.date.fromisoformat(each["date"]) - today).days) // 7,
            -len(each["items"]),
        ),
    )
    by = today - dt.date.fromisoformat(near["date"])
    moved = re.sub(
        r"\b\d{4}-\d\d-\d\d\b",
        lambda found: (dt.date.fromisoformat(found[0]) + by).isoformat(),
        json.dumps(stored.plan),
    )
    stored.plan = json.loads(moved)
    stored.save()


if __name__ == "__main__":
    main(sys.argv[1])
