"""Recordings that were uploaded."""

from typing import ClassVar

from django.conf import settings
from django.db import models

from saltus.web.models.athlete import Athlete

__all__ = ["StoredRecording"]


class StoredRecording(models.Model):
    """A recording of an athlete: the file as it came, and what was found in it."""

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="recordings")
    name = models.CharField(max_length=200)
    """As the coach called it; never used as a path."""
    sha256 = models.CharField(max_length=64)
    suffix = models.CharField(max_length=8)
    size = models.PositiveBigIntegerField()
    date = models.DateField()
    options = models.JSONField(default=dict)
    analysis = models.JSONField(default=dict)
    decisions = models.JSONField(default=dict)
    """By number of the jump: kept or dropped, and why."""
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True)
    by_name = models.CharField(max_length=120, blank=True, default="")
    """Who it was where they have no account here: the data came from elsewhere."""
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        """The newest first; the same file once."""

        ordering: ClassVar[list[str]] = ["-date", "-at"]
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["athlete", "sha256"], name="a_recording_counts_once")
        ]

    def __str__(self) -> str:
        return f"{self.name} of {self.athlete}"
