"""A link that signs a coach in once, within the hour: for the demo alone.

The address exists only where the data folder holds the demo (``settings.DEMO``).
"""

from django.contrib.auth.tokens import PasswordResetTokenGenerator
from django.core import signing
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET

from saltus.web.accounts.entering import let_in
from saltus.web.models import User

__all__ = ["one_time", "path_for"]

_HOLDS_S = 3600
_SIGNER = signing.TimestampSigner(salt="saltus.one-time")


class _Tokens(PasswordResetTokenGenerator):
    """Tokens that the next sign-in makes void: they hang on when the last one was."""

    key_salt = "saltus.one-time"


_tokens = _Tokens()


def path_for(user: User) -> str:
    """Path of a link for an account."""
    token = _SIGNER.sign(f"{user.pk}.{_tokens.make_token(user)}")
    return reverse("one-time", args=[token])


@require_GET
def one_time(request: HttpRequest, token: str) -> HttpResponse:
    """Sign in, and use the link up."""
    user = _user_of(token)
    if user is not None:
        let_in(request, user)
    elif not request.user.is_authenticated:
        return render(request, "accounts/one_time_over.html", status=404)
    return redirect("squad")


def _user_of(token: str) -> User | None:
    try:
        number, inner = _SIGNER.unsign(token, max_age=_HOLDS_S).split(".", 1)
        user = User.objects.filter(pk=int(number)).first()
    except (signing.BadSignature, ValueError):
        return None
    return user if user is not None and _tokens.check_token(user, inner) else None
