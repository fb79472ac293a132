"""The table and the sentence behind each chart, for whoever does not see it."""

from collections.abc import Mapping
from typing import Any

from django.utils import dateformat
from django.utils.translation import gettext as _

from saltus.athlete.qualities import WORDS, Quality
from saltus.quantities import CENTIMETRE
from saltus.web.athletes.figures_told import METHODS, Scale, quality_scale, told
from saltus.web.templatetags.figures_in_words import iso_date, per_cent
from saltus.web.units import current_units

__all__ = ["force_velocity_table", "jump_table", "quality_table", "worth_table"]

_Table = dict[str, Any]


def jump_table(document: Mapping[str, Any]) -> _Table:
    """The jump at each date, and the tests as jumps of its kind."""
    scale = _length()
    history = document["history"]
    rows = [
        (moment["date"], 0, _("all tests together"), "", told(moment["jump"], scale))
        for moment in history["moments"]
    ]
    rows += [
        (test["date"], 1, METHODS[test["method"]], scale(test["read_m"]), told(test, scale))
        for test in history["tests"]
    ]
    rows.sort(key=lambda row: (row[0], row[1]), reverse=True)
    first, last = history["moments"][0], history["moments"][-1]
    return {
        "alt": _(
            "The jump without arms over time: %(then)s %(unit)s on %(first)s, %(now)s %(unit)s "
            "on %(last)s."
        )
        % {
            "then": scale(first["jump"]["estimate"]),
            "now": scale(last["jump"]["estimate"]),
            "unit": scale.unit,
            "first": _day(first["date"]),
            "last": _day(last["date"]),
        },
        "columns": [
            _("Date"),
            _("From"),
            _("As read"),
            _("Jump without arms (%(unit)s)") % {"unit": scale.unit},
            _("80 % interval"),
        ],
        "rows": [
            [_day(date), source, read, ends["estimate"], _interval(ends)]
            for date, _order, source, read, ends in rows
        ],
    }


def worth_table(document: Mapping[str, Any]) -> _Table:
    """What a block on each quality is worth."""
    units = current_units.get()
    scale = Scale(units.length, CENTIMETRE * units.metre)
    rows = []
    for each in document["worth"]:
        ends = told({end: each[f"{end}_cm"] for end in ("estimate", "low", "high")}, scale)
        rows.append(
            [
                _(WORDS[Quality(each["quality"])]),
                ends["estimate"],
                _interval(ends),
                per_cent(each["probability_largest"]),
            ]
        )
    return {
        "alt": _("What one ordinary block on each quality is worth. Largest: %(what)s.")
        % {"what": f"{rows[0][0]}, {rows[0][1]} {scale.unit}"},
        "columns": [
            _("Quality"),
            _("Worth (%(unit)s)") % {"unit": scale.unit},
            _("80 % interval"),
            _("Probability that it is the largest"),
        ],
        "rows": rows,
    }


def force_velocity_table(document: Mapping[str, Any]) -> _Table | None:
    """The loads of the published profile."""
    profile = document["force_velocity"]
    if profile is None:
        return None
    units = current_units.get()
    force, velocity = Scale("N/kg"), Scale("m/s", 1.0, 2)
    rows = []
    for point in profile["points"]:
        at_force, at_velocity = (
            told(point["force_n_kg"], force),
            told(point["velocity_m_s"], velocity),
        )
        rows.append(
            [
                f"{point['load_kg'] * units.kilogram:.0f} {units.mass}",
                at_velocity["estimate"],
                _interval(at_velocity),
                at_force["estimate"],
                _interval(at_force),
            ]
        )
    return {
        "alt": _(
            "Force-velocity line through %(count)s loads, from F0 %(F0)s N/kg to v0 %(v0)s m/s."
        )
        % {
            "count": len(rows),
            "F0": force(profile["F0_n_kg"]["estimate"]),
            "v0": velocity(profile["v0_m_s"]["estimate"]),
        },
        "columns": [
            _("Load"),
            _("Velocity (m/s)"),
            _("80 % interval"),
            _("Force (N/kg)"),
            _("80 % interval"),
        ],
        "rows": rows,
        "read_off": [
            ("F0", told(profile["F0_n_kg"], force)),
            ("v0", told(profile["v0_m_s"], velocity)),
            ("Pmax", told(profile["Pmax_w_kg"], Scale("W/kg"))),
            (_("slope"), told(profile["slope"], Scale("N·s/m/kg"))),
            (_("optimal slope"), told(profile["optimal_slope"], Scale("N·s/m/kg"))),
            (_("slope over optimal"), told(profile["balance"], Scale("", 1.0, 2))),
        ],
    }


def quality_table(document: Mapping[str, Any], quality: Quality) -> _Table:
    """One quality at each date."""
    scale = quality_scale(quality)
    moments = document["history"]["moments"]
    words = _(WORDS[quality])
    rows = []
    for moment in reversed(moments):
        ends = told(moment["qualities"][quality.value], scale)
        rows.append([_day(moment["date"]), ends["estimate"], _interval(ends)])
    return {
        "alt": _("%(quality)s over time: %(then)s, then %(now)s %(unit)s.")
        % {"quality": words, "then": rows[-1][1], "now": rows[0][1], "unit": scale.unit},
        "columns": [_("Date"), f"{words} ({scale.unit})", _("80 % interval")],
        "rows": rows,
    }


def _length() -> Scale:
    units = current_units.get()
    return Scale(units.length, units.metre)


def _interval(ends: Mapping[str, str]) -> str:
    return _("%(low)s to %(high)s") % ends


def _day(date: str) -> str:
    return dateformat.format(iso_date(date), "j M Y")
