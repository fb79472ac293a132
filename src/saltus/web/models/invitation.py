"""Invitations by which a squad's owner lets another coach in."""

import datetime as dt
from typing import ClassVar

from django.conf import settings
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from saltus.web.models.squad import Squad

__all__ = ["Invitation"]


class Invitation(models.Model):
    """A link that lets one coach in, once. The link is signed; the row says if it still holds."""

    DAYS = 7

    squad = models.ForeignKey(Squad, on_delete=models.CASCADE, related_name="invitations")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    to = models.CharField(_("for whom"), max_length=120, blank=True, default="")
    can_edit = models.BooleanField(_("may edit"), default=False)
    sees_health = models.BooleanField(_("sees health remarks"), default=False)
    made = models.DateTimeField(auto_now_add=True)
    used = models.DateTimeField(null=True, blank=True)

    class Meta:
        """The newest first."""

        ordering: ClassVar[list[str]] = ["-made"]

    def __str__(self) -> str:
        return f"invitation to {self.squad}"

    @property
    def expires(self) -> dt.datetime:
        """When the link stops working."""
        return self.made + dt.timedelta(days=self.DAYS)

    @property
    def holds(self) -> bool:
        """Whether it can still be accepted."""
        return self.used is None and timezone.now() < self.expires
