"""Signing in and out, the first account, and invitations."""

from django.contrib import messages
from django.contrib.auth.views import LoginView
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from saltus.web.access import user_of
from saltus.web.accounts.entering import let_in, make_account
from saltus.web.accounts.forms import FirstAccountForm, InvitedAccountForm, SignInForm
from saltus.web.accounts.invitations import accept, invitation_of
from saltus.web.models import User

__all__ = ["SignIn", "first_account", "invitation"]


class SignIn(LoginView):
    """Sign in; without any account yet, make the first."""

    template_name = "accounts/sign_in.html"
    authentication_form = SignInForm
    redirect_authenticated_user = True

    def dispatch(self, request: HttpRequest, *args: object, **kwargs: object) -> HttpResponse:
        """Send the very first visitor to make an account."""
        if not User.objects.exists():
            return redirect("first-account")
        return super().dispatch(request, *args, **kwargs)  # type: ignore[return-value]


@require_http_methods(["GET", "POST"])
@sensitive_post_parameters()
def first_account(request: HttpRequest) -> HttpResponse:
    """Make the coach's account and squad; closed once there is an account."""
    if User.objects.exists():
        return redirect("sign-in")
    form = FirstAccountForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        with transaction.atomic():
            # Whoever comes first keeps the installation: backups are theirs.
            user = make_account(form, is_superuser=True)
        let_in(request, user)
        return redirect("squad")
    return render(request, "accounts/first_account.html", {"form": form})


@require_http_methods(["GET", "POST"])
@sensitive_post_parameters()
def invitation(request: HttpRequest, token: str) -> HttpResponse:
    """Accept an invitation: with the account one has, or with a new one."""
    invited = invitation_of(token)
    if invited is None:
        return render(request, "accounts/invitation_over.html", status=404)
    signed_in = request.user.is_authenticated
    form = None if signed_in else InvitedAccountForm(request.POST or None)
    if request.method == "POST" and (form is None or form.is_valid()):
        with transaction.atomic():
            user = user_of(request) if form is None else make_account(form)
            accept(invited, user)
        if not signed_in:
            let_in(request, user)
        messages.success(
            request, _("%(squad)s is open to you now.") % {"squad": invited.squad.name}
        )
        return redirect("squad")
    return render(request, "accounts/invitation.html", {"form": form, "invitation": invited})
