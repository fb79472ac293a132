"""Sentences of the core in the reader's language: recognised whole, and put together again.

The core speaks English and knows nothing of languages. Each sentence of `TEMPLATES` stands for
all that the core makes of it; the name of a placeholder says what may stand there. What no
template matches stays as it is. Of several lines, each is told by itself. English keeps its words,
and has its days written as pages write them.
"""

import re
from functools import cache, lru_cache

from django.utils.text import capfirst
from django.utils.translation import get_language, gettext

from saltus.web.core_words import core_words
from saltus.web.days import short_day
from saltus.web.decimals import decimals
from saltus.web.methods.words import restricted_words
from saltus.web.sentence_templates import TEMPLATES

__all__ = ["inside", "make_ready", "told"]

_DATE = r"\d{4}-\d\d-\d\d"
_NUMBER = r"[-−+]?\d+(?:\.\d+)?(?:e[-+]?\d+)?"
_LOAD = r"(?:[\d.]+ (?:kg|lb|cm)(?: and \d+ cm)?|without load)"
_WEEKDAY = "(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun)[a-z]*"
_TIMES = r"(?:not at all|once|twice|\d+ times)"
_SHAPES = {
    "date": _DATE,
    "to": _DATE,
    "dates": rf"{_DATE}(?:, {_DATE})*",
    "first_date": _DATE,
    "last_date": _DATE,
    "weekday": _WEEKDAY,
    "first_weekday": _WEEKDAY,
    "last_weekday": _WEEKDAY,
    "load": _LOAD,
    "before": _LOAD,
    "times": _TIMES,
    "other_times": _TIMES,
    "not_for": ".+",
    "free_text": ".+",
    "bracketed": r"(?:(?!\)\. ).)+",
    "file": r"(?:(?!\. |: ).)+?",
    "where": r"\S+",
    "range": rf"{_NUMBER}(?: to {_NUMBER})?",
    "plates": rf"{_NUMBER}(?: \+ {_NUMBER})*",
} | dict.fromkeys(
    ("number", "other", "least", "most", "level", "sets", "reps", "old_sets", "old_reps"),
    _NUMBER,
)
"""What may stand for a placeholder; for others a clause, or words that no sentence ends in."""
_WORDS = r"(?:(?!\. |; |: ).)+?"
_WRITTEN = dict.fromkeys(
    ("what", "restricted", "place", "person", "names", "items"), r"(?:(?!\. |; ).)+?"
)
"""What people wrote may have colons in it."""
_DATES = {"date", "to", "dates", "first_date", "last_date"}
_NAMES = {"file", "where", "names"}
"""Placeholders for what a person or a file is called, be it a date."""
_CLAUSES = {
    *("said", "rest", "why", "effect", "shows", "weeks", "load", "before"),
    *("times", "other_times", "years", "other_years", "time", "free", "later"),
}
"""Placeholders in whose place a text stands that must be recognised as well."""
_LISTS = {"reasons", "items", "names", "days"}
"""Placeholders for several, with commas between them."""
_TRIED = {"kind", "place", "hint", "help", "what", "test", "title", "jump", "side", "other_side"}
"""Placeholders in whose place a text may stand that is known, or one that somebody wrote."""

_PLACEHOLDER = re.compile(r"%\((\w+)\)s")
_FIGURE = re.compile(rf"{_NUMBER}(?: ?(?:[^\W\d]|[/%])+)?")
_ISO_DATE = re.compile(_DATE)
_RANGE = re.compile(rf"({_NUMBER}) to ({_NUMBER})")
_DIGITS = "0123456789"
"""At the end of a placeholder's name they tell several of a kind apart."""


def _shape(name: str) -> str:
    return _SHAPES.get(name) or _WRITTEN.get(name) or (".+?" if name in _CLAUSES else _WORDS)


def _pattern(template: str) -> re.Pattern[str]:
    parts = _PLACEHOLDER.split(template)
    for i, part in enumerate(parts):
        shape = _shape(part.rstrip(_DIGITS))
        parts[i] = f"(?P<{part}>{shape})" if i % 2 else re.escape(part.replace("%%", "%"))
    return re.compile("".join(parts))


@cache
def _patterns() -> tuple[tuple[str, re.Pattern[str]], ...]:
    """Those with most words of their own first: "without load" before "without" something."""
    ordered = sorted(TEMPLATES, key=lambda t: -len(_PLACEHOLDER.sub("", t)))
    return tuple((template, _pattern(template)) for template in ordered)


