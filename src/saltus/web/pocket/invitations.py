"""Invitations of athletes to their own page: a signed link, once, within a week."""

from django.db import transaction
from django.http import HttpRequest
from django.urls import reverse
from django.utils import timezone

from saltus.errors import UsageError
from saltus.web.audit import note
from saltus.web.models import Athlete, AthleteInvitation, AuditEntry, User
from saltus.web.signed import SignedNumber

__all__ = [
    "accept",
    "end_account",
    "invitation_of",
    "invite",
    "link_of",
    "open_of",
    "path_of",
]

_SIGNED = SignedNumber("saltus.athlete-invitation", AthleteInvitation.DAYS)


def path_of(invitation: AthleteInvitation) -> str:
    """Path of the link."""
    return reverse("athlete-invitation", args=[_SIGNED.token(invitation.pk)])


def link_of(request: HttpRequest, invitation: AthleteInvitation) -> str:
    """The link to hand to the athlete."""
    return request.build_absolute_uri(path_of(invitation))


def open_of(athlete: Athlete) -> AthleteInvitation | None:
    """The invitation that can still be accepted, if there is one."""
    newest = athlete.invitations.first()
    return newest if newest is not None and newest.holds else None


def invitation_of(token: str) -> AthleteInvitation | None:
    """The invitation behind a link, as long as it holds."""
    found = (
        AthleteInvitation.objects.select_related("athlete", "athlete__squad", "by")
        .filter(
            pk=_SIGNED.number(token),
            athlete__deleted=None,
            athlete__archived=None,
            athlete__account=None,
        )
        .first()
    )
    return found if found is not None and found.holds else None


def invite(athlete: Athlete, by: User) -> AthleteInvitation:
    """Make a link; one that was open before works no longer.

    Raises
    ------
    UsageError
        If the athlete has a sign-in.
    """
    with transaction.atomic():
        locked = Athlete.objects.select_for_update().get(pk=athlete.pk)
        if locked.account_id is not None:
            raise UsageError("This athlete has a sign-in: take it away first.")
        locked.invitations.filter(used=None, withdrawn=None).update(withdrawn=timezone.now())
        made = AthleteInvitation.objects.create(athlete=locked, by=by)
        note(by, AuditEntry.Action.ATHLETE_INVITED, athlete=athlete)
    return made


def accept(invitation: AthleteInvitation, user: User) -> Athlete:
    """Let an athlete in; the link is used up by it.

    Raises
    ------
    UsageError
        If somebody was quicker.
    """
    with transaction.atomic():
        athlete = Athlete.objects.select_for_update().get(pk=invitation.athlete_id)
        now = AthleteInvitation.objects.get(pk=invitation.pk)
        if not now.holds or athlete.account_id is not None or hasattr(user, "athlete"):
            raise UsageError("This link has been used already: ask for another.")
        athlete.account = user
        # Who may read of their health is for the athlete to say from now on.
        athlete.save(update_fields=["account"])
        now.used = timezone.now()
        now.save(update_fields=["used"])
        note(user, AuditEntry.Action.ATHLETE_JOINED, athlete=athlete)
    return athlete


def end_account(athlete: Athlete, by: User | None) -> None:
    """Take an athlete's sign-in away; what they logged stays.

    The account is deleted with it, unless it is a coach's.
    """
    with transaction.atomic():
        locked = Athlete.objects.select_for_update().get(pk=athlete.pk)
        account = locked.account
        locked.invitations.filter(used=None, withdrawn=None).update(withdrawn=timezone.now())
        if account is None:
            return
        locked.account = None
        locked.save(update_fields=["account"])
        if by is not None:
            note(by, AuditEntry.Action.ATHLETE_ACCOUNT_ENDED, athlete=athlete)
        if not account.is_coach:
            # Here, as deleting needs this module too.
            from saltus.web.deletion import delete_account

            delete_account(account)
