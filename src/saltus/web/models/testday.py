"""Test days: who does which tests in which order."""

from typing import ClassVar

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from saltus.web.models.athlete import Athlete
from saltus.web.models.squad import Squad

__all__ = ["TestDay", "UnfinishedResult"]


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


class UnfinishedResult(models.Model):
    """Figures as they were typed that are no test yet: incomplete, or asked about."""

    test_day = models.ForeignKey(TestDay, on_delete=models.CASCADE, related_name="unfinished")
    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="unfinished")
    trial = models.CharField(max_length=40)
    """Key of the test on the day's list."""
    typed = models.JSONField(default=dict)
    """By key of column, as typed, in the units of whoever typed it."""
    units = models.CharField(max_length=8, default="cm kg")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True)
    at = models.DateTimeField(auto_now=True)

    class Meta:
        """One for each cell of the day."""

        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(
                fields=["test_day", "athlete", "trial"], name="one_unfinished_result_for_a_cell"
            )
        ]

    def __str__(self) -> str:
        return f"{self.trial} of {self.athlete}, unfinished"
