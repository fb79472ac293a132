"""Squads: make, rename, share, leave, delete."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db.models import Count, Q
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST

from saltus.web.access import own_squad_for, squad_for, user_of
from saltus.web.accounts.forms import PasswordAgainForm
from saltus.web.accounts.invitations import link_of
from saltus.web.audit import note
from saltus.web.deletion import delete_squad
from saltus.web.models import AuditEntry, Share, Squad
from saltus.web.preferences.forms import ConsentForm, InvitationForm, ShareForm, SquadForm

__all__ = [
    "consent",
    "delete",
    "end_share",
    "invite",
    "leave",
    "share",
    "squad",
    "squads",
    "withdraw",
]


@login_required
@require_http_methods(["GET", "POST"])
def squads(request: HttpRequest) -> HttpResponse:
    """Own squads and those that others share; make another."""
    user = user_of(request)
    form = SquadForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        form.instance.owner = user
        made = form.save()
        note(user, AuditEntry.Action.SQUAD_MADE, squad=made)
        messages.success(request, _("%(squad)s is made.") % {"squad": made.name})
        return redirect("squads")
    own = Squad.objects.filter(owner=user).annotate(
        people=Count("athletes", filter=Q(athletes__deleted=None), distinct=True),
        coaches=Count("shares", distinct=True),
    )
    shares = Share.objects.filter(user=user).select_related("squad", "squad__owner")
    return render(
        request,
        "preferences/squads.html",
        {"form": form, "own": own.order_by("name", "pk"), "shares": shares.order_by("squad__name")},
    )


@login_required
@require_http_methods(["GET", "POST"])
def squad(request: HttpRequest, squad_id: int) -> HttpResponse:
    """Rename a squad, and see who else may see it."""
    found = own_squad_for(request, squad_id)
    form = SquadForm(request.POST or None, instance=found)
    if request.method == "POST" and form.is_valid():
        renamed = form.save()
        note(user_of(request), AuditEntry.Action.SQUAD_RENAMED, squad=renamed)
        messages.success(request, _("Saved."))
        return redirect("squad-settings", renamed.pk)
    if request.method == "POST":
        found.refresh_from_db()
    return _squad_page(request, found, form=form)


@login_required
@require_POST
def invite(request: HttpRequest, squad_id: int) -> HttpResponse:
    """Make a link that lets another coach in once."""
    found = own_squad_for(request, squad_id)
    form = InvitationForm(request.POST)
    if not form.is_valid():
        return _squad_page(request, found, invitation_form=form)
    form.instance.squad, form.instance.by = found, user_of(request)
    form.save()
    note(user_of(request), AuditEntry.Action.INVITED, squad=found)
    messages.success(request, _("Hand the link below to the other coach. It works once."))
    return redirect("squad-settings", found.pk)


@login_required
@require_POST
def withdraw(request: HttpRequest, squad_id: int, invitation_id: int) -> HttpResponse:
    """Make a link useless."""
    found = own_squad_for(request, squad_id)
    get_object_or_404(found.invitations, pk=invitation_id, used=None).delete()
    note(user_of(request), AuditEntry.Action.INVITATION_WITHDRAWN, squad=found)
    messages.success(request, _("The link no longer works."))
    return redirect("squad-settings", found.pk)


@login_required
@require_POST
def share(request: HttpRequest, squad_id: int, share_id: int) -> HttpResponse:
    """Change what another coach may do."""
    found = own_squad_for(request, squad_id)
    kept = get_object_or_404(found.shares.select_related("user"), pk=share_id)
    form = ShareForm(request.POST, instance=kept)
    if form.is_valid():
        form.save()
        note(user_of(request), AuditEntry.Action.SHARE_CHANGED, squad=found, about=kept.user)
        messages.success(request, _("Saved."))
    return redirect("squad-settings", found.pk)


@login_required
@require_POST
def end_share(request: HttpRequest, squad_id: int, share_id: int) -> HttpResponse:
    """Show the squad to another coach no longer."""
    found = own_squad_for(request, squad_id)
    kept = get_object_or_404(found.shares.select_related("user"), pk=share_id)
    other = kept.user
    kept.delete()
    note(user_of(request), AuditEntry.Action.SHARE_ENDED, squad=found, about=other)
    messages.success(request, _("%(coach)s no longer sees this squad.") % {"coach": other.name})
    return redirect("squad-settings", found.pk)


@login_required
@require_POST
def consent(request: HttpRequest, squad_id: int) -> HttpResponse:
    """Keep which athletes allow their health remarks to be shown to other coaches."""
    found = own_squad_for(request, squad_id)
    form = ConsentForm(found, request.POST)
    if form.is_valid():
        form.save()
        note(user_of(request), AuditEntry.Action.HEALTH_SHARED, squad=found)
        messages.success(request, _("Saved."))
    return redirect("squad-settings", found.pk)


@login_required
@require_POST
def leave(request: HttpRequest, squad_id: int) -> HttpResponse:
    """Give back a share."""
    user = user_of(request)
    found = squad_for(request, squad_id)
    get_object_or_404(found.shares, user=user).delete()
    note(user, AuditEntry.Action.SHARE_ENDED, squad=found, about=user)
    messages.success(request, _("You no longer see this squad."))
    return redirect("squads")


@login_required
@require_http_methods(["GET", "POST"])
@sensitive_post_parameters()
def delete(request: HttpRequest, squad_id: int) -> HttpResponse:
    """Delete a squad and everybody in it for good, once the password was given again."""
    found = own_squad_for(request, squad_id)
    form = PasswordAgainForm(request, request.POST or None)
    if request.method == "POST" and form.is_valid():
        delete_squad(found, user_of(request))
        messages.success(request, _("The squad is deleted."))
        return redirect("squads")
    return render(
        request,
        "preferences/delete_squad.html",
        {"form": form, "squad": found, "athletes": found.athletes.count()},
    )


def _squad_page(
    request: HttpRequest,
    found: Squad,
    *,
    form: SquadForm | None = None,
    invitation_form: InvitationForm | None = None,
) -> HttpResponse:
    shares = found.shares.select_related("user").order_by("user__name", "pk")
    return render(
        request,
        "preferences/squad.html",
        {
            "squad": found,
            "form": form or SquadForm(instance=found),
            "invitation_form": invitation_form or InvitationForm(),
            "invitations": [
                (invitation, link_of(request, invitation))
                for invitation in found.invitations.filter(used=None)
                if invitation.holds
            ],
            "shares": [
                (kept, ShareForm(instance=kept, auto_id=f"share-{kept.pk}-%s")) for kept in shares
            ],
            "consent_form": ConsentForm(found),
            "said_themselves": found.athletes.filter(deleted=None).exclude(account=None),
        },
    )
