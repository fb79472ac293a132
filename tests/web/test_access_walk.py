"""Walks every address there is, as everybody there is, to things that are somebody else's.

Addresses are found from the URLconf, so that a new view is covered as soon as it has one; an
argument that the table below does not know fails the test until it is filled in.
"""

import datetime as dt
import hashlib
import itertools
import re
import uuid

import pytest
from django.apps import apps
from django.conf import settings as django_settings
from django.db import transaction
from django.test import Client
from django.urls import URLPattern, get_resolver, resolve
from django.utils import timezone

from saltus.record.trials import Trial
from saltus.training.exercise_file import shipped_text
from saltus.web.accounts.invitations import path_of
from saltus.web.assessments import assess_now
from saltus.web.models import (
    Athlete,
    AthleteInvitation,
    IncomingRecording,
    Invitation,
    MethodCopy,
    MethodRevision,
    StoredAssessment,
    StoredPlan,
    StoredRecording,
    TestDay,
    User,
)
from saltus.web.records import add_athlete, change_text, folder_of

pytestmark = pytest.mark.django_db

PUBLIC = {
    "sign-in",
    "sign-out",
    "first-account",
    "invitation",
    "athlete-invitation",
    "pocket-worker",
    "pocket-manifest",
}
"""Open to anybody: each has tests of its own."""

OWNERS = {
    "squad-settings",
    "invite",
    "withdraw-invitation",
    "change-share",
    "end-share",
    "health-consent",
    "delete-squad",
    "export-athlete",
    "purge-athlete",
    "invite-athlete",
    "athlete-code",
    "withdraw-athlete-invitation",
    "end-athlete-account",
}
"""For the owner alone, whatever a share allows."""

SCRIPTS = {"pocket-bundle", "pocket-entries"}
"""Asked by a script, which is told when nobody is signed in."""

ATHLETES = {
    "pocket-bundle",
    "pocket-entries",
    "pocket-enter",
    "pocket-results",
    "pocket-chart",
    "pocket-plan",
    "pocket-settings",
    "pocket-password",
    "pocket-email",
    "pocket-delete",
}
"""For an athlete alone: nobody else has anything there."""

KEEPERS = {
    "backups",
    "make-backup",
    "add-backup",
    "fetch-backup",
    "restore-backup",
    "delete-backup",
}
"""For whoever keeps the installation."""

EVERYBODYS = {"shipped-exercise"}
"""With an argument, and yet the same for everybody who is signed in."""

METHODS = {
    "method",
    "copy-method",
    "rename-method",
    "method-text",
    "method-history",
    "method-revision",
    "method-file",
    "delete-method",
    "bring-back-method",
    "method-exercises",
    "add-exercise",
    "method-exercise",
    "change-exercise",
    "reset-exercise",
    "add-rule",
    "method-rule",
    "method-phase",
    "add-phase",
    "method-section",
    "add-method-entry",
    "method-entry",
    "remove-method-entry",
    "choose-method",
}
"""A copy of the method is its owner's alone, and so is the choice of it for a squad."""

READERS_POST = {"leave-squad"}
"""What a reader may post about a squad that is not theirs."""

NEEDS_MORE = {
    "recording-figure": "a real recording: tests/web/testdays/test_recordings.py",
    "recording-decision": "a real recording: tests/web/testdays/test_recordings.py",
    "bring-back-method": "a method put aside: tests/web/methods",
    "follow-chart": "a reader who may see what speaks of health: tests/web/following",
    "follow-plan-again": "a real plan: tests/web/following",
    "plan-move": "a real plan: tests/web/plans",
    "plan-swap": "a real plan: tests/web/plans",
    "plan-let-go": "a real plan: tests/web/plans",
}
"""Which the owner only gets at with more than there is here; others are refused before."""

NAMES = (b"Ilves", b"Fjord")
"""What an outsider must not read on any page."""

HEALTH = """

[[pain]]
date = 2026-10-06
place = "left heelbone"
level = 3

[[restriction]]
what = "depth_jump"
start = 2026-10-06
why = "the heelbone"
"""
REMARK = b"heelbone"
"""What only those may read who may see health remarks."""


def addresses(patterns=None, prefix=""):
    """Every pattern of the URLconf with its whole route."""
    for pattern in get_resolver().url_patterns if patterns is None else patterns:
        route = prefix + str(pattern.pattern)
        if isinstance(pattern, URLPattern):
            yield pattern, route
        else:
            yield from addresses(pattern.url_patterns, route)


