"""Everything that a phone needs for the days around today, in one document."""

import datetime as dt
import hashlib
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.utils import dateformat, timezone
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from saltus.athlete.assessment import Assessment
from saltus.athlete.health import PLACES
from saltus.errors import SaltusError
from saltus.record import Record
from saltus.record.known import assessment_of
from saltus.record.layout import cut_quickly
from saltus.training.gates import treated_as_minor
from saltus.training.method import Method
from saltus.training.plan import Plan, Session
from saltus.training.today.facts import Facts
from saltus.training.today.sheet import session_sheet
from saltus.web import sentences
from saltus.web.assessments import known_of
from saltus.web.kept import Kept
from saltus.web.methods.using import copy_read
from saltus.web.models import Athlete, PocketEntry, StoredPlan
from saltus.web.plans.stored import copy_of_plan, held, plan_of
from saltus.web.plans.words import exercise_name
from saltus.web.pocket.agreements import cautions_for, is_agreed
from saltus.web.pocket.entries import planned_day, planned_id
from saltus.web.pocket.sheet_told import sheet_told
from saltus.web.records import record_of
from saltus.web.units import current_units

__all__ = ["DAYS_AHEAD", "DAYS_BACK", "bundle", "coming", "exercises", "places", "stopped"]

VERSION = 1
DAYS_AHEAD, DAYS_BACK = 7, 14
_ATHLETES_KEPT = 64
_STOPS = "before training goes on."
"""How the caution of a plan ends that a pain has stopped."""

_assessed: Kept[str, Assessment] = Kept(_ATHLETES_KEPT)
_sheets: Kept[str, dict[str, Any]] = Kept(_ATHLETES_KEPT * DAYS_BACK)


@dataclass(frozen=True)
class _Known:
    """What a bundle is made from."""

    athlete: Athlete
    record: Record
    method: Method
    rules: str
    """Text of the method, where it is the coach's own."""
    plan: Plan | None
    stored: StoredPlan | None
    """Where the plan is kept; it does not change there."""
    today: dt.date


def bundle(athlete: Athlete) -> dict[str, Any]:
    """The document for the phone; what cannot be worked out is left empty, with ``fault``.

    Raises
    ------
    RecordError
        If the record is at fault.
    """
    today = timezone.localdate()
    record = record_of(athlete, recordings=False)
    units = current_units.get()
    minor = treated_as_minor(record.person, today)
    told: dict[str, Any] = {
        "version": VERSION,
        "athlete": {"id": str(athlete.pk), "name": athlete.name, "minor": minor},
        "units": {
            "length": units.length,
            "mass": units.mass,
            "plates": record.gym.unit,
            "m_per_unit": 1 / units.metre,
            "kg_per_unit": 1 / units.kilogram,
        },
        "today": today.isoformat(),
        "places": places(),
        "cautions": [
            {"id": key, "text": _(text), "agreed": is_agreed(text, record.agreed)}
            for key, text in cautions_for(minor=minor).items()
        ],
        "sessions": [],
        "exercises": [],
        "plan": [],
        "stopped": [],
        "fault": "",
    }
    planned: dict[UUID, tuple[Session, dict[str, Any]]] = {}
    ids = _ids(athlete, today)
    try:
        stored = held(athlete)
        copy = None if stored is None else copy_of_plan(athlete, stored)
        method = copy_read(copy)
        plan = None if stored is None else plan_of(stored, method)
        told["exercises"] = exercises(method)
        known = _Known(athlete, record, method, copy.text if copy else "", plan, stored, today)
        for session in _around(plan, today):
            sheet = _sheet(known, session)
            planned[ids.get(session.date) or planned_id(athlete, session.date)] = session, sheet
        told["plan"] = coming(plan, today)
        told["stopped"] = stopped(plan, today)
    except SaltusError:
        told["fault"] = _("The plan could not be read: ask your coach. You can still log.")
    told["sessions"] = _sessions(athlete, record, today, planned)
    return told


def places() -> list[dict[str, str]]:
    """Places that may hurt or be sore, with their names in the reader's language."""
    return [{"value": place, "name": _(place)} for place in PLACES]


def exercises(method: Method) -> list[dict[str, str]]:
    """Every exercise of a method by its name in the reader's language, to choose one from."""
    named = [{"value": each, "name": exercise_name(each, method)} for each in method.exercises]
    return sorted(named, key=lambda each: each["name"].casefold())


def coming(plan: Plan | None, today: dt.date) -> list[dict[str, Any]]:
    """The sessions to come, in short."""
    return [
        {
            "date": session.date.isoformat(),
            "minutes": round(session.minutes),
            "items": len(session.items),
        }
        for session in (plan.sessions if plan else ())
        if session.date >= today
    ]


def stopped(plan: Plan | None, today: dt.date) -> list[str]:
    """Why a plan holds no session from today on, where that is to be seen to; else nothing."""
    if plan is None or plan.goal_date < today or coming(plan, today):
        return []
    return [sentences.told(each) for each in plan.cautions if each.endswith(_STOPS)]


