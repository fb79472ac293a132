"""Invitations: a signed link that lets one coach into a squad, once, within a week."""

from django.db import transaction
from django.http import HttpRequest
from django.urls import reverse
from django.utils import timezone

from saltus.errors import UsageError
from saltus.web.audit import note
from saltus.web.models import AuditEntry, Invitation, Share, User
from saltus.web.signed import SignedNumber

__all__ = ["accept", "invitation_of", "link_of", "path_of"]

_SIGNED = SignedNumber("saltus.invitation", Invitation.DAYS)


def path_of(invitation: Invitation) -> str:
    """Path of the link."""
    return reverse("invitation", args=[_SIGNED.token(invitation.pk)])


def link_of(request: HttpRequest, invitation: Invitation) -> str:
    """The link to hand to the other coach."""
    return request.build_absolute_uri(path_of(invitation))


def invitation_of(token: str) -> Invitation | None:
    """The invitation behind a link, as long as it holds."""
    found = (
        Invitation.objects.select_related("squad", "by").filter(pk=_SIGNED.number(token)).first()
    )
    return found if found is not None and found.holds else None


def accept(invitation: Invitation, user: User) -> Share:
    """Let a coach in; the link is used up by it.

    Raises
    ------
    UsageError
        If somebody was quicker, or the squad is the coach's own.
    """
    with transaction.atomic():
        # Only the table of invitations is locked: the others are read along.
        locked = (
            Invitation.objects.select_for_update(of=("self",))
            .select_related("squad")
            .filter(pk=invitation.pk)
            .first()
        )
        if locked is None or not locked.holds:
            raise UsageError("This link has been used already: ask for another.")
        if locked.squad.owner_id == user.pk:
            raise UsageError("This is your own squad: the link is for another coach.")
        share, _ = Share.objects.update_or_create(
            squad=locked.squad,
            user=user,
            defaults={"can_edit": locked.can_edit, "sees_health": locked.sees_health},
        )
        locked.used = timezone.now()
        locked.save(update_fields=["used"])
        note(user, AuditEntry.Action.JOINED, squad=locked.squad)
    return share
