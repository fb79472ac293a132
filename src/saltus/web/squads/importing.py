"""A whole squad from a spreadsheet, and records as files."""

import json
from collections import Counter
from dataclasses import dataclass, field
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.files.uploadedfile import UploadedFile
from django.db import transaction
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_GET, require_POST

from saltus.errors import UsageError
from saltus.record import several
from saltus.record import sheet as sheets
from saltus.record.roster import TARGETS, RosterRow, columns_of, header_row, read_roster
from saltus.record.typed import date_typed
from saltus.web.access import user_of
from saltus.web.days import short_day
from saltus.web.models import Athlete, Squad, User
from saltus.web.records import add_athlete
from saltus.web.sentences import told as words_of
from saltus.web.squads.adding import editable_squads
from saltus.web.squads.forms import PlaceForm, ReadingForm, RecordsForm, SheetForm
from saltus.web.squads.targets import TARGET_WORDS
from saltus.web.units import current_units

__all__ = ["records", "sheet", "start"]

_MOST_MENDED = 300
"""Cells at fault that can be mended on the page; a request may not have many more fields."""

_DAYS = {"athlete.born", "body_mass.date", "goal.date"}
"""Targets that hold a day."""


@dataclass(slots=True)
class _Sheet:
    """What the preview shows, and what it was told so far."""

    cells: list[list[str]]
    header: int
    columns: list[str]
    reading: dict[str, str]
    rows: list[RosterRow] = field(default_factory=list)
    there: set[str] = field(default_factory=set)
    again: set[int] = field(default_factory=set)
    twice: set[int] = field(default_factory=set)

    def read(self) -> None:
        self.rows = read_roster(
            self.cells,
            self.header,
            self.columns,
            length=self.reading["length"],
            mass=self.reading["mass"],
            day_first=self.day_first,
            today=timezone.localdate(),
        )
        names = set(self.there)
        self.twice.clear()
        for row in self.rows:
            if row.name.casefold() in names:
                self.twice.add(row.row)
            names.add(row.name.casefold())

    @property
    def sound(self) -> list[RosterRow]:
        return [row for row in self.rows if row.record and not self.repeated(row)]

    @property
    def day_first(self) -> bool | None:
        """Which comes first where a date leaves it open; None where nobody said."""
        return {"day": True, "month": False}.get(self.reading["dates"])

    def shown(self, row: RosterRow, column: int) -> str:
        """A cell as it is, or the day that was read in it as pages write days."""
        text = self.cells[row.row][column]
        if not text or self.columns[column] not in _DAYS:
            return text
        try:
            return short_day(date_typed(text, day_first=self.day_first))
        except UsageError:
            return text

    def repeated(self, row: RosterRow) -> bool:
        """Whether somebody of this name is in the squad or further up, and not meant."""
        return row.row in self.twice and row.row not in self.again


@login_required
@require_GET
def start(request: HttpRequest) -> HttpResponse:
    """Choose what to import."""
    return _start(request, SheetForm(), RecordsForm())


@login_required
@require_POST
def sheet(request: HttpRequest) -> HttpResponse:
    """Read a spreadsheet and show what it says, then add whom it tells of."""
    user = user_of(request)
    place = PlaceForm(request.POST, squads=editable_squads(user))
    if "cells" in request.POST:
        told = _from_page(request.POST)
    else:
        form = SheetForm(request.POST, request.FILES)
        if not form.is_valid() or not place.is_valid():
            return _start(request, form, RecordsForm(), place, status=422)
        try:
            told = _from_file(form.cleaned_data["file"])
        except UsageError as error:
            form.add_error("file", words_of(str(error)))
            return _start(request, form, RecordsForm(), place, status=422)
    if not place.is_valid():
        raise UsageError(_("The form is incomplete: send the spreadsheet again."))
    squad: Squad = place.cleaned_data["squad"]
    told.there = _names_in(squad)
    told.read()
    if request.POST.get("step") == "add" and told.sound:
        added = _add(told, squad, user, place.cleaned_data["group"])
        messages.success(
            request,
            ngettext("%(n)s athlete added.", "%(n)s athletes added.", added) % {"n": added},
        )
        if not any(row.faults for row in told.rows):
            return redirect("squad")
    return render(request, "squads/sheet.html", _preview(told, place))


@login_required
@require_POST
def records(request: HttpRequest) -> HttpResponse:
    """Add an athlete for each sound record, and tell what is wrong with the others."""
    user = user_of(request)
    place = PlaceForm(request.POST, squads=editable_squads(user))
    form = RecordsForm(request.POST, request.FILES)
    if not form.is_valid() or not place.is_valid():
        return _start(request, SheetForm(), form, place, status=422)
    try:
        found = several.read_records(_contents(form.cleaned_data["files"]))
    except UsageError as error:
        form.add_error("files", words_of(str(error)))
        return _start(request, SheetForm(), form, place, status=422)
    squad: Squad = place.cleaned_data["squad"]
    there = _names_in(squad)
    added: list[tuple[Athlete, int]] = []
    repeated: list[several.ReadRecord] = []
    with transaction.atomic():
        for each in found:
            if each.record is None:
                continue
            name = each.record.person.name.casefold()
            if name in there and not form.cleaned_data["again"]:
                repeated.append(each)
                continue
            there.add(name)
            athlete = add_athlete(squad, each.text, user, group=place.cleaned_data["group"])
            added.append((athlete, each.recordings))
    context = {
        "added": added,
        "repeated": repeated,
        "faulty": [each for each in found if each.record is None],
    }
    return render(request, "squads/imported.html", context)


