"""The tables of a copy in forms: rules, limits, phases, exercises."""

from collections.abc import Mapping, Sequence
from typing import Any

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.text import capfirst
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as _l
from django.views.decorators.http import require_http_methods, require_POST

from saltus.athlete.qualities import WORDS, Quality
from saltus.errors import MethodError
from saltus.training.method import Method, PhaseKind
from saltus.training.method_edit import insert_table, raw_method, with_table, without_table
from saltus.web.access import method_for
from saltus.web.methods.asked import PHASE, RULE, SECTIONS, TITLES, USE, Ask, Asked
from saltus.web.methods.forms import Choices, ExerciseForm, TableForm, choices_of
from saltus.web.methods.saving import Outcome, saved
from saltus.web.methods.using import copy_read
from saltus.web.methods.words import place_words
from saltus.web.models import MethodCopy
from saltus.web.sentences import told

__all__ = [
    "add_entry",
    "add_exercise",
    "add_phase",
    "add_rule",
    "entry",
    "exercise",
    "phase",
    "remove_entry",
    "reset_exercise",
    "rule",
    "section",
]

_SEVERAL = frozenset({"emphasis", "spacing", "match_gap", "budget", "progression"})
_NOT_ADDED = frozenset({"emphasis"})
_MORE_USES = 2
_IDENTIFIER = r"^[A-Za-z0-9_-]{1,80}$"


class _UseForm(TableForm):
    """How a phase uses a family."""

    def __init__(self, *args: Any, values: Mapping[str, Any], choices: Choices, **kwargs: Any):
        super().__init__(*args, asked=USE, values=values, choices=choices, **kwargs)
        if values:
            self.fields["leave_out"] = forms.BooleanField(required=False, label=_l("Leave out"))

    @property
    def counts(self) -> bool:
        """Whether it is filled in and stays."""
        return bool(self.cleaned_data.get("family") or self.values) and not self.cleaned_data.get(
            "leave_out"
        )


class _PlainForm(forms.Form):
    """Short name for the file, and a name."""

    identifier = forms.RegexField(
        _IDENTIFIER,
        label=_l("Short name for the file"),
        help_text=_l("Letters a to z, digits and _. It stays."),
        error_messages={"invalid": _l("Only letters a to z, digits, _ and -.")},
    )


@login_required
@require_http_methods(["GET", "POST"])
def section(request: HttpRequest, method_id: int, section: str) -> HttpResponse:
    """Change a table that comes once, such as the week."""
    copy, found = _readable(request, method_id)
    if section not in SECTIONS or section in _SEVERAL:
        raise Http404
    values = raw_method(copy.text)[section]
    return _table_page(request, copy, found, (section,), values)


@login_required
@require_http_methods(["GET", "POST"])
def entry(request: HttpRequest, method_id: int, section: str, index: int) -> HttpResponse:
    """Change one of several tables, such as a landing budget."""
    copy, found = _readable(request, method_id)
    values = _entries(copy, section)
    if index >= len(values):
        raise Http404
    return _table_page(request, copy, found, (section, index), values[index])


@login_required
@require_http_methods(["GET", "POST"])
def add_entry(request: HttpRequest, method_id: int, section: str) -> HttpResponse:
    """Add one to several tables."""
    copy, found = _readable(request, method_id)
    values = _entries(copy, section)
    if section in _NOT_ADDED:
        raise Http404
    return _table_page(request, copy, found, (section, len(values)), {}, new=True)


@login_required
@require_POST
def remove_entry(request: HttpRequest, method_id: int, section: str, index: int) -> HttpResponse:
    """Remove one of several tables, or a phase."""
    copy, _found = _readable(request, method_id)
    if section != "phase" and index >= len(_entries(copy, section)):
        raise Http404
    if section == "phase" and index >= len(raw_method(copy.text)["phase"]):
        raise Http404
    return _removal(
        request,
        copy,
        (section, index),
        _("Leave out: %(what)s") % {"what": TITLES[section]},
        reverse("method", args=[copy.pk]) + f"#{section}",
    )


