"""Soreness and pain, place by place, over time.

Soreness is told as it was answered, the last week against the weeks before it; pain goes by the
published monitoring scale (:func:`saltus.athlete.health.pain_band`). Saltus gives no medical
advice: it says what was reported, and when somebody qualified should look at it.
"""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from saltus.athlete.health import Pain, PainBand, pain_band
from saltus.training.log import LoggedSession

__all__ = ["PlaceOverTime", "Report", "places_over_time"]

_LATELY = dt.timedelta(days=7)
_BEFORE = dt.timedelta(days=28)
_RISEN = 2.0
_SORE = 4
_OFTEN = 3
# On a scale of 0 to 10 a change of 2 is the least that patients themselves call a change (Farrar
# et al. 2001, Pain 94:149-158, of pain; from memory). 4 and three times: common practice.


@dataclass(frozen=True, slots=True)
class Report:
    """One answer.

    Parameters
    ----------
    date : date
        The day.
    soreness, pain : int or None
        0 to 10; None where it was not told.
    """

    date: dt.date
    soreness: int | None = None
    pain: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceOverTime:
    """One place.

    Parameters
    ----------
    place : str
        As it was told first.
    reports : tuple of Report
        In order of date, one a day.
    lately, before : float or None
        Mean soreness of the last seven days, and of the four weeks before them, over the days
        on which anything at all was answered; None where nothing was.
    band : PainBand or None
        Of the latest pain reported within four weeks; None without one.
    text : str
        In a sentence; empty where there is nothing to look at.
    """

    place: str
    reports: tuple[Report, ...]
    lately: float | None
    before: float | None
    band: PainBand | None
    text: str


def places_over_time(
    log: Iterable[LoggedSession], pains: Iterable[Pain], *, on: dt.date
) -> tuple[PlaceOverTime, ...]:
    """Every place that was ever told, the one that most needs a look first.

    Parameters
    ----------
    log : iterable of LoggedSession
        With the answers before each session. A place that is not named in an answer was not
        sore.
    pains : iterable of Pain
        Of the record.
    on : date
        The day; later reports are left out.
    """
    asked: set[dt.date] = set()
    sore: dict[str, dict[dt.date, int]] = defaultdict(dict)
    hurt: dict[str, dict[dt.date, Pain]] = defaultdict(dict)
    names: dict[str, str] = {}
    for session in sorted(log, key=lambda each: each.date):
        if session.date > on:
            continue
        if session.soreness or session.sleep_hours is not None or session.pain is not None:
            asked.add(session.date)
        for each in session.soreness:
            key = _key(each.place, names)
            sore[key][session.date] = max(each.level, sore[key].get(session.date, 0))
    for pain in sorted(pains, key=lambda each: each.date):
        if pain.date <= on:
            hurt[_key(pain.place, names)][pain.date] = pain
    found = [
        _place(names[key], sore.get(key, {}), hurt.get(key, {}), sorted(asked), on) for key in names
    ]
    return tuple(
        sorted(found, key=lambda each: (-(each.band or 0), not each.text, -(each.lately or 0)))
    )


def _key(place: str, names: dict[str, str]) -> str:
    key = " ".join(place.casefold().split())
    names.setdefault(key, place)
    return key


def _place(
    name: str,
    sore: dict[dt.date, int],
    hurt: dict[dt.date, Pain],
    asked: Sequence[dt.date],
    on: dt.date,
) -> PlaceOverTime:
    days = sorted({*sore, *hurt})
    reports = tuple(
        Report(day, sore.get(day), hurt[day].level if day in hurt else None) for day in days
    )
    lately = [sore.get(day, 0) for day in asked if on - _LATELY < day <= on]
    before = [sore.get(day, 0) for day in asked if on - _LATELY - _BEFORE < day <= on - _LATELY]
    now, then = _mean(lately), _mean(before)
    recent = [hurt[day] for day in sorted(hurt) if on - _BEFORE <= day]
    band = pain_band(recent[-1]) if recent else None
    return PlaceOverTime(
        place=name,
        reports=reports,
        lately=now,
        before=then,
        band=band,
        text=_told(name, lately, now, then, recent, band),
    )


def _mean(values: Sequence[int]) -> float | None:
    return sum(values) / len(values) if values else None


def _told(
    name: str,
    lately: Sequence[int],
    now: float | None,
    then: float | None,
    recent: Sequence[Pain],
    band: PainBand | None,
) -> str:
    place = name[:1].upper() + name[1:]
    if band is PainBand.STOP:
        return (
            f"{place}: pain of {recent[-1].level} out of 10 on {recent[-1].date.isoformat()}. No "
            "jumping and no heavy work on it until somebody qualified has looked at it."
        )
    if band is PainBand.ACCEPTABLE:
        rising = len(recent) > 1 and recent[-1].level > recent[0].level
        return (
            f"{place}: pain of {recent[-1].level} out of 10 on {recent[-1].date.isoformat()}"
            + (f", up from {recent[0].level} on {recent[0].date.isoformat()}" if rising else "")
            + ". Tolerable by the scale only if it is back to usual the next morning and does not "
            "rise from week to week."
        )
    often = sum(level >= _SORE for level in lately)
    if now is not None and then is not None and now - then >= _RISEN:
        return (
            f"{place}: sorer than usual in the last week ({now:.1f} out of 10 on average, "
            f"{then:.1f} in the four weeks before)."
        )
    if often >= _OFTEN:
        return f"{place}: sore ({_SORE} or more) before {often} sessions of the last week."
    return ""