def make_ready() -> None:
    """Do what the first sentence would have to wait for: it takes a tenth of a second."""
    _patterns()
    _fixed()


def told(sentence: str) -> str:
    """A text of the core in the reader's language; unchanged where it is not known.

    Parameters
    ----------
    sentence : str
        As the core wrote it.

    Returns
    -------
    str
        Never marked as safe for HTML: names in it come from what people typed.
    """
    language = get_language()
    if not sentence or language is None:
        return sentence
    if language.startswith("en") and _ISO_DATE.search(sentence) is None:
        return sentence  # nothing in it is written otherwise
    # A slice of a text marked as safe is not.
    found = _found(language, sentence[:])
    if found is None and "\n" in sentence:
        return "\n".join(_indented(line) for line in sentence.split("\n"))
    return sentence if found is None else found


def inside(text: str) -> str:
    """A title as it stands inside a sentence: German nouns keep their capital."""
    german = (get_language() or "").startswith("de")
    return text if german else text[:1].lower() + text[1:]


def _indented(line: str) -> str:
    words = line.lstrip()
    return line.removesuffix(words) + told(words)


@cache
def _fixed() -> frozenset[str]:
    return frozenset(core_words())


@lru_cache(maxsize=4096)
def _found(language: str, text: str) -> str | None:
    """Text in the active language, which is that one; None where it is not known."""
    word = _word(text)
    if word is not None:
        return word
    if _RANGE.fullmatch(text):
        return _value(language, "range", text)
    for template, pattern in _patterns():
        match = pattern.fullmatch(text)
        if match is None:
            continue
        values = {name: _value(language, name, part) for name, part in match.groupdict().items()}
        if None not in values.values():
            return gettext(template) % values
    for between in (". ", "; "):
        if (joined := _joined(language, text, between)) is not None:
            return joined
    if not text.endswith("."):  # A reason inside another sentence has lost its full stop.
        stopped = next(
            (t for t, p in _patterns() if t[-1] == "." and p.fullmatch(f"{text}.")), None
        )
        found = _found(language, f"{text}.") if stopped else None
        return found.removesuffix(".") if found else None
    return None


def _joined(language: str, text: str, between: str) -> str | None:
    """Sentences one after the other: as long a first one as is known, and the rest."""
    place = text.rfind(between)
    while place > 0:
        end = place + len(between.rstrip(" ;"))
        first = _found(language, text[:end])
        rest = _found(language, text[place + len(between) :]) if first is not None else None
        if first is not None and rest is not None:
            return f"{first}{text[end : place + len(between)]}{rest}"
        place = text.rfind(between, 0, place)
    return None


def _word(text: str) -> str | None:
    """A fixed text, with the capital letter that it may have got at the start."""
    if text in _fixed():
        return gettext(text)
    lowered = text[:1].lower() + text[1:]
    if lowered in _fixed():
        return capfirst(gettext(lowered))
    raised = capfirst(text)
    return gettext(raised) if raised in _fixed() else None


def _day(text: str) -> str:
    """A day as pages write it; what is none, such as 30 February, as somebody wrote it."""
    try:
        return short_day(text)
    except ValueError:
        return text


def _value(language: str, name: str, text: str) -> str | None:
    """What stands for a placeholder; None where it had to be known and is not."""
    name = name.rstrip(_DIGITS)
    if name in _DATES:
        return ", ".join(map(_day, text.split(", ")))
    if name not in _NAMES and _ISO_DATE.fullmatch(text):
        return _day(text)
    if name.endswith("weekday"):
        return gettext(text)
    if ends := _RANGE.fullmatch(text):
        low, high = (decimals(end) for end in ends.groups())
        return gettext("%(low)s to %(high)s") % {"low": low, "high": high}
    if name == "plates" or (name not in _CLAUSES and _FIGURE.fullmatch(text)):
        return decimals(text)
    if name in _LISTS:
        parts = [_found(language, part) or part for part in text.split(", ")]
        return ", ".join(parts)
    if name in _CLAUSES:
        return _found(language, text)
    if name == "restricted":
        return restricted_words(text)
    if name in _TRIED:
        return _found(language, text) or text
    if name == "family":
        return _word(text.replace("_", " ")) or text
    return _word(text) or text
