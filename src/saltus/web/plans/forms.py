"""Forms of plans."""

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import Any

from django import forms
from django.utils import timezone
from django.utils.text import capfirst
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from saltus.record.entries import Sport
from saltus.training.situation import EventKind, Weekday
from saltus.training.stand_ins import StandIn
from saltus.web.models import MethodCopy

__all__ = [
    "DAYS",
    "AgainForm",
    "BlockForm",
    "MinutesForm",
    "MoveForm",
    "NewPlanForm",
    "SportForm",
    "SwapForm",
]

DAYS = {
    Weekday.MON: gettext_lazy("Monday"),
    Weekday.TUE: gettext_lazy("Tuesday"),
    Weekday.WED: gettext_lazy("Wednesday"),
    Weekday.THU: gettext_lazy("Thursday"),
    Weekday.FRI: gettext_lazy("Friday"),
    Weekday.SAT: gettext_lazy("Saturday"),
    Weekday.SUN: gettext_lazy("Sunday"),
}
_LONGEST_BLOCK_DAYS = 366
_FARTHEST_DAYS = 2 * 366


class DateInput(forms.DateInput):
    """A date as browsers ask for it."""

    input_type = "date"

    def __init__(self, **attrs: Any) -> None:
        super().__init__(attrs=attrs, format="%Y-%m-%d")


