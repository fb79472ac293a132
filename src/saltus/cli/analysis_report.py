"""The terminal report of measured jumps."""

from collections.abc import Sequence
from itertools import groupby

from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from saltus.jumps.catalogue import CATALOGUE
from saltus.jumps.jump import Analysis, Jump, JumpKind, Measure, Trust
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

# Unit of a measure: unit shown, factor, decimals.
_SHOWN = {
    "m": ("cm", 100.0, 1),
    "s": ("ms", 1000.0, 0),
    "m/s": ("m/s", 1.0, 2),
    "N": ("N", 1.0, 0),
    "N/s": ("N/s", 1.0, 0),
    "N·s": ("N·s", 1.0, 1),
    "W": ("W", 1.0, 0),
    "W/kg": ("W/kg", 1.0, 1),
    "N/m": ("kN/m", 0.001, 1),
    "N/m/kg": ("N/m/kg", 1.0, 0),
    "BW": ("BW", 1.0, 2),
    "%": ("%", 1.0, 1),
    "": ("", 1.0, 2),
}
_TRUST_STYLE = {Trust.SOUND: "", Trust.DOUBTFUL: "bold", Trust.REJECTED: "bold reverse"}


def _unit(unit: str) -> tuple[str, float, int]:
    return _SHOWN.get(unit, (unit, 1.0, 3))


def _value(measure: Measure | None) -> str:
    if measure is None:
        return "–"
    _, factor, digits = _unit(measure.unit)
    se = measure.se * factor
    if 0 < se < 0.5 * 10**-digits:
        digits += 1
    return f"{measure.value * factor:.{digits}f} ± {se:.{digits}f}"


def print_analysis(
    console: Console, file: str, analysis: Analysis, *, all_measures: bool = False
) -> None:
    """Print one recording: its jumps in a table for each kind, then what to know of them."""
    console.print(Text(file, style="bold"), soft_wrap=True)
    facts = [f"{analysis.recording.rate_hz:g} Hz"]
    if analysis.body_weight_n is not None:
        weight = analysis.body_weight_n
        kilograms = weight.value / STANDARD_GRAVITY
        facts.append(f"body weight {_value(weight)} N ({kilograms:.1f} kg)")
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
    shown = [
        (heading, name)
        for heading, name in _COLUMNS[kind]
        if name == leading or any(name in jump.measures for _, jump in jumps)
    ]
    for heading, name in shown:
        unit = _unit(CATALOGUE[name][0])[0]
        lines = heading.split("\n")
        table.add_column("\n".join([*lines[:-1], f"{lines[-1]} {unit}".strip()]), justify="right")
    table.add_column("trust")
    for number, jump in jumps:
        moment = jump.take_off_s if jump.take_off_s is not None else jump.onset_s
        table.add_row(
            str(number),
            f"{jump.start_s if moment is None else moment:.2f}",
            *(_value(jump.measures.get(name)) for _, name in shown),
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
        table.add_row(measure.title, _value(measure), _unit(measure.unit)[0])
    return table


def print_failure(console: Console, file: str, error: Exception) -> None:
    """Print why a file could not be analysed."""
    message = str(error)
    line = Text(message if message.startswith(file) else f"{file}: {message}", style="red")
    console.print(line, soft_wrap=True)
    console.print()


def print_legend(console: Console) -> None:
    """Print once what the figures mean."""
    console.print(
        Text(
            "± is one standard error of the measurement. Height is the rise of the body's centre "
            "after take-off. – is withheld: what cannot be trusted is not printed.",
            style="dim",
        )
    )
