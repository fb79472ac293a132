"""Whose recording it is, from the name of its file."""

import re
import unicodedata
from collections.abc import Sequence

from saltus.web.models import Athlete

__all__ = ["matched"]

_WORD = re.compile(r"[^\W\d_]+")
_INSIDE = re.compile(r"(?<=[a-zß-ÿ])(?=[A-ZÀ-Þ])")


def matched(path: str, athletes: Sequence[Athlete]) -> Athlete | None:
    """The one athlete whose name is in a file's name or in its folder's; None if in doubt.

    Parameters
    ----------
    path : str
        Such as ``Ilves/cmj_1.csv`` or ``AdaIlves-2026-11-20.txt``.
    athletes : sequence of Athlete
        Who may be meant.
    """
    words = _words(path)
    scores = [(_score(athlete.name, words), athlete) for athlete in athletes]
    best = max((score for score, _ in scores), default=0)
    if best == 0:
        return None
    found = [athlete for score, athlete in scores if score == best]
    return found[0] if len(found) == 1 else None


def _words(text: str) -> list[str]:
    plain = unicodedata.normalize("NFKD", _INSIDE.sub(" ", unicodedata.normalize("NFC", text)))
    plain = "".join(letter for letter in plain if not unicodedata.combining(letter))
    return [word.casefold() for word in _WORD.findall(plain)]


def _score(name: str, words: Sequence[str]) -> int:
    """3: every part of the name; 2: last name and initial; 1: last or first name alone."""
    parts = _words(name)
    if not parts:
        return 0
    joined = set(words)
    if all(part in joined for part in parts):
        return 3
    if "".join(parts) in joined or "".join([*parts[1:], parts[0]]) in joined:
        return 3
    first, last = parts[0], parts[-1]
    if last in joined and len(parts) > 1:
        return 2 if first[0] in joined else 1
    if first[0] + last in joined or last + first[0] in joined:
        return 2
    return 1 if first in joined and len(first) > 1 else 0
