"""Forms of a test day."""

import secrets
from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from saltus.athlete.observations import Lift
from saltus.errors import UsageError
from saltus.record import schema
from saltus.record.trials import Quantity, Trial
from saltus.web.access import squads_of
from saltus.web.models import Athlete, TestDay, User
from saltus.web.sentences import told
from saltus.web.testdays.typed import to_si
from saltus.web.testdays.words import HOW, KINDS, LIFTS
from saltus.web.units import current_units

__all__ = ["NewDayForm", "SetUpForm", "TrialForm"]


class NewDayForm(forms.ModelForm):
    """Day, title and squad; the rest follows on the next page."""

    class Meta:
        """What a day begins with."""

        model = TestDay
        fields = ("squad", "date", "title")
        widgets: ClassVar[dict[str, forms.Widget]] = {
            "date": forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        }
        labels: ClassVar[dict[str, Any]] = {"squad": lazy("Squad")}
        help_texts: ClassVar[dict[str, Any]] = {
            "title": lazy("Such as “before the block”. It is noted beside each result."),
        }

    def __init__(self, user: User, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        squads = squads_of(user, edit=True)
        self.fields["squad"].queryset = squads
        if len(squads) == 1:
            self.fields["squad"].initial = squads[0]
            self.fields["squad"].widget = forms.HiddenInput()


class SetUpForm(forms.ModelForm):
    """Who is tested, and how they warm up."""

    class Meta:
        """All but the tests."""

        model = TestDay
        fields = ("date", "title", "athletes", "warm_up")
        widgets: ClassVar[dict[str, forms.Widget]] = {
            "date": forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
            "athletes": forms.CheckboxSelectMultiple,
            "warm_up": forms.Textarea(attrs={"rows": 14}),
        }
        labels: ClassVar[dict[str, Any]] = {"athletes": lazy("Who is tested")}

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        there = Athlete.objects.filter(squad=self.instance.squad, deleted=None, archived=None)
        chosen = Athlete.objects.filter(test_days=self.instance.pk, deleted=None)
        self.fields["athletes"].queryset = (there | chosen).distinct().order_by("name")
        self.fields["athletes"].required = False

    def clean_date(self) -> Any:
        """Results stand in the records under their day: with results the day stays."""
        date = self.cleaned_data["date"]
        if self.instance.pk and date != self.initial.get("date") and self.instance.tests:
            from saltus.web.testdays.cells import trials_of
            from saltus.web.testdays.day import has_results

            if has_results(self.instance, self.initial["date"], trials_of(self.instance)):
                raise forms.ValidationError(
                    _("Results of this day are in the records already: make a new day instead.")
                )
        return date


class TrialForm(forms.Form):
    """One test more."""

    kind = forms.ChoiceField(label=lazy("Test"), choices=list(KINDS.items()))
    how = forms.ChoiceField(
        label=lazy("How the jump is measured"),
        choices=list(HOW.items()),
        required=False,
        help_text=lazy("For vertical jumps and drop jumps."),
    )
    arms = forms.BooleanField(
        label=lazy("With arm swing"), required=False, help_text=lazy("For jumps.")
    )
    load = forms.CharField(
        label=lazy("Load carried"),
        required=False,
        help_text=lazy("For loaded jumps, the bar included."),
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
    )
    box = forms.CharField(
        label=lazy("Height of the box"),
        required=False,
        help_text=lazy("For drop jumps."),
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
    )
    frame_rate_hz = forms.FloatField(
        label=lazy("Frames a second"),
        required=False,
        min_value=24,
        max_value=1000,
        help_text=lazy("For films."),
    )
    lift = forms.ChoiceField(
        label=lazy("Lift"),
        choices=[(lift.value, LIFTS[lift]) for lift in Lift],
        required=False,
        help_text=lazy("For tests of strength."),
    )
    attempts = forms.IntegerField(
        label=lazy("Attempts (or loads)"), min_value=1, max_value=12, initial=3
    )

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        units = current_units.get()
        self.fields["load"].label = _("Load carried (%(unit)s)") % {"unit": units.mass}
        self.fields["box"].label = _("Height of the box (%(unit)s)") % {"unit": units.length}

    def clean(self) -> dict[str, Any]:
        """Build the trial."""
        data = super().clean() or {}
        if self.errors:
            return data
        kind = data["kind"]
        values: dict[str, Any] = {
            "kind": kind,
            "key": secrets.token_hex(4),
            "attempts": data["attempts"],
        }
        vertical = kind in schema.JUMP_KINDS
        if vertical or kind == "drop_jump":
            if not data["how"]:
                self.add_error("how", _("Say how the jump is measured."))
                return data
            values["method"], values["way"] = data["how"].split()
            values["arms"] = data["arms"]
            values["frame_rate_hz"] = data["frame_rate_hz"] if values["method"] == "film" else None
        if kind == "broad_jump":
            values["arms"] = data["arms"]
        if vertical and data["load"]:
            values["load_kg"] = self._figure("load", Quantity.MASS, 0.0, 300.0)
        if kind == "drop_jump" and data["box"]:
            values["box_m"] = self._figure("box", Quantity.LENGTH, 0.05, 1.3)
        if kind in ("maximum", "rep_set", "bar_speed"):
            values["lift"] = data["lift"] or None
        if not self.errors:
            try:
                data["trial"] = Trial(**values)
            except UsageError as error:
                raise forms.ValidationError(told(str(error))) from error
        return data

    def _figure(self, name: str, quantity: Quantity, low: float, high: float) -> float | None:
        try:
            value = to_si(self.cleaned_data[name], quantity, current_units.get())
        except UsageError as error:
            self.add_error(name, told(str(error)))
            return None
        if not low <= value <= high:
            self.add_error(name, _("This cannot be right: check the number and its unit."))
            return None
        return value
