"""The record in forms: what it says, and each table's rows to change, add and remove."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from saltus.athlete.health import Restriction
from saltus.errors import RecordError
from saltus.record import schema
from saltus.record.editing import RawRow, raw_rows, table_of, with_row, without_row
from saltus.record.fields import Table
from saltus.training.gates import is_known
from saltus.web.access import athlete_for, may_edit, sees_health, user_of
from saltus.web.athletes.recording_names import names_of
from saltus.web.editing.forms import RowForm
from saltus.web.editing.shown import day_words, facts
from saltus.web.editing.words import PARTS, title
from saltus.web.methods.using import method_of
from saltus.web.models import Athlete
from saltus.web.records import change_record, refuse_if_changed
from saltus.web.revisions import revision_sent

__all__ = ["add_row", "edit_row", "part", "record", "remove_row", "revision_seen"]

_HEALTH = frozenset({"pain", "restriction", "agreed"})
_NOT_ADDED = frozenset({"test", "session"})
_SHOWN = 8
_NOTHING: frozenset[str] = frozenset()


@dataclass(slots=True)
class _Part:
    """A table on the page: its rows, the newest first where they have days."""

    name: str
    title: str
    intro: str
    repeated: bool
    may_add: bool
    rows: list[dict[str, Any]]
    more: list[dict[str, Any]]


@login_required
@require_GET
def record(request: HttpRequest, athlete_id: object) -> HttpResponse:
    """Everything that the record says, with a way to change it."""
    athlete = athlete_for(request, athlete_id)
    user = user_of(request)
    health = sees_health(user, athlete)
    context = {"athlete": athlete, "may_edit": may_edit(user, athlete), "health": health}
    names = names_of(athlete)
    try:
        context["parts"] = [_part(athlete, name, health, names) for name in _parts(health)]
    except (RecordError, ValueError, KeyError) as error:
        context["fault"] = str(error)
    return render(request, "editing/record.html", context)


@login_required
@require_http_methods(["GET", "POST"])
def part(request: HttpRequest, athlete_id: object, table: str) -> HttpResponse:
    """Change a table that comes once, such as the person or the gym."""
    athlete = _editable(request, athlete_id, table)
    if _known(table).repeated:
        return redirect("record", athlete_id=athlete.pk)
    rows = raw_rows(athlete.text, table)
    return _row_page(request, athlete, table, rows[0] if rows else {}, None)


@login_required
@require_http_methods(["GET", "POST"])
def add_row(request: HttpRequest, athlete_id: object, table: str) -> HttpResponse:
    """Add a row to a table that may have several."""
    athlete = _editable(request, athlete_id, table)
    if not _known(table).repeated or table in _NOT_ADDED:
        raise Http404
    return _row_page(request, athlete, table, {}, len(raw_rows(athlete.text, table)), new=True)


@login_required
@require_http_methods(["GET", "POST"])
def edit_row(request: HttpRequest, athlete_id: object, table: str, index: int) -> HttpResponse:
    """Change a row of a table that has several."""
    athlete = _editable(request, athlete_id, table)
    return _row_page(request, athlete, table, _row(athlete, table, index), index)


@login_required
@require_POST
def remove_row(request: HttpRequest, athlete_id: object, table: str, index: int) -> HttpResponse:
    """Remove a row; the history has it back."""
    athlete = _editable(request, athlete_id, table)
    seen = revision_seen(request, athlete)
    _row(athlete, table, index)
    new = without_row(athlete.text, table, index)
    change_record(
        athlete,
        user_of(request),
        lambda _before: new,
        what=_("%(part)s: one removed") % {"part": title(table)},
        revision=seen,
    )
    messages.success(
        request,
        _("%(part)s: removed. The history brings it back.") % {"part": title(table)},
    )
    return redirect("record", athlete_id=athlete.pk)


def revision_seen(request: HttpRequest, athlete: Athlete) -> int:
    """The revision that a form was filled in from, which must be the present one.

    Raises
    ------
    EditedMeanwhile
        If somebody else changed the record since.
    UsageError
        If the form does not say.
    """
    seen = revision_sent(request)
    refuse_if_changed(athlete, seen)
    return seen


def _row_page(
    request: HttpRequest,
    athlete: Athlete,
    table: str,
    row: RawRow,
    index: int | None,
    *,
    new: bool = False,
) -> HttpResponse:
    health = sees_health(user_of(request), athlete)
    form = RowForm(
        request.POST or None, table=table_of(table, row), row=row, without=_hidden(table, health)
    )
    if request.method == "POST":
        seen = revision_seen(request, athlete)
        if form.is_valid() and _saved(request, athlete, table, form, None if new else index, seen):
            return redirect("record", athlete_id=athlete.pk)
    context = {
        "athlete": athlete,
        "form": form,
        "title": title(table),
        "intro": PARTS[table][1],
        "cautious": table in ("pain", "restriction"),
    }
    status = 422 if form.is_bound else 200
    return render(request, "editing/row.html", context, status=status)


def _saved(
    request: HttpRequest,
    athlete: Athlete,
    table: str,
    form: RowForm,
    index: int | None,
    seen: int,
) -> bool:
    """Whether the form's row could be kept; otherwise its faults stand at its fields."""
    place = index
    if index is None and _known(table).repeated:
        place = len(raw_rows(athlete.text, table))
    try:
        new = with_row(athlete.text, table, form.raw(), index)
        change_record(
            athlete,
            user_of(request),
            lambda _before: new,
            what=_("%(part)s changed") % {"part": title(table)},
            revision=seen,
        )
    except RecordError as error:
        form.blame(error.faults, place)
        return False
    messages.success(request, _("%(part)s: saved.") % {"part": title(table)})
    if table == "restriction":
        _warn_of_unknown(request, athlete, form.raw())
    return True


