"""Figures of an assessment as the page tells them: in the reader's units, with their tests."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, gettext_noop

from saltus.athlete.qualities import UNITS, WORDS, Quality
from saltus.web.decimals import signed
from saltus.web.units import current_units

__all__ = [
    "METHODS",
    "VERDICTS",
    "Scale",
    "qualities_told",
    "quality_scale",
    "told",
    "value_told",
]

METHODS = {
    "reach": gettext_lazy("jump and reach"),
    "mat": gettext_lazy("mat"),
    "film": gettext_lazy("film"),
    "plate_flight": gettext_lazy("plate, flight"),
    "plate_impulse": gettext_lazy("plate, impulse"),
    "broad_jump": gettext_lazy("broad jump"),
}

VERDICTS = {
    "rise": gettext_noop("a real rise"),
    "fall": gettext_noop("a real fall"),
    "none": gettext_noop("no change that matters"),
    "unclear": gettext_noop("not clear yet"),
}
"""On a change, to be translated where it is told."""

_MEANINGS = {
    Quality.MAX_STRENGTH: gettext_lazy("isometric force at the bottom of the push"),
    Quality.RATE_OF_FORCE_DEVELOPMENT: gettext_lazy("how fast that force can rise from rest"),
    Quality.PUSH_OFF_SPEED: gettext_lazy("how fast the legs extend without load at mid-push"),
    Quality.STRETCH_SHORTENING_GAIN: gettext_lazy("what a stretch before the push adds to it"),
    Quality.PUSH_OFF_DISTANCE: gettext_lazy("from the bottom of the dip to tiptoe"),
}


@dataclass(frozen=True, slots=True)
class Scale:
    """How a figure is told.

    Parameters
    ----------
    unit : str
        After the number; empty for none.
    factor : float
        From SI.
    digits : int
        After the point.
    """

    unit: str
    factor: float = 1.0
    digits: int = 1

    def __call__(self, number: float) -> str:
        """Tell a number in SI, without its unit."""
        return signed(f"{number * self.factor:z.{self.digits}f}")


def quality_scale(quality: Quality) -> Scale:
    """How a quality is told to this reader."""
    if quality is Quality.PUSH_OFF_DISTANCE:
        return _length()
    if quality is Quality.STRETCH_SHORTENING_GAIN:
        return Scale("%", 100.0, 1)
    digits = {Quality.PUSH_OFF_SPEED: 2, Quality.RATE_OF_FORCE_DEVELOPMENT: 0}.get(quality, 1)
    return Scale(UNITS[quality], 1.0, digits)


def told(ends: Mapping[str, float], scale: Scale) -> dict[str, str]:
    """Estimate, the ends of its interval, and the interval in words."""
    figures = {end: scale(ends[end]) for end in ("estimate", "low", "high")}
    interval = _("%(low)s to %(high)s") % figures
    return figures | {"unit": scale.unit, "interval": interval}


def value_told(value: float, unit: str) -> str:
    """A reading in SI with its unit, in the reader's units."""
    scale = _scale_of(unit)
    return f"{scale(value)} {scale.unit}"


def qualities_told(document: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Each quality: its words, value and interval."""
    found = []
    for each in document["qualities"]:
        quality = Quality(each["name"])
        found.append(
            {
                "name": quality.value,
                "words": _(WORDS[quality]),
                "meaning": _MEANINGS[quality],
                "now": told(each, quality_scale(quality)),
            }
        )
    return found


def _length() -> Scale:
    units = current_units.get()
    return Scale(units.length, units.metre, 1)


def _scale_of(unit: str) -> Scale:
    units = current_units.get()
    match unit:
        case "m":
            return _length()
        case "kg":
            return Scale(units.mass, units.kilogram, 1)
        case "s":
            return Scale("s", 1.0, 3)
        case "N":
            return Scale("N", 1.0, 0)
        case _:
            return Scale(unit, 1.0, 2)
