"""The sheet of a session in the reader's language: the core writes it in English."""

from typing import Any

from saltus.training.exercises import Exercise, HeightKind
from saltus.training.method import Method
from saltus.training.plan import Item, Session
from saltus.web.plans.words import exercise_name, told_by_its_time
from saltus.web.sentences import inside, told
from saltus.web.units import in_units

__all__ = ["sheet_told"]

_SAID = ("cue", "why", "load_words", "closed")


def sheet_told(sheet: dict[str, Any], session: Session, method: Method) -> dict[str, Any]:
    """A copy of what :func:`saltus.training.today.sheet.session_sheet` made, to be read.

    Parameters
    ----------
    sheet : dict
        ``items`` and ``form``.
    session : Session
        Of which it was made.
    method : Method
        Names of the exercises.

    Returns
    -------
    dict
        Each item with its ``name``, whether it is done with one leg after the other
        (``per_side``), whether its height is that of a ``hurdle``, and its ``minutes`` where
        these say more than "1 x 1"; the form with the name of its jump.
    """
    form = sheet["form"]
    return {
        "items": [
            _item(item, planned, method)
            for item, planned in zip(sheet["items"], session.items, strict=True)
        ],
        "form": form
        and {
            **{k: _read(v) if k.startswith("why_") else v for k, v in form.items()},
            "name": inside(exercise_name(form["exercise"], method)),
        },
    }


def _item(item: dict[str, Any], planned: Item, method: Method) -> dict[str, Any]:
    exercise = method.exercises.get(planned.exercise)
    return {
        **_said(item),
        "name": exercise_name(item["exercise"], method),
        "per_side": exercise is not None and exercise.per_side,
        "hurdle": _over_hurdles(exercise),
        "minutes": round(planned.minutes) if told_by_its_time(planned, exercise) else None,
        "last": [_set(each) for each in item["last"]],
        "cautions": [_read(each) for each in item["cautions"]],
        "answers": [_said(each) for each in item["answers"]],
        "if_below": item["if_below"] and _said(item["if_below"]),
        "if_well_below": item["if_well_below"] and _said(item["if_well_below"]),
    }


def _over_hurdles(exercise: Exercise | None) -> bool:
    if exercise is None or exercise.height is None:
        return False
    return exercise.height.kind is HeightKind.HURDLE


def _said(part: dict[str, Any]) -> dict[str, Any]:
    """Copy of an item, or of what it becomes, with its sentences told."""
    return {
        k: v if not v or k not in _SAID else told(v) if k == "load_words" else _read(v)
        for k, v in part.items()
    }


def _set(words: str) -> str:
    """A set done: "3 x 5 x 60 kg, 1 missed, 2 left"; the day before it stays for the phone."""
    return ", ".join(_read(part) for part in words.split(", ")).replace(" x ", " × ")


def _read(sentence: str) -> str:
    """In the reader's language and units."""
    return in_units(told(sentence))
