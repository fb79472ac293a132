"""What a coach must know of an athlete at a glance, in a few plain values.

A squad of two hundred is told from these values alone, without reading two hundred records:
:func:`glance` takes them out of a record once, :func:`plan_glance` out of a plan;
:func:`coming` and :func:`concerns` read them on any day.
"""

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any

from saltus.athlete.health import Pain, PainBand, pain_band
from saltus.record.record import Record
from saltus.training.situation import EventKind, Weekday

__all__ = ["Coming", "Concern", "ConcernKind", "coming", "concerns", "glance", "plan_glance"]

_LOG_KEPT = 60
_PAIN_DAYS = 28
_MISSED_DAYS = 14
_MISSED = 2
_PLAN_ENDS_DAYS = 7
_TEST_OVERDUE_DAYS = 56
# Common practice: a test at the end of every block of four to eight weeks.
_MATCHES_AHEAD_DAYS = 366


class ConcernKind(StrEnum):
    """What may need the coach's eye."""

    PAIN_STOP = "pain_stop"
    PAIN = "pain"
    RESTRICTED = "restricted"
    SESSIONS_MISSED = "sessions_missed"
    PLAN_ENDED = "plan_ended"
    PLAN_ENDS = "plan_ends"
    NEVER_TESTED = "never_tested"
    TEST_OVERDUE = "test_overdue"

    @property
    def health(self) -> bool:
        """Whether it is shown only to those who may see health remarks."""
        return self in (ConcernKind.PAIN_STOP, ConcernKind.PAIN, ConcernKind.RESTRICTED)


@dataclass(frozen=True, slots=True)
class Concern:
    """One thing that needs the coach's eye.

    Parameters
    ----------
    kind : ConcernKind
        What it is.
    date : date or None
        Its day: of the pain, of the plan's end, of the latest test, of the first missed
        session, the last of a restriction.
    what : str
        Place of the pain, or what is restricted.
    number : int
        Level of the pain, sessions missed, days since the test.
    """

    kind: ConcernKind
    date: dt.date | None = None
    what: str = ""
    number: int = 0


@dataclass(frozen=True, slots=True)
class Coming:
    """What comes next; None where nothing does.

    Parameters
    ----------
    session, match : date or None
        Next session of the plan, next match.
    target : date or None
        Next day that counts, a test or a competition.
    target_what : str
        In words.
    """

    session: dt.date | None = None
    match: dt.date | None = None
    target: dt.date | None = None
    target_what: str = ""


@dataclass(frozen=True, slots=True)
class _Stretch:
    start: dt.date | None = None
    end: dt.date | None = None
    days: frozenset[str] = field(default_factory=frozenset)

    def holds(self, day: dt.date) -> bool:
        within = (self.start is None or self.start <= day) and (self.end is None or day <= self.end)
        return within and (not self.days or Weekday.of(day).value in self.days)


def glance(record: Record) -> dict[str, Any]:
    """The values of a record, as strings, numbers, lists and dicts that JSON can hold."""
    tests = [test.date for test in record.tests]
    latest = {pain.place.casefold(): pain for pain in sorted(record.pains, key=lambda p: p.date)}
    return {
        "tested": _iso(max(tests, default=None)),
        "log": [_iso(day) for day in sorted({s.date for s in record.log})[-_LOG_KEPT:]],
        "pains": [
            {
                "date": _iso(pain.date),
                "place": pain.place,
                "level": pain.level,
                "settled": pain.settled_next_morning,
            }
            for pain in latest.values()
        ],
        "restrictions": [
            {"what": each.what, "start": _iso(each.start), "end": _iso(each.end)}
            for each in record.restrictions
        ],
        "targets": [
            {"date": _iso(target.date), "what": target.what}
            for target in sorted(record.targets, key=lambda t: t.date)
        ],
        "matches": [
            {
                "days": [str(day) for day in sport.weekdays],
                "start": _iso(sport.date or sport.start),
                "end": _iso(sport.date or sport.end),
            }
            for sport in record.sport
            if sport.kind is EventKind.MATCH
        ],
        "blocked": [[_iso(each.start), _iso(each.end)] for each in record.blocked],
    }


def plan_glance(plan: Mapping[str, Any]) -> dict[str, Any]:
    """The days of a plan's document: its sessions, and the last day it speaks of."""
    sessions = sorted(
        str(session["date"])
        for week in plan.get("weeks", ())
        for session in week.get("sessions", ())
    )
    last = plan.get("goal_date") or (sessions[-1] if sessions else None)
    return {"sessions": sessions, "start": plan.get("start"), "end": last}


