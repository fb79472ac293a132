"""An athlete takes up an invitation: a sign-in, and the usual cautions."""

from typing import Any

from django import forms
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from saltus.record.entries import Agreement
from saltus.record.record import Record
from saltus.training.gates import treated_as_minor
from saltus.web.accounts.entering import let_in, make_account
from saltus.web.accounts.forms import InvitedAccountForm
from saltus.web.models import Athlete, AthleteInvitation, User
from saltus.web.pocket.agreements import agree, cautions_for, signed
from saltus.web.pocket.invitations import accept, invitation_of
from saltus.web.records import change_record, record_of

__all__ = ["join"]


class _AgreeForm(forms.Form):
    """The usual cautions, and a guardian where the athlete is under 18."""

    agreed = forms.BooleanField(label=gettext_lazy("I have read these cautions and agree"))
    guardian = forms.CharField(
        label=gettext_lazy("Name of the parent or guardian who agrees"), max_length=120
    )

    def __init__(self, minor: bool, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        if not minor:
            del self.fields["guardian"]


class _JoinForm(InvitedAccountForm):
    """Name, address and password of an athlete."""

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        del self.fields["squad"]


@require_http_methods(["GET", "POST"])
@sensitive_post_parameters("password")
def join(request: HttpRequest, token: str) -> HttpResponse:
    """Make the sign-in of an athlete, or let somebody who is signed in be that athlete."""
    invited = invitation_of(token)
    if invited is None:
        return render(request, "pocket/invitation_over.html", status=404)
    athlete = invited.athlete
    record = record_of(athlete, recordings=False)
    minor = treated_as_minor(record.person, timezone.localdate())
    person = request.user if isinstance(request.user, User) else None
    given = request.POST or None
    form = _JoinForm(given, initial={"name": athlete.name}) if person is None else None
    cautions = _AgreeForm(minor, given)
    sound = cautions.is_valid() and (form is None or form.is_valid())
    taken = person is not None and hasattr(person, "athlete")
    if request.method == "POST" and sound and not taken:
        with transaction.atomic():
            user = person if form is None else make_account(form, is_coach=False)
            if person is None:
                _read_as_trained(user, invited, record)
            _join(invited, user, athlete, cautions)
        if person is None:
            let_in(request, user)
        return redirect("pocket")
    return render(
        request,
        "pocket/join.html",
        {
            "invitation": invited,
            "form": form,
            "cautions": cautions,
            "texts": [_(text) for text in cautions_for(minor=minor).values()],
            "minor": minor,
            "taken": taken,
        },
    )


def _read_as_trained(user: User, invited: AthleteInvitation, record: Record) -> None:
    """Begin with weights as the gym's plates are stamped, and heights as the coach reads them."""
    user.mass_unit = record.gym.unit
    if invited.by is not None:
        user.length_unit = invited.by.length_unit
    user.save(update_fields=["mass_unit", "length_unit"])


def _join(invited: AthleteInvitation, user: User, athlete: Athlete, cautions: _AgreeForm) -> None:
    accept(invited, user)
    by = signed(user.name, cautions.cleaned_data.get("guardian", ""))
    today = timezone.localdate()

    def change(record: Record) -> Record:
        minor = treated_as_minor(record.person, today)
        texts = cautions_for(minor=minor).values()
        return agree(record, [Agreement(text, today, by) for text in texts])

    change_record(athlete, user, change, what="agreed to the usual cautions")