@login_required
@require_http_methods(["GET", "POST"])
def rule(request: HttpRequest, method_id: int, rule_id: str) -> HttpResponse:
    """Change what a rule says, and its source."""
    copy, found = _readable(request, method_id)
    values = raw_method(copy.text)["rule"].get(rule_id)
    if values is None:
        raise Http404
    return _table_page(request, copy, found, ("rule", rule_id), values)


@login_required
@require_http_methods(["GET", "POST"])
def add_rule(request: HttpRequest, method_id: int) -> HttpResponse:
    """Add a rule; phases and limits can then name it."""
    copy, found = _readable(request, method_id)
    named = _PlainForm(request.POST or None)
    form = TableForm(request.POST or None, asked=RULE, values={}, choices=choices_of(found))
    outcome = None
    if request.method == "POST" and all([named.is_valid(), form.is_valid()]):
        identifier = named.cleaned_data["identifier"]
        if identifier in found.rules:
            named.add_error("identifier", _("There is a rule of that name already."))
        else:
            outcome = saved(
                request,
                copy,
                lambda: with_table(copy.text, ("rule", identifier), form.raw(), copy.name),
                lambda error: form.blame(error.faults, f"rule.{identifier}"),
            )
            if outcome.saved:
                return redirect(reverse("method", args=[copy.pk]) + "#rule")
    return _page(request, copy, _("Another rule"), [named, form], outcome, back="rule")


@login_required
@require_http_methods(["GET", "POST"])
def phase(request: HttpRequest, method_id: int, index: int) -> HttpResponse:
    """Change a phase and how it uses each family of exercises."""
    copy, found = _readable(request, method_id)
    phases = raw_method(copy.text)["phase"]
    if index >= len(phases):
        raise Http404
    values, data, choices = phases[index], request.POST or None, choices_of(found)
    form = TableForm(data, asked=PHASE, values=values, choices=choices)
    rows: Sequence[Mapping[str, Any]] = [*values.get("use", ()), *[{}] * _MORE_USES]
    uses = [
        _UseForm(data, values=row, choices=choices, prefix=f"use-{number}")
        for number, row in enumerate(rows)
    ]
    outcome = None
    if data is not None and all([form.is_valid(), *[use.is_valid() for use in uses]]):
        kept = [use for use in uses if use.counts]
        outcome = saved(
            request,
            copy,
            lambda: with_table(
                copy.text,
                ("phase", index),
                form.raw() | {"use": [use.raw() for use in kept]},
                copy.name,
            ),
            lambda error: _blame_phase(error, form, kept, index),
        )
        if outcome.saved:
            return redirect(reverse("method", args=[copy.pk]) + f"#phase-{index}")
    context = {
        "copy": copy,
        "form": form,
        "uses": uses,
        "title": _(values["name"]),
        "index": index,
        "may_go": values["kind"] == PhaseKind.BUILDING,
        **_seen(outcome),
    }
    return render(request, "methods/phase_form.html", context, status=_status(data, outcome))


@login_required
@require_http_methods(["GET", "POST"])
def add_phase(request: HttpRequest, method_id: int, index: int) -> HttpResponse:
    """Put a phase after another, of which it is a copy at first."""
    copy, found = _readable(request, method_id)
    phases = raw_method(copy.text)["phase"]
    if index >= len(phases) or phases[index]["kind"] != PhaseKind.BUILDING:
        raise Http404
    named = _PlainForm(request.POST or None)
    form = TableForm(
        request.POST or None, asked=PHASE, values=phases[index], choices=choices_of(found)
    )
    outcome = None
    if request.method == "POST" and all([named.is_valid(), form.is_valid()]):
        identifier = named.cleaned_data["identifier"]
        outcome = saved(
            request,
            copy,
            lambda: insert_table(
                copy.text,
                ("phase", index + 1),
                form.raw() | {"id": identifier},
                copy.name,
            ),
            lambda error: _blame_new_phase(error, named, form, index + 1),
        )
        if outcome.saved:
            messages.info(
                request,
                _("It has no share of the building weeks yet: give it some under “emphasis”."),
            )
            return redirect("method-phase", copy.pk, index + 1)
    title = _("Another phase after %(name)s") % {"name": phases[index]["name"]}
    return _page(request, copy, title, [named, form], outcome, back="phases")


