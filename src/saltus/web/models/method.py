"""Copies of the method that coaches edit."""

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

__all__ = ["MethodCopy"]


class MethodCopy(models.Model):
    """A coach's own method: the text of its file, and of its exercises."""

    owner = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="methods"
    )
    name = models.CharField(_("name"), max_length=120)
    text = models.TextField()
    exercises = models.TextField(blank=True, default="")
    revision = models.PositiveIntegerField(default=1)
    changed = models.DateTimeField(auto_now=True)
    deleted = models.DateTimeField(null=True, blank=True)
    """Since when it is put aside: it can be brought back."""

    @property
    def whole_text(self) -> str:
        """The method with its exercises, as one file says them."""
        return f"{self.text.rstrip()}\n\n{self.exercises}" if self.exercises else self.text

    def __str__(self) -> str:
        return self.name
