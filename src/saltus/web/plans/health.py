"""What a plan says of pains and restrictions, kept from those who may not read it."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

__all__ = ["Shown", "shown"]

_HEALTH = re.compile(r"\b(pains?|restrict\w*|sore\w*)\b", re.IGNORECASE)
# The planner's general warning speaks of no athlete in particular.
_GENERAL = "Stop an exercise that hurts."


@dataclass(frozen=True, slots=True)
class Shown:
    """Sentences of a plan that a person may read.

    Parameters
    ----------
    lines : tuple of str
        Those.
    hidden : bool
        Whether any was left out.
    """

    lines: tuple[str, ...]
    hidden: bool


def shown(lines: Iterable[str], *, sees_health: bool) -> Shown:
    """Leave out what speaks of pains and restrictions where a person may not read of them.

    The sentences of gates and cautions name the pain or the restriction that they speak of,
    and a restriction of theirs may give its reason in any words: the whole sentence goes.
    """
    every = tuple(lines)
    if sees_health:
        return Shown(every, hidden=False)
    kept = tuple(line for line in every if line.startswith(_GENERAL) or not _HEALTH.search(line))
    return Shown(kept, hidden=len(kept) < len(every))
