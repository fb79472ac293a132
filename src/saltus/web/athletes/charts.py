"""Charts of an athlete: which there are, drawn from the kept assessment."""

from collections.abc import Callable, Mapping
from typing import Any

from django.utils.translation import gettext, gettext_noop

from saltus.athlete.qualities import Quality
from saltus.figures.draw import Figure
from saltus.figures.force_velocity import force_velocity
from saltus.figures.over_time import jump_over_time, quality_over_time
from saltus.figures.theme import DARK, LIGHT, Palette
from saltus.figures.worth import worth_dots
from saltus.quantities import CENTIMETRE
from saltus.web.athletes.figures_told import quality_scale
from saltus.web.page_charts import on_page
from saltus.web.units import current_units

__all__ = ["CHARTS", "chart_specification"]

_WORDS = (
    gettext_noop("jump without arms"),
    gettext_noop("jump gained"),
    gettext_noop("mean velocity of the push"),
    gettext_noop("mean force"),
    gettext_noop("jump and reach"),
    gettext_noop("mat"),
    gettext_noop("film"),
    gettext_noop("plate, flight"),
    gettext_noop("plate, impulse"),
    gettext_noop("broad jump"),
)
"""Words of the figures, noted here for the translators."""

_Document = Mapping[str, Any]


def _jump(document: _Document, palette: Palette) -> Figure:
    units = current_units.get()
    history = document["history"]
    return jump_over_time(
        history["moments"],
        history["tests"],
        unit=units.length,
        per_metre=units.metre,
        say=gettext,
        palette=palette,
        width="container",
    )


def _worth(document: _Document, palette: Palette) -> Figure:
    units = current_units.get()
    return worth_dots(
        document["worth"],
        unit=units.length,
        per_centimetre=CENTIMETRE * units.metre,
        named=document["limiting"]["quality"],
        say=gettext,
        palette=palette,
        width="container",
    )


def _force_velocity(document: _Document, palette: Palette) -> Figure | None:
    units = current_units.get()
    if document["force_velocity"] is None:
        return None
    return force_velocity(
        document["force_velocity"],
        mass_unit=units.mass,
        per_kilogram=units.kilogram,
        say=gettext,
        palette=palette,
        width="container",
    )


def _quality(quality: Quality) -> Callable[[_Document, Palette], Figure]:
    def draw(document: _Document, palette: Palette) -> Figure:
        scale = quality_scale(quality)
        return quality_over_time(
            document["history"]["moments"],
            quality,
            unit=scale.unit,
            per_unit=scale.factor,
            titled=False,
            say=gettext,
            palette=palette,
            width="container",
        )

    return draw


CHARTS: dict[str, Callable[[_Document, Palette], Figure | None]] = {
    "jump": _jump,
    "worth": _worth,
    "force-velocity": _force_velocity,
    **{quality.value: _quality(quality) for quality in Quality},
}
"""By the name in the address."""


def chart_specification(name: str, document: _Document, *, dark: bool) -> dict[str, Any] | None:
    """Specification of a chart, or None where there is none of that name or nothing to draw."""
    palette = DARK if dark else LIGHT
    draw = CHARTS.get(name)
    figure = None if draw is None else draw(document, palette)
    return None if figure is None else on_page(figure, palette)