def coming(facts: Mapping[str, Any], plan: Mapping[str, Any] | None, today: dt.date) -> Coming:
    """What comes next for an athlete, from today on.

    Parameters
    ----------
    facts : mapping
        From :func:`glance`.
    plan : mapping or None
        From :func:`plan_glance`.
    today : date
        The day it is.
    """
    day = today.isoformat()
    target = next((t for t in facts.get("targets", ()) if t["date"] >= day), None)
    session = next((s for s in (plan or {}).get("sessions", ()) if s >= day), None)
    return Coming(
        session=_date(session),
        match=_next_match(facts, today),
        target=_date(target["date"]) if target else None,
        target_what=target["what"] if target else "",
    )


def concerns(
    facts: Mapping[str, Any], plan: Mapping[str, Any] | None, today: dt.date
) -> tuple[Concern, ...]:
    """What needs the coach's eye today, the most serious first; parameters as in :func:`coming`.

    Sessions count as missed only for athletes who keep a log at all.
    """
    return (
        *sorted(_pains(facts, today), key=lambda c: (c.kind is not ConcernKind.PAIN_STOP, c.what)),
        *_restrictions(facts, today),
        *_missed(facts, plan, today),
        *_plan_end(plan, today),
        *_overdue(facts, today),
    )


def _iso(day: dt.date | None) -> str | None:
    return None if day is None else day.isoformat()


def _date(text: str | None) -> dt.date | None:
    return None if text is None else dt.date.fromisoformat(text)


def _next_match(facts: Mapping[str, Any], today: dt.date) -> dt.date | None:
    matches = [
        _Stretch(_date(m["start"]), _date(m["end"]), frozenset(m["days"]))
        for m in facts.get("matches", ())
    ]
    if not matches:
        return None
    blocked = [_Stretch(_date(start), _date(end)) for start, end in facts.get("blocked", ())]
    for ahead in range(_MATCHES_AHEAD_DAYS):
        day = today + dt.timedelta(days=ahead)
        # What comes round every week is left out on blocked days; a match of its own is not.
        if any(
            m.holds(day) and not (m.days and any(b.holds(day) for b in blocked)) for m in matches
        ):
            return day
    return None


def _pains(facts: Mapping[str, Any], today: dt.date) -> Iterable[Concern]:
    for each in facts.get("pains", ()):
        day = dt.date.fromisoformat(each["date"])
        pain = Pain(day, each["place"], each["level"], each["settled"])
        band = pain_band(pain)
        if band is PainBand.SAFE or not 0 <= (today - day).days <= _PAIN_DAYS:
            continue
        kind = ConcernKind.PAIN_STOP if band is PainBand.STOP else ConcernKind.PAIN
        yield Concern(kind, day, pain.place, pain.level)


def _restrictions(facts: Mapping[str, Any], today: dt.date) -> Iterable[Concern]:
    for each in facts.get("restrictions", ()):
        end = _date(each["end"])
        if _Stretch(_date(each["start"]), end).holds(today):
            yield Concern(ConcernKind.RESTRICTED, end, each["what"])


def _missed(
    facts: Mapping[str, Any], plan: Mapping[str, Any] | None, today: dt.date
) -> Iterable[Concern]:
    log: Sequence[str] = facts.get("log", ())
    if not log or not plan:
        return
    # Days of the calendar in this form sort as texts: most are passed over unread.
    first = (today - dt.timedelta(days=_MISSED_DAYS)).isoformat()
    before = (today - dt.timedelta(days=_MISSED_DAYS + 1)).isoformat()
    now = today.isoformat()
    planned = [dt.date.fromisoformat(day) for day in plan["sessions"] if first <= day < now]
    done = [dt.date.fromisoformat(day) for day in log if before <= day <= now]
    missed = _unmatched(planned, done)
    if len(missed) >= _MISSED:
        yield Concern(ConcernKind.SESSIONS_MISSED, missed[0], number=len(missed))


def _unmatched(planned: Sequence[dt.date], done: Sequence[dt.date]) -> list[dt.date]:
    """Planned days without a session on the day, the day before or the day after."""
    left = list(done)
    missed = []
    for day in planned:
        near = [d for d in left if abs((d - day).days) <= 1]
        if near:
            left.remove(min(near, key=lambda d: abs((d - day).days)))
        else:
            missed.append(day)
    return missed


def _plan_end(plan: Mapping[str, Any] | None, today: dt.date) -> Iterable[Concern]:
    end = _date(plan["end"]) if plan else None
    if end is None:
        return
    if end < today:
        yield Concern(ConcernKind.PLAN_ENDED, end)
    elif (end - today).days <= _PLAN_ENDS_DAYS:
        yield Concern(ConcernKind.PLAN_ENDS, end, number=(end - today).days)


def _overdue(facts: Mapping[str, Any], today: dt.date) -> Iterable[Concern]:
    tested = _date(facts.get("tested"))
    if tested is None:
        yield Concern(ConcernKind.NEVER_TESTED)
    elif (today - tested).days > _TEST_OVERDUE_DAYS:
        yield Concern(ConcernKind.TEST_OVERDUE, tested, number=(today - tested).days)
