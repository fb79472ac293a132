"""A coach's copies as wholes: make, bring in, take out, put aside, choose for a squad."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from saltus.errors import Fault, MethodError
from saltus.training.exercise_file import shipped_text
from saltus.training.method_edit import with_name
from saltus.training.method_file import parse_method
from saltus.web.access import method_for, own_squad_for, user_of
from saltus.web.methods.copies import bring_back as have_again
from saltus.web.methods.copies import choose as use
from saltus.web.methods.copies import consequences, make_copy, put_aside
from saltus.web.methods.forms import ImportForm, NewForm, TextForm
from saltus.web.methods.saving import Outcome, saved
from saltus.web.methods.using import copy_read
from saltus.web.models import MethodCopy, User
from saltus.web.sentences import told
from saltus.web.texts import with_lines

__all__ = [
    "bring_back",
    "bring_in",
    "choose",
    "copy",
    "delete",
    "download",
    "download_shipped",
    "rename",
    "text",
]

_TOML = "application/toml; charset=utf-8"


@login_required
@require_http_methods(["GET", "POST"])
def copy(request: HttpRequest, method_id: int | None = None) -> HttpResponse:
    """Copy the method that ships, or a copy."""
    user = user_of(request)
    of = None if method_id is None else method_for(request, method_id)
    form = NewForm(request.POST or None, initial={"name": _new_name(user, of)})
    if request.method == "POST" and form.is_valid():
        made = make_copy(user, form.cleaned_data["name"], None if of is None else of.text)
        messages.success(
            request, _("%(name)s is yours to change. No squad uses it yet.") % {"name": made.name}
        )
        return redirect("method", made.pk)
    return render(request, "methods/copy.html", {"form": form, "of": of})


@login_required
@require_http_methods(["GET", "POST"])
def bring_in(request: HttpRequest) -> HttpResponse:
    """Make a copy from a method file; its faults are told by their lines."""
    user = user_of(request)
    form = ImportForm(request.POST or None, request.FILES or None)
    faults: list[tuple[Fault, str]] = []
    if request.method == "POST" and form.is_valid():
        written = form.cleaned_data["text"]
        try:
            made = make_copy(user, parse_method(written, _("the file")).name, written)
        except MethodError as error:
            faults = with_lines(error, written)
            # What was in the file stands in the field, so that it can be mended there.
            form = ImportForm(initial={"text": written})
        else:
            messages.success(
                request, _("%(name)s is brought in. No squad uses it yet.") % {"name": made.name}
            )
            return redirect("method", made.pk)
    status = 422 if faults or form.errors else 200
    return render(request, "methods/bring_in.html", {"form": form, "faults": faults}, status=status)


@login_required
@require_http_methods(["GET", "POST"])
def text(request: HttpRequest, method_id: int) -> HttpResponse:
    """The text of a copy, to read and to change."""
    found = method_for(request, method_id)
    form = TextForm(request.POST or None, initial={"text": found.text})
    faults: list[tuple[Fault, str]] = []
    outcome: Outcome | None = None
    if request.method == "POST" and form.is_valid():
        written = form.cleaned_data["text"]
        outcome = saved(
            request,
            found,
            lambda: written,
            lambda error: faults.extend(with_lines(error, written)),
        )
        if outcome.saved:
            return redirect("method", found.pk)
    elif request.method == "GET":
        try:
            copy_read(found)
        except MethodError as error:
            faults = with_lines(error, found.text)
    context = {
        "copy": found,
        "form": form,
        "faults": faults,
        "brings": outcome and outcome.brings,
        "seen": outcome.seen if outcome else "",
    }
    status = 422 if form.is_bound and not (outcome and outcome.brings) else 200
    return render(request, "methods/text.html", context, status=status)


@login_required
@require_http_methods(["GET", "POST"])
def rename(request: HttpRequest, method_id: int) -> HttpResponse:
    """Give a copy another name."""
    found = method_for(request, method_id)
    form = NewForm(request.POST or None, initial={"name": found.name})
    if request.method == "POST" and form.is_valid():
        outcome = saved(
            request,
            found,
            lambda: with_name(found.text, form.cleaned_data["name"], found.name),
            lambda error: form.add_error(None, told(str(error))),
        )
        if outcome.saved:
            return redirect("method", found.pk)
    status = 422 if form.is_bound else 200
    return render(request, "methods/rename.html", {"copy": found, "form": form}, status=status)


@login_required
@require_GET
def download(request: HttpRequest, method_id: int) -> HttpResponse:
    """A copy as a file."""
    found = method_for(request, method_id)
    return _file(found.text, slugify(found.name) or "method")


@login_required
@require_GET
def download_shipped(request: HttpRequest) -> HttpResponse:
    """The method that ships as a file, with its exercises."""
    user_of(request)
    whole = f"{shipped_text('method.toml').rstrip()}\n\n{shipped_text('exercises.toml')}"
    return _file(whole, "method-that-ships")


@login_required
@require_http_methods(["GET", "POST"])
def delete(request: HttpRequest, method_id: int) -> HttpResponse:
    """Delete a copy, once it is said which squads use it; it can be brought back."""
    found = method_for(request, method_id)
    if request.method == "POST":
        names = put_aside(found, user_of(request))
        messages.success(request, _("%(name)s is deleted.") % {"name": found.name})
        if names:
            messages.warning(
                request,
                ngettext(
                    "%(squads)s now uses the method that ships.",
                    "These squads now use the method that ships: %(squads)s.",
                    len(names),
                )
                % {"squads": ", ".join(names)},
            )
        return redirect("methods")
    brings = None
    if found.squads.exists():
        try:
            brings = consequences(copy_read(found), copy_read(None), found.squads.all())
        except MethodError:
            brings = None
    context = {"copy": found, "squads": found.squads.order_by("name"), "brings": brings}
    return render(request, "methods/delete.html", context)


@login_required
@require_POST
def bring_back(request: HttpRequest, method_id: int) -> HttpResponse:
    """Have a deleted copy again."""
    found = method_for(request, method_id, deleted=True)
    have_again(found, user_of(request))
    messages.success(
        request,
        _("%(name)s is back. Squads that used it must choose it again.") % {"name": found.name},
    )
    return redirect("methods")


@login_required
@require_http_methods(["GET", "POST"])
def choose(request: HttpRequest, squad_id: int) -> HttpResponse:
    """Say which method a squad uses, once it is seen which plans that touches."""
    squad = own_squad_for(request, squad_id)
    user = user_of(request)
    copies = list(user.methods.filter(deleted=None).order_by("name", "pk"))
    context = {"squad": squad, "copies": copies, "now": squad.method_id}
    if request.method == "GET":
        return render(request, "methods/choose.html", context)
    chosen = _chosen(request, copies)
    before, after = copy_read(squad.method), copy_read(chosen)
    if request.POST.get("seen") != (chosen_key := str(chosen.pk if chosen else "")) + " seen":
        brings = consequences(before, after, [squad])
        if brings.to_be_seen:
            context |= {"brings": brings, "chosen": chosen, "seen": f"{chosen_key} seen"}
            return render(request, "methods/choose.html", context)
    use(squad, chosen, user)
    messages.success(
        request,
        _("%(squad)s now uses %(method)s.")
        % {"squad": squad.name, "method": chosen.name if chosen else _("the method that ships")},
    )
    return redirect("methods")


def _chosen(request: HttpRequest, copies: list[MethodCopy]) -> MethodCopy | None:
    key = request.POST.get("method")
    if key == "":
        return None
    for each in copies:
        if str(each.pk) == key:
            return each
    raise Http404


def _new_name(user: User, of: MethodCopy | None) -> str:
    if of is not None:
        return _("%(name)s, copy") % {"name": of.name}
    return _("The method of %(coach)s") % {"coach": user.name}


def _file(written: str, name: str) -> HttpResponse:
    answer = HttpResponse(written, content_type=_TOML)
    answer["Content-Disposition"] = f'attachment; filename="{name}.toml"'
    return answer
