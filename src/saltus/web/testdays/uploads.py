"""Uploaded recordings: received, read, and put into an athlete's record.

Names of files are shown, never used: a file is stored under the hash of its content. It waits
beside the athletes' folders until it can be read and it is known whose it is.
"""

import datetime as dt
import hashlib
import shutil
from collections.abc import Mapping
from dataclasses import fields, replace
from pathlib import Path, PurePath, PurePosixPath
from typing import Any

from django.conf import settings
from django.core.files.uploadedfile import UploadedFile
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from saltus.errors import RecordingError, SaltusError
from saltus.jumps.jump import Measure
from saltus.record import Record
from saltus.record.entries import JumpDecision, RecordedTest
from saltus.record.recorded import read_options, weight_note
from saltus.recordings.files import EXTENSIONS
from saltus.recordings.options import ReadOptions
from saltus.web.models import Athlete, IncomingRecording, Squad, StoredRecording, TestDay, User
from saltus.web.records import EditedMeanwhile, change_record, folder_of, record_of
from saltus.web.sentences import told
from saltus.web.testdays.reading import analysis_of, in_page_words
from saltus.web.testdays.waiting import figures_beside, waiting_path

__all__ = [
    "OPTIONS",
    "AlreadyThere",
    "accept",
    "decide",
    "discard",
    "figure_path",
    "file_path",
    "look_again",
    "read_again",
    "receive",
    "reread",
    "take_out",
    "test_in",
    "weight_remark",
]

OPTIONS = frozenset(
    {
        "jump",
        "box_m",
        "load_kg",
        "arms",
        "rate_hz",
        "time",
        "force",
        "left",
        "right",
        "unit",
        "first_plate",
        "resample",
    }
)
"""Fields of a recorded test that a coach may set."""

_KEPT_DAYS = 14


class AlreadyThere(SaltusError):
    """The same file is in the athlete's record already."""


def file_path(recording: StoredRecording) -> Path:
    """The file as it came."""
    folder = folder_of(recording.athlete) / "recordings"
    return folder / f"{recording.sha256}{recording.suffix}"


def figure_path(recording: StoredRecording, number: int) -> Path:
    """Specification of one of its figures, from 1."""
    path = file_path(recording)
    return path.with_name(f"{path.stem}.{number}.json")


