"""The terminal report of measured jumps."""

from collections.abc import Sequence
from itertools import groupby
from pathlib import Path

from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from saltus.jumps.catalogue import CATALOGUE
from saltus.jumps.jump import Analysis, Jump, JumpKind, Trust
from saltus.jumps.wording import shown, unit_shown
from saltus.quantities import STANDARD_GRAVITY

__all__ = ["print_analysis", "print_failure", "print_legend"]

# Heading, measure, for each family of jumps; what fits on 80 columns.
_PUSH = (
    ("height by\nimpulse", "height_impulse"),
    ("height by\nflight", "height_flight"),
    ("take-off\nspeed", "take_off_velocity"),
    ("time to\ntake-off", "time_to_take_off"),
    ("peak\npower", "peak_power_relative"),
)
_REBOUND = (
    ("height by\nflight", "height_flight"),
    ("contact\ntime", "contact_time"),
    ("RSI", "rsi"),
    ("true drop", "drop_height"),
)
_PULL = (
    ("peak force", "isometric_peak_force"),
    ("at 100 ms", "force_100ms"),
    ("at 200 ms", "force_200ms"),
)
_COLUMNS = {
    JumpKind.CMJ: _PUSH,
    JumpKind.SJ: _PUSH,
    JumpKind.DJ: _REBOUND,
    JumpKind.HOPS: _REBOUND[:3],
    JumpKind.ISOMETRIC: _PULL,
}

_TRUST_STYLE = {Trust.SOUND: "", Trust.DOUBTFUL: "bold", Trust.REJECTED: "bold reverse"}


def print_analysis(
    console: Console, file: str, analysis: Analysis, *, all_measures: bool = False
) -> None:
    """Print one recording: its jumps in a table for each kind, then what to know of them."""
    console.print(Text(file, style="bold"), soft_wrap=True)
    facts = [f"{analysis.recording.rate_hz:g} Hz"]
    if analysis.body_weight_n is not None:
        weight = analysis.body_weight_n
        kilograms = weight.value / STANDARD_GRAVITY
        facts.append(f"body weight {shown(weight)} N ({kilograms:.1f} kg)")
    else:
        facts.append("body weight unknown")
    console.print(Padding(Text(" · ".join(facts), style="dim"), (0, 0, 0, 2)))
    numbered = list(enumerate(analysis.jumps, start=1))
    for kind, members in groupby(numbered, key=lambda item: item[1].kind):
        console.print(Padding(_table(kind, list(members)), (0, 0, 0, 2)))
    if not numbered:
        console.print(Text("  No jump was found in it."))
    for (trust, reason), numbers in _reasons(numbered).items():
        line = Text(f"{', '.join(map(str, numbers))}: {trust.value}. ", style="bold")
        console.print(Padding(line.append(reason, style="not bold"), (0, 0, 0, 2)))
    for remark in dict.fromkeys((*analysis.recording.doubts, *analysis.doubts)):
        console.print(Padding(Text(f"Doubt: {remark}"), (0, 0, 0, 2)))
    for remark in (*analysis.recording.notes, *analysis.notes):
        console.print(Padding(Text(remark, style="dim"), (0, 0, 0, 2)))
    if all_measures:
        for number, jump in numbered:
            console.print(Padding(_measures(number, jump), (0, 0, 0, 2)))
    console.print()


def _reasons(numbered: Sequence[tuple[int, Jump]]) -> dict[tuple[Trust, str], list[int]]:
    """Each reason once, with the numbers of the jumps that it stands for."""
    found: dict[tuple[Trust, str], list[int]] = {}
    for number, jump in numbered:
        for reason in jump.reasons:
            found.setdefault((jump.trust, reason), []).append(number)
    return found


def _table(kind: JumpKind, jumps: Sequence[tuple[int, Jump]]) -> Table:
    plural = "s" if len(jumps) > 1 else ""
    table = Table(
        title=f"{len(jumps)} {kind.in_words}{plural}",
        title_justify="left",
        title_style="",
        box=None,
        pad_edge=False,
        padding=(0, 2, 0, 0),
        header_style="dim",
    )
    table.add_column("", justify="right")
    table.add_column("at\ns", justify="right")
    leading = _COLUMNS[kind][0][1]
    columns = [
        (heading, name)
        for heading, name in _COLUMNS[kind]
        if name == leading or any(name in jump.measures for _, jump in jumps)
    ]
    for heading, name in columns:
        unit = unit_shown(CATALOGUE[name][0])
        lines = heading.split("\n")
        table.add_column("\n".join([*lines[:-1], f"{lines[-1]} {unit}".strip()]), justify="right")
    table.add_column("trust")
    for number, jump in jumps:
        moment = jump.take_off_s if jump.take_off_s is not None else jump.onset_s
        table.add_row(
            str(number),
            f"{jump.start_s if moment is None else moment:.2f}",
            *(shown(jump.measures[name]) if name in jump.measures else "–" for _, name in columns),
            Text(jump.trust.value, style=_TRUST_STYLE[jump.trust]),
        )
    return table


def _measures(number: int, jump: Jump) -> Table:
    table = Table(
        title=f"{number}: {jump.kind.in_words}, every measure",
        title_justify="left",
        title_style="",
        box=None,
        pad_edge=False,
        padding=(0, 2, 0, 0),
        show_header=False,
    )
    table.add_column("measure")
    table.add_column("value", justify="right")
    table.add_column("unit")
    for measure in jump.measures.values():
        table.add_row(measure.title, shown(measure, fine=True), unit_shown(measure.unit))
    return table


def print_failure(console: Console, file: str, error: Exception) -> None:
    """Print why a file could not be analysed."""
    message = str(error)
    for name in (file, Path(file).name):
        message = message.removeprefix(f"{name}: ")
    console.print(Text(f"{file}: {message}", style="red"), soft_wrap=True)
    console.print()


def print_legend(console: Console) -> None:
    """Print once what the figures mean."""
    console.print(
        Text(
            "± is one standard error of the measurement, rounded up. Height is the rise of the "
            "body's centre after take-off. – was not measured, or is withheld: what cannot be "
            "trusted is not printed.",
            style="dim",
        )
    )
