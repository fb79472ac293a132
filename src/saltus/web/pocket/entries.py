"""Entries from a phone: checked one by one, kept once, and told to the record.

Values are checked against the table of fields of the record itself, so that the phone cannot
say what a coach could not write.
"""

import datetime as dt
import json
import re
import uuid
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from saltus.record import schema
from saltus.record.checking import Checker
from saltus.record.fields import Table
from saltus.tomltext import Lines
from saltus.web import sentences
from saltus.web.models import Athlete, PocketEntry, User
from saltus.web.pocket.agreements import MINORS, cautions_for
from saltus.web.pocket.telling import tell_record

__all__ = [
    "MOST_BYTES",
    "Kept",
    "Refusal",
    "checked",
    "checked_data",
    "keep",
    "planned_id",
    "read_request",
]


MOST_BYTES = 512_000
"""Of one request."""

_MOST_ENTRIES = 500
_MOST_IN_SESSION = 600
_MOST_PLACES = 30
_MOST_NUMBER = 99
_LONGEST = {"exercise": 80, "what": 120, "why": 200, "note": 1000, "by": 120, "guardian": 120}
_LONGEST_PLACE = 60
_EARLIEST = dt.timedelta(days=400)
_AHEAD = dt.timedelta(days=2)
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f]")
_SPACE = uuid.UUID("6f0f4f3c-1d0e-5a53-9a1b-2f6a1d1b7c11")

_SET_KEYS = {
    "exercise": ("exercise", 1),
    "reps": ("reps", 1),
    "missed": ("missed", 1),
    "load_kg": ("load_kg", 1),
    "box_m": ("box_cm", 100),
    "drop_m": ("drop_cm", 100),
    "reserve": ("reserve", 1),
    "speed_m_s": ("speed_m_s", 1),
    "jump_m": ("jump_cm", 100),
    "contact_s": ("contact_ms", 1000),
    "soft_landings": ("soft_landings", 1),
    "note": ("note", 1),
}
"""Where a value of a set stands in the record, and how many of its units are one of ours."""


class Refusal(ValueError):
    """Why one entry is not taken, in a sentence for the athlete."""


@dataclass
class Kept:
    """What became of a request.

    Parameters
    ----------
    kept : list of str
        Ids of what is in the database, new or not.
    refused : list of dict
        ``id`` and ``why`` of what is not.
    """

    kept: list[str] = field(default_factory=list)
    refused: list[dict[str, str]] = field(default_factory=list)


def planned_id(athlete: Athlete, date: dt.date) -> uuid.UUID:
    """Id of the planned session of a day: the same on every phone."""
    return uuid.uuid5(_SPACE, f"{athlete.pk} {date.isoformat()}")


def read_request(body: bytes) -> tuple[uuid.UUID, list[Any], str | None]:
    """The device, the entries as they came, and whose they are, of a request.

    Raises
    ------
    Refusal
        If it is nothing that a phone of ours sends.
    """
    try:
        told = json.loads(body, parse_constant=_no_number)
        device, entries = uuid.UUID(str(told["device"])), told["entries"]
        athlete = told.get("athlete")
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError) as error:
        raise Refusal(_("This is not what the page sends.")) from error
    if not isinstance(entries, list) or len(entries) > _MOST_ENTRIES:
        raise Refusal(_("These are too many entries at once."))
    return device, entries, None if athlete is None else str(athlete)


def _no_number(_text: str) -> float:
    raise ValueError


