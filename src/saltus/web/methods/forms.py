"""Forms over the tables of a method: what was not touched stays as the file said it."""

import copy
import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from django import forms
from django.utils.text import Truncator, capfirst
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as _l

from saltus.errors import Fault
from saltus.training.exercises import EQUIPMENT
from saltus.training.method import Method
from saltus.web.decimals import decimals
from saltus.web.editing.file_text import FileText
from saltus.web.editing.forms import TypedNumber
from saltus.web.methods.asked import EXERCISE, Ask, Asked
from saltus.web.methods.words import (
    CARRIERS,
    DROP_BY,
    HEIGHTS,
    PAIN,
    PLACES,
    family_words,
)
from saltus.web.sentences import told
from saltus.web.testdays.words import LIFTS
from saltus.web.units import current_units

__all__ = [
    "ExerciseForm",
    "FilterForm",
    "ImportForm",
    "NewForm",
    "TableForm",
    "TextForm",
    "choices_of",
]

Choices = Mapping[str, Sequence[tuple[str, str]]]
_LONGEST = 4000
_LONGEST_CHOICE = 90
_LARGEST_FILE = 500_000
_ENDS = re.compile(r"\s+(?:to|bis|a|hasta)\s+|\s*(?:–|—|−|\.\.\.?|…|;|-)\s*|,\s+")
_PLACES = 4
_PARTS = (
    (_l("What it is"), ("identifier", "name", "place", "famil")),
    (_l("How much"), ("sets", "reps", "per_", "rep_s", "rest", "set_up")),
    (_l("Load"), ("load__",)),
    (_l("Height"), ("height__", "limit_")),
    (_l("Landings"), ("landing__",)),
    (_l("What one set adds"), ("adds__",)),
    (_l("What must be true before"), ("needs__", "equipment")),
    (_l("In words"), ("stand_ins", "cues", "not_for", "source")),
)
"""Parts of the form of an exercise: the title, and how the names of its fields begin."""


def choices_of(method: Method) -> Choices:
    """Words that a form may choose from, with what they are called."""
    families = sorted({family for e in method.exercises.values() for family in e.families})
    named = [(family, family_words(family)) for family in families]
    named.sort(key=lambda pair: pair[1].casefold())
    lifts = [(str(lift), str(words).casefold()) for lift, words in LIFTS.items()]
    return {
        "rule": [
            (name, Truncator(told(rule.text)).chars(_LONGEST_CHOICE))
            for name, rule in method.rules.items()
        ],
        "family": named,
        "family_or_landing": [("landing", family_words("landing")), *named],
        "place": [(str(place), str(words)) for place, words in PLACES.items()],
        "lift": lifts,
        "load_of": [("body_mass", _("body mass")), *lifts],
        "carrier": [(str(carrier), str(words)) for carrier, words in CARRIERS.items()],
        "height": [(str(kind), str(words)) for kind, words in HEIGHTS.items()],
        "drop_by": [(str(by), str(words)) for by, words in DROP_BY.items()],
        "pain": list(zip(("safe", "acceptable", "any"), map(str, PAIN.values()), strict=True)),
        "equipment": [(name, _(words)) for name, words in EQUIPMENT.items()],
        "exercise": [(name, exercise.name) for name, exercise in method.exercises.items()],
    }


class _Range(forms.CharField):
    """Two ends, or one number for both: "2 to 4", "2-4", "3"."""

    def clean(self, value: Any) -> Any:
        """The ends in a list; None where nothing was typed."""
        text = super().clean(value).strip()
        if not text:
            return None
        parts = _ENDS.split(text)
        if len(parts) > 2 or not all(parts):
            raise forms.ValidationError(_("Write two numbers, such as 2 to 4."))
        ends = [TypedNumber(required=True).clean(part) for part in parts]
        return ends * 2 if len(ends) == 1 else ends


class _Named(forms.CharField):
    """Names, one a line, turned into identifiers."""

    def __init__(self, names: Sequence[tuple[str, str]], *, ratios: bool = False, **kwargs: Any):
        super().__init__(
            max_length=_LONGEST,
            widget=forms.Textarea(attrs={"rows": 4 if not ratios else 3}),
            **kwargs,
        )
        self.names, self.ratios = names, ratios

    def clean(self, value: Any) -> Any:
        """Identifiers in a list, or with their numbers; None where nothing was typed."""
        lines = [line.strip() for line in super().clean(value).splitlines() if line.strip()]
        if not self.ratios:
            return [self._identifier(line) for line in lines] or None
        found: dict[str, float] = {}
        for line in lines:
            name, mark, number = line.rpartition(":")
            if not mark:
                raise forms.ValidationError(
                    _("“%(line)s”: write one a line, such as back squat: 0.65.") % {"line": line}
                )
            found[self._identifier(name.strip())] = TypedNumber(required=True).clean(number)
        return found or None

    def _identifier(self, typed: str) -> str:
        key = typed.casefold()
        for identifier, name in self.names:
            if key in (identifier.casefold(), name.casefold()):
                return identifier
        return typed.replace(" ", "_")


