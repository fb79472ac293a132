"""The table and the sentence behind each chart, for whoever does not see it.

Each table has a name in the address of its own page, where all of its rows are; beside the
chart stand the latest of them.
"""

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _

from saltus.athlete.provenance import FIGURES, JUMP, WORTH
from saltus.athlete.qualities import WORDS, Quality
from saltus.quantities import CENTIMETRE
from saltus.web import sentences
from saltus.web.athletes.figures_told import METHODS, Scale, quality_scale, told, value_told
from saltus.web.days import short_day
from saltus.web.decimals import decimals
from saltus.web.templatetags.figures_in_words import per_cent
from saltus.web.units import current_units, in_units

__all__ = [
    "force_velocity_table",
    "jump_table",
    "provenance_table",
    "quality_table",
    "table_named",
    "worth_table",
]

_FROM = "from-"
_Table = dict[str, Any]


def jump_table(document: Mapping[str, Any], most: int | None = None) -> _Table:
    """The jump at each date, and the tests as jumps of its kind; the latest `most` of them."""
    scale = _length()
    history = document["history"]
    rows = [
        (moment["date"], 0, _("all tests together"), "", moment["jump"])
        for moment in history["moments"]
    ]
    rows += [
        (test["date"], 1, METHODS[test["method"]], scale(test["read_m"]), test)
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
            "first": short_day(first["date"]),
            "last": short_day(last["date"]),
        },
        "columns": [
            _("Date"),
            _("From"),
            _("As read"),
            _("Jump without arms (%(unit)s)") % {"unit": scale.unit},
            _("80 % interval"),
        ],
        "rows": [
            [short_day(date), source, read, scale(ends["estimate"]), _interval(told(ends, scale))]
            for date, _order, source, read, ends in rows[:most]
        ],
        "name": "jump",
        "more": len(rows) - len(rows[:most]),
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
        "name": "worth",
        "more": 0,
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
        "name": "force-velocity",
        "more": 0,
        "read_off": [
            ("F0", told(profile["F0_n_kg"], force)),
            ("v0", told(profile["v0_m_s"], velocity)),
            ("Pmax", told(profile["Pmax_w_kg"], Scale("W/kg"))),
            (_("slope"), told(profile["slope"], Scale("N·s/m/kg"))),
            (_("optimal slope"), told(profile["optimal_slope"], Scale("N·s/m/kg"))),
            (_("slope over optimal"), told(profile["balance"], Scale("", 1.0, 2))),
        ],
    }


def quality_table(document: Mapping[str, Any], quality: Quality, most: int | None = None) -> _Table:
    """One quality at each date; the latest `most` of them."""
    scale = quality_scale(quality)
    moments = document["history"]["moments"]
    words = _(WORDS[quality])
    rows = []
    for moment in moments[::-1][:most]:
        ends = told(moment["qualities"][quality.value], scale)
        rows.append([short_day(moment["date"]), ends["estimate"], _interval(ends)])
    then = scale(moments[0]["qualities"][quality.value]["estimate"])
    return {
        "alt": _("%(quality)s over time: %(then)s, then %(now)s %(unit)s.")
        % {"quality": words, "then": then, "now": rows[0][1], "unit": scale.unit},
        "columns": [_("Date"), f"{words} ({scale.unit})", _("80 % interval")],
        "rows": rows,
        "name": quality.value,
        "more": len(moments) - len(rows),
    }


def provenance_table(document: Mapping[str, Any], figure: str, most: int | None = None) -> _Table:
    """The tests that a figure comes from, the most telling first."""
    kept = document["provenance"]
    found = kept["figures"][figure]
    rows = []
    for part in found["parts"][:most]:
        reading = kept["readings"][part["reading"]]
        rows.append(
            [
                # Without its place in the record, which is for messages.
                in_units(sentences.told(reading["source"].partition(" (")[0])),
                value_told(reading["value"], reading["unit"]),
                "± " + value_told(reading["sd"], reading["unit"]),
                decimals(f"{min(reading['weight'], 1.0):.2f}"),
                f"{100 * part['share']:.0f} %",
                f"{100 * part['narrows']:.0f} %",
            ]
        )
    return {
        "alt": _("Tests behind: %(figure)s") % {"figure": _figure_words(figure)},
        "columns": [
            _("Test"),
            _("Read"),
            _("Error"),
            _("Believed"),
            _("Share"),
            _("Wider without it"),
        ],
        "rows": rows,
        "name": f"{_FROM}{figure}",
        "more": len(found["parts"]) - len(rows),
        "narrowed": f"{100 * (1 - found['narrowed']):.0f}",
    }


def _figure_words(figure: str) -> str:
    if figure == JUMP:
        return _("jump without arms")
    words = _(WORDS[Quality(figure.removeprefix(WORTH))])
    return _("worth of %(quality)s") % {"quality": words} if figure.startswith(WORTH) else words


def table_named(document: Mapping[str, Any], name: str) -> _Table | None:
    """The whole table of that name, or None where there is none."""
    qualities = {quality.value: quality for quality in Quality}
    if name in qualities:
        return quality_table(document, qualities[name])
    if name.startswith(_FROM) and name.removeprefix(_FROM) in FIGURES:
        return provenance_table(document, name.removeprefix(_FROM))
    makers = {"jump": jump_table, "worth": worth_table, "force-velocity": force_velocity_table}
    return makers[name](document) if name in makers else None


def _length() -> Scale:
    units = current_units.get()
    return Scale(units.length, units.metre)


def _interval(ends: Mapping[str, str]) -> str:
    return _("%(low)s to %(high)s") % ends
