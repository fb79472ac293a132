"""Invitations by which a squad's owner lets another coach in."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from saltus.web.models.link import Link
from saltus.web.models.squad import Squad

__all__ = ["Invitation"]


class Invitation(Link):
    """A link that lets one coach in."""

    squad = models.ForeignKey(Squad, on_delete=models.CASCADE, related_name="invitations")
    to = models.CharField(_("for whom"), max_length=120, blank=True, default="")
    can_edit = models.BooleanField(_("may edit"), default=False)
    sees_health = models.BooleanField(_("sees health remarks"), default=False)

    def __str__(self) -> str:
        return f"invitation to {self.squad}"
