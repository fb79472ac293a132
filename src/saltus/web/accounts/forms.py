"""Forms of accounts."""

from typing import Any, ClassVar

from django import forms
from django.contrib.auth import password_validation
from django.contrib.auth.forms import AuthenticationForm
from django.utils.translation import gettext_lazy as _

from saltus.web.models import User

__all__ = ["FirstAccountForm", "SignInForm"]


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
