"""A form for any table of a record, made from the record's own table of fields."""

import re
from collections.abc import Iterable, Mapping
from typing import Any

from django import forms
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString
from django.utils.text import capfirst
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as _l

from saltus.errors import Fault, UsageError
from saltus.record.editing import RawRow, place_of
from saltus.record.fields import Field, Kind, Table, Unit
from saltus.web.editing.file_text import FileText
from saltus.web.editing.shown import given, text_of, unit_for
from saltus.web.editing.words import choice, help_of, label, offered, said, unsaid, without_keys
from saltus.web.sentences import told
from saltus.web.units import number_typed

__all__ = ["RowForm", "TextForm", "TypedNumber", "TypedNumbers"]

_LONG_TEXTS = frozenset({"remark", "note", "why", "caution"})
_SEPARATED = re.compile(r"\s*[;\n]\s*|,\s+")
_TIMES = re.compile(r"\s*[x×*]\s*")
_LONGEST = 4000


def _number(text: str) -> float:
    try:
        return number_typed(text)
    except UsageError as error:
        raise forms.ValidationError(told(str(error))) from error


class TypedNumber(forms.CharField):
    """A number as people type it: 27, 27.5, 27,5 or 27 1/2."""

    def __init__(self, **kwargs: Any):
        kwargs.setdefault(
            "widget", forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"})
        )
        super().__init__(max_length=40, **kwargs)

    def clean(self, value: Any) -> Any:
        """The number; None where nothing was typed."""
        text = super().clean(value)
        return None if not text else _number(text)


class TypedNumbers(forms.CharField):
    """Several numbers: with commas and spaces, semicolons, or one a line."""

    def clean(self, value: Any) -> Any:
        """The numbers, in a list; None where nothing was typed."""
        text = super().clean(value).strip()
        if not text:
            return None
        parts = [part for part in _SEPARATED.split(text) if part]
        if len(parts) == 1 and "/" not in text:
            parts = text.split()
        return [_number(part) for part in parts]


class _Pairs(forms.CharField):
    """Pairs, one a line."""

    def __init__(self, separator: "re.Pattern[str]", example: str, **kwargs: Any):
        self.separator, self.example = separator, example
        super().__init__(widget=forms.Textarea(attrs={"rows": 4}), **kwargs)

    def clean(self, value: Any) -> Any:
        """The pairs, as lists of two texts; None where nothing was typed."""
        lines = [line.strip() for line in re.split(r"[;\n]", super().clean(value)) if line.strip()]
        pairs = [self.separator.split(line) for line in lines]
        for line, pair in zip(lines, pairs, strict=True):
            if len(pair) != 2:
                raise forms.ValidationError(
                    _("“%(line)s”: write one a line, such as %(example)s.")
                    % {"line": line, "example": self.example}
                )
        return pairs or None


class _OfferedInput(forms.TextInput):
    """A line of text with proposals."""

    def __init__(self, words: Iterable[str]):
        super().__init__(attrs={"autocomplete": "off"})
        self.words = words

    def render(self, name: str, value: Any, attrs: Any = None, renderer: Any = None) -> SafeString:
        """The line, and the list of proposals behind it."""
        line = super().render(name, value, {**(attrs or {}), "list": f"{name}-offered"}, renderer)
        options = format_html_join("", '<option value="{}"></option>', ((w,) for w in self.words))
        return format_html('{}<datalist id="{}-offered">{}</datalist>', line, name, options)


class _Offered(forms.CharField):
    """Any text; what was proposed is kept as the record has it."""

    def __init__(self, words: Mapping[str, str], **kwargs: Any):
        super().__init__(max_length=_LONGEST, widget=_OfferedInput(words), **kwargs)
        self.kept = {word.casefold(): text for word, text in words.items()}

    def clean(self, value: Any) -> Any:
        """The text."""
        text = super().clean(value)
        return self.kept.get(text.casefold(), text)


class RowForm(forms.Form):
    """One row of a table.

    Parameters
    ----------
    table : Table
        Of the record's schema.
    row : dict
        Raw values of the row as it stands; empty for a new one.
    without : set of str
        Names of fields that are left as they are.
    """

    def __init__(
        self,
        *args: Any,
        table: Table,
        row: RawRow,
        without: frozenset[str] = frozenset(),
        **kwargs: Any,
    ):
        super().__init__(*args, **kwargs)
        self.table, self.row = table, row
        self._units: dict[str, Unit | None] = {}
        for field in table.fields:
            if field.kind in (Kind.FILE, Kind.ROWS) or field.name in without | {"kind"}:
                continue
            unit = unit_for(table, field, row)
            self._units[field.name] = unit
            self.fields[field.name] = _form_field(table, field, row, unit)

    def raw(self) -> RawRow:
        """The row that the form gives; what it does not ask for stays as it was."""
        row: RawRow = {}
        for field in self.table.fields:
            before = given(field, self.row)
            if field.name not in self.fields or field.name not in self.changed_data:
                if before is not None:
                    row[before[0]] = before[2]
                continue
            value = self.cleaned_data.get(field.name)
            if value in (None, "", []) and not (field.kind is Kind.CHOICES and field.default):
                continue
            unit = self._units[field.name]
            row[f"{field.name}_{unit.ending}" if unit else field.name] = _raw(field, value)
        return row

    def blame(self, faults: Iterable[Fault], index: int | None) -> None:
        """Put each fault at its field; those of other tables above the form, with their place."""
        keys = {key: f.name for f in self.table.fields for key in f.units_by_key()}
        for fault in faults:
            key = place_of(fault, self.table.name, index)
            name = keys.get(key or "")
            what = capfirst(without_keys(told(fault.what)))
            if fault.what.startswith("method is missing") and "method" in self.fields:
                name, what = "method", _("Choose how it was measured.")
            if name in self.fields:
                self.add_error(name, what)
            elif key is not None:
                self.add_error(None, what)
            else:
                self.add_error(None, f"{fault.where}: {told(fault.what)}")


