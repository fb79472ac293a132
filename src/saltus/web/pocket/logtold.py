"""The log in words, week by week: what was planned beside what was done, in the reader's units."""

import datetime as dt
from collections.abc import Callable, Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from operator import itemgetter
from typing import Any

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from saltus.athlete.health import Pain
from saltus.record import Record
from saltus.training.log import LoggedSession, LoggedSet
from saltus.training.method import Method
from saltus.training.plan import Item, Session
from saltus.web.decimals import decimals
from saltus.web.plans.words import (
    exercise_name,
    height_words,
    landings_words,
    load_words,
    sets_words,
)
from saltus.web.templatetags.figures_in_words import height, mass
from saltus.web.units import current_units

__all__ = ["weeks_told"]

_NOTHING = "–"
Planned = Mapping[dt.date, Session]


def weeks_told(
    mondays: Iterable[dt.date],
    record: Record,
    planned: Planned,
    method: Method,
    *,
    today: dt.date,
    health: bool,
) -> list[dict[str, Any]]:
    """Weeks for a page; those in which nothing was planned or done are left out.

    Parameters
    ----------
    mondays : iterable of date
        Which weeks, in the order in which they are told.
    record : Record
        Its log, pains and gym.
    planned : mapping of date to Session
        What the plans said for these weeks.
    method : Method
        Names of the exercises.
    today : date
        What is planned from here on is not missed yet.
    health : bool
        Whether the reader may read of soreness, pain, and what was written beside it.
    """
    kept = {day for each in record.log if (day := _day_planned(each)) in planned}
    teller = _Teller(record, planned, kept, method, today, health)
    return [told for monday in mondays if (told := teller.week(monday))]


