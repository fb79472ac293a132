"""Pain on the 0 to 10 scale, and what the published monitoring scale allows.

Saltus gives no medical advice: it stops what is risky and says whom to see.
"""

import datetime as dt
from dataclasses import dataclass
from enum import IntEnum

__all__ = [
    "JUMPING",
    "LANDING",
    "PLACES",
    "Pain",
    "PainBand",
    "Restriction",
    "identifier_of",
    "pain_band",
]

JUMPING = frozenset({"jump", "jumps", "jumping", "plyometrics"})
LANDING = frozenset({"landing", "landings"})
"""Words of a restriction that speak of whatever lands."""


class PainBand(IntEnum):
    """What a reported pain allows.

    Bands at 2 and 5: Silbernagel et al. 2007, Am J Sports Med 35:897-906, after
    Thomeé 1997, Phys Ther 77:1690-1703.
    """

    SAFE = 0
    ACCEPTABLE = 1
    STOP = 2


PLACES = (
    "neck",
    "upper back",
    "lower back",
    "left shoulder",
    "right shoulder",
    "left elbow",
    "right elbow",
    "left wrist or hand",
    "right wrist or hand",
    "left hip or groin",
    "right hip or groin",
    "left front of thigh",
    "right front of thigh",
    "left back of thigh",
    "right back of thigh",
    "left knee",
    "right knee",
    "left shin",
    "right shin",
    "left calf",
    "right calf",
    "left Achilles tendon",
    "right Achilles tendon",
    "left ankle or foot",
    "right ankle or foot",
)
"""Places offered where somebody is asked; any other words may be written."""

_SAFE_UP_TO = 2
_ACCEPTABLE_UP_TO = 5


@dataclass(frozen=True, slots=True)
class Pain:
    """A pain reported on a day.

    Parameters
    ----------
    date : date
        The day.
    place : str
        Such as "left knee" or "Achilles tendon".
    level : int
        0 (none) to 10 (the worst imaginable).
    settled_next_morning : bool or None
        Whether it was back to usual by the next morning; None if not known.
    """

    date: dt.date
    place: str
    level: int
    settled_next_morning: bool | None = None


@dataclass(frozen=True, slots=True)
class Restriction:
    """Something that may not be done, by whose word, and until when.

    Parameters
    ----------
    what : str
        An exercise, an exercise tag such as "depth_jump" or "landing", or "jumping".
    start : date
        First day.
    end : date or None
        Last day; None until lifted.
    why : str
        Free text.
    """

    what: str
    start: dt.date
    end: dt.date | None = None
    why: str = ""

    def holds(self, on: dt.date) -> bool:
        """Whether the restriction holds on a day."""
        return self.start <= on and (self.end is None or on <= self.end)


def identifier_of(text: str) -> str:
    """Words as the method would write them in an identifier."""
    return text.strip().casefold().replace(" ", "_").replace("-", "_")


def pain_band(pain: Pain) -> PainBand:
    """Band of the published pain-monitoring scale; unsettled pain counts one band higher."""
    if pain.level <= _SAFE_UP_TO:
        band = PainBand.SAFE
    elif pain.level <= _ACCEPTABLE_UP_TO:
        band = PainBand.ACCEPTABLE
    else:
        band = PainBand.STOP
    if pain.settled_next_morning is False and band < PainBand.STOP:
        band = PainBand(band + 1)
    return band