ALL = [(pattern.name or route, pattern, route) for pattern, route in addresses()]
WITH_ARGUMENTS = [entry for entry in ALL if "<" in entry[2]]


@pytest.fixture
def arguments(owner, squad, athlete, reader, editor, settings, tmp_path):
    """What belongs into each argument: things of the owner."""
    settings.MEDIA_ROOT = tmp_path / "athletes"
    change_text(athlete, owner, athlete.text + HEALTH, what="sore", revision=1)
    athlete.refresh_from_db()
    _assess(athlete)
    now = timezone.now()
    data = b"time_s,force_n\n"
    digest = hashlib.sha256(data).hexdigest()
    (folder_of(athlete) / "recordings").mkdir(parents=True)
    (folder_of(athlete) / "recordings" / f"{digest}.csv").write_bytes(data)
    recording = StoredRecording.objects.create(
        athlete=athlete,
        name="jump.csv",
        sha256=digest,
        suffix=".csv",
        size=len(data),
        date=dt.date(2026, 10, 5),
        analysis={"jumps": [], "figures": []},
        by=owner,
    )
    method = MethodCopy.objects.create(owner=owner, name="Ours", text=shipped_text("method.toml"))
    MethodRevision.objects.create(method=method, number=1, text=method.text)
    jump = Trial(kind="countermovement_jump", method="mat", key="aa")
    day = TestDay.objects.create(
        squad=squad, date=dt.date(2026, 11, 5), tests=[jump.as_row()], by=owner
    )
    day.athletes.add(athlete)
    StoredPlan.objects.bulk_create(
        [
            StoredPlan(
                athlete=athlete, number=1, plan={}, made_from_revision=1, by=owner, accepted=now
            ),
            StoredPlan(
                athlete=athlete, number=2, plan={}, made_from_revision=1, by=owner, declined=now
            ),
        ]
    )
    incoming = IncomingRecording.objects.create(
        squad=squad,
        athlete=athlete,
        test_day=day,
        name="jump.csv",
        sha256=digest,
        suffix=".csv",
        size=len(data),
        date=day.date,
        by=owner,
    )
    invitation = Invitation.objects.create(squad=squad, by=owner)
    AthleteInvitation.objects.create(pk=INVITED, athlete=athlete, by=owner)
    share = squad.shares.get(user=reader)
    return {
        "athlete_id": athlete.pk,
        "squad_id": squad.pk,
        "day_id": day.pk,
        "test_day_id": day.pk,
        "recording_id": recording.pk,
        "incoming_id": incoming.pk,
        "method_id": method.pk,
        "share_id": share.pk,
        "invitation_id": invitation.pk,
        "number": 1,
        "plan_number": 1,
        "revision": 1,
        "index": 0,
        "key": "aa",
        "table": "body_mass",
        "kind": "countermovement_jump",
        "exercise_id": "back_squat",
        "rule_id": "week",
        "section": "budget",
        "token": resolve(path_of(invitation)).kwargs["token"],
        "name": "saltus-20260101-000000.zip",
    }


_assessed = {}


def _assess(athlete):
    """Assess once, whichever athlete has the same record."""
    if not _assessed:
        kept = assess_now(athlete)
        _assessed.update(document=kept.document, draws=kept.draws, inputs=kept.inputs)
    else:
        StoredAssessment.objects.bulk_create([StoredAssessment(athlete=athlete, **_assessed)])


INVITED = 1_000_000
"""Number of an athlete's invitation, beyond those that a database counts up to here."""

PARTICULAR: dict[str, dict[str, object]] = {
    "method-section": {"section": "week"},
    "athlete-chart": {"name": "jump"},
    "athlete-table": {"name": "jump"},
    "follow-chart": {"name": "place-0"},
    "pocket-chart": {"name": "jump"},
    "earlier-plan": {"number": 2},
    "compare-plan": {"number": 2},
    "athlete-code": {"invitation_id": INVITED},
    "withdraw-athlete-invitation": {"invitation_id": INVITED},
}
"""Arguments of one address alone, where the name means something else there."""


def unknown(name, pattern, arguments):
    return set(pattern.pattern.converters) - set(arguments) - set(PARTICULAR.get(name, {}))


def walk(entries, arguments, *, apart=frozenset()):
    """Every address with its arguments, but those apart."""
    for name, pattern, route in entries:
        if name not in apart and not unknown(name, pattern, arguments):
            yield name, route, filled(name, pattern, route, arguments)


