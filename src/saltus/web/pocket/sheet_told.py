"""The sheet of a session in the reader's language: the core writes it in English."""

from typing import Any

from saltus.training.method import Method
from saltus.web.plans.words import exercise_name
from saltus.web.sentences import told

__all__ = ["sheet_told"]

_SAID = ("cue", "why", "load_words", "closed")


def sheet_told(sheet: dict[str, Any], method: Method) -> dict[str, Any]:
    """A copy of what :func:`saltus.training.today.sheet.session_sheet` made, to be read.

    Parameters
    ----------
    sheet : dict
        ``items`` and ``form``.
    method : Method
        Names of the exercises.
    """
    form = sheet["form"]
    return {
        "items": [_item(item, method) for item in sheet["items"]],
        "form": form and {k: told(v) if k.startswith("why_") else v for k, v in form.items()},
    }


def _item(item: dict[str, Any], method: Method) -> dict[str, Any]:
    return {
        **_said(item),
        "name": exercise_name(item["exercise"], method),
        "last": [_set(each) for each in item["last"]],
        "cautions": [told(each) for each in item["cautions"]],
        "answers": [_said(each) for each in item["answers"]],
        "if_below": item["if_below"] and _said(item["if_below"]),
        "if_well_below": item["if_well_below"] and _said(item["if_well_below"]),
    }


def _said(part: dict[str, Any]) -> dict[str, Any]:
    """Copy of an item, or of what it becomes, with its sentences told."""
    return {k: told(v) if v and k in _SAID else v for k, v in part.items()}


def _set(words: str) -> str:
    """A set done: "3 x 5 x 60 kg, 1 missed, 2 left"; the day before it stays for the phone."""
    return ", ".join(told(part) for part in words.split(", "))
