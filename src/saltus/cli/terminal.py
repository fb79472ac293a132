"""How figures are told in the terminal: a dot with an interval, tables, and plain sentences."""

from collections.abc import Sequence

from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from saltus.athlete.qualities import UNITS, Quality
from saltus.quantities import CENTIMETRE, INCH, POUND, Estimate

__all__ = [
    "Measures",
    "capital",
    "heading",
    "interval_line",
    "line_width",
    "per_cent",
    "say",
    "table",
]

_LINE_WIDTH = 26
_NARROW_LINE_WIDTH = 14
_NARROW_CONSOLE = 96


def heading(console: Console, words: str) -> None:
    """A heading with a blank line before it."""
    console.print(f"\n[bold]{words}[/bold]")


def interval_line(estimate: Estimate, low: float, high: float, width: int = _LINE_WIDTH) -> str:
    """A dot with its interval on a scale from `low` to `high`, drawn in `width` characters."""
    span = max(high - low, 1e-12)

    def place(value: float) -> int:
        return min(max(round((value - low) / span * (width - 1)), 0), width - 1)

    line = [" "] * width
    start, end = place(estimate.low), place(estimate.high)
    for i in range(start, end + 1):
        line[i] = "─"
    line[start], line[end] = "├", "┤"
    line[place(estimate.value)] = "●"
    return "".join(line)


def per_cent(probability: float) -> str:
    """A probability that is never told as a certainty."""
    if probability > 0.99:
        return "over 99 %"
    return "under 1 %" if probability < 0.01 else f"{100 * probability:.0f} %"


def capital(words: str) -> str:
    """Words as they begin a sentence."""
    return words[:1].upper() + words[1:]


def line_width(console: Console) -> int:
    """Characters that an interval may take."""
    return _NARROW_LINE_WIDTH if console.width < _NARROW_CONSOLE else _LINE_WIDTH


class Measures:
    """Figures as the coach thinks."""

    def __init__(self, imperial: bool):
        self.length, self.length_word = (INCH, "in") if imperial else (CENTIMETRE, "cm")
        self.weight, self.mass_word = (POUND, "lb") if imperial else (1.0, "kg")

    def mass(self, kg: float) -> str:
        """Mass with its unit."""
        return f"{kg / self.weight:.1f} {self.mass_word}"

    def height(self, estimate: Estimate) -> str:
        """Height with its unit and interval."""
        e = estimate.scaled(1 / self.length)
        return f"{e.value:.1f} {self.length_word} ({e.low:.1f} to {e.high:.1f})"

    def change(self, estimate: Estimate, *, per_mass: bool = False) -> str:
        """Change of a height with its sign, unit and interval; for a kilogram, told per unit."""
        e = estimate.scaled((self.weight if per_mass else 1.0) / self.length)
        return f"{e.value:+z.1f} {self.length_word} ({e.low:+z.1f} to {e.high:+z.1f})"

    def quality(self, quality: Quality, estimate: Estimate) -> tuple[str, str]:
        """Figure of a quality with its unit, and its interval."""
        if quality is Quality.STRETCH_SHORTENING_GAIN:
            e, unit, digits = estimate.scaled(100), "%", 0
        elif quality is Quality.PUSH_OFF_DISTANCE:
            e, unit, digits = estimate.scaled(1 / self.length), self.length_word, 1
        else:
            e, unit = estimate, UNITS[quality]
            digits = 1 if e.value < 100 else 0
        return f"{e.value:.{digits}f} {unit}", f"{e.low:.{digits}f} to {e.high:.{digits}f}"


def say(console: Console, words: str) -> None:
    """Print a sentence, indented."""
    console.print(Padding(Text(words), (0, 0, 0, 2)))


def table(
    console: Console,
    rows: Sequence[Sequence[str]],
    *,
    header: Sequence[str] | None = None,
    right: Sequence[int] = (1,),
) -> None:
    """Print rows, indented; the columns in `right` are set to the right."""
    rows_told = Table(
        box=None,
        show_header=header is not None,
        pad_edge=False,
        padding=(0, 2, 0, 0),
        header_style="dim",
    )
    for column in range(len(rows[0])):
        rows_told.add_column(
            header[column] if header else "",
            justify="right" if column in right else "left",
            no_wrap=True,
        )
    for row in rows:
        rows_told.add_row(*(Text(cell) for cell in row))
    console.print(Padding(rows_told, (0, 0, 0, 2)))
