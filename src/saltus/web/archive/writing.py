"""Write everything of an athlete or a coach into a zip file.

::

    saltus-export.json               what this is
    account.json                     name, address, units, language (of a coach)
    actions.json                     who did what (of a coach; to read, not imported)
    methods/1/                       method.toml, revisions/, about.json
    squads/1/                        about.json, test-days.json
    athletes/ada-ilves/record.toml   the record, with its recordings beside it:
                                     `saltus assess record.toml` works there
    athletes/ada-ilves/about/        athlete.json, assessment.json, revisions/, plans/,
                                     entries.json (what was entered on a phone)
"""

import zipfile
from collections.abc import Iterable
from pathlib import Path
from typing import IO, Any

from django.db.models import Q
from django.utils import timezone
from django.utils.text import slugify

from saltus import __version__
from saltus.web.archive.rows import as_json, row
from saltus.web.models import Athlete, AuditEntry, MethodCopy, Squad, TestDay, User
from saltus.web.records import folder_of

__all__ = ["ABOUT", "FORMAT", "MANIFEST", "RECORD", "export_athlete", "export_coach"]

FORMAT = 1
MANIFEST = "saltus-export.json"
ABOUT = "about"
RECORD = "record.toml"
_FROZEN = {".zip", ".gz", ".c3d", ".png", ".jpg", ".mp4", ".parquet"}


def export_athlete(athlete: Athlete, user: User, target: IO[bytes]) -> None:
    """Write one athlete, with the method of the squad and the test days that they were in."""
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        _manifest(archive, "athlete", user)
        method = athlete.squad.method
        methods = _methods(archive, [method] if method and method.owner_id == user.pk else [])
        folders = _athletes(archive, [athlete], user)
        _squad(archive, 1, athlete.squad, methods, folders, user)


def export_coach(user: User, target: IO[bytes]) -> None:
    """Write everything of a coach: account, methods, squads and everybody in them."""
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        _manifest(archive, "coach", user)
        archive.writestr("account.json", as_json(row(user)))
        archive.writestr("actions.json", as_json(_actions(user)))
        methods = _methods(archive, user.methods.order_by("pk"))
        for number, squad in enumerate(user.squads.order_by("pk"), start=1):
            people = squad.athletes.order_by("name", "made", "pk")
            folders = _athletes(archive, people, user, prefix=f"{number}-")
            _squad(archive, number, squad, methods, folders, user)


def _manifest(archive: zipfile.ZipFile, kind: str, user: User) -> None:
    about = {
        "saltus_export": FORMAT,
        "kind": kind,
        "version": __version__,
        "made": timezone.now(),
        "by": user.email,
    }
    archive.writestr(MANIFEST, as_json(about))


def _methods(archive: zipfile.ZipFile, methods: Iterable[MethodCopy]) -> dict[int, int]:
    numbers = {}
    for number, method in enumerate(methods, start=1):
        numbers[method.pk] = number
        folder = f"methods/{number}"
        revisions = []
        for revision in method.revisions.order_by("number"):
            archive.writestr(f"{folder}/revisions/{revision.number:05}.toml", revision.text)
            revisions.append(row(revision))
        archive.writestr(f"{folder}/about.json", as_json(row(method) | {"revisions": revisions}))
        archive.writestr(f"{folder}/method.toml", method.text)
    return numbers


def _squad(
    archive: zipfile.ZipFile,
    number: int,
    squad: Squad,
    methods: dict[int, int],
    folders: dict[Any, str],
    user: User,
) -> None:
    about = row(squad) | {
        "method": methods.get(squad.method_id) if squad.method_id else None,
        "athletes": list(folders.values()),
    }
    archive.writestr(f"squads/{number}/about.json", as_json(about))
    days = (
        TestDay.objects.filter(Q(squad=squad), Q(athletes__in=folders) | Q(athletes=None))
        if squad.owner_id == user.pk and len(folders) != 1
        else TestDay.objects.filter(squad=squad, athletes__in=folders)
    )
    told = [
        row(day)
        | _author(day, user)
        | {
            "athletes": sorted(
                folders[key] for key in day.athletes.values_list("pk", flat=True) if key in folders
            )
        }
        for day in days.distinct().order_by("date", "pk").select_related("by")
    ]
    archive.writestr(f"squads/{number}/test-days.json", as_json(told))


def _athletes(
    archive: zipfile.ZipFile, athletes: Iterable[Athlete], user: User, prefix: str = ""
) -> dict[Any, str]:
    folders: dict[Any, str] = {}
    taken = set()
    for athlete in athletes:
        stem = prefix + (slugify(athlete.name)[:60] or "athlete")
        name = next(
            candidate
            for candidate in (stem, *(f"{stem}-{n}" for n in range(2, 100_000)))
            if candidate not in taken
        )
        taken.add(name)
        folders[athlete.pk] = name
        _athlete(archive, f"athletes/{name}", athlete, user)
    return folders


def _athlete(archive: zipfile.ZipFile, folder: str, athlete: Athlete, user: User) -> None:
    archive.writestr(f"{folder}/{RECORD}", athlete.text)
    about = f"{folder}/{ABOUT}"
    revisions, plans = [], []
    for revision in athlete.revisions.order_by("number").select_related("by"):
        archive.writestr(f"{about}/revisions/{revision.number:05}.toml", revision.text)
        revisions.append(row(revision) | _author(revision, user))
    for plan in athlete.plans.order_by("number").select_related("by"):
        archive.writestr(f"{about}/plans/{plan.number:05}.json", as_json(plan.plan))
        plans.append(row(plan) | _author(plan, user))
    recordings = [
        row(recording) | _author(recording, user)
        for recording in athlete.recordings.order_by("at", "pk").select_related("by")
    ]
    assessment = getattr(athlete, "assessment", None)
    if assessment is not None:
        archive.writestr(f"{about}/assessment.json", as_json(assessment.document))
    document = row(athlete) | {"revisions": revisions, "plans": plans, "recordings": recordings}
    archive.writestr(f"{about}/athlete.json", as_json(document))
    entries = [{"id": entry.pk} | row(entry) for entry in athlete.entries.all()]
    archive.writestr(f"{about}/entries.json", as_json(entries))
    _files(archive, folder, folder_of(athlete))


def _files(archive: zipfile.ZipFile, folder: str, source: Path) -> None:
    for path in sorted(source.rglob("*")):
        relative = path.relative_to(source).as_posix()
        if path.is_file() and relative != RECORD and not relative.startswith(f"{ABOUT}/"):
            packing = zipfile.ZIP_STORED if path.suffix in _FROZEN else zipfile.ZIP_DEFLATED
            archive.write(path, f"{folder}/{relative}", compress_type=packing, compresslevel=1)


def _author(instance: Any, user: User) -> dict[str, Any]:
    """Who did it: a name, and whether it was whoever exports. Addresses of others stay here."""
    by = instance.by
    return {"by_name": by.name if by else instance.by_name, "by_me": by == user}


def _actions(user: User) -> list[dict[str, Any]]:
    entries = AuditEntry.objects.filter(Q(by=user) | Q(squad__owner=user)).select_related(
        "by", "squad", "athlete", "about"
    )
    return [
        {
            "at": entry.at,
            "by": entry.by.name if entry.by else None,
            "action": entry.action,
            "squad": entry.squad.name if entry.squad else None,
            "athlete": entry.athlete.name if entry.athlete else None,
            "about": entry.about.name if entry.about else None,
            "detail": entry.detail,
        }
        for entry in entries.distinct()
    ]
