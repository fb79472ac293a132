"""Backups of everything: made while pages are served, listed, and put back in one step.

A backup is a zip file: the database, every recording, and a list of what must be inside with
its checksums. Putting one back goes through SQLite's own way of copying a database, as one
transaction: pages that are open meanwhile see the old state or the new, never half of each.
Before that, the present state is backed up, and the copy is checked and brought up to date.
"""

import hashlib
import json
import re
import shutil
import sqlite3
import tempfile
import threading
import time
import zipfile
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from saltus import __version__
from saltus.errors import UsageError

__all__ = ["Backup", "Place", "add", "backups_in", "make", "named", "place_here", "restore"]

_KEPT = 10
_MANIFEST = "saltus-backup.json"
_DATABASE = "saltus.sqlite3"
_FILES = "athletes/"
_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,100}\.(?:zip|sqlite3)")
_MADE_HERE = re.compile(r"saltus-.*\.zip")
_LARGEST_MANIFEST = 64_000_000
_CHUNK = 1 << 20

_one_at_a_time = threading.Lock()


@dataclass(frozen=True, slots=True)
class Place:
    """Where things are kept.

    Parameters
    ----------
    database : Path
        The SQLite database.
    files : Path
        Folder of the athletes' recordings.
    backups : Path
        Folder of the backups.
    """

    database: Path
    files: Path
    backups: Path


@dataclass(frozen=True, slots=True)
class Backup:
    """One backup.

    Parameters
    ----------
    path : Path
        The file.
    made : float
        When, seconds since the epoch.
    size : int
        Bytes.
    recordings : bool
        Whether the recordings are inside; copies made before an update hold the database alone.
    """

    path: Path
    made: float
    size: int
    recordings: bool

    @property
    def name(self) -> str:
        """Name of the file."""
        return self.path.name


def place_here() -> Place | None:
    """Where this installation keeps things; None where the database is no SQLite file."""
    from django.conf import settings
    from django.db import connection

    if connection.vendor != "sqlite":
        return None
    database = Path(connection.settings_dict["NAME"])
    return Place(database, Path(settings.MEDIA_ROOT), database.parent / "backups")


def backups_in(place: Place) -> list[Backup]:
    """All backups, the newest first."""
    found = [_backup(path) for path in place.backups.glob("*") if _NAME.fullmatch(path.name)]
    return sorted(found, key=lambda backup: (backup.made, backup.name), reverse=True)


def named(place: Place, name: str) -> Backup | None:
    """The backup of a name; None where there is none. A name with a path in it has none."""
    path = place.backups / name
    return _backup(path) if _NAME.fullmatch(name) and path.is_file() else None


def make(place: Place, *, to: Path | None = None, keep: Path | None = None) -> Backup:
    """Back up the database and every recording, while they may be in use.

    Parameters
    ----------
    place : Place
        Where things are kept.
    to : Path or None
        File to write instead of one among the backups; then none of the old ones is removed.
    keep : Path or None
        One that is not removed, however old.

    Raises
    ------
    UsageError
        If there is no database yet, or the file cannot be written.
    """
    if not place.database.is_file():
        raise UsageError(f"There is nothing to back up: {place.database} does not exist.")
    place.backups.mkdir(parents=True, exist_ok=True, mode=0o700)
    target = to or _free_name(place.backups)
    try:
        with tempfile.TemporaryDirectory(dir=place.backups) as folder:
            database = Path(folder) / _DATABASE
            _copy_database(place.database, database)
            part = Path(folder) / "part.zip"
            _pack(part, database, place.files)
            shutil.move(part, target)
        target.chmod(0o600)
    except OSError as error:
        raise UsageError(f"{target} cannot be written ({error.strerror}).") from error
    if to is None:
        made = [backup for backup in backups_in(place) if _MADE_HERE.match(backup.name)]
        for old in made[_KEPT:]:
            if old.path != keep:
                old.path.unlink()
    return _backup(target)