@login_required
@require_http_methods(["GET", "POST"])
def exercise(request: HttpRequest, method_id: int, exercise_id: str) -> HttpResponse:
    """Change an exercise."""
    copy, found = _readable(request, method_id)
    values = raw_method(copy.text)["exercise"].get(exercise_id)
    if values is None:
        raise Http404
    form = ExerciseForm(request.POST or None, values=values, choices=choices_of(found))
    return _exercise_page(request, copy, form, values["name"], exercise_id)


@login_required
@require_http_methods(["GET", "POST"])
def add_exercise(request: HttpRequest, method_id: int) -> HttpResponse:
    """Add an exercise, empty or like another (``?like=box_jump``)."""
    copy, found = _readable(request, method_id)
    like = raw_method(copy.text)["exercise"].get(request.GET.get("like", ""), {})
    form = ExerciseForm(request.POST or None, values=like, choices=choices_of(found), new=True)
    return _exercise_page(request, copy, form, _("Another exercise"), None)


@login_required
@require_POST
def reset_exercise(request: HttpRequest, method_id: int, exercise_id: str) -> HttpResponse:
    """Have an exercise as it ships again, or remove one of one's own."""
    copy, found = _readable(request, method_id)
    if exercise_id not in found.exercises:
        raise Http404
    shipped = exercise_id in copy_read(None).exercises
    back = (
        reverse("method-exercise", args=[copy.pk, exercise_id])
        if shipped
        else reverse("method-exercises", args=[copy.pk])
    )
    name = found.exercises[exercise_id].name
    title = _("%(name)s as it ships") if shipped else _("Remove: %(name)s")
    return _removal(request, copy, ("exercise", exercise_id), title % {"name": name}, back)


def _exercise_page(
    request: HttpRequest, copy: MethodCopy, form: ExerciseForm, title: str, name: str | None
) -> HttpResponse:
    outcome = None
    if request.method == "POST" and form.is_valid():
        identifier = name or str(form.cleaned_data["identifier"])
        if name is None and identifier in raw_method(copy.text)["exercise"]:
            form.add_error("identifier", _("There is an exercise of that name already."))
        else:
            outcome = saved(
                request,
                copy,
                lambda: with_table(copy.text, ("exercise", identifier), form.raw(), copy.name),
                lambda error: form.blame(error.faults, f"exercise.{identifier}"),
            )
            if outcome.saved:
                return redirect("method-exercise", copy.pk, identifier)
    context = {
        "copy": copy,
        "form": form,
        "title": title,
        "exercise_id": name,
        **_seen(outcome),
    }
    status = _status(request.POST or None, outcome)
    return render(request, "methods/exercise_form.html", context, status=status)


