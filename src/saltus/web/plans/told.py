"""A plan laid out for the page: phases, weeks and days, sessions with their items in words."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from django.utils.formats import date_format
from django.utils.text import capfirst
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from saltus.record import Record
from saltus.training.exercises import Place
from saltus.training.method import Method
from saltus.training.plan import Item, Pin, Plan, Session, Week
from saltus.training.situation import EventKind, Priority
from saltus.web.plans.words import (
    exercise_name,
    height_words,
    landings_words,
    load_words,
    percent_words,
    rest_words,
    sets_words,
    side_words,
)
from saltus.web.units import Units

__all__ = [
    "Day",
    "ExerciseTold",
    "ItemTold",
    "Mark",
    "PhaseTold",
    "SessionTold",
    "WeekTold",
    "tell",
]

_IN_SHORT = 4


@dataclass(frozen=True, slots=True)
class Mark:
    """Something else that a day holds: a match, a practice, a test, a block."""

    kind: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemTold:
    """An item in words."""

    id: str
    name: str
    sets: str
    load: str
    side: str
    percent: str
    height: str
    rest: str
    cue: str
    landings: int
    why: str
    ticks: range
    was: str
    """What it was before, where it differs; "new" items say so by `is_new`."""
    is_new: bool
    swappable: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionTold:
    """A session in words."""

    date: dt.date
    minutes: int
    note: str
    """Minutes, landings, and whether it was settled by hand."""
    items: tuple[ItemTold, ...]
    short: tuple[tuple[str, str, str], ...]
    """The main exercises, with their sets, and their load or height where there is one."""
    more: str
    """How many more there are, in words."""
    without: tuple[str, ...]
    """Names of what stood in it before and is gone."""
    change: str
    """"", "new" or "changed"."""
    settled: bool
    editable: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """A day of the calendar."""

    date: dt.date
    iso: str
    short: str
    long: str
    number: int
    today: bool
    inside: bool
    open: bool
    """Whether a session may still be moved to it."""
    session: SessionTold | None
    marks: tuple[Mark, ...]
    gone: str
    """What stood on it before, in short, where nothing does now."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekTold:
    """A week of the calendar."""

    title: str
    start: dt.date
    end: dt.date
    back_off: bool
    eased_after: int
    past: bool
    days: tuple[Day, ...]
    note: str
    """Sessions, minutes and landings."""

    @property
    def beside(self) -> tuple[tuple[str, tuple[dt.date, ...]], ...]:
        """What else the week holds, in words, each with its days."""
        found: dict[str, list[dt.date]] = {}
        for day in self.days:
            for mark in day.marks:
                found.setdefault(mark.words, []).append(day.date)
        return tuple((words, tuple(dates)) for words, dates in found.items())


@dataclass(frozen=True, slots=True)
class ExerciseTold:
    """An exercise of a phase: what to think of, and how long to rest."""

    name: str
    cue: str
    rest: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PhaseTold:
    """A phase with its weeks."""

    key: str
    name: str
    rule: str
    source: str
    weeks: tuple[WeekTold, ...]
    tests: tuple[Mark, ...]
    past: bool

    @property
    def width(self) -> int:
        """How much of the band it takes, in weeks."""
        return min(len(self.weeks), 26)

    @property
    def weeks_over(self) -> tuple[WeekTold, ...]:
        """Those before the present one."""
        return tuple(week for week in self.weeks if week.past)

    @property
    def over_until(self) -> dt.date:
        """Last day of the weeks that are over."""
        return self.weeks_over[-1].end

    @property
    def weeks_ahead(self) -> tuple[WeekTold, ...]:
        """The present one, and those after it."""
        return tuple(week for week in self.weeks if not week.past)

    @property
    def exercises_ahead(self) -> tuple[ExerciseTold, ...]:
        """Every exercise of the weeks ahead once, in order, with the rests that it takes."""
        found: dict[str, ItemTold] = {}
        rests: dict[str, dict[str, None]] = {}
        for week in self.weeks_ahead:
            for day in week.days:
                for item in () if day.session is None else day.session.items:
                    found.setdefault(item.id, item)
                    rests.setdefault(item.id, {})[item.rest] = None
        return tuple(
            ExerciseTold(item.name, item.cue, "; ".join(filter(None, rests[key])))
            for key, item in found.items()
        )

    @property
    def start(self) -> dt.date:
        """Its first day."""
        return self.weeks[0].start

    @property
    def end(self) -> dt.date:
        """Its last day."""
        return self.weeks[-1].end