def add(place: Place, source: Path, name: str) -> Backup:
    """Put a backup that was kept elsewhere among the others, once it was checked.

    Raises
    ------
    UsageError
        If it is none.
    """
    suffix = ".sqlite3" if name.endswith(".sqlite3") else ".zip"
    place.backups.mkdir(parents=True, exist_ok=True, mode=0o700)
    with tempfile.TemporaryDirectory(dir=place.backups) as folder:
        _unpacked(source, Path(folder))
        part = Path(folder) / "added"
        shutil.copyfile(source, part)
        target = _free_name(place.backups, "added", suffix)
        shutil.move(part, target)
    target.chmod(0o600)
    return _backup(target)


def restore(place: Place, source: Path) -> Backup | None:
    """Make everything as it was when a backup was made.

    Parameters
    ----------
    place : Place
        Where things are kept.
    source : Path
        The backup.

    Returns
    -------
    Backup or None
        A backup of the state that was replaced; None where there was no database yet.

    Raises
    ------
    UsageError
        If the backup is damaged, none at all, or from a newer Saltus. Nothing is changed then.
    """
    if not _one_at_a_time.acquire(blocking=False):
        raise UsageError("A backup is being put back already: wait until that is done.")
    try:
        place.backups.mkdir(parents=True, exist_ok=True, mode=0o700)
        with tempfile.TemporaryDirectory(dir=place.backups) as name:
            folder = Path(name)
            database = _unpacked(source, folder)
            _bring_up_to_date(database)
            before = make(place, keep=source) if place.database.is_file() else None
            # Recordings first: they are called by what is in them, so that none is overwritten
            # with something else, and no row is ever without its file.
            restored = _move_files(folder / _FILES, place.files)
            _copy_database(database, place.database)
            if restored is not None:
                _remove_other_files(place.files, restored)
            shutil.rmtree(place.files.with_name("incoming"), ignore_errors=True)
    finally:
        _one_at_a_time.release()
    return before


def _backup(path: Path) -> Backup:
    state = path.stat()
    return Backup(path, state.st_mtime, state.st_size, path.suffix == ".zip")


def _free_name(folder: Path, stem: str = "saltus", suffix: str = ".zip") -> Path:
    name = f"{stem}-{time.strftime('%Y%m%d-%H%M%S')}"
    for number in range(1, 1000):
        path = folder / (f"{name}{suffix}" if number == 1 else f"{name}-{number}{suffix}")
        if not path.exists():
            return path
    raise UsageError("Too many backups at once: wait a second.")


def _copy_database(source: Path, target: Path) -> None:
    # SQLite's own copying: a snapshot of the source, and one transaction in the target.
    with sqlite3.connect(source, timeout=60) as origin, sqlite3.connect(target, timeout=60) as copy:
        origin.backup(copy)
    origin.close()
    copy.close()


def _pack(target: Path, database: Path, files: Path) -> None:
    inside = [(_DATABASE, database)]
    inside += [
        (_FILES + path.relative_to(files).as_posix(), path)
        for path in sorted(files.rglob("*"))
        if path.is_file()
    ]
    sums = {}
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
        for name, path in inside:
            digest = hashlib.sha256()
            with path.open("rb") as source, archive.open(name, "w", force_zip64=True) as sink:
                while chunk := source.read(_CHUNK):
                    digest.update(chunk)
                    sink.write(chunk)
            sums[name] = digest.hexdigest()
        manifest = {"saltus_backup": 1, "version": __version__, "sha256": sums}
        archive.writestr(_MANIFEST, json.dumps(manifest, indent=1))


