"""Forms of the settings."""

from typing import ClassVar

from django import forms
from django.conf import settings
from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from saltus.web.models import Athlete, Invitation, Share, Squad, User

__all__ = [
    "BackupUploadForm",
    "ConsentForm",
    "ImportForm",
    "InvitationForm",
    "ShareForm",
    "SquadForm",
    "YouForm",
]


class YouForm(forms.ModelForm):
    """Name, units and language."""

    language = forms.ChoiceField(
        label=_("Language"), required=False, choices=[("", _("as the browser asks for"))]
    )

    class Meta:
        """What a person can change about how things are told to them."""

        model = User
        fields = ("name", "length_unit", "mass_unit", "language")
        widgets: ClassVar[dict[str, forms.Widget]] = {
            "name": forms.TextInput(attrs={"autocomplete": "name"})
        }

    def __init__(self, *args: object, **kwargs: object):
        super().__init__(*args, **kwargs)
        field = self.fields["language"]
        # Each language under its own name, so that whoever reads only one finds it.
        own_names = {"en": "English", "de": "Deutsch"}
        field.choices = [*field.choices, *((c, own_names.get(c, n)) for c, n in settings.LANGUAGES)]


class SquadForm(forms.ModelForm):
    """Name of a squad."""

    class Meta:
        """The name is all."""

        model = Squad
        fields = ("name",)


class InvitationForm(forms.ModelForm):
    """What the invited coach may do."""

    class Meta:
        """For whom it is helps the owner to tell links apart; nothing is sent."""

        model = Invitation
        fields = ("to", "can_edit", "sees_health")
        help_texts: ClassVar[dict[str, str]] = {
            "to": _("A word for yourself, such as a first name. Nothing is sent.")
        }


class ShareForm(forms.ModelForm):
    """What another coach may do."""

    class Meta:
        """Rights only: the coach is given."""

        model = Share
        fields = ("can_edit", "sees_health")


class ConsentForm(forms.Form):
    """Which athletes allow their health remarks to be shown to coaches who may see them."""

    athletes = forms.ModelMultipleChoiceField(
        label=_("These athletes allow it"),
        queryset=Athlete.objects.none(),
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )

    def __init__(self, squad: Squad, *args: object, **kwargs: object):
        super().__init__(*args, **kwargs)
        self.squad = squad
        present = self._asked()
        self.fields["athletes"].queryset = present
        self.fields["athletes"].initial = [a.pk for a in present if a.health_shared]

    def _asked(self) -> QuerySet[Athlete]:
        """Who has no sign-in: others say it on their own page."""
        return self.squad.athletes.filter(deleted=None, account=None)

    def save(self) -> None:
        """Keep what the athletes said."""
        allowed = [athlete.pk for athlete in self.cleaned_data["athletes"]]
        present = self._asked()
        present.filter(pk__in=allowed).update(health_shared=True)
        present.exclude(pk__in=allowed).update(health_shared=False)


class ImportForm(forms.Form):
    """An export of this or another Saltus."""

    file = forms.FileField(
        label=_("Exported file"), widget=forms.FileInput(attrs={"accept": ".zip,application/zip"})
    )
    squad = forms.ModelChoiceField(
        label=_("Squad for a single athlete"),
        help_text=_("An export of everything brings its own squads along."),
        queryset=Squad.objects.none(),
        required=False,
    )

    def __init__(self, user: User, *args: object, **kwargs: object):
        super().__init__(*args, **kwargs)
        squads = Squad.objects.filter(owner=user).order_by("name", "pk")
        self.fields["squad"].queryset = squads
        self.fields["squad"].initial = squads.first()


class BackupUploadForm(forms.Form):
    """A backup that was kept elsewhere."""

    file = forms.FileField(
        label=_("Backup file"), widget=forms.FileInput(attrs={"accept": ".zip,.sqlite3"})
    )
