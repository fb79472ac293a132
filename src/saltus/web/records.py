"""The record of an athlete in the database: read it, change it, undo it.

The text is the truth, with the coach's comments in it. A change names the revision it was
made from; if somebody else was quicker, nothing is overwritten.
"""

from collections.abc import Callable
from functools import lru_cache
from pathlib import Path

from django.conf import settings
from django.db import transaction
from django.utils.translation import gettext as _

from saltus import record as records
from saltus.errors import RecordError, SaltusError
from saltus.record import Record
from saltus.web.models import Athlete, Revision, Squad, User

__all__ = [
    "LOGGED",
    "EditedMeanwhile",
    "add_athlete",
    "change_record",
    "change_text",
    "folder_of",
    "record_of",
    "refuse_if_changed",
    "restore_revision",
]


LOGGED = "logged from the phone"
"""What the history says of a change that came from an athlete's phone."""


class EditedMeanwhile(SaltusError):
    """Somebody else changed the same thing since it was opened."""


def folder_of(athlete: Athlete) -> Path:
    """Folder of an athlete's recordings; the record's relative paths start there."""
    return Path(settings.MEDIA_ROOT) / str(athlete.pk)


def record_of(athlete: Athlete, *, recordings: bool = True) -> Record:
    """What the record says.

    Raises
    ------
    RecordError
        If the text is at fault.
    """
    source = folder_of(athlete) / "record.toml"
    try:
        if not recordings:
            return _parsed(athlete.text, source)
        return records.parse(athlete.text, source, recordings=True)
    except RecordError as error:
        # Where it lies on this machine helps nobody who reads it on a page.
        raise RecordError(athlete.name, error.faults) from error


@lru_cache(maxsize=256)
def _parsed(text: str, source: Path) -> Record:
    """Keep what texts say: a page may show a whole squad, and records are not changed in place."""
    return records.parse(text, source, recordings=False)


def add_athlete(squad: Squad, record: Record | str, user: User, *, group: str = "") -> Athlete:
    """Add an athlete from a record or the text of one.

    Raises
    ------
    RecordError
        If the text is at fault.
    """
    text = record if isinstance(record, str) else records.render(record)
    parsed = records.parse(text, recordings=False)
    with transaction.atomic():
        athlete = Athlete.objects.create(
            squad=squad, name=parsed.person.name[:200], group=group, text=text
        )
        Revision.objects.create(athlete=athlete, number=1, text=text, by=user, what=_("added"))
    return athlete


def change_record(
    athlete: Athlete,
    user: User,
    change: Callable[[Record], Record],
    *,
    what: str,
    revision: int | None = None,
) -> Athlete:
    """Change a record, keeping its comments, and remember who did what.

    Parameters
    ----------
    athlete : Athlete
        Whose.
    user : User
        Who changes it.
    change : callable
        Gives the new record from the present one; recordings are not analysed for it.
    what : str
        In words, for the history.
    revision : int or None
        The revision that the person saw; None where the change cannot lose anything of
        another's (adding a test).

    Raises
    ------
    EditedMeanwhile
        If the record was changed since `revision`.
    RecordError
        If the new record would be at fault.
    """
    with transaction.atomic():
        locked = Athlete.objects.select_for_update().get(pk=athlete.pk)
        refuse_if_changed(locked, revision)
        before = record_of(locked, recordings=False)
        text = records.render(change(before), locked.text)
        return _store(locked, text, user, what)


def change_text(athlete: Athlete, user: User, text: str, *, what: str, revision: int) -> Athlete:
    """Replace the text of a record as a whole; `revision` is the one that the person saw.

    Raises
    ------
    EditedMeanwhile
        If the record was changed since.
    RecordError
        If the text is at fault.
    """
    with transaction.atomic():
        locked = Athlete.objects.select_for_update().get(pk=athlete.pk)
        refuse_if_changed(locked, revision)
        return _store(locked, text, user, what)


def restore_revision(athlete: Athlete, number: int, user: User) -> Athlete:
    """Make the record say again what it said in a revision."""
    with transaction.atomic():
        locked = Athlete.objects.select_for_update().get(pk=athlete.pk)
        old = locked.revisions.get(number=number)
        return _store(locked, old.text, user, _("back to revision %(n)s") % {"n": number})


def refuse_if_changed(athlete: Athlete, revision: int | None) -> None:
    """Make sure that nothing of another's is lost.

    Parameters
    ----------
    athlete : Athlete
        As it is now.
    revision : int or None
        The one that the person saw, or None where it does not matter.

    Raises
    ------
    EditedMeanwhile
        If it is no longer the present one.
    """
    if revision is not None and athlete.revision != revision:
        raise EditedMeanwhile(
            _(
                "%(name)s’s record was changed by somebody else since you opened it. Nothing was "
                "overwritten: go back, reload, and make your change again."
            )
            % {"name": athlete.name}
        )


def _store(athlete: Athlete, text: str, user: User, what: str) -> Athlete:
    if text == athlete.text:
        return athlete
    athlete.text = text
    athlete.name = records.parse(text, recordings=False).person.name[:200]
    athlete.revision += 1
    athlete.save(update_fields=["text", "name", "revision", "changed"])
    Revision.objects.create(
        athlete=athlete, number=athlete.revision, text=text, by=user, what=what[:300]
    )
    return athlete
