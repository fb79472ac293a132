"""Read an export back: into a squad, or as the squads of a coach.

Nothing in the file is trusted: names of files are checked before they become paths, sizes
before anything is unpacked, records and methods by their own readers. Either all of it comes
in or nothing does.
"""

import hashlib
import json
import re
import shutil
import uuid
import zipfile
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath
from typing import IO, Any

from django.conf import settings
from django.db import transaction

from saltus import record as records
from saltus.errors import SaltusError, UsageError
from saltus.training.document import read_plan_document
from saltus.training.method_file import parse_method
from saltus.web.archive.rows import fill, keep_times
from saltus.web.archive.writing import ABOUT, FORMAT, MANIFEST, RECORD
from saltus.web.models import (
    Athlete,
    MethodCopy,
    MethodRevision,
    PocketEntry,
    Revision,
    Squad,
    StoredPlan,
    StoredRecording,
    TestDay,
    User,
)
from saltus.web.pocket.entries import Refusal, checked_data
from saltus.web.records import folder_of

__all__ = ["Imported", "import_archive"]

_MOST_ENTRIES = 500_000
_LARGEST_TEXT = 32_000_000
_CHUNK = 1 << 20
_PART = re.compile(r"[A-Za-z0-9][A-Za-z0-9 ._+-]{0,150}")
_DEEPEST = 6
_SHA256 = re.compile(r"[0-9a-f]{64}")
_SUFFIX = re.compile(r"(\.[A-Za-z0-9]{1,7})?")


@dataclass
class Imported:
    """What came in.

    Parameters
    ----------
    athletes : list of Athlete
        The athletes.
    squads : list of Squad
        Squads that were made for them.
    """

    athletes: list[Athlete] = field(default_factory=list)
    squads: list[Squad] = field(default_factory=list)


def import_archive(source: IO[bytes], user: User, squad: Squad | None) -> Imported:
    """Import an export.

    Parameters
    ----------
    source : binary file
        The zip file.
    user : User
        Whose it becomes.
    squad : Squad or None
        Where a single athlete goes.

    Raises
    ------
    UsageError
        If it is no export, or not whole; nothing was imported then.
    RecordError
        If a record in it is at fault.
    """
    try:
        with zipfile.ZipFile(source) as archive:
            return _Reader(archive, user).read(squad)
    except SaltusError:
        raise
    except (zipfile.BadZipFile, EOFError, NotImplementedError, RuntimeError) as error:
        raise UsageError("This is no zip file, or it is damaged. Nothing was imported.") from error


