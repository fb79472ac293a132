"""An athlete with a sign-in of her own, and a phone that sends."""

import datetime as dt
import json
import uuid

import pytest
from django.utils import timezone

from saltus.web.models import User

SESSION = uuid.UUID(int=7)
NOON = dt.datetime(2026, 11, 24, 12, tzinfo=dt.UTC)


@pytest.fixture
def account(athlete):
    athlete.account = User.objects.create_user(
        "ada@ilves.example", "a long enough phrase", name="Ada Ilves", is_coach=False
    )
    athlete.save()
    return athlete.account


@pytest.fixture
def phone(account, client_of):
    return client_of(account)


@pytest.fixture
def send(phone, athlete):
    """Send entries; gives the answer."""

    def sending(*entries, device=None, status=200):
        answer = phone.post(
            "/pocket/entries/",
            json.dumps({"device": str(device or uuid.UUID(int=1)), "entries": entries}),
            content_type="application/json",
        )
        assert answer.status_code == status, answer.content
        return answer.json()

    return sending


@pytest.fixture
def entry():
    """An entry of a session, a second after the one before."""
    count = iter(range(10_000))
    today = timezone.localdate()

    def made(kind, session=SESSION, date=today, **data):
        return {
            "id": str(uuid.uuid4()),
            "session": str(session),
            "date": date.isoformat(),
            "kind": kind,
            "at": (NOON + dt.timedelta(seconds=next(count))).isoformat(),
            "data": data,
        }

    return made