def receive(
    upload: UploadedFile,
    squad: Squad,
    user: User,
    date: dt.date,
    options: Mapping[str, Any],
    *,
    athlete: Athlete | None = None,
    day: TestDay | None = None,
) -> IncomingRecording:
    """Keep an uploaded file until it can go into a record, and read it.

    Raises
    ------
    RecordingError
        If it is empty or larger than any recording.
    """
    name = PurePath((upload.name or "").replace("\\", "/")).name[:200] or _("without a name")
    limit = settings.RECORDING_LIMIT_BYTES
    if not upload.size:
        raise RecordingError(_("%(name)s is empty.") % {"name": name})
    if upload.size > limit:
        raise RecordingError(
            _("%(name)s is larger than %(limit)d MB: cut the recording into shorter ones.")
            % {"name": name, "limit": limit // 1_000_000}
        )
    _tidy()
    suffix = PurePath(name).suffix.casefold()
    incoming = IncomingRecording(
        squad=squad,
        test_day=day,
        athlete=athlete,
        name=name,
        suffix=suffix if suffix in EXTENSIONS else ".dat",
        size=upload.size,
        date=date,
        options=dict(options),
        by=user,
    )
    digest = hashlib.sha256()
    with waiting_path(incoming).open("wb") as file:
        for chunk in upload.chunks():
            digest.update(chunk)
            file.write(chunk)
    incoming.sha256 = digest.hexdigest()
    incoming.save()
    read_again(incoming, options)
    return incoming


def read_again(incoming: IncomingRecording, options: Mapping[str, Any]) -> None:
    """Read a waiting file, and keep what was found or why it cannot be read."""
    incoming.options = dict(options)
    mass = None
    if incoming.athlete is not None:
        mass = record_of(incoming.athlete, recordings=False).person.mass_kg(incoming.date)
    incoming.analysis, incoming.error = _read(
        waiting_path(incoming), incoming.name, incoming.date, options, mass
    )
    incoming.save()


def _read(
    path: Path, name: str, date: dt.date, options: Mapping[str, Any], mass_kg: float | None
) -> tuple[dict[str, Any], str]:
    test = _test(path, date, options)
    try:
        reading = (
            ReadOptions(
                **{k: v for k, v in options.items() if k in {f.name for f in fields(ReadOptions)}}
            )
            if mass_kg is None
            else read_options(test, mass_kg)
        )
    except SaltusError as error:
        return {}, in_page_words(str(error))
    answer = analysis_of(path, name, reading, test.jump)
    error_words = answer.pop("error", "")
    if not error_words and not answer["jumps"]:
        error_words = " ".join([_("No jump was found in it."), *map(told, answer["notes"])])
    return answer, error_words


def _test(path: Path, date: dt.date, options: Mapping[str, Any]) -> RecordedTest:
    given = {name: value for name, value in options.items() if name in OPTIONS}
    return RecordedTest(date=date, file=PurePosixPath("recordings") / path.name, **given)


def weight_remark(analysis: Mapping[str, Any], athlete: Athlete, date: dt.date, load: float) -> str:
    """Whether somebody else seems to have stood on the plate; empty where not."""
    weight = analysis.get("body_weight_n")
    if weight is None:
        return ""
    mass = record_of(athlete, recordings=False).person.mass_kg(date)
    measure = Measure(weight, analysis.get("body_weight_se_n") or 0.0, "N", "")
    return " ".join(weight_note(measure, mass + load))


def accept(
    incoming: IncomingRecording,
    athlete: Athlete,
    user: User,
    decisions: tuple[JumpDecision, ...] = (),
) -> StoredRecording:
    """Put a waiting recording into an athlete's record.

    Raises
    ------
    AlreadyThere
        If the record has it.
    RecordingError
        If it could not be read.
    """
    if incoming.error:
        raise RecordingError(incoming.error)
    if StoredRecording.objects.filter(athlete=athlete, sha256=incoming.sha256).exists():
        raise AlreadyThere(_("%(name)s is in the record already.") % {"name": incoming.name})
    waiting = waiting_path(incoming)
    folder = folder_of(athlete) / "recordings"
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    target = folder / f"{incoming.sha256}{incoming.suffix}"
    shutil.copyfile(waiting, target)
    for figure in figures_beside(waiting):
        shutil.copyfile(
            figure, target.with_name(f"{target.stem}{figure.name[len(waiting.stem) :]}")
        )
    test = replace(
        _test(target, incoming.date, incoming.options),
        decisions=decisions,
        note=incoming.test_day.title if incoming.test_day else "",
    )
    with transaction.atomic():
        change_record(
            athlete,
            user,
            lambda record: replace(record, tests=(*record.tests, test)),
            what=_("recording added: %(name)s") % {"name": incoming.name},
        )
        stored = StoredRecording.objects.create(
            athlete=athlete,
            name=incoming.name,
            sha256=incoming.sha256,
            suffix=incoming.suffix,
            size=incoming.size,
            date=incoming.date,
            options=incoming.options,
            analysis=incoming.analysis,
            by=user,
        )
        discard(incoming)
    return stored


def discard(incoming: IncomingRecording) -> None:
    """Throw a waiting file away; the file goes with its row."""
    incoming.delete()


def _tidy() -> None:
    """Throw away what nobody has come back for."""
    before = timezone.now() - dt.timedelta(days=_KEPT_DAYS)
    for old in IncomingRecording.objects.filter(at__lt=before)[:50]:
        discard(old)


def test_in(record: Record, recording: StoredRecording) -> RecordedTest | None:
    """What the record says of a recording, or None where it was taken out of it."""
    wanted = f"{recording.sha256}{recording.suffix}"
    return next(
        (
            test
            for test in record.tests
            if isinstance(test, RecordedTest) and test.file.name == wanted
        ),
        None,
    )


test_in.__test__ = False  # type: ignore[attr-defined]


def _with_test(record: Record, recording: StoredRecording, test: RecordedTest | None) -> Record:
    old = test_in(record, recording)
    if old is None:
        raise EditedMeanwhile(_("This recording is no longer in the record."))
    tests = [test if each is old else each for each in record.tests]
    return replace(record, tests=tuple(each for each in tests if each is not None))


def reread(recording: StoredRecording, options: Mapping[str, Any], user: User) -> str:
    """Read a stored recording in another way; returns why that does not work, or nothing."""
    mass = record_of(recording.athlete, recordings=False).person.mass_kg(recording.date)
    path = file_path(recording)
    analysis, error = _read(path, recording.name, recording.date, options, mass)
    if error:
        return error
    fresh = _test(path, recording.date, options)

    def change(record: Record) -> Record:
        old = test_in(record, recording)
        if old is None:
            raise EditedMeanwhile(_("This recording is no longer in the record."))
        kept = replace(fresh, note=old.note, decisions=old.decisions)
        return _with_test(record, recording, kept)

    with transaction.atomic():
        change_record(
            recording.athlete,
            user,
            change,
            what=_("recording read in another way: %(name)s") % {"name": recording.name},
        )
        recording.options, recording.analysis = dict(options), analysis
        recording.save(update_fields=["options", "analysis"])
    return ""


def look_again(recording: StoredRecording) -> None:
    """Read a stored recording that came without its figures, as from an import."""
    mass = record_of(recording.athlete, recordings=False).person.mass_kg(recording.date)
    path = file_path(recording)
    if not path.is_file():
        return
    analysis, error = _read(path, recording.name, recording.date, recording.options, mass)
    if not error:
        recording.analysis = analysis
        recording.save(update_fields=["analysis"])


def decide(
    recording: StoredRecording,
    number: int,
    decision: JumpDecision | None,
    user: User,
    *,
    seen: str,
) -> None:
    """Keep or drop one jump of a recording, or take the decision back.

    Raises
    ------
    EditedMeanwhile
        If somebody else decided on the same jump since `seen`.
    """

    def change(record: Record) -> Record:
        test = test_in(record, recording)
        if test is None:
            raise EditedMeanwhile(_("This recording is no longer in the record."))
        present = next((d for d in test.decisions if d.jump == number), None)
        if _told(present) != seen:
            raise EditedMeanwhile(
                _(
                    "Somebody else decided on this jump since you opened the page. Nothing was "
                    "overwritten: go back, reload, and decide again."
                )
            )
        others = [d for d in test.decisions if d.jump != number]
        if decision is not None:
            others.append(decision)
        ordered = tuple(sorted(others, key=lambda d: d.jump))
        return _with_test(record, recording, replace(test, decisions=ordered))

    words = {
        None: _("decision on jump %(number)s taken back"),
        True: _("jump %(number)s kept"),
        False: _("jump %(number)s dropped"),
    }[None if decision is None else decision.keep]
    with transaction.atomic():
        changed = change_record(recording.athlete, user, change, what=words % {"number": number})
        test = test_in(record_of(changed, recordings=False), recording)
        assert test is not None
        recording.decisions = {str(d.jump): {"keep": d.keep, "why": d.why} for d in test.decisions}
        recording.save(update_fields=["decisions"])


def _told(decision: JumpDecision | None) -> str:
    return "" if decision is None else f"{int(decision.keep)} {decision.why}"


def take_out(recording: StoredRecording, user: User) -> None:
    """Take a recording out of the record.

    The file stays in the athlete's folder, so that an earlier revision can be brought back;
    it goes when the athlete is deleted for good.
    """

    def change(record: Record) -> Record:
        if test_in(record, recording) is None:
            return record
        return _with_test(record, recording, None)

    with transaction.atomic():
        change_record(
            recording.athlete,
            user,
            change,
            what=_("recording taken out: %(name)s") % {"name": recording.name},
        )
        recording.delete()
