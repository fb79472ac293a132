"""An athlete's own settings: name, units, language, sign-in, and who may read of their health."""

from django import forms
from django.contrib import messages
from django.contrib.auth import logout
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import translation
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from saltus.web.access import own_record_for, user_of
from saltus.web.accounts.credentials import change_email, change_password
from saltus.web.accounts.forms import PasswordAgainForm
from saltus.web.audit import note
from saltus.web.models import AuditEntry
from saltus.web.pocket.invitations import end_account
from saltus.web.preferences.forms import YouForm

__all__ = ["delete", "email", "password", "settings_page"]

_SETTINGS = {"template": "pocket/form.html", "back": "pocket-settings"}


class _HealthForm(forms.Form):
    """Whether other coaches than the own one may read of pains."""

    health_shared = forms.BooleanField(
        label=gettext_lazy(
            "Other coaches who help with my squad may read my pains, restrictions and how sore I am"
        ),
        help_text=gettext_lazy(
            "Whose squad it is reads them in any case: the plan is made from them."
        ),
        required=False,
    )


@login_required
@require_http_methods(["GET", "POST"])
def settings_page(request: HttpRequest) -> HttpResponse:
    """How things are told, and who may read what."""
    athlete, user = own_record_for(request), user_of(request)
    form = YouForm(request.POST or None, instance=user)
    health = _HealthForm(request.POST or None, initial={"health_shared": athlete.health_shared})
    if request.method == "POST" and form.is_valid() and health.is_valid():
        form.save()
        shared = health.cleaned_data["health_shared"]
        if shared != athlete.health_shared:
            athlete.health_shared = shared
            athlete.save(update_fields=["health_shared"])
            note(user, AuditEntry.Action.HEALTH_SHARED, athlete=athlete)
        with translation.override(user.language or translation.get_language()):
            messages.success(request, _("Saved."))
        return redirect("pocket-settings")
    if request.method == "POST":
        user.refresh_from_db()
    return render(
        request, "pocket/settings.html", {"form": form, "health": health, "athlete": athlete}
    )


@login_required
@require_http_methods(["GET", "POST"])
def password(request: HttpRequest) -> HttpResponse:
    """Another password; everywhere else this person is signed out by it."""
    own_record_for(request)
    return change_password(request, **_SETTINGS)


@login_required
@require_http_methods(["GET", "POST"])
def email(request: HttpRequest) -> HttpResponse:
    """Sign in with another address from now on."""
    own_record_for(request)
    return change_email(request, **_SETTINGS)


@login_required
@require_http_methods(["GET", "POST"])
@sensitive_post_parameters()
def delete(request: HttpRequest) -> HttpResponse:
    """Give the sign-in up; what was logged stays with the coach."""
    athlete = own_record_for(request)
    form = PasswordAgainForm(request, request.POST or None)
    if request.method == "POST" and form.is_valid():
        if not user_of(request).is_coach:
            logout(request)
        end_account(athlete, None)
        messages.success(request, _("Your sign-in is deleted."))
        return redirect("sign-in")
    context = {
        "form": form,
        "title": _("Give up the sign-in"),
        "action": _("Delete my sign-in"),
        "text": _(
            "Your sign-in and this page go. What you trained and tested stays with your coach: "
            "ask there to have it deleted too."
        ),
    }
    return render(request, "pocket/form.html", context)