def keep(athlete: Athlete, user: User, device: uuid.UUID, entries: Iterable[Any]) -> Kept:
    """Keep entries of an athlete, and tell the record what they come to; all in one transaction.

    An entry whose id is known is kept already, whatever else it says this time.
    """
    answer = Kept()
    read: dict[uuid.UUID, PocketEntry] = {}
    seen: dict[uuid.UUID, str] = {}
    refused: dict[str, str] = {}
    for raw in entries:
        try:
            entry = checked(raw, athlete, device)
        except Refusal as error:
            refused[_told_id(raw)] = str(error)
        else:
            seen[entry.pk] = str(raw["id"])
            read.setdefault(entry.pk, entry)
    with transaction.atomic():
        locked = Athlete.objects.select_for_update().select_related("squad").get(pk=athlete.pk)
        there = dict(PocketEntry.objects.filter(pk__in=read).values_list("pk", "athlete_id"))
        new = [entry for pk, entry in read.items() if pk not in there]
        sessions: dict[uuid.UUID, list[PocketEntry]] = defaultdict(list)
        for entry in PocketEntry.objects.filter(
            athlete=locked, session__in={entry.session for entry in new}
        ):
            sessions[entry.session].append(entry)
        fresh: dict[uuid.UUID, list[PocketEntry]] = defaultdict(list)
        for entry in new:
            if len(sessions[entry.session]) + len(fresh[entry.session]) >= _MOST_IN_SESSION:
                refused[str(entry.pk)] = _("This session holds too many entries.")
            else:
                fresh[entry.session].append(entry)
        PocketEntry.objects.bulk_create([each for some in fresh.values() for each in some])
        tell_record(
            locked,
            user,
            [
                (session, planned_day(locked, session, some), sessions[session], some)
                for session, some in fresh.items()
                if some
            ],
        )
    for pk, told in seen.items():
        if there.get(pk, locked.pk) != locked.pk:
            refused[told] = _("This entry cannot be told from another: enter it again.")
        elif str(pk) not in refused:
            answer.kept.append(told)
    answer.refused = [{"id": each, "why": why} for each, why in refused.items()]
    return answer


def planned_day(
    athlete: Athlete, session: uuid.UUID, entries: Iterable[PocketEntry]
) -> dt.date | None:
    """The day of the plan that a session's id stands for, where it stands for one."""
    days = {entry.date for entry in entries}
    return next((day for day in sorted(days) if planned_id(athlete, day) == session), None)


def _told_id(raw: Any) -> str:
    return str(raw.get("id", ""))[:64] if isinstance(raw, Mapping) else ""


# --- One entry ------------------------------------------------------------------------------


def checked(raw: Any, athlete: Athlete, device: uuid.UUID) -> PocketEntry:
    """One entry, its values checked.

    Raises
    ------
    Refusal
        If something in it cannot be kept.
    """
    if not isinstance(raw, Mapping) or not isinstance(raw.get("data"), Mapping):
        raise Refusal(_("This entry could not be read."))
    kind = raw.get("kind")
    if not isinstance(kind, str):
        raise Refusal(_("This entry could not be read."))
    return PocketEntry(
        id=_uuid(raw.get("id")),
        athlete=athlete,
        session=_uuid(raw.get("session")),
        date=_day(raw.get("date")),
        kind=kind,
        data=checked_data(kind, raw["data"]),
        at=_moment(raw.get("at")),
        device=device,
    )


def checked_data(kind: str, data: Mapping[str, Any]) -> dict[str, Any]:
    """What an entry of a kind says, its values checked.

    Raises
    ------
    Refusal
        If something in it cannot be kept, or there is no such kind.
    """
    if kind not in _KINDS:
        raise Refusal(_("This kind of entry is not known here: reload the page."))
    return _KINDS[kind](data)


def _uuid(value: Any) -> uuid.UUID:
    try:
        return uuid.UUID(value)
    except (ValueError, TypeError, AttributeError) as error:
        raise Refusal(_("This entry could not be read.")) from error


def _day(value: Any) -> dt.date:
    try:
        day = dt.date.fromisoformat(value)
    except (ValueError, TypeError) as error:
        raise Refusal(_("The day of this entry could not be read.")) from error
    today = timezone.localdate()
    if not today - _EARLIEST <= day <= today + _AHEAD:
        raise Refusal(
            _("The day %(day)s is not one that can be entered: set the phone's clock.")
            % {"day": day.isoformat()}
        )
    return day


def _moment(value: Any) -> dt.datetime:
    try:
        moment = dt.datetime.fromisoformat(value)
    except (ValueError, TypeError) as error:
        raise Refusal(_("The time of this entry could not be read.")) from error
    if moment.tzinfo is None:
        moment = moment.replace(tzinfo=dt.UTC)
    if not 2000 <= moment.year <= 2100:
        raise Refusal(_("The time of this entry could not be read."))
    return moment


def _text(data: Mapping[str, Any], key: str, *, needed: bool = False) -> str:
    value = data.get(key)
    if value is None:
        value = ""
    if not isinstance(value, str):
        raise Refusal(_("This entry could not be read."))
    try:
        value.encode()
    except UnicodeEncodeError as error:
        raise Refusal(_("A character in it cannot be kept: write it in other words.")) from error
    text = _CONTROL.sub("", value).strip()
    longest = _LONGEST.get(key, _LONGEST_PLACE)
    if len(text) > longest:
        raise Refusal(
            _("A text is longer than %(longest)d characters: shorten it.") % {"longest": longest}
        )
    if needed and not text:
        raise Refusal(_("A word is missing: say what it was."))
    return text


