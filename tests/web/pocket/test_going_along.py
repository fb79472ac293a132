"""Exports carry entries along, and deleting leaves neither them nor the sign-in."""

import io
import uuid

import pytest
from django.utils import timezone

from saltus.web.archive.reading import import_archive
from saltus.web.archive.writing import export_athlete
from saltus.web.deletion import delete_squad, purge_athlete
from saltus.web.models import PocketEntry, User
from saltus.web.pocket.entries import keep
from saltus.web.records import record_of

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _files(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "athletes"


def test_an_export_brings_the_entries_and_more_can_follow(send, entry, athlete, owner, squad):
    wrong = entry("set", exercise="back_squat", reps=3)
    send(wrong, entry("set", exercise="back_squat", reps=5, replaces=wrong["id"]))
    athlete.refresh_from_db()
    packed = io.BytesIO()
    export_athlete(athlete, owner, packed)
    (found,) = import_archive(packed, owner, squad).athletes
    assert found.account is None
    assert found.entries.count() == 2
    assert not set(found.entries.values_list("pk", flat=True)) & set(
        athlete.entries.values_list("pk", flat=True)
    )
    before = [(e.session, e.kind, e.at, e.received) for e in athlete.entries.all()]
    assert [(e.session, e.kind, e.at, e.received) for e in found.entries.all()] == before
    keep(found, owner, uuid.UUID(int=3), [entry("set", exercise="box_jump", reps=3)])
    found.refresh_from_db()
    (session,) = record_of(found, recordings=False).log
    assert [(s.exercise, s.reps) for s in session.sets] == [("back_squat", 5), ("box_jump", 3)]


@pytest.mark.parametrize("way", ["athlete", "squad"])
def test_deleted_for_good_nothing_is_left(send, entry, athlete, owner, account, way):
    send(entry("set", exercise="back_squat", reps=3))
    athlete.deleted = timezone.now()
    athlete.save()
    if way == "athlete":
        purge_athlete(athlete, owner)
    else:
        delete_squad(athlete.squad, owner)
    assert not PocketEntry.objects.exists()
    assert not User.objects.filter(pk=account.pk).exists()
    assert User.objects.filter(pk=owner.pk).exists()
