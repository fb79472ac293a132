"""What the entries of a session come to, in whatever order they arrived.

The phone reads its own entries by the same rules (static/pocket/session.js): they are put in
order of the phone's clock, what was taken back or corrected does not count, of single answers
the latest does, and sets are all that there are.
"""

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, fields, replace
from typing import Any, Protocol
from uuid import UUID

from saltus.athlete.health import Pain
from saltus.record.encoding import alike
from saltus.record.entries import Agreement
from saltus.record.record import Record
from saltus.training.log import LoggedSession, LoggedSet, Soreness
from saltus.web.pocket.agreements import agree, agreement_of

__all__ = ["Entry", "Folded", "changed", "fold"]


class Entry(Protocol):
    """What is read of an entry."""

    id: UUID
    date: dt.date
    kind: str
    data: Mapping[str, Any]
    at: dt.datetime


@dataclass(frozen=True, slots=True)
class Folded:
    """What entries come to.

    Parameters
    ----------
    session : LoggedSession or None
        None where nothing of it is left.
    pains : tuple of Pain
        Told before it.
    agreed : tuple of Agreement
        Cautions agreed to on the way.
    """

    session: LoggedSession | None = None
    pains: tuple[Pain, ...] = ()
    agreed: tuple[Agreement, ...] = ()


_NOTHING = Folded()


def fold(session: UUID, planned: dt.date | None, entries: Iterable[Entry], name: str) -> Folded:
    """Fold the entries of one session.

    Parameters
    ----------
    session : UUID
        Its id.
    planned : date or None
        Day of the plan whose session it is, as its id says; None where the id says nothing.
    entries : iterable of Entry
        All of them, in any order.
    name : str
        Of the athlete, for what they agreed to.
    """
    ordered = sorted(entries, key=lambda entry: (entry.at, str(entry.id)))
    gone = _gone(ordered)
    standing = [entry for entry in ordered if entry.id not in gone]
    agreed = tuple(
        agreement_of(entry.data, entry.date, name) for entry in standing if entry.kind == "agree"
    )
    told = [entry for entry in standing if entry.kind not in ("agree", "remove")]
    if not told:
        return replace(_NOTHING, agreed=agreed)
    latest = {entry.kind: entry for entry in told}
    start, before, after = (
        dict(latest[kind].data) if kind in latest else {} for kind in ("start", "before", "after")
    )
    date = latest["start"].date if "start" in latest else told[0].date
    pains = tuple(
        {
            each["place"]: Pain(date, each["place"], each["level"])
            for each in before.get("pain", ())
        }.values()
    )
    given = start.get("planned")
    planned = planned or (dt.date.fromisoformat(given) if given else None)
    return Folded(
        LoggedSession(
            date=date,
            id=str(session),
            planned=planned,
            free=planned is None and bool(start.get("free", False)),
            what=start.get("what") or "",
            minutes=after.get("minutes"),
            effort=after.get("effort"),
            landings=after.get("landings"),
            sleep_hours=before.get("sleep_hours"),
            soreness=tuple(
                {
                    each["place"]: Soreness(each["place"], each["level"])
                    for each in before.get("soreness", ())
                }.values()
            ),
            pain=max((pain.level for pain in pains), default=0) if before else None,
            sets=tuple(_set(entry) for entry in _in_place(told, ordered)),
            note=after.get("note") or "",
        ),
        pains,
        agreed,
    )


def _gone(entries: Sequence[Entry]) -> set[UUID]:
    """Entries that were taken back, and sets that were corrected."""
    found = {UUID(entry.data["entry"]) for entry in entries if entry.kind == "remove"}
    found |= {
        UUID(entry.data["replaces"])
        for entry in entries
        if entry.kind == "set" and entry.data.get("replaces")
    }
    return found


def _in_place(told: Sequence[Entry], ordered: Sequence[Entry]) -> list[Entry]:
    """Sets and what was left out; a corrected set keeps the place of the first."""
    known = {entry.id: number for number, entry in enumerate(ordered)}

    def place(entry: Entry) -> int:
        seen = {entry.id}
        while (replaced := entry.data.get("replaces")) and (before := UUID(replaced)) in known:
            if before in seen:
                break  # two that claim to correct each other
            seen.add(before)
            entry = ordered[known[before]]
        return known[entry.id]

    return sorted((entry for entry in told if entry.kind in ("set", "skip")), key=place)


