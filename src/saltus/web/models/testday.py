"""Test days: who does which tests in which order."""

from typing import ClassVar

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from saltus.web.models.athlete import Athlete
from saltus.web.models.squad import Squad

__all__ = ["TestDay"]


class TestDay(models.Model):
    """A session in which many athletes are tested."""

    __test__ = False

    squad = models.ForeignKey(Squad, on_delete=models.CASCADE, related_name="test_days")
    date = models.DateField(_("date"))
    title = models.CharField(_("title"), max_length=120, blank=True, default="")
    warm_up = models.TextField(_("warm-up"), blank=True, default="")
    athletes = models.ManyToManyField(Athlete, related_name="test_days", blank=True)
    tests = models.JSONField(default=list)
    """Tests in order, as rows of the record's schema without their results."""
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True)
    by_name = models.CharField(max_length=120, blank=True, default="")
    """Who it was where they have no account here: the data came from elsewhere."""

    class Meta:
        """The newest first."""

        ordering: ClassVar[list[str]] = ["-date"]

    def __str__(self) -> str:
        return f"{self.title or _('Test day')}, {self.date}"
