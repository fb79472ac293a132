"""Signing in and out, and the first account."""

from django.contrib.auth import login
from django.contrib.auth.views import LoginView
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from saltus.web.accounts.forms import FirstAccountForm, SignInForm
from saltus.web.models import Squad, User

__all__ = ["SignIn", "first_account"]


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
def first_account(request: HttpRequest) -> HttpResponse:
    """Make the coach's account and squad; closed once there is an account."""
    if User.objects.exists():
        return redirect("sign-in")
    form = FirstAccountForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        with transaction.atomic():
            user = User.objects.create_user(
                form.cleaned_data["email"],
                form.cleaned_data["password"],
                name=form.cleaned_data["name"],
            )
            Squad.objects.create(owner=user, name=form.cleaned_data["squad"])
        login(request, user, backend="django.contrib.auth.backends.ModelBackend")
        return redirect("squad")
    return render(request, "accounts/first_account.html", {"form": form})
