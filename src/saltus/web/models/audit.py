"""Who did what beyond the records themselves: shares, exports, deletions, backups."""

from typing import ClassVar

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from saltus.web.models.athlete import Athlete
from saltus.web.models.squad import Squad

__all__ = ["AuditEntry"]


class AuditEntry(models.Model):
    """One action. What was deleted for good takes its entries, and so its name, along."""

    class Action(models.TextChoices):
        """What was done."""

        INVITED = "invited", _("made an invitation")
        INVITATION_WITHDRAWN = "invitation_withdrawn", _("withdrew an invitation")
        JOINED = "joined", _("accepted an invitation")
        SHARE_CHANGED = "share_changed", _("changed what another coach may do")
        SHARE_ENDED = "share_ended", _("ended a share")
        SQUAD_MADE = "squad_made", _("made a squad")
        SQUAD_RENAMED = "squad_renamed", _("renamed a squad")
        SQUAD_DELETED = "squad_deleted", _("deleted a squad for good")
        HEALTH_SHARED = "health_shared", _("changed who sees health remarks")
        EXPORTED = "exported", _("exported data")
        IMPORTED = "imported", _("imported data")
        ATHLETE_DELETED = "athlete_deleted", _("deleted an athlete")
        ATHLETE_BROUGHT_BACK = "athlete_brought_back", _("brought an athlete back")
        ATHLETE_ARCHIVED = "athlete_archived", _("archived an athlete")
        ATHLETE_UNARCHIVED = "athlete_unarchived", _("brought an athlete back from the archive")
        ATHLETE_GROUPED = "athlete_grouped", _("changed the group of an athlete")
        ATHLETE_PURGED = "athlete_purged", _("deleted an athlete for good")
        METHOD_MADE = "method_made", _("made a copy of a method")
        METHOD_CHANGED = "method_changed", _("changed a method")
        METHOD_DELETED = "method_deleted", _("deleted a method")
        METHOD_BROUGHT_BACK = "method_brought_back", _("brought a method back")
        METHOD_CHOSEN = "method_chosen", _("chose the method of a squad")
        ATHLETE_INVITED = "athlete_invited", _("invited an athlete to their own page")
        ATHLETE_INVITATION_WITHDRAWN = (
            "athlete_invitation_withdrawn",
            _("withdrew an athlete's invitation"),
        )
        ATHLETE_JOINED = "athlete_joined", _("set up their own page")
        ATHLETE_ACCOUNT_ENDED = "athlete_account_ended", _("took an athlete's sign-in away")
        EMAIL_CHANGED = "email_changed", _("changed their e-mail address")
        PASSWORD_CHANGED = "password_changed", _("changed their password")
        PLAN_ACCEPTED = "plan_accepted", _("accepted a plan")
        PLAN_DECLINED = "plan_declined", _("declined a plan")
        BACKUP_MADE = "backup_made", _("made a backup")
        BACKUP_FETCHED = "backup_fetched", _("downloaded a backup")
        BACKUP_RESTORED = "backup_restored", _("restored a backup")
        BACKUP_DELETED = "backup_deleted", _("deleted a backup")

    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="actions"
    )
    at = models.DateTimeField(auto_now_add=True)
    action = models.CharField(max_length=32, choices=Action.choices)
    squad = models.ForeignKey(
        Squad, on_delete=models.CASCADE, null=True, blank=True, related_name="actions"
    )
    athlete = models.ForeignKey(
        Athlete, on_delete=models.CASCADE, null=True, blank=True, related_name="actions"
    )
    about = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    """The other coach, where the action concerns one."""
    detail = models.CharField(max_length=300, blank=True, default="")

    class Meta:
        """The newest first."""

        ordering: ClassVar[list[str]] = ["-at", "-pk"]
        indexes: ClassVar[list[models.Index]] = [
            models.Index(fields=["squad", "-at"], name="actions_on_a_squad")
        ]

    def __str__(self) -> str:
        return f"{self.by}: {self.action} {self.detail}"