def _set(entry: Entry) -> LoggedSet:
    data = entry.data
    if entry.kind == "skip":
        return LoggedSet(exercise=data["exercise"], reps=0, skipped=data["why"])
    return LoggedSet(
        exercise=data["exercise"],
        reps=data["reps"],
        missed=data.get("missed") or 0,
        load_kg=data.get("load_kg"),
        box_m=data.get("box_m"),
        drop_m=data.get("drop_m"),
        reserve=data.get("reserve"),
        speed_m_s=data.get("speed_m_s"),
        jump_m=data.get("jump_m"),
        contact_s=data.get("contact_s"),
        soft_landings=data.get("soft_landings"),
        note=data.get("note") or "",
    )


# --- Into the record ------------------------------------------------------------------------


def changed(record: Record, session: UUID, before: Folded, now: Folded) -> Record:
    """The record once more entries of a session have come.

    What a coach changed in the session by hand stays as it is: a field that no longer says what
    the phone had said is the coach's, and so are the sets, to which only new ones are added.

    Parameters
    ----------
    record : Record
        The present one; its log may hold other sessions too.
    session : UUID
        Id of the session.
    before, now : Folded
        What the entries came to without the new ones, and with them.
    """
    found = next((each for each in record.log if each.id == str(session)), None)
    merged = _merged(found, before.session, now.session)
    log = tuple(each for each in record.log if each is not found)
    if found is not None and merged is not None:
        log = tuple(merged if each is found else each for each in record.log)
    elif merged is not None:
        log = (*log, merged)
    return replace(
        agree(record, [each for each in now.agreed if each not in before.agreed]),
        log=log,
        pains=_pains(record.pains, before.pains, now.pains),
    )


def _merged(
    found: LoggedSession | None, before: LoggedSession | None, now: LoggedSession | None
) -> LoggedSession | None:
    if found is None and before is not None and now is not None:
        # The coach took it out: only what is new since comes in.
        fresh = LoggedSession(
            date=now.date, id=now.id, planned=now.planned, free=now.free, what=now.what
        )
        merged = _merged(fresh, before, now)
        return None if merged == fresh else merged
    if found is None or before is None:
        return now
    if now is None:
        return None if _same(found, before) else found
    values = {}
    for each in fields(LoggedSession):
        theirs, was, mine = (getattr(one, each.name) for one in (found, before, now))
        if _same(theirs, was):
            values[each.name] = mine
        elif each.name == "sets":
            values[each.name] = (*theirs, *_new(mine, was))
        else:
            values[each.name] = theirs
    return LoggedSession(**values)


def _new(sets: Sequence[LoggedSet], known: Sequence[LoggedSet]) -> list[LoggedSet]:
    left = list(known)
    found = []
    for each in sets:
        if each in left:
            left.remove(each)
        else:
            found.append(each)
    return found


def _same(one: Any, other: Any) -> bool:
    return alike(_plain(one), _plain(other))


def _plain(value: Any) -> Any:
    if isinstance(value, tuple):
        return [_plain(each) for each in value]
    if isinstance(value, LoggedSession | LoggedSet | Soreness):
        return {each.name: _plain(getattr(value, each.name)) for each in fields(value)}
    return value


def _pains(
    pains: tuple[Pain, ...], before: Sequence[Pain], now: Sequence[Pain]
) -> tuple[Pain, ...]:
    """Pains of the record, those told before a session brought up to date."""
    told = [pain for pain in before if pain not in now]
    fresh = [pain for pain in now if pain not in before]
    kept = []
    for pain in pains:
        plain = replace(pain, settled_next_morning=None)
        if plain not in told:
            kept.append(pain)
            continue
        told.remove(plain)
        corrected = next((each for each in fresh if each.place == pain.place), None)
        if corrected is not None:
            fresh.remove(corrected)
            kept.append(corrected)
    known = {replace(pain, settled_next_morning=None) for pain in kept}
    return (*kept, *(pain for pain in fresh if pain not in known))