@dataclass(frozen=True)
class _Teller:
    plan: Plan
    before: Plan | None
    method: Method
    record: Record
    units: Units
    today: dt.date
    editable: bool
    marks: Mapping[dt.date, list[Mark]] = field(default_factory=dict)
    pins: Mapping[dt.date, Pin] = field(default_factory=dict)
    old: Mapping[dt.date, Session] = field(default_factory=dict)

    def week(self, week: Week, number: int) -> WeekTold:
        by_date = {session.date: session for session in week.sessions}
        days = tuple(self.day(week.start + dt.timedelta(days=d), by_date) for d in range(7))
        return WeekTold(
            title=_week_title(week, number),
            start=week.start,
            end=week.end,
            back_off=week.back_off,
            eased_after=week.eased_after,
            past=week.end < self.today,
            days=days,
            note=_week_note(week),
        )

    def day(self, date: dt.date, by_date: Mapping[dt.date, Session]) -> Day:
        session, old = by_date.get(date), self.old.get(date)
        gone = ""
        if session is None and old is not None:
            gone = ", ".join(name for name, _sets, _load in self.short(old)[0])
        return Day(
            date=date,
            iso=date.isoformat(),
            short=date_format(date, "WEEKDAY_DAY_FORMAT"),
            long=date_format(date, "FULL_WEEKDAY_DATE_FORMAT"),
            number=date.weekday(),
            today=date == self.today,
            inside=self.plan.start <= date <= self.plan.goal_date,
            open=max(self.plan.start, self.today) <= date < self.plan.goal_date,
            session=None if session is None else self.session(session, old),
            marks=tuple(self.marks.get(date, ())),
            gone=gone,
        )

    def session(self, session: Session, old: Session | None) -> SessionTold:
        comparing = self.before is not None and session.date >= self.plan.start
        was = {} if old is None else {item.exercise: item for item in old.items}
        items = tuple(self.item(item, was, comparing, session.date) for item in session.items)
        names = {item.exercise for item in session.items}
        without = tuple(
            exercise_name(name, self.method) for name in was if comparing and name not in names
        )
        change = ""
        if comparing:
            if old is None:
                change = "new"
            elif without or any(item.was or item.is_new for item in items):
                change = "changed"
        short, more = self.short(session)
        return SessionTold(
            date=session.date,
            minutes=round(session.minutes),
            note=_session_note(session, settled=session.date in self.pins),
            items=items,
            short=short,
            more=_("and %(count)d more") % {"count": more} if more else "",
            without=without,
            change=change,
            settled=session.date in self.pins,
            editable=self.editable and session.date >= max(self.plan.start, self.today),
        )

    def short(self, session: Session) -> tuple[tuple[tuple[str, str, str], ...], int]:
        """The main things of a session, and how many more there are."""
        exercises = self.method.exercises
        working = [
            item
            for item in session.items
            if item.exercise not in exercises
            or exercises[item.exercise].place is not Place.PREPARATION
        ]
        told = tuple(
            (
                exercise_name(item.exercise, self.method),
                f"{item.sets} × {item.reps}",
                load_words(item.load_kg, self.units, self.record.gym)
                or height_words(item, self.units),
            )
            for item in working[:_IN_SHORT]
        )
        return told, len(working) - len(told)

    def item(self, item: Item, was: Mapping[str, Item], comparing: bool, date: dt.date) -> ItemTold:
        exercise = self.method.exercises.get(item.exercise)
        old = was.get(item.exercise) if comparing else None
        prepares = exercise is not None and exercise.place is Place.PREPARATION
        return ItemTold(
            id=item.exercise,
            name=exercise_name(item.exercise, self.method),
            sets=sets_words(item, exercise),
            load=load_words(item.load_kg, self.units, self.record.gym),
            side=side_words(item, exercise, self.record.gym),
            percent=percent_words(item),
            height=height_words(item, self.units),
            rest=rest_words(item),
            cue=item.cue,
            landings=round(item.landings),
            why=item.why.text,
            ticks=range(item.sets),
            was=self.was(old, item) if old is not None else "",
            is_new=comparing and old is None and bool(was),
            swappable=self.editable
            and exercise is not None
            and not prepares
            and date >= max(self.plan.start, self.today),
        )

    def was(self, old: Item, item: Item) -> str:
        """What an item was before, where that matters; empty if it is the same."""
        exercise = self.method.exercises.get(item.exercise)

        def told(one: Item) -> str:
            parts = (
                sets_words(one, exercise),
                load_words(one.load_kg, self.units, self.record.gym),
                height_words(one, self.units),
            )
            return ", ".join(part for part in parts if part)

        return told(old) if told(old) != told(item) else ""