def _unpacked(source: Path, folder: Path) -> Path:
    """Unpack a backup into a folder and check every part; gives the database in it."""
    database = folder / _DATABASE
    try:
        if zipfile.is_zipfile(source):
            _unpack(source, folder)
        else:
            shutil.copyfile(source, database)
    except (OSError, zipfile.BadZipFile, ValueError, KeyError, EOFError) as error:
        raise UsageError(
            f"{source.name} is no backup of Saltus, or it is damaged. Nothing was changed."
        ) from error
    try:
        with sqlite3.connect(f"{database.as_uri()}?mode=ro", uri=True) as check:
            sound = check.execute("PRAGMA integrity_check").fetchone() == ("ok",)
            check.execute("SELECT count(*) FROM web_athlete").fetchone()
        check.close()
    except sqlite3.DatabaseError as error:
        raise UsageError(
            f"{source.name} holds no database of Saltus, or a damaged one. Nothing was changed."
        ) from error
    if not sound:
        raise UsageError(f"The database in {source.name} is damaged. Nothing was changed.")
    return database


def _unpack(source: Path, folder: Path) -> None:
    (folder / _FILES).mkdir()
    with zipfile.ZipFile(source) as archive:
        if archive.getinfo(_MANIFEST).file_size > _LARGEST_MANIFEST:
            raise ValueError(_MANIFEST)
        sums = json.loads(archive.read(_MANIFEST))["sha256"]
        if _DATABASE not in sums or set(archive.namelist()) != {*sums, _MANIFEST}:
            raise ValueError(_MANIFEST)
        size = sum(entry.file_size for entry in archive.infolist())
        if size > shutil.disk_usage(folder).free:
            raise UsageError(f"There is no room to unpack {source.name} ({size >> 20} MiB).")
        for name, expected in sums.items():
            parts = PurePosixPath(name).parts
            if name != _DATABASE and (not name.startswith(_FILES) or ".." in parts):
                raise ValueError(name)
            target = folder.joinpath(*parts)
            target.parent.mkdir(parents=True, exist_ok=True)
            digest = hashlib.sha256()
            with archive.open(name) as packed, target.open("wb") as sink:
                while chunk := packed.read(_CHUNK):
                    digest.update(chunk)
                    sink.write(chunk)
            if digest.hexdigest() != expected:
                raise ValueError(name)


def _bring_up_to_date(database: Path) -> None:
    """Migrate the copy, so that the pages meet no older shape of the tables."""
    from django.core.management import call_command
    from django.db import connections
    from django.db.migrations.recorder import MigrationRecorder

    alias = "backup"
    connections.databases[alias] = connections.databases["default"] | {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": str(database),
        "OPTIONS": {},
        "CONN_MAX_AGE": 0,
    }
    try:
        from django.db.migrations.loader import MigrationLoader

        connection = connections[alias]
        applied = MigrationRecorder(connection).applied_migrations()
        known = MigrationLoader(connection, ignore_no_migrations=True).disk_migrations
        if any(key not in known for key in applied if key[0] == "web"):
            raise UsageError(
                "This backup is from a newer Saltus: update Saltus first. Nothing was changed."
            )
        call_command("migrate", database=alias, interactive=False, verbosity=0)
        # What was under way then is not under way now: who was signed in, plans that were being
        # worked out, files that waited to be given to somebody.
        with connection.cursor() as cursor:
            for table in ("django_session", "web_planrun", "web_incomingrecording"):
                cursor.execute(f"DELETE FROM {table}")
    finally:
        connections[alias].close()
        del connections[alias]
        del connections.databases[alias]


def _move_files(source: Path, target: Path) -> set[Path] | None:
    """Put the files of a backup in place; None where it held none by its nature."""
    if not source.is_dir():
        return None
    placed = set()
    for path in sorted(source.rglob("*")):
        if path.is_file():
            place = target / path.relative_to(source)
            place.parent.mkdir(parents=True, exist_ok=True)
            path.replace(place)
            placed.add(place)
    return placed


def _remove_other_files(folder: Path, kept: set[Path]) -> None:
    for path in sorted(folder.rglob("*"), reverse=True):
        if path.is_file() and path not in kept:
            path.unlink()
        elif path.is_dir() and not any(path.iterdir()):
            path.rmdir()