class _Reader:
    """One import."""

    def __init__(self, archive: zipfile.ZipFile, user: User):
        self.archive = archive
        self.user = user
        self.names = set(archive.namelist())
        self.written: list[Path] = []
        self.imported = Imported()
        self._check_size()
        about = self._document(MANIFEST, dict)
        if about.get("saltus_export") != FORMAT:
            raise UsageError(
                "This export is from a newer Saltus, or none at all. Nothing was imported."
            )
        self.kind = about.get("kind")
        self.same_person = about.get("by") == user.email

    def read(self, squad: Squad | None) -> Imported:
        """Everything, or nothing."""
        if self.kind == "athlete" and squad is None:
            raise UsageError("Choose the squad that the athlete goes to.")
        try:
            with transaction.atomic():
                methods = self._methods()
                for number in self._numbers("squads"):
                    self._squad(number, methods, squad if self.kind == "athlete" else None)
                if self.kind == "coach":
                    fill(self.user, self._how_told(), "account.json")
                    self.user.save(update_fields=["length_unit", "mass_unit", "language"])
        except BaseException:
            for folder in self.written:
                shutil.rmtree(folder, ignore_errors=True)
            raise
        return self.imported

    def _how_told(self) -> dict[str, Any]:
        account = self._document("account.json", dict)
        told = {key: account.get(key) for key in ("length_unit", "mass_unit", "language")}
        return {key: value for key, value in told.items() if value is not None}

    def _methods(self) -> dict[int, MethodCopy]:
        found = {}
        for number in self._numbers("methods"):
            folder = f"methods/{number}"
            text = self._text(f"{folder}/method.toml")
            older = f"{folder}/exercises.toml"  # what exports had in two files
            if older in self.names and (exercises := self._text(older)):
                text = f"{text.rstrip()}\n\n{exercises}"
            method = MethodCopy(owner=self.user, text=text)
            about = self._document(f"{folder}/about.json", dict)
            fill(method, about, f"{folder}/about.json")
            same = MethodCopy.objects.filter(
                owner=self.user,
                text=method.text,
                name=method.name,
                deleted__isnull=method.deleted is None,
            ).first()
            if same is None:
                _check_method(method)
                method.save()
                keep_times([method], [about])
                self._method_revisions(method, about, folder)
            found[number] = same or method
        return found

    def _method_revisions(self, method: MethodCopy, about: dict[str, Any], folder: str) -> None:
        if "revisions" not in about:  # an older export
            MethodRevision.objects.create(method=method, number=method.revision, text=method.text)
            return
        told = _list_of(about, "revisions", dict)
        rows = []
        for values in told:
            name = f"{folder}/revisions/{_number(values):05}.toml"
            revision = MethodRevision(method=method, text=self._text(name))
            fill(revision, values, name)
            rows.append(revision)
        keep_times(MethodRevision.objects.bulk_create(rows), told)

    def _squad(self, number: int, methods: dict[int, MethodCopy], into: Squad | None) -> None:
        where = f"squads/{number}/about.json"
        about = self._document(where, dict)
        squad = into
        if squad is None:
            squad = Squad(owner=self.user, method=methods.get(about.get("method") or 0))
            fill(squad, about, where)
            squad.save()
            self.imported.squads.append(squad)
        people = {name: self._athlete(name, squad) for name in _list_of(about, "athletes", str)}
        where = f"squads/{number}/test-days.json"
        for told in self._document(where, list):
            day = TestDay(squad=squad)
            fill(day, told, where)
            self._author(day, told)
            present = [people[name] for name in _list_of(told, "athletes", str) if name in people]
            # One athlete's export joins the test day that others of the squad brought already.
            same = into and into.test_days.filter(date=day.date, title=day.title).first()
            if not same:
                day.save()
            (same or day).athletes.add(*present)

    def _athlete(self, name: str, squad: Squad) -> Athlete:
        folder = f"athletes/{_checked(name)}"
        text = self._text(f"{folder}/{RECORD}")
        parsed = records.parse(text, f"{folder}/{RECORD}", recordings=False)
        where = f"{folder}/{ABOUT}/athlete.json"
        about = self._document(where, dict)
        athlete = Athlete(squad=squad, name=parsed.person.name, text=text)
        fill(athlete, about, where)
        athlete.save()
        keep_times([athlete], [about])
        self._files(folder, folder_of(athlete))
        self._revisions(athlete, _list_of(about, "revisions", dict), folder)
        self._plans(athlete, _list_of(about, "plans", dict), folder)
        self._recordings(athlete, _list_of(about, "recordings", dict), where)
        self._entries(athlete, f"{folder}/{ABOUT}/entries.json")
        self.imported.athletes.append(athlete)
        return athlete

    def _revisions(self, athlete: Athlete, told: list[dict[str, Any]], folder: str) -> None:
        rows = []
        for values in told:
            name = f"{folder}/{ABOUT}/revisions/{_number(values):05}.toml"
            revision = Revision(athlete=athlete, text=self._text(name))
            fill(revision, values, name)
            self._author(revision, values)
            rows.append(revision)
        if athlete.revision not in {revision.number for revision in rows}:
            raise UsageError(f"{folder}: the present revision is missing. Nothing was imported.")
        keep_times(Revision.objects.bulk_create(rows), told)

    def _plans(self, athlete: Athlete, told: list[dict[str, Any]], folder: str) -> None:
        rows = []
        for values in told:
            name = f"{folder}/{ABOUT}/plans/{_number(values):05}.json"
            plan = StoredPlan(athlete=athlete, plan=self._document(name, dict))
            read_plan_document(plan.plan, {}, name)
            fill(plan, values, name)
            self._author(plan, values)
            rows.append(plan)
        keep_times(StoredPlan.objects.bulk_create(rows), told)

    def _recordings(self, athlete: Athlete, told: list[dict[str, Any]], where: str) -> None:
        sums = {_sha256(path) for path in folder_of(athlete).rglob("*") if path.is_file()}
        rows = []
        for values in told:
            recording = StoredRecording(athlete=athlete)
            fill(recording, values, where)
            self._author(recording, values)
            # These two make up the name of the file on disk.
            if not _SHA256.fullmatch(recording.sha256) or not _SUFFIX.fullmatch(recording.suffix):
                raise UsageError(f"{where}: a recording is not as Saltus writes it.")
            if recording.sha256 not in sums:
                raise UsageError(f"{where}: the file of {recording.name} is missing.")
            rows.append(recording)
        keep_times(StoredRecording.objects.bulk_create(rows), told)

    def _entries(self, athlete: Athlete, where: str) -> None:
        if where not in self.names:
            return  # from before there were any
        told = self._document(where, list)
        ids: dict[str, str] = {}
        for values in told:
            if not isinstance(values, dict) or not isinstance(values.get("data"), dict):
                raise UsageError(f"{where} is not as Saltus writes it. Nothing was imported.")
            # The entries that these were may still be here: those keep their ids.
            ids[str(values.get("id"))] = str(uuid.uuid4())
        rows = []
        for values in told:
            entry = PocketEntry(id=ids[str(values.get("id"))], athlete=athlete)
            fill(entry, values, where)
            try:
                entry.data = checked_data(entry.kind, entry.data)
            except Refusal as error:
                raise UsageError(f"{where}: {error} Nothing was imported.") from error
            for key in ("replaces", "entry"):
                if entry.data.get(key):
                    entry.data[key] = ids.get(entry.data[key], entry.data[key])
            rows.append(entry)
        keep_times(PocketEntry.objects.bulk_create(rows), told)

    def _files(self, folder: str, target: Path) -> None:
        prefix = f"{folder}/"
        for name in sorted(self.names):
            relative = name.removeprefix(prefix)
            if not name.startswith(prefix) or name.endswith("/"):
                continue
            if relative == RECORD or relative.startswith(f"{ABOUT}/"):
                continue
            parts = PurePosixPath(relative).parts
            if len(parts) > _DEEPEST or not all(_PART.fullmatch(part) for part in parts):
                raise UsageError(f"{name} is no name that Saltus gives. Nothing was imported.")
            if self.archive.getinfo(name).file_size > settings.RECORDING_LIMIT_BYTES:
                raise UsageError(f"{name} is too large for a recording. Nothing was imported.")
            if target not in self.written:
                self.written.append(target)
            place = target.joinpath(*parts)
            place.parent.mkdir(parents=True, exist_ok=True)
            with self.archive.open(name) as packed, place.open("wb") as sink:
                shutil.copyfileobj(packed, sink, _CHUNK)

    def _author(self, instance: Any, values: dict[str, Any]) -> None:
        if values.get("by_me") and self.same_person:
            instance.by, instance.by_name = self.user, ""

    def _check_size(self) -> None:
        entries = self.archive.infolist()
        size = sum(entry.file_size for entry in entries)
        settings.MEDIA_ROOT.mkdir(parents=True, exist_ok=True)
        if len(entries) > _MOST_ENTRIES or size > shutil.disk_usage(settings.MEDIA_ROOT).free:
            raise UsageError("There is no room for what is in this file. Nothing was imported.")

    def _numbers(self, folder: str) -> list[int]:
        pattern = re.compile(rf"{folder}/([1-9][0-9]{{0,5}})/about\.json")
        return sorted(int(match[1]) for name in self.names if (match := pattern.fullmatch(name)))

    def _text(self, name: str) -> str:
        if name not in self.names:
            raise UsageError(f"{name} is missing in this file. Nothing was imported.")
        if self.archive.getinfo(name).file_size > _LARGEST_TEXT:
            raise UsageError(f"{name} is too large. Nothing was imported.")
        try:
            return self.archive.read(name).decode("utf-8")
        except UnicodeDecodeError as error:
            raise UsageError(f"{name} is no text. Nothing was imported.") from error

    def _document(self, name: str, kind: type) -> Any:
        try:
            document = json.loads(self._text(name))
        except (ValueError, RecursionError) as error:
            raise UsageError(f"{name} is damaged. Nothing was imported.") from error
        if not isinstance(document, kind):
            raise UsageError(f"{name} is not as Saltus writes it. Nothing was imported.")
        return document


def _check_method(method: MethodCopy) -> None:
    parse_method(method.text, f"{method.name}: method.toml")


def _checked(name: str) -> str:
    if not _PART.fullmatch(name):
        raise UsageError(f"{name!r} is no name that Saltus gives. Nothing was imported.")
    return name


def _list_of(document: dict[str, Any], key: str, kind: type) -> list[Any]:
    found = document.get(key)
    if not isinstance(found, list) or not all(isinstance(value, kind) for value in found):
        raise UsageError(f"{key} is not as Saltus writes it. Nothing was imported.")
    return found


def _number(values: dict[str, Any]) -> int:
    number = values.get("number")
    if not isinstance(number, int) or not 0 < number < 100_000:
        raise UsageError("A number is not as Saltus writes it. Nothing was imported.")
    return number


def _sha256(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