def tell(
    plan: Plan,
    method: Method,
    record: Record,
    *,
    units: Units,
    today: dt.date,
    before: Plan | None = None,
    editable: bool = False,
) -> tuple[PhaseTold, ...]:
    """Lay a plan out for the page.

    Parameters
    ----------
    plan : Plan
        The plan.
    method : Method
        Names of phases, exercises and rules.
    record : Record
        Gym, targets, practices, matches and blocked days.
    units : Units
        Of whoever reads it.
    today : date
        The day it is.
    before : Plan, optional
        The plan that holds, where this one is a proposal: what differs is marked.
    editable : bool
        Whether the reader may change it.
    """
    old = {} if before is None else {s.date: s for s in before.sessions if s.date >= plan.start}
    teller = _Teller(
        plan,
        before,
        method,
        record,
        units,
        today,
        editable,
        _marks(record, plan),
        {pin.date: pin for pin in plan.pins if pin.stands},
        old,
    )
    phases = {phase.id: phase for phase in method.phases}
    groups: list[tuple[str, list[WeekTold]]] = []
    for week in plan.weeks:
        if not groups or groups[-1][0] != week.phase:
            groups.append((week.phase, []))
        groups[-1][1].append(teller.week(week, plan.week_number(week.start) + 1))
    told = []
    for place, (key, weeks) in enumerate(groups):
        phase = phases.get(key)
        rule = None if phase is None else method.rules.get(phase.rule)
        tests = tuple(m for w in weeks for d in w.days for m in d.marks if m.kind == "test")
        told.append(
            PhaseTold(
                key=f"phase-{place + 1}",
                name=capfirst(_(phase.name) if phase is not None else key.replace("_", " ")),
                rule="" if rule is None else rule.text,
                source="" if rule is None else rule.source,
                weeks=tuple(weeks),
                tests=tests,
                past=weeks[-1].past,
            )
        )
    return tuple(told)


def _marks(record: Record, plan: Plan) -> Mapping[dt.date, list[Mark]]:
    """What else the days of a plan hold."""
    marks: dict[dt.date, list[Mark]] = {}
    words = {target.date: target for target in record.targets}
    for target in words.values():
        kind = {
            Priority.MAIN: _("the day that counts"),
            Priority.SECOND: _("second target"),
            Priority.TRIAL: _("trial"),
        }[target.priority]
        what = f"{target.what} ({kind})" if target.what else capfirst(kind)
        marks.setdefault(target.date, []).append(Mark("test", what))
    if plan.goal_date not in words:
        marks.setdefault(plan.goal_date, []).append(Mark("test", _("Test")))
    for sport in record.sport:
        name = _("Match") if sport.kind is EventKind.MATCH else _("Practice")
        landings = landings_words(sport.landings) if sport.landings else ""
        told_by_what = name.casefold() in sport.what.casefold()  # "team practice"
        parts = ("" if told_by_what else name, sport.what, landings)
        text = capfirst(", ".join(part for part in parts if part))
        for event in replace(record, sport=(sport,)).situation_from(plan.start).events:
            marks.setdefault(event.date, []).append(Mark(event.kind.value, text))
    for stretch in record.blocked:
        for date in stretch.days():
            text = _("Blocked: %(why)s") % {"why": stretch.why} if stretch.why else _("Blocked")
            marks.setdefault(date, []).append(Mark("blocked", text))
    return marks


def _session_note(session: Session, *, settled: bool) -> str:
    parts = [_minutes(session.minutes)]
    if session.landings:
        parts.append(landings_words(session.landings))
    if settled:
        parts.append(_("settled by hand"))
    return ", ".join(parts)


def _week_title(week: Week, number: int) -> str:
    days = {
        "start": date_format(week.start, "MONTH_DAY_FORMAT"),
        "end": date_format(week.end, "DATE_FORMAT"),
    }
    if number < 1:  # of the plan before
        return "{start} – {end}".format(**days)
    return _("Week %(number)d: %(start)s – %(end)s") % {"number": number, **days}


def _week_note(week: Week) -> str:
    count = len(week.sessions)
    parts = [ngettext("%(count)d session", "%(count)d sessions", count) % {"count": count}]
    if count:
        parts.append(_minutes(sum(session.minutes for session in week.sessions)))
        parts.append(landings_words(sum(session.landings for session in week.sessions)))
    return ", ".join(parts)


def _minutes(minutes: float) -> str:
    return _("%(minutes)d min") % {"minutes": round(minutes)}