class TextForm(forms.Form):
    """The record's text."""

    text = FileText(label=_l("The record"), max_length=1_500_000)
    what = forms.CharField(
        label=_l("What you changed, for the history"), required=False, max_length=200
    )


def _raw(field: Field, value: Any) -> Any:
    match field.kind:
        case Kind.WHOLE:
            return int(value) if value == int(value) else value
        case Kind.COUNTS:
            return [[_plain(_number(weight)), _count(count)] for weight, count in value]
        case Kind.AFTER_MS:
            return {after.strip().removesuffix("ms").strip(): _number(n) for after, n in value}
        case Kind.YES_NO:
            return value in (True, "yes")
        case Kind.NUMBER:
            return _plain(value)
        case Kind.NUMBERS:
            return [_plain(each) for each in value]
        case _:
            return value


def _plain(value: float) -> float | int:
    return int(value) if value == int(value) else value


def _count(text: str) -> Any:
    return int(text) if text.strip().isdecimal() else text


_NUMERIC = frozenset({Kind.NUMBER, Kind.WHOLE, Kind.NUMBERS, Kind.COUNTS, Kind.AFTER_MS})


def _form_field(table: Table, field: Field, row: RawRow, unit: Unit | None) -> forms.Field:
    found = given(field, row)
    raw = field.default if found is None else found[2]
    common: dict[str, Any] = {
        "label": f"{label(field)} ({unit.sign})" if unit else label(field),
        "help_text": _with_default(field, help_of(table.name, field)),
        "required": field.required,
        "initial": text_of(field, row, unit) if field.kind in _NUMERIC else raw,
    }
    match field.kind:
        case Kind.DATE:
            widget = forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"})
            return forms.DateField(widget=widget, **common)
        case Kind.NUMBER | Kind.WHOLE:
            if found is None and isinstance(field.default, float | int) and not field.units:
                common["initial"] = f"{field.default:g}"
            return TypedNumber(**common)
        case Kind.NUMBERS:
            return TypedNumbers(max_length=_LONGEST, **common)
        case Kind.COUNTS:
            return _Pairs(_TIMES, "20 x 4", **common)
        case Kind.AFTER_MS:
            return _Pairs(re.compile(r"\s*[:=]\s*"), "100: 1450", **common)
        case Kind.YES_NO:
            return _yes_no(field, common)
        case Kind.CHOICE:
            return _choice(field, common)
        case Kind.CHOICES:
            return _choices(field, common)
        case _:
            words = offered(table.name, field)
            if words:
                if common["initial"]:
                    common["initial"] = said(table.name, field, common["initial"])
                return _Offered(words, **common)
            long = field.name in _LONG_TEXTS
            text = forms.Textarea(attrs={"rows": 3}) if long else forms.TextInput()
            return forms.CharField(max_length=_LONGEST, widget=text, **common)


def _with_default(field: Field, text: str) -> str:
    default = _(field.default_words).replace("`", "") if field.default_words else ""
    if isinstance(field.default, float) and field.units and field.default:
        default = f"{field.default:g} {field.units[0].sign}"
    if (
        default in ("", "unknown", "none")
        or field.required
        or field.kind in (Kind.YES_NO, Kind.CHOICE)
    ):
        return text
    words = {"help": text, "default": default}
    return (_("%(help)s If left empty: %(default)s.") % words).strip()


def _yes_no(field: Field, common: dict[str, Any]) -> forms.Field:
    if isinstance(field.default, bool):
        return forms.BooleanField(**common | {"required": False})
    initial = {True: "yes", False: "no"}.get(common["initial"], "")
    unknown = unsaid(field) if field.default_words else _("unknown")
    choices = [("", unknown), ("yes", _("yes")), ("no", _("no"))]
    return forms.ChoiceField(choices=choices, **common | {"initial": initial})


def _choice(field: Field, common: dict[str, Any]) -> forms.Field:
    choices = [(str(word), choice(field, str(word))) for word in field.choices]
    if field.default is None:
        choices.insert(0, ("", unsaid(field)))
    return forms.ChoiceField(choices=choices, **common)


def _choices(field: Field, common: dict[str, Any]) -> forms.Field:
    raw = common["initial"] or []
    initial = [raw] if isinstance(raw, str) else [str(word) for word in raw]
    return forms.MultipleChoiceField(
        choices=[(str(word), choice(field, str(word))) for word in field.choices],
        widget=forms.CheckboxSelectMultiple,
        # None at all would be read as what is usual: it must be said.
        **common | {"initial": initial, "required": field.required or bool(field.default)},
    )
