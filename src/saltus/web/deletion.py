"""Deleting that really deletes: rows, files and every revision."""

import datetime as dt
import shutil
from collections.abc import Iterable
from pathlib import Path

from axes.models import AccessAttempt, AccessFailureLog, AccessLog
from django.db import transaction
from django.utils import timezone

from saltus.web.audit import note
from saltus.web.models import Athlete, AuditEntry, Squad, User
from saltus.web.records import folder_of

__all__ = [
    "DAYS_TO_UNDO",
    "delete_account",
    "delete_squad",
    "purge_athlete",
    "purge_expired",
]

DAYS_TO_UNDO = 30
"""Days for which a deleted athlete can be brought back."""


def purge_athlete(athlete: Athlete, by: User | None) -> None:
    """Delete an athlete for good: record, revisions, plans, recordings, files and sign-in."""
    with transaction.atomic():
        squad, folder = athlete.squad, folder_of(athlete)
        _delete_accounts([athlete])
        athlete.delete()
        note(by, AuditEntry.Action.ATHLETE_PURGED, squad=squad)
        _remove_after_commit([folder])


def purge_expired() -> int:
    """Delete for good whoever was deleted more than thirty days ago; how many they were."""
    before = timezone.now() - dt.timedelta(days=DAYS_TO_UNDO)
    expired = list(Athlete.objects.filter(deleted__lt=before).select_related("squad"))
    for athlete in expired:
        purge_athlete(athlete, None)
    return len(expired)


def delete_squad(squad: Squad, by: User) -> None:
    """Delete a squad for good, with everybody in it."""
    with transaction.atomic():
        folders = [folder_of(athlete) for athlete in squad.athletes.all()]
        _delete_accounts(squad.athletes.all())
        squad.delete()
        note(by, AuditEntry.Action.SQUAD_DELETED)
        _remove_after_commit(folders)


def delete_account(user: User) -> None:
    """Delete an account and everything that is its own: squads, athletes, methods, shares.

    What the person wrote in squads of others stays there, without their name.
    """
    with transaction.atomic():
        athletes = Athlete.objects.filter(squad__owner=user)
        folders = [folder_of(athlete) for athlete in athletes]
        _delete_accounts(athletes.exclude(account=user))
        AuditEntry.objects.filter(by=user).exclude(squad__isnull=False).delete()
        _forget(user)
        _remove_after_commit(folders)


def _delete_accounts(athletes: Iterable[Athlete]) -> None:
    """Delete sign-ins of athletes that go; one that is a coach's too stays."""
    for account in User.objects.filter(athlete__in=list(athletes), is_coach=False):
        _forget(account)


def _forget(user: User) -> None:
    for attempts in (AccessAttempt, AccessLog, AccessFailureLog):
        attempts.objects.filter(username=user.email).delete()
    user.delete()


def _remove_after_commit(folders: list[Path]) -> None:
    # Only once the rows are gone: a failure must not leave rows without their files.
    for folder in folders:
        transaction.on_commit(lambda folder=folder: shutil.rmtree(folder, ignore_errors=True))