def _warn_of_unknown(request: HttpRequest, athlete: Athlete, row: RawRow) -> None:
    """Say at once that a restriction cannot be kept where it names nothing that is known."""
    restriction = Restriction(what=row["what"], start=timezone.localdate())
    if not is_known(restriction, method_of(athlete.squad).exercises):
        messages.warning(
            request,
            _(
                "“%(what)s” is no exercise and no kind of work of the method: no plan can keep to "
                "it. Choose one of the words that are offered."
            )
            % {"what": row["what"]},
        )


def _parts(health: bool) -> list[str]:
    return [name for name in PARTS if health or name not in _HEALTH]


def _hidden(table: str, health: bool) -> frozenset[str]:
    return frozenset({"remark"}) if table == "athlete" and not health else _NOTHING


def _known(table: str) -> Table:
    if table == "test":
        return next(iter(schema.TESTS.values()))
    try:
        return table_of(table)
    except KeyError:
        raise Http404 from None


def _editable(request: HttpRequest, athlete_id: object, table: str) -> Athlete:
    athlete = athlete_for(request, athlete_id, edit=True)
    if table not in _parts(sees_health(user_of(request), athlete)):
        raise Http404
    return athlete


def _row(athlete: Athlete, table: str, index: int) -> RawRow:
    rows = raw_rows(athlete.text, table)
    if not _known(table).repeated or not 0 <= index < len(rows):
        raise Http404
    return rows[index]


def _part(athlete: Athlete, name: str, health: bool, names: Mapping[str, str]) -> _Part:
    table = _known(name)
    hidden = _hidden(name, health)
    rows = [
        {
            "index": index,
            "day": str(row.get("date") or row.get("start") or ""),
            "day_words": day_words(row),
            "facts": facts(table_of(name, row), row, without=hidden, names=names),
        }
        for index, row in enumerate(raw_rows(athlete.text, name))
    ]
    if table.repeated:
        rows.sort(key=lambda row: (row["day"], row["index"]), reverse=True)
    words, intro = PARTS[name]
    return _Part(
        name=name,
        title=str(words),
        intro=str(intro),
        repeated=table.repeated,
        may_add=table.repeated and name not in _NOT_ADDED,
        rows=rows[:_SHOWN],
        more=rows[_SHOWN:],
    )
