"""Tell the record what an athlete's phone entered: quickly, and without a crowd of revisions."""

import datetime as dt
import logging
from collections.abc import Iterable, Sequence
from uuid import UUID

from django.utils import timezone

from saltus.errors import RecordError
from saltus.record.partly import change_partly
from saltus.web.models import Athlete, PocketEntry, Revision, User
from saltus.web.pocket.folding import changed, fold
from saltus.web.records import LOGGED, folder_of
from saltus.web.summaries import retell

__all__ = ["tell_record"]

_ONE_SITTING = dt.timedelta(hours=6)

_log = logging.getLogger(__name__)

_Sessions = Iterable[tuple[UUID, dt.date | None, Sequence[PocketEntry], Sequence[PocketEntry]]]


def tell_record(athlete: Athlete, user: User, sessions: _Sessions) -> None:
    """Bring sessions of the record up to date.

    Parameters
    ----------
    athlete : Athlete
        Locked for this transaction.
    user : User
        Whose phone it was.
    sessions : iterable of tuple
        Id, day of the plan, entries that the record knows of already, and those it does not.
    """
    text, painful = athlete.text, False
    source = folder_of(athlete) / "record.toml"
    for session, planned, known, new in sessions:
        before = fold(session, planned, known, athlete.name)
        now = fold(session, planned, [*known, *new], athlete.name)
        try:
            told = change_partly(
                text,
                str(session),
                lambda record, session=session, before=before, now=now: changed(  # type: ignore[misc]
                    record, session, before, now
                ),
                str(source),
            )
        except RecordError:
            # A text that is laid out in a way of its own: the entries are kept all the same.
            _log.exception("A session could not be written into its record")
            continue
        painful |= told.before.pains != told.after.pains
        text = told.text
    if text != athlete.text:
        _store(athlete, user, text, painful=painful)


def _store(athlete: Athlete, user: User, text: str, *, painful: bool) -> None:
    last = athlete.revisions.defer("text").first()
    athlete.text = text
    athlete.revision += 1
    athlete.save(update_fields=["text", "revision", "changed"])
    if (
        last is not None
        and last.what == LOGGED
        and last.by_id == user.pk
        and timezone.now() - last.at < _ONE_SITTING
    ):
        # Set by set, one sitting is one revision.
        Revision.objects.filter(pk=last.pk).update(number=athlete.revision, text=text)
    else:
        Revision.objects.bulk_create(
            [Revision(athlete=athlete, number=athlete.revision, text=text, by=user, what=LOGGED)]
        )
    if painful:
        retell(athlete, plan=False, assessment=False)
