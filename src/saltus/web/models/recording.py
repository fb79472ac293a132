"""Recordings that were uploaded."""

import uuid
from typing import ClassVar

from django.conf import settings
from django.db import models

from saltus.web.models.athlete import Athlete
from saltus.web.models.squad import Squad
from saltus.web.models.testday import TestDay

__all__ = ["IncomingRecording", "StoredRecording"]


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


class IncomingRecording(models.Model):
    """An uploaded file that no record names yet: whose it is, or how to read it, is open."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    squad = models.ForeignKey(Squad, on_delete=models.CASCADE, related_name="incoming")
    test_day = models.ForeignKey(
        TestDay, on_delete=models.CASCADE, null=True, related_name="incoming"
    )
    athlete = models.ForeignKey(
        Athlete, on_delete=models.CASCADE, null=True, related_name="incoming"
    )
    """Whose it is, as far as is known."""
    name = models.CharField(max_length=200)
    """As the coach called it; never used as a path."""
    sha256 = models.CharField(max_length=64)
    suffix = models.CharField(max_length=8)
    size = models.PositiveBigIntegerField()
    date = models.DateField()
    options = models.JSONField(default=dict)
    """Fields of the record's test: kind, load, box, and how to read the file."""
    analysis = models.JSONField(default=dict)
    error = models.TextField(blank=True, default="")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True)
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        """As they came."""

        ordering: ClassVar[list[str]] = ["at", "name"]

    def __str__(self) -> str:
        return self.name