def _fields(table: Table, values: Mapping[str, Any]) -> dict[str, Any]:
    """Check values as the record would, and give them back in SI by the names of the record."""
    checker = Checker(Lines(""))
    row = checker.row(table, {k: v for k, v in values.items() if v is not None}, (table.name,))
    if row is None or checker.faults:
        fault = checker.faults[0]
        what = fault.where.rsplit(".", 1)[-1]
        said = sentences.told(str(fault.what))
        raise Refusal(f"{what}: {said}" if what != table.name else said)
    return row.values


def _of_session(data: Mapping[str, Any], *names: str) -> dict[str, Any]:
    """Values of the session itself; its day, which its table asks for, is checked elsewhere."""
    told = _fields(
        schema.SESSION, {"date": "2026-01-01"} | {name: data.get(name) for name in names}
    )
    return {name: told.get(name) for name in names}


def _whole(data: Mapping[str, Any], key: str) -> int | None:
    value = data.get(key)
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= _MOST_NUMBER:
        raise Refusal(_("This entry could not be read."))
    return value


def _start(data: Mapping[str, Any]) -> dict[str, Any]:
    planned = data.get("planned")
    try:
        planned = None if planned is None else dt.date.fromisoformat(planned).isoformat()
    except (ValueError, TypeError) as error:
        raise Refusal(_("The day of this entry could not be read.")) from error
    return {"planned": planned, "free": data.get("free") is True, "what": _text(data, "what")}


def _before(data: Mapping[str, Any]) -> dict[str, Any]:
    return _of_session(data, "sleep_hours") | {
        "soreness": _places(data.get("soreness")),
        "pain": _places(data.get("pain")),
    }


def _places(value: Any) -> list[dict[str, Any]]:
    if value is None:
        return []
    if not isinstance(value, list) or len(value) > _MOST_PLACES:
        raise Refusal(_("The places of this entry could not be read."))
    found = []
    for each in value:
        if not isinstance(each, Mapping):
            raise Refusal(_("The places of this entry could not be read."))
        told = _fields(
            schema.SORENESS,
            {"place": _text(each, "place", needed=True), "level": each.get("level")},
        )
        found.append({"place": told["place"], "level": told["level"]})
    return found


def _set(data: Mapping[str, Any]) -> dict[str, Any]:
    given = {key: data.get(key) for key in _SET_KEYS}
    given["exercise"] = _text(data, "exercise", needed=True)
    given["note"] = _text(data, "note")
    raw = {}
    for key, (name, factor) in _SET_KEYS.items():
        value = given[key]
        number = isinstance(value, int | float) and not isinstance(value, bool)
        raw[name] = value * factor if number and factor != 1 else value
    _fields(schema.SETS, raw)
    kept = {key: value for key, value in given.items() if value is not None and value != ""}
    replaces = data.get("replaces")
    return kept | {
        "item": _whole(data, "item"),
        "number": _whole(data, "number"),
        "replaces": None if replaces is None else str(_uuid(replaces)),
    }


def _skip(data: Mapping[str, Any]) -> dict[str, Any]:
    return {
        "exercise": _text(data, "exercise", needed=True),
        "item": _whole(data, "item"),
        "why": _text(data, "why", needed=True),
    }


def _remove(data: Mapping[str, Any]) -> dict[str, Any]:
    return {"entry": str(_uuid(data.get("entry")))}


def _after(data: Mapping[str, Any]) -> dict[str, Any]:
    return _of_session(data, "effort", "minutes", "landings") | {"note": _text(data, "note")}


def _agree(data: Mapping[str, Any]) -> dict[str, Any]:
    caution = data.get("caution")
    if not isinstance(caution, str) or caution not in cautions_for(minor=True):
        raise Refusal(_("This caution is not known here: reload the page."))
    guardian = _text(data, "guardian")
    if caution in MINORS and not guardian:
        raise Refusal(_("Write who has read this with you."))
    return {"caution": caution, "by": _text(data, "by"), "guardian": guardian}


_KINDS: dict[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {
    "start": _start,
    "before": _before,
    "set": _set,
    "skip": _skip,
    "remove": _remove,
    "after": _after,
    "agree": _agree,
}
