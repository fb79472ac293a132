"""E-mail, password, and the end of an account."""

from django.contrib import messages
from django.contrib.auth import logout, update_session_auth_hash
from django.contrib.auth.decorators import login_required
from django.contrib.auth.forms import PasswordChangeForm
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from saltus.web.access import user_of
from saltus.web.accounts.forms import EmailForm, PasswordAgainForm
from saltus.web.audit import note
from saltus.web.deletion import delete_account
from saltus.web.models import Athlete, AuditEntry, User

__all__ = ["delete", "email", "password"]


@login_required
@require_http_methods(["GET", "POST"])
@sensitive_post_parameters()
def email(request: HttpRequest) -> HttpResponse:
    """Sign in with another address from now on."""
    user = user_of(request)
    form = EmailForm(request, request.POST or None)
    if request.method == "POST" and form.is_valid():
        user.email = form.cleaned_data["email"]
        user.save(update_fields=["email"])
        note(user, AuditEntry.Action.EMAIL_CHANGED)
        messages.success(request, _("From now on you sign in with the new address."))
        return redirect("settings")
    return render(request, "preferences/email.html", {"form": form})


@login_required
@require_http_methods(["GET", "POST"])
@sensitive_post_parameters()
def password(request: HttpRequest) -> HttpResponse:
    """Another password; everywhere else this person is signed out by it."""
    user = user_of(request)
    form = PasswordChangeForm(user, request.POST or None)
    if request.method == "POST" and form.is_valid():
        update_session_auth_hash(request, form.save())
        note(user, AuditEntry.Action.PASSWORD_CHANGED)
        messages.success(
            request, _("The password is changed. On other devices you have to sign in again.")
        )
        return redirect("settings")
    return render(request, "preferences/password.html", {"form": form})


@login_required
@require_http_methods(["GET", "POST"])
@sensitive_post_parameters()
def delete(request: HttpRequest) -> HttpResponse:
    """Delete the account and everything in it, once the password was given again."""
    user = user_of(request)
    form = PasswordAgainForm(request, request.POST or None)
    if request.method == "POST" and form.is_valid():
        account = User.objects.get(pk=user.pk)
        logout(request)
        delete_account(account)
        messages.success(request, _("The account and everything in it is deleted."))
        return redirect("sign-in")
    athletes = Athlete.objects.filter(squad__owner=user)
    return render(
        request,
        "preferences/delete_account.html",
        {"form": form, "athletes": athletes.count(), "keeps_backups": user.is_superuser},
    )
