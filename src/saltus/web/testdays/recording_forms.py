"""Forms of recordings: what was done, and how to read a file that does not say it itself."""

from collections.abc import Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from saltus.errors import UsageError
from saltus.record.trials import Quantity
from saltus.web.sentences import told
from saltus.web.testdays.typed import shown, to_si
from saltus.web.testdays.words import KINDS
from saltus.web.units import current_units

__all__ = ["DecisionForm", "OptionsForm", "UploadForm"]

_RECORDED = ("countermovement_jump", "squat_jump", "drop_jump", "isometric_pull")
_FEET = (("", lazy("found")), ("left", lazy("left")), ("right", lazy("right")))
_UNITS = (
    ("", lazy("found")),
    ("N", "N"),
    ("kN", "kN"),
    ("kgf", "kgf"),
    ("lbf", "lbf"),
    ("BW", lazy("body weights")),
)


class DoneForm(forms.Form):
    """What was done in a recording."""

    jump = forms.ChoiceField(
        label=lazy("What was done"),
        required=False,
        choices=[("", lazy("found from the recording")), *((k, KINDS[k]) for k in _RECORDED)],
    )
    load = forms.CharField(
        label=lazy("Load carried"),
        required=False,
        widget=forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"}),
    )
    box = forms.CharField(
        label=lazy("Height of the box"),
        required=False,
        help_text=lazy("For drop jumps; otherwise found from the landing."),
        widget=forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"}),
    )
    arms = forms.BooleanField(label=lazy("With arm swing"), required=False)

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        units = current_units.get()
        self.fields["load"].label = _("Load carried (%(unit)s)") % {"unit": units.mass}
        self.fields["box"].label = _("Height of the box (%(unit)s)") % {"unit": units.length}

    def options(self) -> dict[str, Any]:
        """Fields of the record's test, in SI; only what was said."""
        data = self.cleaned_data
        given: dict[str, Any] = {}
        if data["jump"]:
            given["jump"] = data["jump"]
        if data["load"]:
            given["load_kg"] = data["load"]
        if data["box"]:
            given["box_m"] = data["box"]
        if data["arms"]:
            given["arms"] = True
        return given

    def clean_load(self) -> float | None:
        """A load in kg."""
        return self._figure("load", Quantity.MASS, 0.0, 300.0)

    def clean_box(self) -> float | None:
        """A height in m."""
        return self._figure("box", Quantity.LENGTH, 0.05, 1.3)

    def _figure(self, name: str, quantity: Quantity, low: float, high: float) -> float | None:
        text = self.cleaned_data[name]
        if not text:
            return None
        try:
            value = to_si(text, quantity, current_units.get())
        except UsageError as error:
            raise forms.ValidationError(told(str(error))) from error
        if not low <= value <= high:
            raise forms.ValidationError(_("This cannot be right: check the number and its unit."))
        return value


class UploadForm(DoneForm):
    """Day and files; the files themselves are taken from the request, many at once."""

    date = forms.DateField(
        label=lazy("Day"),
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
    )
    field_order = ("date", "jump", "load", "box", "arms")


class OptionsForm(DoneForm):
    """How to read a file that does not say it itself."""

    time = forms.CharField(
        label=lazy("Time column"),
        required=False,
        max_length=80,
        help_text=lazy("By name, or by number from 1. Leave empty to have it found."),
    )
    force = forms.CharField(
        label=lazy("Column of both feet together"), required=False, max_length=80
    )
    left = forms.CharField(label=lazy("Column of the left foot"), required=False, max_length=80)
    right = forms.CharField(label=lazy("Column of the right foot"), required=False, max_length=80)
    rate_hz = forms.FloatField(
        label=lazy("Readings a second"),
        required=False,
        min_value=200,
        max_value=20000,
        help_text=lazy("The sampling rate in Hz, for a file without time."),
    )
    unit = forms.ChoiceField(label=lazy("Unit of the force"), required=False, choices=_UNITS)
    first_plate = forms.ChoiceField(
        label=lazy("Foot on the first plate"), required=False, choices=_FEET
    )
    resample = forms.BooleanField(
        label=lazy("Even out the time"),
        required=False,
        help_text=lazy("Where readings come unevenly, or a few are missing."),
    )

    def clean(self) -> dict[str, Any]:
        """Both feet or neither, and not beside the total."""
        data = super().clean() or {}
        if bool(data.get("left")) != bool(data.get("right")):
            self.add_error("left", _("Name the columns of both feet, or that of the total."))
        elif data.get("left") and data.get("force"):
            self.add_error("force", _("Give either the total or both feet."))
        return data

    def options(self) -> dict[str, Any]:
        """Fields of the record's test, in SI; only what was said."""
        names = ("time", "force", "left", "right", "rate_hz", "unit", "first_plate", "resample")
        said = {name: self.cleaned_data[name] for name in names if self.cleaned_data[name]}
        return super().options() | said

    @staticmethod
    def initial_of(options: Mapping[str, Any]) -> dict[str, Any]:
        """What the form shows of options."""
        units = current_units.get()
        initial = dict(options)
        if "load_kg" in options:
            initial["load"] = shown(options["load_kg"], Quantity.MASS, units)
        if "box_m" in options:
            initial["box"] = shown(options["box_m"], Quantity.LENGTH, units)
        return initial


class DecisionForm(forms.Form):
    """Whether a jump counts, and why."""

    keep = forms.ChoiceField(choices=[("yes", lazy("Keep")), ("no", lazy("Drop"))])
    why = forms.CharField(label=lazy("Why"), max_length=200)
    seen = forms.CharField(required=False, max_length=400)
