"""An athlete: the text of the record, and every revision of it."""

import uuid
from typing import ClassVar

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from saltus.web.models.squad import Squad

__all__ = ["Athlete", "Revision"]


class Athlete(models.Model):
    """One athlete. `text` is the record; `name` and `group` are there to be searched."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    squad = models.ForeignKey(Squad, on_delete=models.CASCADE, related_name="athletes")
    name = models.CharField(_("name"), max_length=200)
    group = models.CharField(_("group"), max_length=80, blank=True, default="")
    text = models.TextField()
    revision = models.PositiveIntegerField(default=1)
    archived = models.DateTimeField(null=True, blank=True)
    deleted = models.DateTimeField(null=True, blank=True)
    account = models.OneToOneField(
        settings.AUTH_USER_MODEL,
        on_delete=models.SET_NULL,
        null=True,
        blank=True,
        related_name="athlete",
    )
    """The athlete's own sign-in, where they have one."""
    health_shared = models.BooleanField(_("health remarks may be shared"), default=False)
    summary = models.JSONField(default=dict, blank=True)
    """What the squad page tells of the athlete (saltus.web.summaries); never the truth."""
    made = models.DateTimeField(auto_now_add=True)
    changed = models.DateTimeField(auto_now=True)

    class Meta:
        """In order of name."""

        ordering: ClassVar[list[str]] = ["name"]
        indexes: ClassVar[list[models.Index]] = [
            models.Index(
                fields=["squad", "archived", "deleted", "name"], name="athletes_of_a_squad"
            )
        ]

    def __str__(self) -> str:
        return self.name


class Revision(models.Model):
    """What a record said before, who changed it, when, and what they did."""

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="revisions")
    number = models.PositiveIntegerField()
    text = models.TextField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True)
    by_name = models.CharField(max_length=120, blank=True, default="")
    """Who it was where they have no account here: the data came from elsewhere."""
    at = models.DateTimeField(auto_now_add=True)
    what = models.CharField(max_length=300)

    class Meta:
        """The newest first."""

        ordering: ClassVar[list[str]] = ["-number"]
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["athlete", "number"], name="revisions_are_numbered")
        ]

    def __str__(self) -> str:
        return f"{self.athlete}, revision {self.number}: {self.what}"
