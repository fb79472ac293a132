"""E-mail, password, and the end of an account."""

from django.contrib import messages
from django.contrib.auth import logout
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from saltus.web.access import user_of
from saltus.web.accounts.credentials import change_email, change_password
from saltus.web.accounts.forms import PasswordAgainForm
from saltus.web.deletion import delete_account
from saltus.web.models import Athlete, User

__all__ = ["delete", "email", "password"]

_SETTINGS = {"template": "preferences/form.html", "back": "settings"}


@login_required
@require_http_methods(["GET", "POST"])
def email(request: HttpRequest) -> HttpResponse:
    """Sign in with another address from now on."""
    return change_email(request, **_SETTINGS)


@login_required
@require_http_methods(["GET", "POST"])
def password(request: HttpRequest) -> HttpResponse:
    """Another password; everywhere else this person is signed out by it."""
    return change_password(request, **_SETTINGS)


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
