"""Squads and who may see them."""

from typing import ClassVar

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

__all__ = ["Share", "Squad"]


class Squad(models.Model):
    """A coach's athletes."""

    owner = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="squads"
    )
    name = models.CharField(_("name"), max_length=120)
    method = models.ForeignKey(
        "web.MethodCopy", on_delete=models.SET_NULL, null=True, blank=True, related_name="squads"
    )

    def __str__(self) -> str:
        return self.name


class Share(models.Model):
    """Another coach who may read a squad, or also edit it."""

    squad = models.ForeignKey(Squad, on_delete=models.CASCADE, related_name="shares")
    user = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="shares"
    )
    can_edit = models.BooleanField(_("may edit"), default=False)
    sees_health = models.BooleanField(_("sees health remarks"), default=False)

    class Meta:
        """One share for each coach."""

        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["squad", "user"], name="one_share_for_each_coach")
        ]

    def __str__(self) -> str:
        return f"{self.user} on {self.squad}"
