"""The invented squad in the database: records, recordings, plans, logs and test days.

Everything comes from the same parts that real data goes through: the records are written by
``saltus example``, the plans are laid by the planner, assessments are kept as for anybody.
"""

import datetime as dt
import hashlib
import secrets
import tempfile
import zlib
from collections.abc import Callable
from dataclasses import asdict, replace
from pathlib import Path, PurePosixPath
from typing import Any

import numpy as np
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from saltus import record as records
from saltus.record import Record
from saltus.record.entries import RecordedTest
from saltus.record.example.folder import member_files, write_recording
from saltus.record.example.squad import SQUAD, Member
from saltus.record.example.truth import Athlete as InventedAthlete
from saltus.record.example.year import logged, moved, weeks_since
from saltus.record.known import assess_record
from saltus.record.recorded import read_options
from saltus.record.trials import Trial
from saltus.recordings.recording import Recording
from saltus.training.document import plan_document
from saltus.training.method_edit import raw_method, with_table
from saltus.training.method_file import load_method
from saltus.training.pins import move_session
from saltus.training.plan import Plan
from saltus.training.planner import make_plan
from saltus.training.situation import Situation
from saltus.web.assessments import assess_now
from saltus.web.methods.copies import change_copy, make_copy
from saltus.web.models import (
    Athlete,
    PlanRun,
    Share,
    Squad,
    StoredPlan,
    StoredRecording,
    TestDay,
    User,
)
from saltus.web.plans.stored import held, plan_of
from saltus.web.plans.words import moved_words
from saltus.web.plans.working_out import Asked, work
from saltus.web.records import add_athlete, folder_of, record_of
from saltus.web.summaries import retell
from saltus.web.testdays.reader import answer_to
from saltus.web.testdays.words import default_warm_up

__all__ = ["fill"]

_SEED = 20261125
_PLAN_WEEKS_AGO = 8
_SOLVER_S = 2.0
_MISSED_LATELY = "tomas-breck"
_WITH_ACCOUNT = "Ines Adler"
_WITH_PROPOSAL = "Ruben Castell"
_ADULT, _MASTER = 18, 45


def fill(say: Callable[[str], None]) -> dict[str, Any]:
    """Fill an empty database with the invented squad.

    Returns
    -------
    dict
        ``email`` and ``password`` of the invented coach, ``athlete``, the address of one athlete
        who has a page of her own, and ``today``.
    """
    today = timezone.localdate()
    weeks = weeks_since(today)
    password = secrets.token_urlsafe(12)
    coach = User.objects.create_user(
        "mara@marrowby-harbour.example", password, name="Mara Quist", is_superuser=True
    )
    squad = Squad.objects.create(owner=coach, name="Marrowby Harbour Athletic (invented)")
    assistant = User.objects.create_user("ebbe@marrowby-harbour.example", None, name="Ebbe Lind")
    Share.objects.create(squad=squad, user=assistant, can_edit=True)
    for number, member in enumerate(SQUAD, start=1):
        say(f"{number} of {len(SQUAD)}: {member.name.replace('-', ' ').title()}")
        _add_member(member, squad, coach, today, weeks)
    _add_test_days(squad, coach, weeks)
    _add_method(coach)
    _propose_move(squad.athletes.get(name=_WITH_PROPOSAL), coach, today)
    ines = squad.athletes.get(name=_WITH_ACCOUNT)
    ines.account = User.objects.create_user(
        "ines@marrowby-harbour.example", None, name=ines.name, is_coach=False
    )
    ines.save(update_fields=["account"])
    return {
        "email": coach.email,
        "password": password,
        "athlete": ines.account.email,
        "today": today.isoformat(),
    }


def _add_member(member: Member, squad: Squad, coach: User, today: dt.date, weeks: int) -> None:
    """Add an athlete with a year of everything."""
    text, recordings = member_files(member)
    text = moved(text, weeks)
    written = records.parse(text, recordings=False)
    # Recordings do not come to rest beside the record under their own names.
    files = {PurePosixPath(moved(name, weeks)): rec for name, rec in recordings.items()}
    with transaction.atomic():
        athlete = add_athlete(squad, _without_recordings(written), coach, group=_group(written))
        names = {name: _keep(athlete, name, rec) for name, rec in files.items()}
        for name, file in names.items():
            text = text.replace(str(name), str(file))
        athlete.text = text
        record = record_of(athlete)
        plan = _lay_plan(athlete, record, coach, today)
        invented = InventedAthlete(
            member.truth, record.person, record.blocks, min(test.date for test in record.tests)
        )
        log = logged(
            invented,
            record,
            plan,
            today,
            np.random.default_rng([_SEED, zlib.crc32(member.name.encode())]),
            missed_lately=member.name == _MISSED_LATELY,
        )
        bare = records.parse(text, recordings=False)
        athlete.text = records.render(replace(bare, log=log), text)
        athlete.health_shared = True
        athlete.save()
        athlete.revisions.update(text=athlete.text)
        for test in bare.tests:
            if isinstance(test, RecordedTest):
                _store_recording(athlete, test, names, bare, coach)
    assess_now(athlete)
    retell(athlete)  # the log came in beside the ordinary ways


def _without_recordings(record: Record) -> Record:
    tests = tuple(test for test in record.tests if not isinstance(test, RecordedTest))
    return replace(record, tests=tests)


