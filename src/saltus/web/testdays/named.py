"""What the name of a recording says of the jump: the load carried, the box dropped from."""

import re
from typing import Any

from saltus.record.trials import Quantity
from saltus.web.testdays.typed import to_si
from saltus.web.units import Units

__all__ = ["said_by_name"]

_LOAD = re.compile(r"(?<![\d.,])(\d{1,3}(?:[.,]\d+)?) ?(kg|lbs?)(?![a-z])", re.IGNORECASE)
_BOX = re.compile(r"(?<![\d.,])(\d{1,3}(?:[.,]\d+)?) ?(cm|in)(?![a-z])", re.IGNORECASE)
_DROP = re.compile(r"drop|depth|(?<![a-z])dj(?![a-z])", re.IGNORECASE)
_MOST_KG = 300.0
_LOWEST_M, _HIGHEST_M = 0.05, 1.3


def said_by_name(name: str) -> dict[str, Any]:
    """Options of a recording that its file's name tells: ``load_kg``, ``box_m``; often none.

    Parameters
    ----------
    name : str
        Such as ``ilves_squat-jump-20kg.csv`` or ``ilves drop jump 40 cm.txt``. A height is only
        taken for that of a box where the name speaks of a drop.
    """
    said: dict[str, Any] = {}
    load = _LOAD.search(name)
    if load and 0 < (kilograms := to_si(load[0], Quantity.MASS, Units())) <= _MOST_KG:
        said["load_kg"] = kilograms
    box = _BOX.search(name) if _DROP.search(name) else None
    if box and _LOWEST_M <= (metres := to_si(box[0], Quantity.LENGTH, Units())) <= _HIGHEST_M:
        said["box_m"] = metres
    return said
