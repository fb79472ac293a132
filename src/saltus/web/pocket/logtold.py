"""Sessions of the log in words, in the reader's units."""

from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import Any

from django.utils.translation import gettext as _

from saltus.athlete.health import Pain
from saltus.training.log import LoggedSession, LoggedSet
from saltus.training.method import Method
from saltus.web.decimals import decimals
from saltus.web.plans.words import exercise_name
from saltus.web.templatetags.figures_in_words import height, mass
from saltus.web.units import current_units

__all__ = ["sessions_told"]


def sessions_told(
    sessions: Iterable[tuple[int, LoggedSession]],
    pains: Sequence[Pain],
    method: Method,
    *,
    health: bool,
) -> list[dict[str, Any]]:
    """Sessions for a page.

    Parameters
    ----------
    sessions : iterable of tuple
        Place in the record, and the session.
    pains : sequence of Pain
        Of the record.
    method : Method
        Names of the exercises.
    health : bool
        Whether the reader may read of soreness, pain, and what was written beside it.
    """
    return [_session(index, each, pains, method, health=health) for index, each in sessions]


def _session(
    index: int, session: LoggedSession, pains: Sequence[Pain], method: Method, *, health: bool
) -> dict[str, Any]:
    load = session.load
    return {
        "index": index,
        "date": session.date,
        "planned": session.planned,
        "moved": session.planned is not None and session.planned != session.date,
        "free": session.free,
        "what": session.what,
        "phone": bool(session.id),
        "effort": None if session.effort is None else decimals(f"{session.effort:g}"),
        "minutes": None if session.minutes is None else f"{session.minutes:.0f}",
        "load": None if load is None else f"{load:.0f}",
        "landings": None if session.landings is None else f"{session.landings:.0f}",
        "sleep": None if session.sleep_hours is None else decimals(f"{session.sleep_hours:g}"),
        "soreness": [(_(each.place), each.level) for each in session.soreness] if health else [],
        "pains": [(_(p.place), p.level) for p in pains if p.date == session.date and p.level]
        if health
        else [],
        # Free text may say anything.
        "note": session.note if health else "",
        "exercises": [
            {
                "name": exercise_name(name, method),
                "sets": [_set(each, health=health) for each in sets],
            }
            for name, sets in groupby(session.sets, key=lambda each: each.exercise)
        ],
    }


def _set(one: LoggedSet, *, health: bool) -> str:
    if one.skipped:
        return _("left out: %(why)s") % {"why": one.skipped} if health else _("left out")
    units = current_units.get()
    told = [f"{one.sets} × {one.reps}" if one.sets > 1 else f"{one.reps}"]
    if one.load_kg is not None:
        told[0] += f" × {mass(one.load_kg)} {units.mass}"
    if one.box_m is not None:
        told.append(_("box %(height)s") % {"height": f"{height(one.box_m, 0)} {units.length}"})
    if one.drop_m is not None:
        told.append(_("from %(height)s") % {"height": f"{height(one.drop_m, 0)} {units.length}"})
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
    if one.note and health:
        told.append(one.note)
    return ", ".join(told)
