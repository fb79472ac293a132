"""What the record of an athlete tells, in words and in the reader's units."""

from collections.abc import Mapping, Sequence
from typing import Any

from django.utils.translation import gettext as _

from saltus.athlete.qualities import WORDS, Quality
from saltus.record.schema import ATHLETE, GYM
from saltus.web import sentences
from saltus.web.athletes.figures_told import METHODS, value_told
from saltus.web.decimals import decimals
from saltus.web.editing.words import choice
from saltus.web.methods.words import restricted_words
from saltus.web.units import Units, current_units, in_units

__all__ = ["record_told"]

_TOOLS = next(field for field in ATHLETE.fields if field.name == "testing_tools")
_GYM = next(field for field in GYM.fields if field.name == "equipment")


def record_told(
    about: Mapping[str, Any],
    *,
    health: bool,
    most: int | None = None,
    names: Mapping[str, str] | None = None,
) -> dict[str, Any]:
    """Tests, equipment and training of :func:`saltus.record.about.about`, for templates.

    Parameters
    ----------
    about : mapping
        From :func:`saltus.record.about.about`.
    health : bool
        Whether the reader may see pains, restrictions and remarks; they are left out otherwise.
    most : int or None
        Tests to tell, the latest; None for all.
    names : mapping of str to str, optional
        What the coach called each recording, by the name under which it is kept.
    """
    names = names or {}
    seen = {key: value for key, value in about.items() if key not in ("pains", "restrictions")}
    if health:
        seen["pains"] = about["pains"]
        seen["restrictions"] = [
            each | {"what_words": restricted_words(each["what"])} for each in about["restrictions"]
        ]
    else:
        seen["remark"] = ""
    seen["notes"] = [_named(note, names) for note in about["notes"]]
    return {
        "about": seen,
        "tests": [_test(test, names, health=health) for test in about["tests"][:most]],
        "more_tests": len(about["tests"]) - len(about["tests"][:most]),
        "equipment": _equipment(about),
        "blocks": [
            {
                "start": block["start"],
                "end": block["end"],
                "words": ", ".join(
                    decimals(f"{_(WORDS[Quality(name)])} {share:g}")
                    for name, share in sorted(block["emphasis"].items(), key=lambda each: -each[1])
                ),
            }
            for block in about["blocks"]
        ],
    }


def _test(test: Mapping[str, Any], names: Mapping[str, str], *, health: bool) -> dict[str, Any]:
    return {
        "date": test["date"],
        "what": in_units(sentences.told(test["what"])),
        "method": METHODS.get(test["method"], ""),
        "results": _results(test["values"], test["unit"]),
        "file": names.get(test["file"], test["file"]),
        # A coach's free words may be about health.
        "note": test["note"] if health else "",
    }


def _named(note: str, names: Mapping[str, str]) -> str:
    """A remark on a recording with the name that the coach gave it."""
    path, colon, words = note.partition(": ")
    kept_as = path.rpartition("/")[2]
    return (
        f"{names[kept_as]}{colon}{sentences.told(words)}"
        if kept_as in names
        else sentences.told(note)
    )


def _results(values: Sequence[float], unit: str) -> str:
    """Several results with their unit once."""
    told = [value_told(value, unit).split(" ", 1) for value in values]
    return f"{' · '.join(number for number, _unit in told)} {told[0][1]}" if told else ""


def _equipment(about: Mapping[str, Any]) -> dict[str, Any]:
    units, gym = current_units.get(), about["gym"]
    # Weights are told as they are stamped, whatever the reader's units.
    stamped = Units(mass=gym.get("unit", "kg"))

    def masses(weights: Sequence[float]) -> str:
        return "; ".join(decimals(f"{kg * stamped.kilogram:.4g}") for kg in weights)

    weights = [
        (_("bar"), masses([gym["bar_kg"]]) if "barbell" in gym["equipment"] else ""),
        (
            _("plates"),
            "; ".join(decimals(f"{n} × {kg * stamped.kilogram:.4g}") for kg, n in gym["plates_kg"]),
        ),
        (_("dumbbells"), masses(gym["dumbbells_kg"])),
        (_("kettlebells"), masses(gym["kettlebells_kg"])),
    ]
    return {
        "tools": ", ".join(choice(_TOOLS, tool) for tool in about["person"]["testing_tools"]),
        "gym": ", ".join(choice(_GYM, each) for each in gym["equipment"]),
        "weights": [f"{words} {told} {stamped.mass}" for words, told in weights if told],
        "boxes": ", ".join(f"{m * units.metre:.0f}" for m in gym["boxes_m"])
        + (f" {units.length}" if gym["boxes_m"] else ""),
    }
