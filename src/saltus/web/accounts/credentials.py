"""E-mail address and password, changed by whoever signs in with them.

Coaches and athletes have settings of their own, so each says which page asks and where it leads.
"""

from django import forms
from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.contrib.auth.forms import PasswordChangeForm
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.debug import sensitive_post_parameters

from saltus.web.access import user_of
from saltus.web.accounts.forms import EmailForm
from saltus.web.audit import note
from saltus.web.models import AuditEntry

__all__ = ["change_email", "change_password"]


@sensitive_post_parameters()
def change_email(request: HttpRequest, *, template: str, back: str) -> HttpResponse:
    """Sign in with another address from now on; then `back`, the name of a page."""
    user = user_of(request)
    form = EmailForm(request, request.POST or None)
    if request.method == "POST" and form.is_valid():
        user.email = form.cleaned_data["email"]
        user.save(update_fields=["email"])
        note(user, AuditEntry.Action.EMAIL_CHANGED)
        messages.success(request, _("From now on you sign in with the new address."))
        return redirect(back)
    return _asked(request, template, form, _("Change the e-mail address"))


@sensitive_post_parameters()
def change_password(request: HttpRequest, *, template: str, back: str) -> HttpResponse:
    """Another password; everywhere else this person is signed out by it. Then `back`."""
    user = user_of(request)
    form = PasswordChangeForm(user, request.POST or None)
    if request.method == "POST" and form.is_valid():
        update_session_auth_hash(request, form.save())
        note(user, AuditEntry.Action.PASSWORD_CHANGED)
        messages.success(
            request, _("The password is changed. On other devices you have to sign in again.")
        )
        return redirect(back)
    return _asked(request, template, form, _("Change the password"))


def _asked(request: HttpRequest, template: str, form: forms.Form, title: str) -> HttpResponse:
    return render(request, template, {"form": form, "title": title, "action": _("Change it")})
