"""The account of somebody new, and the way in without a password typed at the door."""

from django.contrib.auth import login
from django.http import HttpRequest

from saltus.web.accounts.forms import FirstAccountForm
from saltus.web.models import Squad, User

__all__ = ["let_in", "make_account"]


def let_in(request: HttpRequest, user: User) -> None:
    """Sign somebody in who has shown who they are in another way."""
    # Of the two backends the other one only counts wrong passwords.
    login(request, user, backend="django.contrib.auth.backends.ModelBackend")


def make_account(form: FirstAccountForm, **fields: bool) -> User:
    """Make the account that a valid form asks for, and the squad where it names one.

    Parameters
    ----------
    form : FirstAccountForm
        Or one like it, with or without a squad.
    **fields : bool
        Of the account, such as ``is_superuser``.
    """
    told = form.cleaned_data
    user = User.objects.create_user(told["email"], told["password"], name=told["name"], **fields)
    if told.get("squad"):
        Squad.objects.create(owner=user, name=told["squad"])
    return user
