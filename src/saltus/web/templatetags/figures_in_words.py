"""Estimates in templates: a number with its interval, in the reader's units."""

import re
from typing import Any

from django import template
from django.utils.translation import gettext as _

from saltus.athlete.qualities import WORDS, Quality
from saltus.web import sentences
from saltus.web.days import iso_date, short_day
from saltus.web.decimals import decimals, signed
from saltus.web.units import current_units, in_units

register = template.Library()

_ISO_DATE = re.compile(r"\b\d{4}-\d{2}-\d{2}\b")
_BELOW_NOUGHT = re.compile(r"(?<![\w.,-])-(?=\d)")
_TIMES = re.compile(r"(?<=\d) x (?=\d)")

Interval = dict[str, float] | None


@register.filter
def height(metres: float | None, digits: int = 1) -> str:
    """A height in the reader's unit, without the unit."""
    return "–" if metres is None else decimals(f"{metres * current_units.get().metre:.{digits}f}")


@register.filter
def height_change(metres: float | None, digits: int = 1) -> str:
    """A change in height in the reader's unit, with its sign, without the unit."""
    if metres is None:
        return "–"
    return signed(f"{metres * current_units.get().metre:+z.{digits}f}")


@register.filter
def mass(kilograms: float | None, digits: int = 1) -> str:
    """A mass in the reader's unit, without the unit; whole numbers without a point."""
    if kilograms is None:
        return "–"
    return decimals(f"{kilograms * current_units.get().kilogram:.{digits}f}".removesuffix(".0"))


@register.simple_tag
def length_unit() -> str:
    """The reader's unit of length."""
    return current_units.get().length


@register.simple_tag
def mass_unit() -> str:
    """The reader's unit of mass."""
    return current_units.get().mass


@register.filter
def height_interval(interval: Interval, digits: int = 1) -> str:
    """Ends of an interval of heights, such as "34.6 to 38.7"."""
    if interval is None:
        return "–"
    metre = current_units.get().metre
    return _("%(low)s to %(high)s") % {
        "low": signed(f"{interval['low'] * metre:z.{digits}f}"),
        "high": signed(f"{interval['high'] * metre:z.{digits}f}"),
    }


@register.filter
def per_cent(probability: float | None) -> str:
    """A probability, never told as a certainty."""
    if probability is None:
        return "–"
    if probability > 0.99:
        return _("over 99 %")
    if probability < 0.01:
        return _("under 1 %")
    return f"{100 * probability:.0f} %"


@register.filter
def quality_words(name: str | None) -> str:
    """What a coach calls a quality."""
    return "" if name is None else _(WORDS[Quality(name)])


@register.filter
def told(sentence: object) -> str:
    """A sentence of the core in the reader's language."""
    return "" if sentence is None else sentences.told(str(sentence))


@register.filter
def source_words(source: str) -> str:
    """Where a rule comes from: a publication as it is, what is none in the reader's language."""
    first, mark, rest = source.partition(";")
    said = {"common practice": _("common practice"), "judgement": _("judgement")}
    return f"{said.get(first, first)}{mark}{rest}"


@register.filter
def dated(sentence: str) -> str:
    """A sentence of the core with its dates, measures and its "3 x 5" as pages write them."""
    told = in_units(_TIMES.sub(" × ", _ISO_DATE.sub(_day_in_words, sentence)))
    return _BELOW_NOUGHT.sub("−", told)


def _day_in_words(found: re.Match[str]) -> str:
    try:
        return short_day(found[0])
    except ValueError:
        return found[0]


register.filter("iso_date", iso_date)


@register.filter
def item(mapping: dict[Any, Any], key: Any) -> Any:
    """The value of a key in a template."""
    return mapping.get(key)
