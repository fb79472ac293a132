"""Write a session down afterwards, in a form that needs no script."""

import datetime as dt
import uuid
from typing import Any

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from saltus.errors import SaltusError
from saltus.training.method import Method
from saltus.training.plan import Item, Session
from saltus.web.access import own_record_for, user_of
from saltus.web.editing.forms import TypedNumber
from saltus.web.methods.using import method_of
from saltus.web.models import Athlete, PocketEntry
from saltus.web.plans.stored import held, method_of_plan, plan_of
from saltus.web.plans.words import day_words, exercise_name, height_words, load_words
from saltus.web.pocket.bundle import DAYS_BACK, places
from saltus.web.pocket.entries import Refusal, checked, keep, planned_id
from saltus.web.records import record_of
from saltus.web.units import current_units

__all__ = ["enter"]

_FREE_ROWS = 6
_MOST_SETS = 20
_DEVICE = uuid.UUID("5b1f7a52-44a4-4cf5-8f3c-6c1b0f2f5c10")
"""Stands for the form in the place of a phone."""


def _number(label: str, **given: Any) -> TypedNumber:
    return TypedNumber(
        label=label,
        required=False,
        widget=forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off", "size": 5}),
        **given,
    )


class _EnterForm(forms.Form):
    """What was done, item by item, and how it was."""

    token = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(self, session: Session | None, date: dt.date, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.session, self.date = session, date
        self.rows: list[tuple[Item | None, list[str]]] = []
        if session is None:
            self.fields["date"] = forms.DateField(
                label=_("Day"),
                initial=date,
                widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
            )
            self.fields["what"] = forms.CharField(label=_("What was it?"), max_length=120)
            for number in range(_FREE_ROWS):
                self._row(number, None)
        else:
            for number, item in enumerate(session.items):
                self._row(number, item)
        self.fields["minutes"] = _number(_("How many minutes did it take?"))
        self.fields["effort"] = _number(
            _("How hard was it?"),
            help_text=_("From 0 (rest) to 10 (as hard as can be)."),
        )
        self.fields["sleep"] = _number(_("Hours of sleep in the night before"))
        choices = [("", "–"), *((each["value"], each["name"]) for each in places())]
        levels = [("", "–"), *((n, str(n)) for n in range(11))]
        for name, label, level in (
            ("pain", _("Pain before it: where?"), _("How much, 0 to 10?")),
            ("sore", _("Sore before it: where?"), _("How sore, 0 to 10?")),
        ):
            self.fields[f"{name}_place"] = forms.ChoiceField(
                label=label, choices=choices, required=False
            )
            self.fields[f"{name}_level"] = forms.ChoiceField(
                label=level, choices=levels, required=False
            )
        self.fields["note"] = forms.CharField(
            label=_("Remarks"),
            max_length=1000,
            required=False,
            widget=forms.Textarea(attrs={"rows": 3}),
        )

    def _row(self, number: int, item: Item | None) -> None:
        units = current_units.get()
        names = []
        if item is None:
            self.fields[f"exercise-{number}"] = forms.CharField(
                label=_("Exercise"), max_length=80, required=False
            )
            names.append(f"exercise-{number}")
        for key, label, initial in (
            ("sets", _("Sets"), item.sets if item else None),
            ("reps", _("Repetitions"), item.reps if item else None),
            (
                "load",
                f"{_('Load')} ({units.mass})",
                f"{item.load_kg * units.kilogram:.4g}" if item and item.load_kg else None,
            ),
            ("reserve", _("Left in the last set"), None),
        ):
            if item is not None and item.load_kg is None and key in ("load", "reserve"):
                continue
            self.fields[f"{key}-{number}"] = _number(label, initial=initial)
            names.append(f"{key}-{number}")
        if item is not None:
            self.fields[f"skipped-{number}"] = forms.CharField(
                label=_("Left out, because"), max_length=200, required=False
            )
            names.append(f"skipped-{number}")
        self.rows.append((item, names))

    def clean(self) -> dict[str, Any]:
        """Levels go with places."""
        cleaned = super().clean() or {}
        for name in ("pain", "sore"):
            if bool(cleaned.get(f"{name}_place")) != bool(cleaned.get(f"{name}_level")):
                self.add_error(f"{name}_level", _("Give the place and how much."))
        return cleaned

    def entries(self, session: uuid.UUID) -> list[dict[str, Any]]:
        """The entries that a phone would have made of it, the same each time it is sent."""
        told = self.cleaned_data
        date = told.get("date") or self.date
        now = timezone.now()
        made: list[dict[str, Any]] = []

        def add(kind: str, data: dict[str, Any]) -> None:
            made.append(
                {
                    "id": str(uuid.uuid5(told["token"], f"{len(made)}")),
                    "session": str(session),
                    "date": date.isoformat(),
                    "kind": kind,
                    "at": (now + dt.timedelta(milliseconds=len(made))).isoformat(),
                    "data": data,
                }
            )

        planned = None if self.session is None else self.session.date.isoformat()
        add(
            "start",
            {"planned": planned, "free": self.session is None, "what": told.get("what", "")},
        )
        add(
            "before",
            {
                "sleep_hours": told["sleep"],
                "pain": _place(told, "pain"),
                "soreness": _place(told, "sore"),
            },
        )
        for number, (item, _names) in enumerate(self.rows):
            self._sets(number, item, add)
        add("after", {key: told[key] for key in ("minutes", "effort", "note")})
        return made

    def _sets(self, number: int, item: Item | None, add: Any) -> None:
        told = self.cleaned_data
        exercise = item.exercise if item else told[f"exercise-{number}"]
        if not exercise:
            return
        where = {"exercise": exercise, "item": number if item else None}
        if told.get(f"skipped-{number}"):
            add("skip", where | {"why": told[f"skipped-{number}"]})
            return
        load = told.get(f"load-{number}")
        load_kg = None if load is None else load / current_units.get().kilogram
        if item and item.load_kg and load_kg and abs(load_kg / item.load_kg - 1) < 1e-3:
            load_kg = item.load_kg  # as it stood there, its digits cut off
        sets = told.get(f"sets-{number}")
        count = 1 if sets is None and not item else int(sets or 0)
        for one in range(min(count, _MOST_SETS)):
            reps = told.get(f"reps-{number}")
            add(
                "set",
                where
                | {
                    "number": one + 1,
                    "reps": 1 if reps is None else reps,
                    "load_kg": load_kg,
                    "box_m": item.box_m if item else None,
                    "drop_m": item.drop_m if item else None,
                    "reserve": told.get(f"reserve-{number}") if one == count - 1 else None,
                },
            )


def _place(told: dict[str, Any], name: str) -> list[dict[str, Any]]:
    place = told[f"{name}_place"]
    return [{"place": place, "level": int(told[f"{name}_level"])}] if place else []


@login_required
@require_http_methods(["GET", "POST"])
def enter(request: HttpRequest) -> HttpResponse:
    """Choose a session, then write down what was done."""
    athlete, today = own_record_for(request), timezone.localdate()
    sessions, method = _sessions(athlete, today)
    asked = request.GET.get("session", "")
    session = next((each for each in sessions if each.date.isoformat() == asked), None)
    context: dict[str, Any] = {"athlete": athlete}
    if session is None and asked != "free":
        done = set(
            PocketEntry.objects.filter(athlete=athlete, kind="after").values_list("date", flat=True)
        )
        context["sessions"] = [(each.date, each.date in done) for each in reversed(sessions)]
        return render(request, "pocket/choose.html", context)
    date = session.date if session else today
    form = _EnterForm(session, date, request.POST or None, initial={"token": uuid.uuid4()})
    if request.method == "POST" and form.is_valid():
        token = form.cleaned_data["token"]
        key = planned_id(athlete, date) if session else uuid.uuid5(token, "session")
        entries = form.entries(key)
        try:
            for each in entries:
                checked(each, athlete, _DEVICE)
        except Refusal as error:
            form.add_error(None, str(error))
        else:
            keep(athlete, user_of(request), _DEVICE, entries)
            messages.success(request, _("It is written down."))
            return redirect("pocket-enter")
    return render(
        request, "pocket/enter.html", context | {"form": form} | _told(form, method, athlete)
    )


def _sessions(athlete: Athlete, today: dt.date) -> tuple[list[Session], Method | None]:
    stored = held(athlete)
    try:
        if stored is None:
            return [], method_of(athlete.squad)
        method = method_of_plan(athlete, stored)
        first = today - dt.timedelta(days=DAYS_BACK)
        plan = plan_of(stored, method)
        return [each for each in plan.sessions if first <= each.date <= today], method
    except SaltusError:
        return [], None


def _told(form: _EnterForm, method: Method | None, athlete: Athlete) -> dict[str, Any]:
    rows = []
    gym = record_of(athlete, recordings=False).gym
    for number, (item, names) in enumerate(form.rows, start=1):
        title = _("Exercise %(number)d") % {"number": number}
        planned = ""
        if item is not None:
            title = exercise_name(item.exercise, method) if method else item.exercise
            units = current_units.get()
            parts = [
                f"{item.sets} × {item.reps}",
                load_words(item.load_kg, units, gym),
                height_words(item, units),
            ]
            planned = ", ".join(part for part in parts if part)
        rows.append({"title": title, "planned": planned, "fields": [form[name] for name in names]})
    used = {name for _item, names in form.rows for name in names} | {"token"}
    head = [form[name] for name in ("date", "what") if name in form.fields]
    tail = [form[name] for name in form.fields if name not in used | {"date", "what"}]
    title = (
        _("What you trained besides")
        if form.session is None
        else _("Training on %(day)s") % {"day": day_words(form.date)}
    )
    return {"rows": rows, "head": head, "tail": tail, "title": title}
