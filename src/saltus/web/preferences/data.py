"""Take data out, bring it in, delete it for good."""

from tempfile import TemporaryFile

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import FileResponse, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from saltus.errors import RecordError
from saltus.web.access import own_athlete_for, user_of
from saltus.web.archive.reading import import_archive
from saltus.web.archive.writing import export_athlete as write_athlete
from saltus.web.archive.writing import export_coach as write_coach
from saltus.web.audit import note
from saltus.web.deletion import DAYS_TO_UNDO, purge_athlete
from saltus.web.models import Athlete, AuditEntry
from saltus.web.preferences.forms import ImportForm
from saltus.web.sentences import told

__all__ = ["data", "export_athlete", "export_coach", "import_file", "purge"]


@login_required
@require_GET
def data(request: HttpRequest) -> HttpResponse:
    """What can be taken out, brought in and deleted."""
    return _page(request, ImportForm(user_of(request)))


@login_required
@require_GET
def export_coach(request: HttpRequest) -> HttpResponseBase:
    """Everything of this coach as a zip."""
    user = user_of(request)
    file = TemporaryFile()  # noqa: SIM115 - the answer closes it
    write_coach(user, file)
    file.seek(0)
    note(user, AuditEntry.Action.EXPORTED)
    name = f"saltus-{timezone.localdate().isoformat()}.zip"
    return FileResponse(file, as_attachment=True, filename=name)


@login_required
@require_GET
def export_athlete(request: HttpRequest, athlete_id: object) -> HttpResponseBase:
    """Everything of one athlete as a zip; health remarks are in it, so for the owner alone."""
    athlete = own_athlete_for(request, athlete_id)
    file = TemporaryFile()  # noqa: SIM115 - the answer closes it
    write_athlete(athlete, user_of(request), file)
    file.seek(0)
    note(user_of(request), AuditEntry.Action.EXPORTED, athlete=athlete)
    name = f"{slugify(athlete.name) or 'athlete'}-{timezone.localdate().isoformat()}.zip"
    return FileResponse(file, as_attachment=True, filename=name)


@login_required
@require_POST
def import_file(request: HttpRequest) -> HttpResponse:
    """Bring an export in."""
    user = user_of(request)
    form = ImportForm(user, request.POST, request.FILES)
    if not form.is_valid():
        return _page(request, form)
    file, squad = form.cleaned_data["file"], form.cleaned_data["squad"]
    try:
        imported = import_archive(file, user, squad)
    except RecordError as error:  # of their own file, so that they may read all of it
        form.add_error("file", f"{told(str(error))}\n{_('Nothing was imported.')}")
        return _page(request, form, status=422)
    for target in imported.squads or ([squad] if squad else []):
        note(user, AuditEntry.Action.IMPORTED, squad=target)
    count = len(imported.athletes)
    messages.success(
        request,
        ngettext("%(count)s athlete came in.", "%(count)s athletes came in.", count)
        % {"count": count},
    )
    return redirect("squad")


@login_required
@require_http_methods(["GET", "POST"])
def purge(request: HttpRequest, athlete_id: object) -> HttpResponse:
    """Delete for good now who was deleted before."""
    athlete = own_athlete_for(request, athlete_id, deleted=True)
    if request.method == "POST":
        name = athlete.name
        purge_athlete(athlete, user_of(request))
        messages.success(request, _("%(name)s is deleted for good.") % {"name": name})
        return redirect("data")
    return render(request, "preferences/purge_athlete.html", {"athlete": athlete})


def _page(request: HttpRequest, form: ImportForm, status: int = 200) -> HttpResponse:
    user = user_of(request)
    own = Athlete.objects.filter(squad__owner=user).select_related("squad").defer("text")
    return render(
        request,
        "preferences/data.html",
        {
            "form": form,
            "athletes": own.filter(deleted=None),
            "deleted": own.exclude(deleted=None),
            "days": DAYS_TO_UNDO,
        },
        status=status,
    )