def _start(
    request: HttpRequest,
    sheet_form: SheetForm,
    records_form: RecordsForm,
    place: PlaceForm | None = None,
    status: int = 200,
) -> HttpResponse:
    squads = editable_squads(user_of(request))
    context = {
        "sheet_form": sheet_form,
        "records_form": records_form,
        "place": place or PlaceForm(squads=squads),
        "records_place": PlaceForm(squads=squads, auto_id="id_records_%s"),
    }
    return render(request, "squads/import.html", context, status=status)


def _from_file(file: UploadedFile) -> _Sheet:
    if (file.size or 0) > sheets.MOST_BYTES:
        raise UsageError(_("The file is larger than 2 MB: leave only the list of athletes in it."))
    cells = sheets.read_cells(file.read())
    header = header_row(cells)
    units = current_units.get()
    reading = {"length": units.length, "mass": units.mass, "dates": ""}
    return _Sheet(cells, header, columns_of(cells[header]), reading)


def _from_page(data: QueryDict) -> _Sheet:
    """What the page sent back: the cells as they were, mended here and there.

    Raises
    ------
    UsageError
        If it is not what the page would send.
    """
    spoilt = UsageError(_("The page was changed on its way: send the spreadsheet again."))
    try:
        cells, header = json.loads(data["cells"]), int(data.get("header", ""))
    except (ValueError, RecursionError):
        raise spoilt from None
    sound = isinstance(cells, list) and 0 <= header < len(cells) <= sheets.MOST_ROWS
    if not sound or not all(
        isinstance(row, list)
        and 0 < len(row) == len(cells[0]) <= sheets.MOST_COLUMNS
        and all(isinstance(cell, str) and "\0" not in cell for cell in row)
        for row in cells
    ):
        raise spoilt
    for row in range(header + 1, len(cells)):
        for column in range(len(cells[0])):
            mended = data.get(f"cell-{row}-{column}")
            if mended is not None:
                cells[row][column] = mended.replace("\0", "").strip()
    columns = [data.get(f"column-{i}", "") for i in range(len(cells[0]))]
    form = ReadingForm(data)
    if not form.is_valid():
        raise spoilt
    return _Sheet(
        cells,
        header,
        [column if column in TARGETS else "" for column in columns],
        dict(form.cleaned_data),
        again={int(n) for n in data.getlist("again") if n.isdecimal()},
    )


def _add(told: _Sheet, squad: Squad, user: User, group: str) -> int:
    """Add those without faults; their rows are emptied, so that the others can be mended."""
    sound = told.sound
    with transaction.atomic():
        for row in sound:
            assert row.record is not None
            add_athlete(squad, row.record, user, group=row.group or group)
            told.cells[row.row] = [""] * len(told.columns)
    told.there = _names_in(squad)
    told.read()
    return len(sound)


def _preview(told: _Sheet, place: PlaceForm) -> dict[str, Any]:
    counted = Counter(column for column in told.columns if column)
    heads = [
        text or sheets.cell_name(told.header, i) for i, text in enumerate(told.cells[told.header])
    ]
    choices = [("", _("leave out")), *((key, str(words)) for key, words in TARGET_WORDS.items())]
    mended = 0
    lines = []
    for row in told.rows:
        line = []
        for column, target in enumerate(told.columns):
            faults = row.faults.get(column, []) if target else []
            may_mend = bool(faults) and mended < _MOST_MENDED
            mended += may_mend
            line.append(
                {
                    "text": told.cells[row.row][column],
                    "shown": told.shown(row, column),
                    "head": heads[column],
                    "faults": faults,
                    "mend": f"cell-{row.row}-{column}" if may_mend else "",
                    "name": sheets.cell_name(row.row, column),
                    "out": not target,
                }
            )
        lines.append(
            {
                "row": row,
                "number": row.row + 1,
                "cells": line,
                "there": row.row in told.twice,
                "faulty": [cell for cell in line if cell["mend"]],
            }
        )
    return {
        "told": told,
        "place": place,
        "reading": ReadingForm(initial=told.reading),
        "cells": json.dumps(told.cells, ensure_ascii=False),
        "heads": [
            {"number": i, "text": text, "chosen": chosen}
            for i, (text, chosen) in enumerate(zip(heads, told.columns, strict=True))
        ],
        "choices": choices,
        "twice": [str(TARGET_WORDS[key]) for key, count in counted.items() if count > 1],
        "lines": lines,
        "faulty": sum(bool(row.faults) for row in told.rows),
        "again": told.again,
    }


def _contents(files: list[UploadedFile]) -> list[tuple[str, bytes]]:
    if sum(file.size or 0 for file in files) > several.MOST_BYTES:
        raise UsageError(_("The files are larger than 20 MB together: send them in parts."))
    return [(file.name or "", file.read()) for file in files]


def _names_in(squad: Squad) -> set[str]:
    names = squad.athletes.filter(deleted=None).values_list("name", flat=True)
    return {name.casefold() for name in names}
