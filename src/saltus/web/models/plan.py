"""Plans: the one that holds, those before it, those proposed, and the one being worked out."""

import uuid
from typing import ClassVar

from django.conf import settings
from django.db import models

from saltus.web.models.athlete import Athlete

__all__ = ["PlanRun", "StoredPlan"]


class StoredPlan(models.Model):
    """A plan of an athlete.

    A proposal is neither accepted nor declined yet; the newest accepted one holds.
    """

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="plans")
    number = models.PositiveIntegerField()
    plan = models.JSONField()
    changes = models.JSONField(default=list)
    accepted = models.DateTimeField(null=True, blank=True)
    declined = models.DateTimeField(null=True, blank=True)
    """When it was declined, or another proposal took its place."""
    based_on = models.PositiveIntegerField(null=True, blank=True)
    """Number of the plan that held when this one was proposed; None where none did."""
    what = models.CharField(max_length=300, blank=True, default="")
    """What was asked for, in words."""
    method_name = models.CharField(max_length=120, blank=True, default="")
    """Name of the coach's copy of the method; empty for the one that ships."""
    breaches = models.JSONField(default=list, blank=True)
    """Rules that the checker found broken: rule, where and text of each."""
    made_from_revision = models.PositiveIntegerField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True)
    by_name = models.CharField(max_length=120, blank=True, default="")
    """Who it was where they have no account here: the data came from elsewhere."""
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        """The newest first."""

        ordering: ClassVar[list[str]] = ["-number"]
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["athlete", "number"], name="plans_are_numbered")
        ]

    def __str__(self) -> str:
        return f"plan {self.number} of {self.athlete}"


class PlanRun(models.Model):
    """A plan that is being worked out: one for each athlete, gone once it was looked at."""

    athlete = models.OneToOneField(Athlete, on_delete=models.CASCADE, related_name="plan_run")
    token = models.UUIDField(default=uuid.uuid4, editable=False)
    """Of this run: one that was stopped finds that it is no longer wanted."""
    asked = models.JSONField(default=dict)
    """What was asked for."""
    stage = models.CharField(max_length=20, blank=True, default="")
    share = models.FloatField(default=0.0)
    """Of the work, done."""
    fault = models.TextField(blank=True, default="")
    """Why it came to nothing."""
    finished = models.DateTimeField(null=True, blank=True)
    touched = models.DateTimeField(auto_now=True)
    """When it was last heard of: a run that fell silent counts for nothing."""
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True)
    at = models.DateTimeField(auto_now_add=True)

    def __str__(self) -> str:
        return f"plan of {self.athlete}, being worked out"
