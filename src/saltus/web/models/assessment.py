"""The latest assessment of an athlete, kept until its inputs change."""

from django.db import models

from saltus.web.models.athlete import Athlete

__all__ = ["StoredAssessment"]


class StoredAssessment(models.Model):
    """What an assessment said, and enough of the posterior to answer what-if at once."""

    athlete = models.OneToOneField(Athlete, on_delete=models.CASCADE, related_name="assessment")
    inputs = models.CharField(max_length=64)
    """Hash of everything that the assessment depends on."""
    document = models.JSONField()
    """saltus.athlete.document, with the history for the charts."""
    draws = models.BinaryField()
    """A few hundred draws of the posterior, compressed NumPy arrays."""
    at = models.DateTimeField(auto_now=True)

    def __str__(self) -> str:
        return f"assessment of {self.athlete}"
