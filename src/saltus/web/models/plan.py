"""Plans: the one that holds, and those before it."""

from typing import ClassVar

from django.conf import settings
from django.db import models

from saltus.web.models.athlete import Athlete

__all__ = ["StoredPlan"]


class StoredPlan(models.Model):
    """A plan of an athlete. A proposal is not accepted yet; the newest accepted one holds."""

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="plans")
    number = models.PositiveIntegerField()
    plan = models.JSONField()
    changes = models.JSONField(default=list)
    accepted = models.DateTimeField(null=True, blank=True)
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