@dataclass(frozen=True)
class _Teller:
    record: Record
    planned: Planned
    kept: AbstractSet[dt.date]
    """Days of the plans whose session was done."""
    method: Method
    today: dt.date
    health: bool

    def week(self, monday: dt.date) -> dict[str, Any] | None:
        after = monday + dt.timedelta(weeks=1)
        done = [
            (place, each)
            for place, each in enumerate(self.record.log)
            if monday <= each.date < after
        ]
        # A session that was moved stands in the week it was planned for, too.
        asked = [
            day
            for day in self.planned
            if monday <= day < after and (day < self.today or day in self.kept)
        ]
        if not done and not asked:
            return None
        missed = [day for day in asked if day not in self.kept]
        sessions = [(each.date, self.session(place, each)) for place, each in done]
        sessions += [(day, self.missed(day)) for day in missed]
        return {
            "start": monday,
            "title": _("Week of %(day)s") % {"day": date_format(monday, "FULL_MONTH_DATE_FORMAT")},
            "note": _week_note([each for _place, each in done], len(asked), len(missed)),
            "sessions": [told for _day, told in sorted(sessions, key=itemgetter(0), reverse=True)],
        }

    def missed(self, day: dt.date) -> dict[str, Any]:
        session = self.planned[day]
        return {
            "key": f"missed-{day.isoformat()}",
            "date": day,
            "missed": True,
            "rows": [
                {"name": exercise_name(item.exercise, self.method), "planned": self.item(item)}
                for item in session.items
            ],
        }

    def session(self, place: int, session: LoggedSession) -> dict[str, Any]:
        day = _day_planned(session)
        plan = None if day is None else self.planned.get(day)
        return {
            "key": f"session-{place}",
            "date": session.date,
            "planned": plan is not None,
            "planned_for": session.planned if session.planned != session.date else None,
            "unplanned": session.free or (plan is None and session.planned is None),
            "what": session.what,
            "phone": bool(session.id),
            "effort": None if session.effort is None else decimals(f"{session.effort:g}"),
            "load": None if session.load is None else f"{session.load:.0f}",
            "sleep": None if session.sleep_hours is None else decimals(f"{session.sleep_hours:g}"),
            "soreness": [(_(each.place), each.level) for each in session.soreness]
            if self.health
            else [],
            "pains": [(_(each.place), each.level) for each in self.pains(session)],
            # Free text may say anything.
            "note": session.note if self.health else "",
            "rows": [*self.exercises(session, plan), *_totals(session, plan)],
        }

    def pains(self, session: LoggedSession) -> list[Pain]:
        """Pains that were told with a session: others of its day belong to another one."""
        told = session.pain
        if not self.health or (told is None and (session.free or session.id)):
            return []
        return [
            each
            for each in self.record.pains
            if each.date == session.date and 0 < each.level <= (10 if told is None else told)
        ]

    def exercises(self, session: LoggedSession, plan: Session | None) -> list[dict[str, str]]:
        """Every exercise, as planned and as done; what was not planned comes last."""
        items: dict[str, list[str]] = {}
        for item in () if plan is None else plan.items:
            items.setdefault(item.exercise, []).append(self.item(item))
        done: dict[str, list[str]] = {}
        for each in session.sets:
            done.setdefault(each.exercise, []).append(self.set(each))
        none = _("not logged") if session.sets else _NOTHING
        return [
            {
                "name": exercise_name(name, self.method),
                "planned": "; ".join(items.get(name, [_NOTHING])),
                "done": "; ".join(done.get(name, [none])),
            }
            for name in dict.fromkeys([*items, *done])
        ]

    def item(self, item: Item) -> str:
        units = current_units.get()
        parts = (
            sets_words(item, self.method.exercises.get(item.exercise)),
            load_words(item.load_kg, units, self.record.gym),
            height_words(item, units),
        )
        return ", ".join(part for part in parts if part)

    def set(self, one: LoggedSet) -> str:
        if one.skipped:
            return _("left out: %(why)s") % {"why": one.skipped} if self.health else _("left out")
        exercise = self.method.exercises.get(one.exercise)
        if one.sets == one.reps == 1 and exercise is not None and not exercise.adds:
            return _("done")  # a warm-up
        units = current_units.get()
        told = [f"{one.sets} × {one.reps}" if one.sets > 1 else f"{one.reps}"]
        if one.load_kg is not None:
            told[0] += f" × {mass(one.load_kg)} {units.mass}"
        if one.box_m is not None:
            told.append(_("box %(height)s") % {"height": f"{height(one.box_m, 0)} {units.length}"})
        if one.drop_m is not None:
            told.append(
                _("from %(height)s") % {"height": f"{height(one.drop_m, 0)} {units.length}"}
            )
        if one.missed:
            told.append(_("%(count)s missed") % {"count": one.missed})
        if one.reserve is not None:
            told.append(_("%(count)s left") % {"count": decimals(f"{one.reserve:g}")})
        if one.speed_m_s is not None:
            told.append(decimals(f"{one.speed_m_s:.2f} m/s"))
        if one.jump_m is not None:
            told.append(_("jump %(height)s") % {"height": f"{height(one.jump_m)} {units.length}"})
        if one.contact_s is not None:
            told.append(_("contact %(time)s ms") % {"time": f"{1000 * one.contact_s:.0f}"})
        if one.soft_landings is not None:
            told.append(_("landings quiet") if one.soft_landings else _("landings not quiet"))
        if one.note and self.health:
            told.append(one.note)
        return ", ".join(told)


def _day_planned(session: LoggedSession) -> dt.date | None:
    """The day of the plan whose session it was, as far as that is known."""
    return session.planned or (None if session.free else session.date)


def _totals(session: LoggedSession, plan: Session | None) -> list[dict[str, str]]:
    """Minutes and landings, as planned and as they came out."""
    told: list[tuple[str, float | None, Callable[[Session], float]]] = [
        (_("Minutes"), session.minutes, lambda each: each.minutes),
        (_("Landings"), session.landings, lambda each: each.landings),
    ]
    return [
        {
            "name": name,
            "planned": _NOTHING if plan is None else f"{asked(plan):.0f}",
            "done": _NOTHING if done is None else f"{done:.0f}",
        }
        for name, done, asked in told
        if done is not None or plan is not None
    ]


def _week_note(done: Sequence[LoggedSession], asked: int, missed: int) -> str:
    parts = []
    if asked:
        parts.append(
            ngettext(
                "%(done)d of %(asked)d planned session done",
                "%(done)d of %(asked)d planned sessions done",
                asked,
            )
            % {"done": asked - missed, "asked": asked}
        )
    else:
        parts.append(
            ngettext("%(count)d session done", "%(count)d sessions done", len(done))
            % {"count": len(done)}
        )
    loads = [each.load for each in done if each.load is not None]
    if loads:
        parts.append(_("session load %(load)s") % {"load": f"{sum(loads):.0f}"})
    landings = [each.landings for each in done if each.landings is not None]
    if landings:
        parts.append(landings_words(sum(landings)))
    return ", ".join(parts)