def _group(record: Record) -> str:
    age = record.person.age(record.latest)
    if age is None:
        return ""
    return _("juniors") if age < _ADULT else _("masters") if age >= _MASTER else _("seniors")


def _keep(athlete: Athlete, name: PurePosixPath, recording: Recording) -> PurePosixPath:
    """Write a recording into the athlete's folder as an upload would lie there."""
    folder = folder_of(athlete) / "recordings"
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    with tempfile.TemporaryDirectory() as elsewhere:
        path = Path(elsewhere) / name.name
        write_recording(recording, path)
        content = path.read_bytes()
    target = folder / f"{hashlib.sha256(content).hexdigest()}{name.suffix}"
    target.write_bytes(content)
    return PurePosixPath("recordings") / target.name


def _store_recording(
    athlete: Athlete,
    test: RecordedTest,
    names: dict[PurePosixPath, PurePosixPath],
    record: Record,
    coach: User,
) -> None:
    path = folder_of(athlete) / test.file
    name = next(own for own, stored in names.items() if stored == test.file).name
    options = read_options(test, record.person.mass_kg(test.date))
    request = {"path": str(path), "name": name, "options": asdict(options), "kind": test.jump}
    given = {"jump": test.jump, "load_kg": test.load_kg or None, "box_m": test.box_m}
    StoredRecording.objects.create(
        athlete=athlete,
        name=name,
        sha256=path.stem,
        suffix=path.suffix,
        size=path.stat().st_size,
        date=test.date,
        options={key: value for key, value in given.items() if value is not None},
        analysis=answer_to(request),
        by=coach,
    )


def _lay_plan(athlete: Athlete, record: Record, coach: User, today: dt.date) -> Any:
    """Lay the plan that the athlete has been training by, from the tests known then."""
    begun = today - dt.timedelta(days=today.weekday(), weeks=_PLAN_WEEKS_AGO)
    known = tuple(test for test in record.tests if test.date < begun)
    assessment = assess_record(replace(record, tests=known))
    plan = make_plan(
        record.person,
        assessment,
        record.situation_from(begun),
        load_method(None),
        time_limit_s=_SOLVER_S,
    )
    accepted = timezone.now() - dt.timedelta(weeks=_PLAN_WEEKS_AGO)
    stored = StoredPlan.objects.create(
        athlete=athlete,
        number=1,
        plan=plan_document(plan),
        accepted=accepted,
        made_from_revision=1,
        by=coach,
    )
    StoredPlan.objects.filter(pk=stored.pk).update(at=accepted)
    return plan


def _add_test_days(squad: Squad, coach: User, weeks: int) -> None:
    """Add the last test day, with what is on record, and the next one, still empty."""
    trials = (
        Trial(kind="body_mass", key="mass", attempts=1),
        Trial(kind="countermovement_jump", key="mat", method="mat", way="heights"),
        Trial(
            kind="approach_jump", key="touch", method="reach", way="touched", arms=True, attempts=3
        ),
        Trial(kind="maximum", key="squat", lift="back_squat", attempts=1),
    )
    last = dt.date.fromisoformat(moved("2026-11-16", weeks))
    people = Athlete.objects.filter(squad=squad)
    for date, title in ((last, _("Autumn tests")), (last + dt.timedelta(weeks=4), "")):
        day = TestDay.objects.create(
            squad=squad,
            date=date,
            title=title,
            warm_up=default_warm_up(),
            tests=[trial.as_row() for trial in trials],
            by=coach,
        )
        day.athletes.set(people)


def _add_method(coach: User) -> None:
    """Add a copy of the method that asks for fewer box jumps than the one that ships."""
    copy = make_copy(coach, "Harbour winter method (invented)")
    place, phase = next(
        (place, phase)
        for place, phase in enumerate(raw_method(copy.text)["phase"])
        if phase["id"] == "strength_speed"
    )
    boxes = next(use for use in phase["use"] if use["family"] == "box_jump")
    boxes["sets"] = [2, 4]
    text = with_table(copy.text, ("phase", place), phase)
    change_copy(copy, coach, text, revision=1, what=_("fewer box jumps in strength-speed"))


def _propose_move(athlete: Athlete, coach: User, today: dt.date) -> None:
    """Have a plan repaired round a session that the coach moved; nobody has accepted it yet."""
    stored = held(athlete)
    assert stored is not None
    plan = plan_of(stored, load_method(None))
    situation = record_of(athlete, recordings=False).situation_from(plan.start)
    date, to = _to_be_moved(plan, situation, today)
    asked = Asked(
        what=moved_words(date, to),
        start=max(today, plan.start),
        shipped=True,
        pins=move_session(plan, date, to, situation),
    )
    work(PlanRun.objects.create(athlete=athlete, asked=asked.as_json(), by=coach).token)


def _to_be_moved(plan: Plan, situation: Situation, today: dt.date) -> tuple[dt.date, dt.date]:
    """The first session of a week to come, and the last day of that week with nothing on it."""
    taken = {event.date for event in situation.events} | {s.date for s in plan.sessions}
    for week in plan.weeks:
        days = [week.start + dt.timedelta(days=day) for day in range(7)]
        free = [day for day in days if day not in taken and day not in situation.blocked]
        if week.start > today and week.sessions and free:
            return week.sessions[0].date, free[-1]
    raise AssertionError("no week of the plan has a free day")