def _table_page(
    request: HttpRequest,
    copy: MethodCopy,
    found: Method,
    path: tuple[str | int, ...],
    values: Mapping[str, Any],
    *,
    new: bool = False,
) -> HttpResponse:
    part = str(path[0])
    asked = RULE if part == "rule" else SECTIONS[part]
    if part == "emphasis":
        asked = (*_shares(found), *asked)
    form = TableForm(request.POST or None, asked=asked, values=values, choices=choices_of(found))
    at = "".join(f"[{key}]" if isinstance(key, int) else f".{key}" for key in path)[1:]
    outcome = None
    if request.method == "POST" and form.is_valid():
        outcome = saved(
            request,
            copy,
            lambda: with_table(copy.text, path, form.raw(), copy.name),
            lambda error: form.blame(error.faults, at),
        )
        if outcome.saved:
            return redirect(reverse("method", args=[copy.pk]) + f"#{part}")
    removable = part in _SEVERAL - _NOT_ADDED and not new
    remove = reverse("remove-method-entry", args=[copy.pk, *path]) if removable else ""
    title = str(TITLES[part])
    if part == "emphasis":
        limiting = values["limiting"]
        words = _("not decided yet") if limiting == "undecided" else _(WORDS[Quality(limiting)])
        title = _("%(title)s: %(limiting)s") % {"title": title, "limiting": words}
    return _page(request, copy, title, [form], outcome, back=part, remove=remove)


def _page(
    request: HttpRequest,
    copy: MethodCopy,
    title: str,
    parts: Sequence[forms.Form],
    outcome: Outcome | None,
    *,
    back: str,
    remove: str = "",
) -> HttpResponse:
    context = {
        "copy": copy,
        "forms": parts,
        "title": title,
        "back": reverse("method", args=[copy.pk]) + f"#{back}",
        "remove": remove,
        **_seen(outcome),
    }
    status = _status(request.POST or None, outcome)
    return render(request, "methods/table_form.html", context, status=status)


def _removal(
    request: HttpRequest,
    copy: MethodCopy,
    path: tuple[str | int, ...],
    title: str,
    back: str,
) -> HttpResponse:
    faults: list[str] = []
    outcome = saved(
        request,
        copy,
        lambda: without_table(copy.text, path, copy.name),
        lambda error: faults.extend(
            f"{place_words(fault.where, copy_read(copy), path)}: {told(fault.what)}"
            for fault in error.faults
        ),
    )
    if outcome.saved:
        return redirect(back)
    context = {"copy": copy, "title": title, "faults": faults, "back": back, **_seen(outcome)}
    return render(request, "methods/removal.html", context, status=422 if faults else 200)


def _readable(request: HttpRequest, method_id: int) -> tuple[MethodCopy, Method]:
    """A copy of one's own with what it says.

    Raises
    ------
    MethodError
        If its text has faults: then only the text can be changed.
    """
    copy = method_for(request, method_id)
    return copy, copy_read(copy)


def _entries(copy: MethodCopy, section: str) -> list[dict[str, Any]]:
    if section not in _SEVERAL:
        raise Http404
    return list(raw_method(copy.text)[section])


def _shares(found: Method) -> list[Asked]:
    building = [phase for phase in found.phases if phase.kind is PhaseKind.BUILDING]
    return [
        Asked(
            f"shares.{phase.id}",
            Ask.NUMBER,
            _("Share of %(phase)s") % {"phase": _(phase.name)},
            _("Together the shares make 1.") if phase is building[-1] else "",
        )
        for phase in building
    ]


def _blame_phase(error: MethodError, form: TableForm, kept: Sequence[_UseForm], index: int) -> None:
    at = f"phase[{index}]"
    for fault in error.faults:
        for number, use in enumerate(kept):
            place = f"{at}.use[{number}]"
            if fault.where == place or fault.where.startswith(f"{place}."):
                use.blame([fault], place)
                break
        else:
            form.blame([fault], at)


def _blame_new_phase(error: MethodError, named: forms.Form, form: TableForm, index: int) -> None:
    at = f"phase[{index}]"
    for fault in error.faults:
        if fault.where == f"{at}.id":
            named.add_error("identifier", capfirst(told(fault.what)))
        else:
            form.blame([fault], at)


def _seen(outcome: Outcome | None) -> dict[str, Any]:
    if outcome is None:
        return {}
    return {"brings": outcome.brings, "seen": outcome.seen}


def _status(data: Any, outcome: Outcome | None) -> int:
    return 200 if data is None or (outcome is not None and outcome.brings is not None) else 422
