"""What comes from an athlete's phone, and the invitation by which an athlete signs in."""

import uuid
from typing import ClassVar

from django.db import models
from django.utils.translation import gettext_lazy as _

from saltus.web.models.athlete import Athlete
from saltus.web.models.link import Link

__all__ = ["AthleteInvitation", "PocketEntry"]


class AthleteInvitation(Link):
    """A link by which one athlete makes a sign-in of their own."""

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="invitations")
    withdrawn = models.DateTimeField(null=True, blank=True)

    def __str__(self) -> str:
        return f"invitation of {self.athlete}"

    @property
    def holds(self) -> bool:
        """Whether it can still be accepted."""
        return self.withdrawn is None and super().holds


class PocketEntry(models.Model):
    """One thing entered on a phone. Entries are only added; a session is folded from them."""

    class Kind(models.TextChoices):
        """What was entered."""

        START = "start", _("begun")
        BEFORE = "before", _("told before it")
        SET = "set", _("a set")
        SKIP = "skip", _("an exercise left out")
        REMOVE = "remove", _("an entry taken back")
        AFTER = "after", _("told after it")
        AGREE = "agree", _("cautions agreed to")

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    """Made by the phone: what is sent twice is stored once."""
    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="entries")
    session = models.UUIDField()
    date = models.DateField()
    """Day of the session."""
    kind = models.CharField(max_length=8, choices=Kind.choices)
    data = models.JSONField(default=dict, blank=True)
    at = models.DateTimeField()
    """By the phone's clock."""
    received = models.DateTimeField(auto_now_add=True)
    device = models.UUIDField()

    class Meta:
        """In the order in which they are folded."""

        ordering: ClassVar[list[str]] = ["at", "id"]
        indexes: ClassVar[list[models.Index]] = [
            models.Index(fields=["athlete", "session"], name="entries_of_a_session"),
            models.Index(fields=["athlete", "date"], name="entries_by_day"),
        ]

    def __str__(self) -> str:
        return f"{self.kind} of {self.athlete}, {self.at}"
