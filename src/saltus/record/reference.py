"""The reference page of the record, made from the table of fields.

``python -m saltus.record.reference > docs/record.md`` brings the page up to date.
"""

import sys
from collections.abc import Iterable

from saltus.record import schema
from saltus.record.fields import Field, Kind, Table

__all__ = ["EXAMPLE", "reference"]

EXAMPLE = """\
saltus_record = 1

[athlete]
name = "Ines Adler"            # invented
sex = "female"
born = 2002-03-14
stature_cm = 181
standing_reach_cm = 236        # flat-footed, arm stretched up
training_age_years = 5
sport = "volleyball"
testing_tools = ["tape", "phone", "barbell"]

[[body_mass]]
date = 2026-11-16
mass_kg = 72.5

[goal]
date = 2027-04-17
touch_cm = 305
approach = true
what = "the mark on the antenna"

[[test]]
kind = "countermovement_jump"  # with arms, chalk on the wall
date = 2026-11-16
touched_cm = [279, 281, 280]

[[test]]
kind = "rep_set"
date = 2026-11-18
lift = "back_squat"
load_kg = 80
reps = 5
reserve = 1

[[target]]
date = 2027-04-17
what = "regional final"

[week]
mon = 75
wed = 60
fri = 75

[[practice]]
weekdays = ["tue", "thu"]
landings = 60

[[blocked]]
start = 2026-12-20
end = 2027-01-03
why = "family"

[gym]
equipment = ["barbell", "rack", "boxes"]
bar_kg = 20
plates_kg = [[20, 4], [10, 4], [5, 2], [2.5, 2], [1.25, 2]]
boxes_cm = [30, 45, 60]
"""

_INTRODUCTION = """\
# The record

One text file for each athlete, in TOML, with everything that Saltus knows of them. You can
write it in any text editor, keep it where you like, and read it without Saltus. Saltus writes
it back without losing your comments, your order or your units.

`saltus example DIR` writes a whole invented squad of such files to start from.

- The file begins with `{version_field} = {version}`, the version of this format.
- `[name]` begins a table that comes once, `[[name]]` one that may come several times.
- A field says its unit in its name. Where two names are given, use either: `stature_cm` or
  `stature_in`, `load_kg` or `load_lb`. Limits and defaults are told in the first of the two.
- Dates are written year-month-day: `2026-11-25`. Decimals have a point: `72.5`.
- A list with one value may be written without brackets.
- Everything after `#` is a comment, and yours.
- What is not known is left out. Nothing is guessed in silence: each default stands below.
- Limits are there to catch slips of the pen and of the unit; they judge nobody.
- A field that is not listed here is a fault, and so is a value outside its limits. All faults
  of a file are told at once, each with its line.

Saltus gives no medical advice. Pains and restrictions make it stop what is risky; what hurts
belongs to whoever is licensed to look at it.

## An example

The athlete is invented.

```toml
{example}```
"""

_TESTS = """\
## `[[test]]`

What was tested, in any order, on any dates. `kind` says what it was; the fields of each kind
follow. A jump's result is given in one of several ways: `heights`, `touched` heights, `flight`
times, or `frames` of a film.
"""


def reference() -> str:
    """Return the reference page, in Markdown."""
    parts = [
        _INTRODUCTION.format(
            version_field=schema.VERSION_FIELD, version=schema.VERSION, example=EXAMPLE
        )
    ]
    for table in schema.TABLES:
        if table.name == "test":
            if table is next(iter(schema.TESTS.values())):
                parts.append(_TESTS)
            parts += _kind(table)
            continue
        brackets = f"[[{table.name}]]" if table.repeated else f"[{table.name}]"
        parts.append(f"## `{brackets}`\n\n{_section(table)}")
        parts += _inner(table, "###")
    return "\n".join(parts)


def _kind(table: Table) -> list[str]:
    """Section of one kind of test; the vertical jumps share one."""
    if table.title not in schema.JUMP_KINDS:
        return [f'### `kind = "{table.title}"`\n\n{_section(table)}', *_inner(table, "####")]
    first, *others = schema.JUMP_KINDS
    if table.title != first:
        return []
    kinds = ", ".join(f'`"{kind}"`' for kind in schema.JUMP_KINDS)
    words = [f"- `{kind}`: {_lower_first(schema.TESTS[kind].help)}" for kind in (first, *others)]
    return [f"### `kind =` {kinds}\n\n" + "\n".join(words) + "\n\n" + _fields(table)]


def _inner(table: Table, level: str) -> list[str]:
    """Sections of the tables inside the fields of one."""
    return [
        f"{level} Inside `{each.name}`\n\n{_section(each.rows)}"
        for each in table.fields
        if each.rows is not None
    ]


def _lower_first(words: str) -> str:
    return words[0].lower() + words[1:]


def _section(table: Table) -> str:
    needed = " Required." if table.required else ""
    return f"{table.help}{needed}\n\n{_fields(table)}"


def _fields(table: Table) -> str:
    rows = [
        f"| {_names(each)} | {_limits(each)} | {_default(each)} | {_help(each)} |"
        for each in table.fields
    ]
    lines = [
        "| field | value | default | meaning |",
        "| --- | --- | --- | --- |",
        *rows,
        "",
    ]
    return "\n".join(lines)


def _names(each: Field) -> str:
    return ", ".join(f"`{key}`" for key in each.units_by_key())


def _limits(each: Field) -> str:
    if each.choices:
        several = "any of " if each.kind is Kind.CHOICES else ""
        return several + ", ".join(f"`{choice}`" for choice in each.choices)
    words = {
        Kind.TEXT: "text",
        Kind.DATE: "date",
        Kind.YES_NO: "`true` or `false`",
        Kind.FILE: "path beside the record",
        Kind.NUMBER: "number",
        Kind.NUMBERS: "list of numbers",
        Kind.WHOLE: "whole number",
        Kind.COUNTS: "list of `[weight, how many]`",
        Kind.AFTER_MS: "`{ milliseconds = force }`",
        Kind.ROWS: "list of `{ ... }`",
    }[each.kind]
    if each.low is None or each.high is None:
        return words
    sign = f" {each.units[0].sign}" if each.units else ""
    return f"{words}, {each.low:g} to {each.high:g}{sign}"


def _default(each: Field) -> str:
    if each.required:
        return "required"
    if each.default_words:
        return each.default_words
    match each.default:
        case None | "" | ():
            return "none"
        case bool(value):
            return f"`{str(value).lower()}`"
        case float(value) | int(value):
            return f"`{value:g}`" + (f" {each.units[0].sign}" if each.units else "")
        case str(value):
            return f"`{value}`"
        case value if isinstance(value, Iterable):
            return ", ".join(f"`{each}`" for each in value)
        case value:
            raise TypeError(f"no words for the default {value!r}")


def _help(each: Field) -> str:
    return each.help.replace("|", "\\|")


if __name__ == "__main__":
    sys.stdout.write(reference())
