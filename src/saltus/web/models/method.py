"""Copies of the method that coaches edit."""

from typing import ClassVar

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

__all__ = ["MethodCopy", "MethodRevision"]


class MethodCopy(models.Model):
    """A coach's own method: the text of its file, exercises included."""

    owner = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="methods"
    )
    name = models.CharField(_("name"), max_length=120)
    text = models.TextField()
    revision = models.PositiveIntegerField(default=1)
    changed = models.DateTimeField(auto_now=True)
    deleted = models.DateTimeField(null=True, blank=True)
    """Since when it is put aside: it can be brought back."""

    def __str__(self) -> str:
        return self.name


class MethodRevision(models.Model):
    """What a copy said before, since when, and what was changed in it."""

    method = models.ForeignKey(MethodCopy, on_delete=models.CASCADE, related_name="revisions")
    number = models.PositiveIntegerField()
    text = models.TextField()
    at = models.DateTimeField(auto_now_add=True)
    what = models.CharField(max_length=300, blank=True, default="")

    class Meta:
        """The newest first."""

        ordering: ClassVar[list[str]] = ["-number"]
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["method", "number"], name="method_texts_are_numbered")
        ]

    def __str__(self) -> str:
        return f"{self.method}, revision {self.number}"