def filled(name, pattern, route, arguments):
    values = arguments | PARTICULAR.get(name, {})
    address = "/" + route
    for key, converter in pattern.pattern.converters.items():
        kind = next(
            piece
            for piece in (f"<{key}>", *(f"<{n}:{key}>" for n in _CONVERTERS))
            if piece in address
        )
        address = address.replace(kind, converter.to_url(values[key]))
    assert "<" not in address, address
    return address


_CONVERTERS = ("int", "str", "slug", "uuid", "path")


def asked(client, address, method, *, watch=True):
    """Ask, and undo whatever came of it; gives the answer and whether anything was changed."""
    client.raise_request_exception = False
    with transaction.atomic():
        before = snapshot() if watch else None
        answer = getattr(client, method)(address)
        content = b"".join(answer) if answer.streaming else answer.content
        unchanged = not watch or snapshot() == before
        transaction.set_rollback(True)
    return answer, content, unchanged


_DERIVED = {"AuditEntry", "StoredAssessment"}


def snapshot():
    """Everything that people wrote."""
    return {
        model.__name__: [
            {key: value for key, value in row.items() if key not in {"summary", "last_login"}}
            for row in model.objects.order_by("pk").values()
        ]
        for model in apps.get_app_config("web").get_models()
        if model.__name__ not in _DERIVED
    }


def test_there_is_something_to_walk(arguments):
    missing = {
        route: unknown(name, pattern, arguments)
        for name, pattern, route in ALL
        if unknown(name, pattern, arguments)
    }
    assert missing == {}, "say in this test what goes into these"
    assert {"squad", "sign-in", "settings"} <= {name for name, _, _ in ALL}
    assert len(WITH_ARGUMENTS) > 10


def test_nobody_who_is_not_signed_in_sees_anything(arguments):
    wrong = []
    for name, _, address in walk(ALL, arguments, apart=PUBLIC):
        for method in ("get", "post"):
            answer, _, unchanged = asked(Client(), address, method)
            to_door = answer.status_code == 302 and answer.url.startswith("/sign-in/")
            told = name in SCRIPTS and answer.status_code == 401
            if not (to_door or told or answer.status_code == 404) or not unchanged:
                wrong.append((method, address, answer.status_code))
    assert wrong == []


def test_nobody_sees_or_changes_what_is_another_s(arguments, outsider, client_of):
    wrong = []
    for name, route, address in walk(ALL, arguments, apart=PUBLIC):
        answers = {}
        for method in ("get", "post"):
            answer, content, unchanged = asked(
                client_of(outsider), address, method, watch=method == "post"
            )
            answers[method] = answer.status_code
            said = any(word in content for word in NAMES)
            if answer.status_code >= 500 or said or not unchanged:
                wrong.append((method, address, answer.status_code, said, unchanged))
        closed = ("<" in route and name not in EVERYBODYS) or name in KEEPERS | ATHLETES
        # A view that takes no POST says 405 to everybody alike, whatever is asked for.
        if closed and (set(answers.values()) - {404, 405} or 404 not in answers.values()):
            wrong.append((address, answers))
    assert wrong == []


@pytest.mark.parametrize("role", ["reader", "editor"])
def test_a_share_allows_what_it_says(arguments, role, request, client_of):
    person = request.getfixturevalue(role)
    wrong = []
    for name, _, address in walk(WITH_ARGUMENTS, arguments, apart=PUBLIC):
        closed = name in OWNERS | METHODS | KEEPERS | ATHLETES
        for method in ("get", "post"):
            answer, _, unchanged = asked(client_of(person), address, method)
            refused = answer.status_code in (404, 405)
            if answer.status_code >= 500 or (closed and not refused):
                wrong.append((method, address, answer.status_code))
            shut = role == "reader" and method == "post" and name not in READERS_POST
            if shut and (not refused or not unchanged):
                wrong.append((method, address, answer.status_code, unchanged))
            if method == "get" and not unchanged:
                wrong.append((method, address, "a look changed something"))
    assert wrong == []