class TableForm(forms.Form):
    """One table of the file.

    Parameters
    ----------
    asked : sequence of Asked
        Its fields.
    values : mapping
        What the table says now; empty for a new one.
    choices : mapping
        Of :func:`choices_of`.
    """

    def __init__(
        self,
        *args: Any,
        asked: Sequence[Asked],
        values: Mapping[str, Any],
        choices: Choices,
        **kwargs: Any,
    ):
        super().__init__(*args, **kwargs)
        self.asked = {each.name: each for each in asked}
        self.values = values
        for each in asked:
            self.fields[each.name] = _field(each, _at(values, each.at), choices)

    def raw(self) -> dict[str, Any]:
        """The table as the form gives it; what was not touched stays as it was."""
        table = copy.deepcopy(dict(self.values))
        for name, each in self.asked.items():
            if name in self.changed_data:
                _put(table, each.at, _raw(each, self.cleaned_data.get(name)))
        return table

    def blame(self, faults: Iterable[Fault], at: str) -> None:
        """Put each fault at its field; what belongs to no field of this table, above the form.

        Parameters
        ----------
        faults : iterable of Fault
            Of the method that would come of the form.
        at : str
            Where the table stands in it, such as "exercise.box_jump" or "budget[2]".
        """
        for fault in faults:
            what = capfirst(told(fault.what))
            name = self.field_at(fault.where, at)
            if name is not None:
                self.add_error(name, what)
            elif fault.where == at or fault.where.startswith(f"{at}."):
                self.add_error(None, what)
            else:
                self.add_error(None, f"{fault.where}: {told(fault.what)}")

    def field_at(self, where: str, at: str) -> str | None:
        """Name of the field of which a fault speaks, or of the first one below or above it."""
        if not where.startswith(f"{at}."):
            return None
        place = re.sub(r"\[\d+\]", "", where[len(at) + 1 :])
        for name, each in self.asked.items():
            if place == each.at or place.startswith(f"{each.at}."):
                return name
        return next((n for n, e in self.asked.items() if e.at.startswith(f"{place}.")), None)


