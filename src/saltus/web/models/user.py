"""People who sign in."""

from typing import Any, ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.contrib.auth.models import PermissionsMixin
from django.db import models
from django.utils.translation import gettext_lazy as _

__all__ = ["User"]


class UserManager(BaseUserManager["User"]):
    """Makes accounts."""

    def create_user(self, email: str, password: str | None = None, **fields: Any) -> "User":
        """Make an account; the e-mail address is what one signs in with."""
        user = self.model(email=self.normalize_email(email).casefold(), **fields)
        user.set_password(password)
        user.save(using=self._db)
        return user

    def get_by_natural_key(self, username: str | None) -> "User":
        """Find an account by its address, whatever the case of its letters."""
        return self.get(email=(username or "").casefold())


class User(AbstractBaseUser, PermissionsMixin):
    """A coach or an athlete, with how they like figures told."""

    class Length(models.TextChoices):
        """Unit of heights."""

        CENTIMETRES = "cm", _("centimetres")
        INCHES = "in", _("inches")

    class Mass(models.TextChoices):
        """Unit of weights."""

        KILOGRAMS = "kg", _("kilograms")
        POUNDS = "lb", _("pounds")

    email = models.EmailField(_("e-mail"), unique=True)
    name = models.CharField(_("name"), max_length=120)
    is_active = models.BooleanField(default=True)
    is_coach = models.BooleanField(default=True)
    joined = models.DateTimeField(auto_now_add=True)
    length_unit = models.CharField(
        _("heights in"), max_length=2, choices=Length.choices, default=Length.CENTIMETRES
    )
    mass_unit = models.CharField(
        _("weights in"), max_length=2, choices=Mass.choices, default=Mass.KILOGRAMS
    )
    language = models.CharField(_("language"), max_length=8, blank=True, default="")

    objects: ClassVar[UserManager] = UserManager()

    USERNAME_FIELD = "email"
    REQUIRED_FIELDS: ClassVar[list[str]] = ["name"]

    def __str__(self) -> str:
        return self.name