def test_health_remarks_are_for_those_who_may_see_them(
    arguments, athlete, squad, reader, editor, client_of
):
    wrong = []
    for athlete_allows, coach_may in itertools.product((False, True), repeat=2):
        Athlete.objects.update(health_shared=athlete_allows)
        squad.shares.update(sees_health=coach_may)
        for person in (reader, editor):
            client = client_of(person)
            told = [
                name
                for name, _, address in walk(
                    WITH_ARGUMENTS, arguments, apart=PUBLIC | OWNERS | KEEPERS
                )
                if REMARK in asked(client, address, "get", watch=False)[1]
            ]
            if bool(told) != (athlete_allows and coach_may):
                wrong.append((person.name, athlete_allows, coach_may, told))
    assert wrong == []


def test_the_owner_gets_at_all_of_it(arguments, owner, client_of):
    """Otherwise the walks above would go past closed doors and prove nothing."""
    owner.is_superuser = True
    owner.save()
    wrong = []
    # Backups are files: tests/web/preferences/test_backups.py opens them.
    for name, _, address in walk(
        ALL, arguments, apart=PUBLIC | KEEPERS | READERS_POST | ATHLETES | set(NEEDS_MORE)
    ):
        if name == "purge-athlete":
            Athlete.objects.update(deleted=timezone.now())
        answers = [
            asked(client_of(owner), address, method, watch=False)[0].status_code
            for method in ("get", "post")
        ]
        if name == "purge-athlete":
            Athlete.objects.update(deleted=None)
        if all(status in (404, 405) for status in answers) or max(answers) >= 500:
            wrong.append((name, address, answers))
    assert wrong == []


@pytest.fixture
def other_athlete(arguments, squad, owner):
    """Somebody else of the squad, with a sign-in of their own."""
    text = squad.athletes.get().text.replace("Ada Ilves", "Bo Ruun").split("[[pain]]")[0]
    other = add_athlete(squad, text, owner)
    other.account = User.objects.create_user("bo@ruun.example", name="Bo Ruun", is_coach=False)
    other.save()
    return other


def test_an_athlete_gets_at_their_own_page_alone(arguments, other_athlete, client_of):
    wrong, own = [], set()
    client = client_of(other_athlete.account)
    for name, _, address in walk(ALL, arguments, apart=PUBLIC):
        for method in ("get", "post"):
            answer, content, unchanged = asked(client, address, method)
            said = any(word in content for word in (*NAMES, REMARK))
            if name in ATHLETES | {"pocket"}:
                own |= {name} if answer.status_code < 400 else set()
                fine = answer.status_code < 500 and answer.status_code != 404
            elif name == "squad":
                fine = answer.status_code == 302 and answer.url == "/pocket/"
            else:
                fine = answer.status_code == 404
            if name == "pocket-chart":
                fine = True  # there is none before the first assessment
            if not fine or said or (not unchanged and name not in ATHLETES):
                wrong.append((method, name, answer.status_code, said, unchanged))
    assert wrong == []
    assert own >= ATHLETES - {"pocket-chart", "pocket-entries"}


@pytest.mark.parametrize("field", ["deleted", "archived", "account"])
def test_an_athlete_who_is_let_go_reads_nothing(arguments, other_athlete, client_of, field):
    client = client_of(other_athlete.account)
    value = None if field == "account" else timezone.now()
    Athlete.objects.filter(pk=other_athlete.pk).update(**{field: value})
    for name, _, address in walk(ALL, arguments, apart=PUBLIC | {"squad", "pocket"}):
        for method in ("get", "post"):
            answer, content, unchanged = asked(client, address, method)
            assert answer.status_code in (404, 405), (name, method)
            # Their own name at the top of the page says who is signed in.
            assert b"Ruun" not in re.sub(rb"<header.*?</header>", b"", content, flags=re.DOTALL)
            assert unchanged


def test_what_does_not_exist_and_what_is_another_s_look_alike(arguments, outsider, client_of):
    client = client_of(outsider)
    for name, pattern, route in WITH_ARGUMENTS:
        if name in PUBLIC or set(pattern.pattern.converters) != {"athlete_id"}:
            continue
        other = client.get(filled(name, pattern, route, arguments))
        nowhere = client.get(filled(name, pattern, route, arguments | {"athlete_id": uuid.uuid4()}))
        assert (other.status_code, len(other.content)) == (
            nowhere.status_code,
            len(nowhere.content),
        )


def test_no_view_goes_without_the_token_against_forged_forms():
    assert [
        name for name, pattern, _ in ALL if getattr(pattern.callback, "csrf_exempt", False)
    ] == []
    assert "django.middleware.csrf.CsrfViewMiddleware" in django_settings.MIDDLEWARE