class ExerciseForm(TableForm):
    """An exercise, with the lower limits on its height and a family of its own."""

    def __init__(self, *args: Any, values: Mapping[str, Any], choices: Choices, new: bool = False):
        super().__init__(*args, asked=EXERCISE, values=values, choices=choices)
        self.new = new
        if new:
            self.fields["identifier"] = forms.RegexField(
                r"^[A-Za-z0-9_-]{1,80}$",
                label=_l("Short name for the file"),
                help_text=_l("Letters a to z, digits and _, such as band_jump. It stays."),
                error_messages={"invalid": _l("Only letters a to z, digits, _ and -.")},
            )
            self.order_fields(["identifier"])
        self.fields["family_of_its_own"] = forms.RegexField(
            r"^[A-Za-z0-9_ -]{1,80}$",
            required=False,
            label=_l("Another kind"),
            help_text=_l("Only where none of these fits; phases must then use it."),
            error_messages={"invalid": _l("Only letters a to z, digits, _ and -.")},
        )
        unit = current_units.get()
        limits = _at(values, "height.limits") or []
        self.plain_limits = all("over_kg" not in limit or "minors" not in limit for limit in limits)
        heavy = [limit for limit in limits if "over_kg" in limit]
        minors = [limit for limit in limits if limit.get("minors")]
        self.plain_limits &= len(heavy) <= 1 and len(minors) <= 1
        if self.plain_limits:
            first = heavy[0] if heavy else {}
            young = minors[0] if minors else {}
            self._limit(
                "limit_over",
                _("Bodies heavier than (%(unit)s)") % {"unit": unit.mass},
                first.get("over_kg"),
                unit.kilogram,
            )
            self._limit(
                "limit_heavy",
                _("At most for them (%(unit)s)") % {"unit": unit.length},
                first.get("max_m"),
                unit.metre,
            )
            self._limit(
                "limit_minors",
                _("At most under 18, or age unknown (%(unit)s)") % {"unit": unit.length},
                young.get("max_m"),
                unit.metre,
            )
        self.order_fields(self._in_order())

    def raw(self) -> dict[str, Any]:
        """The exercise, without what was emptied altogether."""
        table = super().raw()
        own = self.cleaned_data.get("family_of_its_own")
        if own:
            table["families"] = [*table.get("families", []), own.strip().replace(" ", "_")]
        if {"limit_over", "limit_heavy", "limit_minors"} & set(self.changed_data):
            height = table.setdefault("height", {})
            height.pop("limits", None)
            limits = [limit for limit in (self._heavy(), self._minors()) if limit]
            if limits:
                height["limits"] = limits
            elif not height:
                del table["height"]
        return table

    def field_at(self, where: str, at: str) -> str | None:
        """As for any table; limits have fields of their own."""
        if where.startswith(f"{at}.height.limits"):
            return "limit_minors" if "minors" in where else "limit_heavy"
        return super().field_at(where, at)

    def _heavy(self) -> dict[str, Any]:
        """The limit for heavy bodies; empty for none."""
        unit = current_units.get()
        over = self._typed("limit_over", "over_kg", unit.kilogram)
        high = self._typed("limit_heavy", "max_m", unit.metre)
        limit = {"over_kg": over, "max_m": high}
        return {key: value for key, value in limit.items() if value is not None}

    def _minors(self) -> dict[str, Any]:
        """The limit for minors; empty for none."""
        high = self._typed("limit_minors", "max_m", current_units.get().metre)
        return {} if high is None else {"minors": True, "max_m": high}

    def _typed(self, name: str, key: str, per: float) -> Any:
        """A figure of a limit, as it stood where the field was not touched."""
        if name not in self.changed_data:
            limits = _at(self.values, "height.limits") or []
            whom = "minors" if name == "limit_minors" else "over_kg"
            return next((limit.get(key) for limit in limits if limit.get(whom)), None)
        value = self.cleaned_data.get(name)
        return None if value is None else _tidy(value / per)

    @property
    def parts(self) -> list[dict[str, Any]]:
        """Its fields in parts, each with a title."""
        left = list(self.fields)
        parts = []
        for title, starts in _PARTS:
            names = [name for name in left if name.startswith(starts)]
            left = [name for name in left if name not in names]
            parts.append({"title": title, "fields": [self[name] for name in names]})
        assert not left, left
        return parts

    def _limit(self, name: str, label: str, value: float | None, per: float) -> None:
        self.fields[name] = TypedNumber(
            label=label,
            required=False,
            initial="" if value is None else decimals(f"{round(value * per, 1):g}"),
        )

    def _in_order(self) -> list[str]:
        names = [name for name in self.fields if not name.startswith("limit_")]
        names.remove("family_of_its_own")
        names.insert(names.index("families") + 1, "family_of_its_own")
        at = names.index("height__start_m") + 1
        names[at:at] = [name for name in self.fields if name.startswith("limit_")]
        return names


class NewForm(forms.Form):
    """Name of a copy."""

    name = forms.CharField(label=_l("Name of the copy"), max_length=120)


class FilterForm(forms.Form):
    """Which exercises to show."""

    q = forms.CharField(label=_l("Search"), required=False, max_length=80)
    family = forms.ChoiceField(label=_l("Kind"), required=False)
    quality = forms.ChoiceField(label=_l("Quality"), required=False)
    place = forms.ChoiceField(label=_l("Place on the continuum"), required=False)

    def __init__(self, *args: Any, choices: Mapping[str, Sequence[tuple[str, str]]], **kwargs: Any):
        super().__init__(*args, **kwargs)
        for name in ("family", "quality", "place"):
            field = self.fields[name]
            assert isinstance(field, forms.ChoiceField)
            field.choices = [("", _("all")), *choices[name]]


class TextForm(forms.Form):
    """The method's text."""

    text = FileText(label=_l("The method"), max_length=_LARGEST_FILE, required=False)


class ImportForm(TextForm):
    """A method file, or the text of one to mend."""

    file = forms.FileField(
        label=_l("Method file"),
        required=False,
        help_text=_l("As Saltus writes it: a text file that ends in .toml, up to 500 kB."),
        widget=forms.FileInput(attrs={"accept": ".toml,text/plain"}),
    )
    field_order = ("file", "text")

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.fields["text"].label = _l("Or its text")
        if not self.initial.get("text"):
            self.fields["text"].widget.attrs["rows"] = 8

    def clean(self) -> dict[str, Any]:
        """The text, whichever way it came."""
        cleaned = super().clean() or {}
        file = cleaned.get("file")
        if file is None:
            if not str(cleaned.get("text", "")).strip() and not self.errors:
                self.add_error("file", _("Choose a file, or paste its text."))
            return cleaned
        if file.size > _LARGEST_FILE:
            self.add_error("file", _("It is larger than 500 kB: this is no method file."))
            return cleaned
        try:
            cleaned["text"] = file.read().decode("utf-8-sig").replace("\r\n", "\n")
        except UnicodeDecodeError:
            self.add_error("file", _("This is not UTF-8 text: save it again as UTF-8."))
        return cleaned


