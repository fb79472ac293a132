"""Backups: list, make, fetch, put back. Only for whoever keeps this installation."""

from pathlib import Path
from tempfile import NamedTemporaryFile

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import FileResponse, Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from saltus.web import backups as keeping
from saltus.web.access import host_of
from saltus.web.accounts.forms import PasswordAgainForm
from saltus.web.audit import note
from saltus.web.models import AuditEntry, User
from saltus.web.preferences.forms import BackupUploadForm

__all__ = ["add", "backups", "delete", "fetch", "make", "restore"]


@login_required
@require_GET
def backups(request: HttpRequest) -> HttpResponse:
    """Every backup there is."""
    host_of(request)
    place = keeping.place_here()
    found = keeping.backups_in(place) if place else []
    return render(
        request,
        "preferences/backups.html",
        {"place": place, "backups": found, "form": BackupUploadForm()},
    )


@login_required
@require_POST
def make(request: HttpRequest) -> HttpResponse:
    """Make one now."""
    made = keeping.make(_place(host_of(request)))
    note(host_of(request), AuditEntry.Action.BACKUP_MADE, detail=made.name)
    messages.success(request, _("The backup is made."))
    return redirect("backups")


@login_required
@require_POST
def add(request: HttpRequest) -> HttpResponse:
    """Put a backup that was kept elsewhere among the others."""
    place = _place(host_of(request))
    form = BackupUploadForm(request.POST, request.FILES)
    if form.is_valid():
        file = form.cleaned_data["file"]
        with NamedTemporaryFile(prefix="backup-") as copy:
            for chunk in file.chunks():
                copy.write(chunk)
            copy.flush()
            keeping.add(place, Path(copy.name), file.name)
        messages.success(request, _("The backup is among the others now; nothing else changed."))
    return redirect("backups")


@login_required
@require_GET
def fetch(request: HttpRequest, name: str) -> HttpResponseBase:
    """Download a backup."""
    found = _found(request, name)
    note(host_of(request), AuditEntry.Action.BACKUP_FETCHED, detail=found.name)
    return FileResponse(found.path.open("rb"), as_attachment=True, filename=found.name)


@login_required
@require_http_methods(["GET", "POST"])
@sensitive_post_parameters()
def restore(request: HttpRequest, name: str) -> HttpResponse:
    """Put a backup back, once the password was given again."""
    found = _found(request, name)
    form = PasswordAgainForm(request, request.POST or None)
    if request.method == "POST" and form.is_valid():
        keeping.restore(_place(host_of(request)), found.path)
        # The person who did it may not have been in that database.
        who = User.objects.filter(email=request.user.email).first()
        note(who, AuditEntry.Action.BACKUP_RESTORED, detail=found.name)
        request.session.flush()
        messages.success(
            request, _("%(backup)s is back in place. Sign in again.") % {"backup": found.name}
        )
        return redirect("sign-in")
    return render(request, "preferences/restore_backup.html", {"form": form, "backup": found})


@login_required
@require_POST
def delete(request: HttpRequest, name: str) -> HttpResponse:
    """Delete a backup."""
    found = _found(request, name)
    found.path.unlink()
    note(host_of(request), AuditEntry.Action.BACKUP_DELETED, detail=found.name)
    messages.success(request, _("The backup is deleted."))
    return redirect("backups")


def _place(_host: User) -> keeping.Place:
    place = keeping.place_here()
    if place is None:
        raise Http404
    return place


def _found(request: HttpRequest, name: str) -> keeping.Backup:
    found = keeping.named(_place(host_of(request)), name)
    if found is None:
        raise Http404
    return found