class NewPlanForm(forms.Form):
    """From when, to which day, by which method."""

    start = forms.DateField(label=gettext_lazy("First day"), widget=DateInput())
    target = forms.DateField(
        label=gettext_lazy("The day that counts"),
        help_text=gettext_lazy("Everything is laid back from it. It is put into the record."),
        widget=DateInput(),
        required=False,
    )
    target_what = forms.CharField(
        label=gettext_lazy("What is on that day"), max_length=120, required=False
    )
    method = forms.ChoiceField(label=gettext_lazy("Method"))
    afresh = forms.BooleanField(
        label=gettext_lazy("Start afresh: do not keep close to the present plan"), required=False
    )

    def __init__(
        self, *args: Any, copy: MethodCopy | None, ask_target: bool, has_plan: bool, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        choices = [("shipped", _("The method that comes with Saltus"))]
        if copy is not None:
            choices.insert(0, ("own", copy.name))
        method = self.fields["method"]
        assert isinstance(method, forms.ChoiceField)
        method.choices = choices
        method.initial = choices[0][0]
        if not ask_target:
            del self.fields["target"], self.fields["target_what"]
        if not has_plan:
            del self.fields["afresh"]

    def clean_start(self) -> dt.date:
        """A start within reach."""
        start: dt.date = self.cleaned_data["start"]
        if abs((start - timezone.localdate()).days) > _FARTHEST_DAYS:
            raise forms.ValidationError(_("This is more than two years away."))
        return start

    def clean(self) -> dict[str, Any]:
        """The day that counts comes after the start."""
        cleaned = super().clean() or {}
        start, target = cleaned.get("start"), cleaned.get("target")
        if start and target and target <= start:
            self.add_error("target", _("The day that counts comes after the first day."))
        return cleaned


class AgainForm(forms.Form):
    """Planning anew from today on, close to the plan that holds."""

    missed = forms.MultipleChoiceField(
        label=gettext_lazy("Which of these sessions did not take place?"),
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )

    def __init__(self, *args: Any, past: Sequence[tuple[str, str]], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        missed = self.fields["missed"]
        assert isinstance(missed, forms.MultipleChoiceField)
        missed.choices = list(past)
        if not past:
            del self.fields["missed"]


class MoveForm(forms.Form):
    """A session to another day."""

    date = forms.DateField(widget=forms.HiddenInput)
    to = forms.DateField(label=gettext_lazy("Move to"), widget=DateInput())


class SwapForm(forms.Form):
    """Another exercise in the place of one."""

    by = forms.ChoiceField(label=gettext_lazy("Instead of it"), widget=forms.RadioSelect)
    onward = forms.ChoiceField(
        label=gettext_lazy("For how long"),
        widget=forms.RadioSelect,
        choices=[
            ("", gettext_lazy("only on this day")),
            ("yes", gettext_lazy("from this day on, wherever it may be given")),
        ],
        required=False,
    )

    def __init__(self, *args: Any, found: Sequence[StandIn], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        by = self.fields["by"]
        assert isinstance(by, forms.ChoiceField)
        by.choices = [(s.exercise.id, capfirst(_(s.exercise.name))) for s in found if not s.why_not]


class BlockForm(forms.Form):
    """Days on which nothing may be planned."""

    start = forms.DateField(label=gettext_lazy("First day"), widget=DateInput())
    end = forms.DateField(
        label=gettext_lazy("Last day"),
        help_text=gettext_lazy("Empty for one day."),
        widget=DateInput(),
        required=False,
    )
    why = forms.CharField(label=gettext_lazy("Why"), max_length=120, required=False)

    def clean(self) -> dict[str, Any]:
        """The last day is not before the first."""
        cleaned = super().clean() or {}
        start, end = cleaned.get("start"), cleaned.get("end")
        if start and end and end < start:
            self.add_error("end", _("The last day is before the first."))
        elif start and end and (end - start).days > _LONGEST_BLOCK_DAYS:
            self.add_error("end", _("This is more than a year."))
        return cleaned


class SportForm(forms.Form):
    """A practice or a match, once or every week.

    Parameters
    ----------
    known : sequence of Sport
        What is on record: another of the same kind on a day of one is asked about.
    """

    kind = forms.ChoiceField(
        label=gettext_lazy("What"),
        choices=[
            (EventKind.PRACTICE.value, gettext_lazy("Practice")),
            (EventKind.MATCH.value, gettext_lazy("Match")),
        ],
    )
    date = forms.DateField(
        label=gettext_lazy("On one day"),
        help_text=gettext_lazy("Give a day here, or weekdays below."),
        widget=DateInput(),
        required=False,
    )
    weekdays = forms.MultipleChoiceField(
        label=gettext_lazy("Every week on"),
        choices=[(day.value, words) for day, words in DAYS.items()],
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )
    landings = forms.IntegerField(
        label=gettext_lazy("Landings from jumps in it, about"),
        min_value=0,
        max_value=600,
        initial=0,
    )
    what = forms.CharField(label=gettext_lazy("In words"), max_length=120, required=False)
    besides = forms.BooleanField(label=gettext_lazy("It is one more on that day"), required=False)

    def __init__(self, *args: Any, known: Sequence[Sport] = (), **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.known = known
        if "besides" not in self.data:
            self.fields["besides"].widget = forms.HiddenInput()

    def clean(self) -> dict[str, Any]:
        """One of the two ways to say when, and no second one on a day by mistake."""
        cleaned = super().clean() or {}
        if self.errors:
            return cleaned
        if bool(cleaned.get("date")) == bool(cleaned.get("weekdays")):
            self.add_error("date", _("Give either a day or weekdays."))
        elif not cleaned.get("besides") and any(_meet(cleaned, each) for each in self.known):
            self.fields["besides"].widget = forms.CheckboxInput()
            match = cleaned["kind"] == EventKind.MATCH
            told = (
                _("There is a match on that day already: tick this if it is one more.")
                if match
                else _("There is a practice on that day already: tick this if it is one more.")
            )
            self.add_error("besides", told)
        return cleaned


def _meet(given: Mapping[str, Any], known: Sport) -> bool:
    """Whether one that is given falls on a day of one that is known, of the same kind."""
    if known.kind != given["kind"]:
        return False
    date = given.get("date")
    if date is None:
        return known.date is None and bool(set(given["weekdays"]) & set(known.weekdays))
    if known.date is not None:
        return bool(known.date == date)
    within = (known.start or date) <= date <= (known.end or date)
    return within and Weekday.of(date) in known.weekdays


class MinutesForm(forms.Form):
    """Minutes for training on each day of the week."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for day, words in DAYS.items():
            self.fields[day.value] = forms.IntegerField(
                label=words, min_value=0, max_value=300, required=False
            )

    def minutes(self) -> dict[Weekday, int]:
        """Of the days that are free."""
        return {day: n for day in DAYS if (n := self.cleaned_data.get(day.value))}
