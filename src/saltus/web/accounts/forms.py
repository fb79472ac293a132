"""Forms of accounts."""

from typing import Any, ClassVar

from django import forms
from django.contrib.auth import authenticate, password_validation
from django.contrib.auth.forms import AuthenticationForm
from django.http import HttpRequest
from django.utils.translation import gettext_lazy as _

from saltus.web.models import User

__all__ = [
    "EmailForm",
    "FirstAccountForm",
    "InvitedAccountForm",
    "PasswordAgainForm",
    "SignInForm",
]


class SignInForm(AuthenticationForm):
    """E-mail address and password."""

    username = forms.EmailField(
        label=_("E-mail"),
        widget=forms.EmailInput(attrs={"autofocus": True, "autocomplete": "username"}),
    )


class FirstAccountForm(forms.ModelForm):
    """The coach's account, made on the first visit."""

    squad = forms.CharField(label=_("Name of your squad"), max_length=120)
    password = forms.CharField(
        label=_("Password"),
        help_text=_("At least ten characters."),
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )

    class Meta:
        """Name and address; the rest can wait."""

        model = User
        fields = ("name", "email")
        widgets: ClassVar[dict[str, forms.Widget]] = {
            "name": forms.TextInput(attrs={"autofocus": True, "autocomplete": "name"}),
            "email": forms.EmailInput(attrs={"autocomplete": "username"}),
        }

    def clean_email(self) -> str:
        """One account for an address, whatever the case of its letters."""
        return str(self.cleaned_data["email"]).casefold()

    def clean(self) -> dict[str, Any]:
        """Check the password against the name and the address too."""
        cleaned = super().clean() or {}
        password = cleaned.get("password")
        if password:
            user = User(name=cleaned.get("name", ""), email=cleaned.get("email", ""))
            try:
                password_validation.validate_password(password, user)
            except forms.ValidationError as error:
                self.add_error("password", error)
        return cleaned


class InvitedAccountForm(FirstAccountForm):
    """The account of a coach who was invited; a squad of their own can wait."""

    squad = forms.CharField(
        label=_("Name of a squad of your own"),
        help_text=_("Leave it empty if you only work with the squad that is shared with you."),
        max_length=120,
        required=False,
    )


class PasswordAgainForm(forms.Form):
    """The password once more, before something that cannot be undone."""

    password = forms.CharField(
        label=_("Your password"),
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )

    def __init__(self, request: HttpRequest, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.request = request

    def clean_password(self) -> str:
        """Check it as at the door, so that wrong ones count there too."""
        password = str(self.cleaned_data["password"])
        user = self.request.user
        # Credentials are called as the sign-in form calls them: the lock counts by that name.
        if authenticate(self.request, username=user.email, password=password) != user:
            raise forms.ValidationError(_("This is not your password."))
        return password


class EmailForm(PasswordAgainForm):
    """Another e-mail address to sign in with."""

    email = forms.EmailField(
        label=_("New e-mail address"), widget=forms.EmailInput(attrs={"autocomplete": "username"})
    )

    field_order = ("email", "password")

    def clean_email(self) -> str:
        """One account for an address, whatever the case of its letters."""
        email = str(self.cleaned_data["email"]).casefold()
        if User.objects.filter(email=email).exclude(pk=self.request.user.pk).exists():
            raise forms.ValidationError(_("This address cannot be used: take another."))
        return email
