"""Links that let somebody in once: whose, until when, and whether they were used."""

import datetime as dt
from typing import ClassVar

from django.conf import settings
from django.db import models
from django.utils import timezone

__all__ = ["Link"]


class Link(models.Model):
    """A link that holds for a week. It is signed; the row says if it still holds."""

    DAYS = 7

    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    made = models.DateTimeField(auto_now_add=True)
    used = models.DateTimeField(null=True, blank=True)

    class Meta:
        """The newest first."""

        abstract = True
        ordering: ClassVar[list[str]] = ["-made"]

    @property
    def expires(self) -> dt.datetime:
        """When the link stops working."""
        return self.made + dt.timedelta(days=self.DAYS)

    @property
    def holds(self) -> bool:
        """Whether it can still be accepted."""
        return self.used is None and timezone.now() < self.expires