def _around(plan: Plan | None, today: dt.date) -> list[Session]:
    first, last = today - dt.timedelta(days=DAYS_BACK), today + dt.timedelta(days=DAYS_AHEAD)
    return [each for each in (plan.sessions if plan else ()) if first <= each.date <= last]


def _ids(athlete: Athlete, today: dt.date) -> dict[dt.date, UUID]:
    """Ids under which planned sessions were begun elsewhere, where they are not as usual here."""
    begun = PocketEntry.objects.filter(
        athlete=athlete, kind="start", date__gte=today - dt.timedelta(days=DAYS_BACK)
    )
    return {
        entry.date: entry.session
        for entry in begun
        if entry.data.get("planned") == entry.date.isoformat()
    }


def _sessions(
    athlete: Athlete,
    record: Record,
    today: dt.date,
    planned: dict[UUID, tuple[Session, dict[str, Any]]],
) -> list[dict[str, Any]]:
    noted = {each.planned or each.date for each in record.log if not each.free}
    entries: dict[UUID, list[PocketEntry]] = {key: [] for key in planned}
    dates = {key: session.date for key, (session, _sheet) in planned.items()}
    for entry in PocketEntry.objects.filter(
        athlete=athlete, date__gte=today - dt.timedelta(days=DAYS_BACK)
    ):
        entries.setdefault(entry.session, []).append(entry)
        dates.setdefault(entry.session, entry.date)
    found = []
    for key, some in entries.items():
        session, sheet = planned.get(key, (None, {}))
        kinds = {entry.kind for entry in some}
        if session is None and kinds <= {"agree"}:
            continue
        # One that a newer plan no longer holds was planned all the same.
        was = dates[key] if session else _planned_for(athlete, key, some)
        found.append(
            {
                "id": str(key),
                "date": dates[key].isoformat(),
                "title": _title(was) if was else "",
                "free": was is None,
                "minutes": round(session.minutes) if session else None,
                "state": "done" if "after" in kinds else "begun" if kinds - {"agree"} else "open",
                # Written down by the coach, say: nothing that the phone should ask for again.
                "noted": session is not None and not some and dates[key] in noted,
                "entries": [_entry(entry) for entry in some],
                "items": sheet.get("items", []),
                "form": sheet.get("form"),
            }
        )
    return sorted(found, key=lambda each: (each["date"], each["id"]))


def _planned_for(athlete: Athlete, key: UUID, entries: list[PocketEntry]) -> dt.date | None:
    """The day of a plan that a session was begun for; None for one that was not planned."""
    given = [each.data.get("planned") for each in entries if each.kind == "start"]
    known = next((dt.date.fromisoformat(day) for day in reversed(given) if day), None)
    return planned_day(athlete, key, entries) or known


def _title(date: dt.date) -> str:
    return _("Training on %(day)s") % {"day": dateformat.format(date, "l")}


def _entry(entry: PocketEntry) -> dict[str, Any]:
    return {
        "id": str(entry.pk),
        "session": str(entry.session),
        "date": entry.date.isoformat(),
        "kind": entry.kind,
        "at": _as_the_phone_writes(entry.at),
        "data": entry.data,
    }


def _as_the_phone_writes(at: dt.datetime) -> str:
    """UTC to the millisecond, so that the phone can compare texts."""
    return at.astimezone(dt.UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


# --- Worked out once ------------------------------------------------------------------------


def _sheet(known: _Known, session: Session) -> dict[str, Any]:
    """Items and answers of a session, kept until what they hang on changes.

    A day's own sets do not change its sheet: the phone reads those itself. What is done today
    tells in the sheets of the next days from tomorrow on. A session that is over needs no
    answers.
    """
    record = known.record
    earlier = tuple(each for each in record.log if each.date < min(session.date, known.today))
    parts = (
        (known.today, session, earlier, get_language(), current_units.get()),
        (record.pains, record.restrictions, record.gym, record.person, record.tests),
        (known.rules, known.stored and known.stored.pk),
    )
    key = hashlib.sha256(repr(parts).encode()).hexdigest()

    def made() -> dict[str, Any]:
        facts = Facts(
            date=session.date,
            person=record.person,
            assessment=_assessment(known),
            situation=record.situation_from(session.date),
            plan=known.plan,
            log=earlier,
            observations=tuple(test for test in record.observations if test.date <= session.date),
        )
        sheet = session_sheet(session, facts, known.method, ahead=session.date >= known.today)
        return sheet_told(sheet, session, known.method)

    return _sheets.get(key, made)


def _assessment(known: _Known) -> Assessment:
    """What is known of the athlete, worked out once a day and after each change but the log."""
    text = known.athlete.text
    sections = cut_quickly(text)
    if sections is not None:
        text = "".join(each.text for each in sections if each.name != "session")
    parts = [str(known.athlete.pk), known.today.isoformat(), text]
    key = hashlib.sha256("\0".join(parts).encode()).hexdigest()

    def made() -> Assessment:
        record = record_of(known.athlete)
        return assessment_of(record, known_of(known.athlete, record))

    return _assessed.get(key, made)
