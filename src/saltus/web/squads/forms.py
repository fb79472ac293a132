"""Forms of the squad page."""

from typing import Any

from django import forms
from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from saltus.web.models import Squad
from saltus.web.squads.rows import Wanted

__all__ = ["PlaceForm", "ReadingForm", "RecordsForm", "SearchForm", "SheetForm"]


class SearchForm(forms.Form):
    """Whom to show."""

    q = forms.CharField(
        label=_("Search"),
        required=False,
        max_length=100,
        widget=forms.TextInput(attrs={"type": "search", "autocomplete": "off"}),
    )
    group = forms.ChoiceField(label=_("Group"), required=False)
    squad = forms.ModelChoiceField(
        label=_("Squad"), queryset=Squad.objects.none(), required=False, empty_label=_("all")
    )
    order = forms.ChoiceField(
        label=_("Order"),
        required=False,
        choices=[("", _("by name")), ("eye", _("who needs your eye first"))],
    )
    archived = forms.ChoiceField(
        label=_("Show"),
        required=False,
        choices=[("", _("present athletes")), ("1", _("archived athletes"))],
    )

    def __init__(self, *args: Any, groups: list[str], squads: list[Squad], **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.fields["group"].choices = [("", _("all")), *((g, g) for g in groups)]
        if len(squads) > 1:
            self.fields["squad"].choices = [("", _("all")), *((s.pk, s.name) for s in squads)]
        else:
            del self.fields["squad"]
        if not groups:
            del self.fields["group"]
        self._squads = {str(squad.pk): squad.pk for squad in squads}

    def wanted(self) -> Wanted:
        """What was asked for; what makes no sense is taken as not asked."""
        data = self.data
        return Wanted(
            # No text of ours holds a zero byte, and not every database can be asked for one.
            search=data.get("q", "").replace("\0", "").strip()[:100],
            group=data.get("group", "").replace("\0", ""),
            squad=self._squads.get(data.get("squad", "")),
            archived=data.get("archived") == "1",
            eye_first=data.get("order") == "eye",
        )


class PlaceForm(forms.Form):
    """Into which squad and group somebody comes."""

    squad = forms.ModelChoiceField(label=_("Squad"), queryset=Squad.objects.none())
    group = forms.CharField(
        label=_("Group"),
        required=False,
        max_length=80,
        help_text=_("Your own, such as seniors. Leave it empty if you need none."),
    )

    def __init__(self, *args: Any, squads: QuerySet[Squad], **kwargs: Any):
        super().__init__(*args, **kwargs)
        chosen = self.fields["squad"]
        chosen.queryset = squads
        chosen.initial = squads.first()
        if squads.count() == 1:
            chosen.widget = forms.HiddenInput()


class SeveralFiles(forms.ClearableFileInput):
    """A field for several files."""

    allow_multiple_selected = True


class SeveralFilesField(forms.FileField):
    """Several files, each as a single one would be checked."""

    widget = SeveralFiles(attrs={"accept": ".toml,.zip"})

    def clean(self, data: Any, initial: Any = None) -> Any:
        """The files, in a list."""
        files = data if isinstance(data, list) else [data]
        return [super(SeveralFilesField, self).clean(file, initial) for file in files or [None]]


class SheetForm(forms.Form):
    """A spreadsheet with a squad."""

    file = forms.FileField(
        label=_("Spreadsheet"),
        help_text=_(
            "An .xlsx, .ods or .csv file of up to 2 MB: the first sheet, one athlete a row, the "
            "names of the columns above. Name and body mass are needed, everything else may come "
            "later."
        ),
        widget=forms.FileInput(attrs={"accept": ".xlsx,.ods,.csv,text/csv"}),
    )


class RecordsForm(forms.Form):
    """Records, or a zip of them."""

    files = SeveralFilesField(
        label=_("Records"),
        help_text=_("Files that end in .toml, several at once, or a zip of them; up to 20 MB."),
    )
    again = forms.BooleanField(
        label=_("Add athletes again whose name is there already"), required=False
    )


class ReadingForm(forms.Form):
    """How the cells of a spreadsheet are to be read."""

    length = forms.ChoiceField(
        label=_("Heights without a unit are in"),
        choices=[("cm", _("centimetres")), ("m", _("metres")), ("in", _("inches"))],
    )
    mass = forms.ChoiceField(
        label=_("Weights without a unit are in"),
        choices=[("kg", _("kilograms")), ("lb", _("pounds"))],
    )
    dates = forms.ChoiceField(
        label=_("Dates such as 03/04/2001"),
        required=False,
        choices=[
            ("", _("ask me")),
            ("day", _("the day comes first")),
            ("month", _("the month comes first")),
        ],
    )
