"""The table and the sentence behind each chart of the page, in the reader's units and words."""

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import Any

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from saltus.athlete.qualities import WORDS, Quality
from saltus.progress.load import WeekLoad
from saltus.progress.soreness import PlaceOverTime
from saltus.web.athletes.figures_told import VERDICTS
from saltus.web.days import iso_date, short_day
from saltus.web.decimals import signed
from saltus.web.sentences import told
from saltus.web.templatetags.figures_in_words import height_change, height_interval, per_cent

__all__ = [
    "block_label",
    "changes_told",
    "landings_table",
    "place_table",
    "response_table",
    "session_load_table",
]

_WEEKS_SHOWN = 12
_APART = dt.timedelta(weeks=1)
# Tests on neighbouring days are one occasion: a change between them tells of noise alone.
_Table = dict[str, Any]


def changes_told(changes: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
    """Changes of the jump between test days a week apart or more, the latest first."""
    return [
        {
            "from": short_day(each["from"]),
            "to": short_day(each["to"]),
            "change": height_change(each["estimate"]),
            "interval": height_interval(dict(each)),
            "probability": per_cent(each["probability_real"]),
            "verdict": _(VERDICTS[each["verdict"]]),
        }
        for each in reversed(changes)
        if dt.date.fromisoformat(each["to"]) - dt.date.fromisoformat(each["from"]) >= _APART
    ]


def session_load_table(weeks: Sequence[WeekLoad]) -> _Table:
    """Session load week by week, the latest first."""
    return {
        "alt": _("Session load by the week: rating times minutes"),
        "columns": [_("Week of"), _("Sessions"), _("Session load"), _("Rated")],
        "rows": [
            [
                short_day(week.start),
                week.sessions,
                "–" if week.session_load is None else f"{week.session_load:.0f}",
                week.rated,
            ]
            for week in reversed(weeks[-_WEEKS_SHOWN:])
        ],
    }


def landings_table(weeks: Sequence[WeekLoad]) -> _Table:
    """Landings week by week, the latest first."""
    return {
        "alt": _("Landings by the week, counted by their cost"),
        "columns": [_("Week of"), _("Landings"), _("By their cost"), _("Of that, sport")],
        "rows": [
            [
                short_day(week.start),
                f"{week.landings:.0f}",
                f"{week.landing_load:.0f}",
                f"{week.sport_landing_load:.0f}",
            ]
            for week in reversed(weeks[-_WEEKS_SHOWN:])
        ],
    }


def place_table(place: PlaceOverTime) -> _Table:
    """What was reported of a place, the latest first."""
    return {
        "alt": _("%(place)s over time, 0 to 10") % {"place": told(place.place)},
        "columns": [_("Date"), _("Soreness"), _("Pain")],
        "rows": [
            [short_day(each.date), _level(each.soreness), _level(each.pain)]
            for each in reversed(place.reports[-2 * _WEEKS_SHOWN :])
        ],
    }


def response_table(blocks: Sequence[Mapping[str, Any]]) -> _Table:
    """Expected and observed gain of each block, the latest first."""
    return {
        "alt": _("What each block brought, against what was expected"),
        "columns": [
            _("Training block"),
            _("Expected"),
            _("80 % interval"),
            _("Observed"),
            _("80 % interval"),
        ],
        "rows": [
            [
                block_label(each),
                _share(each["expected"]["estimate"]),
                _interval(each["expected"]),
                _share(each["observed"]["estimate"]),
                _interval(each["observed"]),
            ]
            for each in reversed(blocks)
        ],
    }


def block_label(block: Mapping[str, Any], *, line: str = ", ") -> str:
    """A block by what it was aimed at, and when, with `line` between the two."""
    start = date_format(iso_date(block["start"]), "MONTH_DAY_FORMAT")
    when = _("%(start)s to %(end)s") % {"start": start, "end": short_day(block["end"])}
    return f"{_(WORDS[Quality(block['quality'])])}{line}{when}"


def _level(level: int | None) -> str:
    return "–" if level is None else str(level)


def _share(value: float) -> str:
    return signed(f"{100 * value:+.1f} %")


def _interval(ends: Mapping[str, float]) -> str:
    return _("%(low)s to %(high)s") % {"low": _share(ends["low"]), "high": _share(ends["high"])}