def _field(each: Asked, value: Any, choices: Choices) -> forms.Field:
    unit = current_units.get()
    common: dict[str, Any] = {"label": each.label, "help_text": each.help, "required": False}
    match each.ask:
        case Ask.TEXT:
            return forms.CharField(max_length=200, initial=value, **common)
        case Ask.LONG_TEXT:
            widget = forms.Textarea(attrs={"rows": 3})
            return forms.CharField(max_length=_LONGEST, initial=value, widget=widget, **common)
        case Ask.LINES:
            widget = forms.Textarea(attrs={"rows": 3})
            initial = "\n".join(value or [])
            return forms.CharField(max_length=_LONGEST, initial=initial, widget=widget, **common)
        case Ask.NUMBER:
            return TypedNumber(initial=_told(value), **common)
        case Ask.RANGE:
            return _Range(max_length=40, initial=_told_range(value), **common)
        case Ask.HEIGHT | Ask.HEIGHT_RANGE:
            common["label"] = f"{each.label} ({unit.length})"
            if each.ask is Ask.HEIGHT:
                return TypedNumber(initial=_told(value, unit.metre), **common)
            return _Range(max_length=40, initial=_told_range(value, unit.metre), **common)
        case Ask.FLAG:
            return forms.BooleanField(initial=bool(value), **common)
        case Ask.CHOICE:
            default = {"needs.pain": "acceptable"}.get(each.at, "")
            words = list(choices[each.of])
            if not default:
                words.insert(0, ("", "–"))
            return forms.ChoiceField(choices=words, initial=value or default, **common)
        case Ask.TICKS:
            return forms.MultipleChoiceField(
                choices=choices[each.of],
                initial=value or [],
                widget=forms.CheckboxSelectMultiple,
                **common,
            )
        case Ask.NAMES:
            names = dict(choices[each.of])
            initial = "\n".join(names.get(one, one) for one in value or [])
            return _Named(choices[each.of], initial=initial, **common)
        case Ask.RATIOS:
            names = dict(choices[each.of])
            initial = "\n".join(f"{names.get(k, k)}: {_told(v)}" for k, v in (value or {}).items())
            return _Named(choices[each.of], ratios=True, initial=initial, **common)


def _raw(each: Asked, value: Any) -> Any:
    """A value as the file says it; None takes the field away."""
    metre = current_units.get().metre
    match each.ask:
        case Ask.TEXT | Ask.LONG_TEXT:
            return value or None
        case Ask.LINES:
            return [line.strip() for line in str(value or "").splitlines() if line.strip()] or None
        case Ask.HEIGHT if value is not None:
            return _tidy(value / metre)
        case Ask.HEIGHT_RANGE if value is not None:
            return [_tidy(end / metre) for end in value]
        case Ask.NUMBER if value is not None:
            return _tidy(value)
        case Ask.RANGE if value is not None:
            return [_tidy(end) for end in value]
        case Ask.RATIOS if value is not None:
            return {key: _tidy(number) for key, number in value.items()}
        case Ask.CHOICE | Ask.TICKS:
            return value or None
    return value


def _tidy(number: float) -> float | int:
    rounded = round(float(number), _PLACES)
    return int(rounded) if rounded == int(rounded) else rounded


def _told(value: Any, per: float = 1.0) -> str:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return ""
    return decimals(f"{round(value * per, _PLACES if per == 1.0 else 1):g}")


def _told_range(value: Any, per: float = 1.0) -> str:
    if value is None:
        return ""
    ends = value if isinstance(value, list) else [value, value]
    told = [_told(end, per) for end in ends]
    if len(told) == 2 and told[0] == told[1]:
        return told[0]
    return _("%(low)s to %(high)s") % {"low": told[0], "high": told[-1]}


def _at(table: Mapping[str, Any], place: str) -> Any:
    found: Any = table
    for key in place.split("."):
        if not isinstance(found, Mapping) or key not in found:
            return None
        found = found[key]
    return found


def _put(table: dict[str, Any], place: str, value: Any) -> None:
    """Set a value in a table; None takes it away, and a table that it leaves empty as well."""
    key, _dot, rest = place.partition(".")
    if not rest:
        if value is None:
            table.pop(key, None)
        else:
            table[key] = value
        return
    inner = dict(table.get(key) or {})
    _put(inner, rest, value)
    # What says only that there is none says nothing once the rest has gone.
    if any(entry is not False for entry in inner.values()):
        table[key] = inner
    else:
        table.pop(key, None)
