"""The question "what if": sliders."""

from collections.abc import Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext as _

from saltus.athlete.qualities import WORDS, Quality
from saltus.web.units import current_units

__all__ = ["WhatIfForm"]

_SPANS = {
    Quality.MAX_STRENGTH: (-20, 40),
    Quality.RATE_OF_FORCE_DEVELOPMENT: (-30, 60),
    Quality.PUSH_OFF_SPEED: (-10, 15),
    Quality.STRETCH_SHORTENING_GAIN: (-50, 100),
    Quality.PUSH_OFF_DISTANCE: (-10, 10),
}
"""How far each slider goes, per cent: somewhat beyond what a year of training does."""

_MASS_SPAN_KG = 5
_MASS = "body_mass"


class _Slider(forms.NumberInput):
    input_type = "range"


class WhatIfForm(forms.Form):
    """Changes of the qualities in per cent, and of body mass where that may be asked.

    Parameters
    ----------
    data : mapping
        The query; nothing is asked where it names no slider.
    body_mass : bool
        Whether body mass may be asked about: of adults of known age.
    """

    def __init__(self, data: Mapping[str, Any], *, body_mass: bool):
        super().__init__()
        for quality, (low, high) in _SPANS.items():
            self._add(quality.value, _(WORDS[quality]), low, high, "%")
        if body_mass:
            units = current_units.get()
            span = round(_MASS_SPAN_KG * units.kilogram)
            self._add(_MASS, _("body mass"), -span, span, units.mass)
        self.asked = any(name in data for name in self.fields)
        if self.asked:
            # A slider that is not there stands in its middle: nothing is changed.
            self.data = {name: data.get(name) or 0 for name in self.fields}
            self.is_bound = True

    def _add(self, name: str, label: str, low: int, high: int, unit: str) -> None:
        self.fields[name] = forms.IntegerField(
            label=f"{label} ({unit})",
            min_value=low,
            max_value=high,
            initial=0,
            required=False,
            widget=_Slider(attrs={"step": 1, "data-unit": unit, "list": "no-change"}),
        )

    @property
    def factors(self) -> dict[Quality, float]:
        """So many times what it is now, for each quality that is changed."""
        return {
            quality: 1 + self.cleaned_data[quality.value] / 100
            for quality in _SPANS
            if self.cleaned_data.get(quality.value)
        }

    @property
    def mass_change_kg(self) -> float:
        """Body mass added, kg."""
        return (self.cleaned_data.get(_MASS) or 0) / current_units.get().kilogram
