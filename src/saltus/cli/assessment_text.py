"""An assessment in the terminal: a dot with an interval, and plain sentences."""

from collections.abc import Sequence

from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from saltus.athlete.assessment import Assessment, GoalOutlook
from saltus.athlete.observations import Lift
from saltus.athlete.profile import ForceVelocityProfile
from saltus.athlete.qualities import UNITS, WORDS, Quality
from saltus.quantities import CENTIMETRE, INCH, POUND, Estimate

__all__ = ["interval_line", "print_assessment"]

_LINE_WIDTH = 26
_NARROW_LINE_WIDTH = 14
_NARROW_CONSOLE = 96
_TESTS_SHOWN = 4
_SETTLED_BITS = 0.01


def print_assessment(
    console: Console,
    assessment: Assessment,
    *,
    imperial: bool,
    notes: Sequence[str] = (),
    what_if: tuple[Estimate, Estimate] | None = None,
) -> None:
    """Print an assessment as a coach would say it.

    Parameters
    ----------
    console : Console
        Where to.
    assessment : Assessment
        Of one athlete.
    imperial : bool
        Inches and pounds in place of centimetres and kilograms.
    notes : sequence of str
        What the coach should know of the record as it was read.
    what_if : (jump_m, change_m) or None
        The jump if qualities were other than they are, where it was asked.
    """
    units = _Units(imperial)
    day = f"{assessment.date.day} {assessment.date:%B %Y}"
    console.print(f"[bold]{assessment.name}[/bold]  {day}, {units.mass(assessment.mass_kg)}")
    console.print("[dim]Every interval holds the truth with a probability of 80 %.[/dim]\n")
    _limiting(console, assessment)
    _worth(console, assessment, units)
    _jumps(console, assessment, units)
    _qualities(console, assessment, units)
    if what_if is not None:
        heading(console, "What if")
        jump, change = what_if
        _say(
            console,
            f"The countermovement jump would be {units.height(jump)}, {units.change(change)}.",
        )
    _next_tests(console, assessment)
    if assessment.goal is not None:
        _goal(console, assessment.goal, units)
    _profile(console, assessment.force_velocity, assessment.force_velocity_why)
    if assessment.body_mass is not None:
        heading(console, "Body mass")
        more, less = assessment.body_mass.per_kg_more_m, assessment.body_mass.per_kg_less_m
        _say(
            console,
            f"One {units.mass_word} more, strength held: {units.change(more, per_mass=True)}. "
            f"One less: {units.change(less, per_mass=True)}. "
            "This is mechanics, not advice to lose weight.",
        )
    heading(console, "Cautions")
    for sentence in (*assessment.cautions, *assessment.fit.outlying, *notes):
        _say(console, f"- {sentence}")


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


def _per_cent(probability: float) -> str:
    """A probability that is never told as a certainty."""
    if probability > 0.99:
        return "over 99 %"
    return "under 1 %" if probability < 0.01 else f"{100 * probability:.0f} %"


def _line_width(console: Console) -> int:
    return _NARROW_LINE_WIDTH if console.width < _NARROW_CONSOLE else _LINE_WIDTH


class _Units:
    """Figures as the coach thinks."""

    def __init__(self, imperial: bool):
        self.length, self.length_word = (INCH, "in") if imperial else (CENTIMETRE, "cm")
        self.weight, self.mass_word = (POUND, "lb") if imperial else (1.0, "kg")

    def mass(self, kg: float) -> str:
        return f"{kg / self.weight:.1f} {self.mass_word}"

    def height(self, estimate: Estimate) -> str:
        e = estimate.scaled(1 / self.length)
        return f"{e.value:.1f} {self.length_word} ({e.low:.1f} to {e.high:.1f})"

    def change(self, estimate: Estimate, *, per_mass: bool = False) -> str:
        e = estimate.scaled((self.weight if per_mass else 1.0) / self.length)
        return f"{e.value:+.1f} {self.length_word} ({e.low:+.1f} to {e.high:+.1f})"


def _say(console: Console, words: str) -> None:
    console.print(Padding(Text(words), (0, 0, 0, 2)))


def _table(
    console: Console,
    rows: Sequence[Sequence[str]],
    *,
    header: Sequence[str] | None = None,
    right: Sequence[int] = (1,),
) -> None:
    table = Table(
        box=None,
        show_header=header is not None,
        pad_edge=False,
        padding=(0, 2, 0, 0),
        header_style="dim",
    )
    for column in range(len(rows[0])):
        table.add_column(
            header[column] if header else "",
            justify="right" if column in right else "left",
            no_wrap=True,
        )
    for row in rows:
        table.add_row(*(Text(cell) for cell in row))
    console.print(Padding(table, (0, 0, 0, 2)))


def _limiting(console: Console, assessment: Assessment) -> None:
    found = assessment.limiting
    probability = _per_cent(found.probability)
    if found.quality is not None:
        console.print(
            f"[bold]Limiting quality: {WORDS[found.quality]}[/bold] (probability {probability})"
        )
        return
    console.print(
        f"[bold]Limiting quality: undecided[/bold] ({WORDS[found.leading]} leads with "
        f"{probability})"
    )
    if assessment.next_tests:
        best = assessment.next_tests[0]
        _say(console, f"The test that would tell most: {best.title}.")


def _worth(console: Console, assessment: Assessment, units: _Units) -> None:
    heading(console, "Worth of one ordinary block (six weeks) on each quality")
    high = max(w.gain_m.high for w in assessment.worth)
    low = min(0.0, *(w.gain_m.low for w in assessment.worth))
    rows = []
    for worth in assessment.worth:
        e = worth.gain_m.scaled(1 / units.length)
        rows.append(
            (
                WORDS[worth.quality],
                f"{e.value:+.1f} {units.length_word}",
                f"{e.low:.1f} to {e.high:.1f}",
                interval_line(worth.gain_m, low, high, _line_width(console)),
                _per_cent(worth.probability_largest),
            )
        )
    _table(console, rows, header=("", "gain", "interval", "", "largest?"), right=(1, 4))


def _jumps(console: Console, assessment: Assessment, units: _Units) -> None:
    heading(console, "Jump (rise of the centre of mass after take-off)")
    jumps = [
        ("countermovement, no arms", assessment.jump_m),
        ("squat jump, no arms", assessment.squat_jump_m),
    ]
    if assessment.approach_jump_m is not None:
        jumps.append(("with run-up and arms", assessment.approach_jump_m))
    low = min(e.low for _, e in jumps)
    high = max(e.high for _, e in jumps)
    rows = []
    for words, estimate in jumps:
        e = estimate.scaled(1 / units.length)
        rows.append(
            (
                words,
                f"{e.value:.1f} {units.length_word}",
                f"{e.low:.1f} to {e.high:.1f}",
                interval_line(estimate, low, high, _line_width(console)),
            )
        )
    _table(console, rows)


def _qualities(console: Console, assessment: Assessment, units: _Units) -> None:
    heading(console, "Qualities")
    rows = []
    for quality, estimate in assessment.qualities.items():
        if quality is Quality.STRETCH_SHORTENING_GAIN:
            e, unit, digits = estimate.scaled(100), "%", 0
        elif quality is Quality.PUSH_OFF_DISTANCE:
            e, unit, digits = estimate.scaled(1 / units.length), units.length_word, 1
        else:
            e, unit = estimate, UNITS[quality]
            digits = 1 if e.value < 100 else 0
        rows.append(
            (
                WORDS[quality],
                f"{e.value:.{digits}f} {unit}",
                f"{e.low:.{digits}f} to {e.high:.{digits}f}",
            )
        )
    _table(console, rows)
    squat = assessment.maxima_kg[Lift.BACK_SQUAT]
    kg = squat.scaled(1 / units.weight)
    _say(
        console,
        f"That strength goes with a parallel squat of about {kg.value:.0f} {units.mass_word} "
        f"({kg.low:.0f} to {kg.high:.0f}), {squat.value / assessment.mass_kg:.2f} x body mass.",
    )
    if assessment.best_drop_m is not None:
        _say(console, f"Best box for drop jumps: {units.height(assessment.best_drop_m)}.")


def _next_tests(console: Console, assessment: Assessment) -> None:
    heading(console, "Next tests, the most telling first")
    if not assessment.next_tests:
        _say(console, "None that the equipment and the cautions allow.")
        return
    if assessment.next_tests[0].information_bits < _SETTLED_BITS:
        _say(
            console,
            "No test would change which quality is limiting. Test the jump again after the block.",
        )
        return
    for number, test in enumerate(assessment.next_tests[:_TESTS_SHOWN], start=1):
        _say(
            console,
            f"{number}. {test.title[0].upper()}{test.title[1:]} "
            f"({test.minutes:.0f} min, {test.risk} risk, {test.information_bits:.2f} bits). "
            f"{test.why}",
        )


def _goal(console: Console, outlook: GoalOutlook, units: _Units) -> None:
    heading(console, "Goal")
    what = outlook.goal.what or "the goal"
    needed = f"{outlook.needed_m / units.length:.1f} {units.length_word}"
    _say(console, f"For {what} a jump of {needed} is needed, as it is measured here.")
    missing = outlook.missing_m
    if missing.value > 0:
        _say(
            console,
            f"Now {units.height(outlook.now_m)}: {missing.value / units.length:.1f} "
            f"{units.length_word} short.",
        )
    else:
        _say(console, f"Now {units.height(outlook.now_m)}: within reach already.")
    if outlook.probability is not None and outlook.expected_m is not None:
        assert outlook.goal.date is not None
        day = f"{outlook.goal.date.day} {outlook.goal.date:%B %Y}"
        _say(
            console,
            f"With the ordinary response, {units.height(outlook.expected_m)} by {day}: "
            f"reached with a probability of {_per_cent(outlook.probability)}.",
        )
    elif outlook.goal.date is None:
        _say(console, "No date is set, so no probability can be given.")


def _profile(console: Console, profile: ForceVelocityProfile | None, why: str) -> None:
    heading(console, "Published force-velocity profile")
    if profile is None:
        _say(console, why)
        return
    rows = [
        (name, f"{e.value:.{digits}f} {unit}", f"{e.low:.{digits}f} to {e.high:.{digits}f}")
        for name, e, unit, digits in (
            ("F0", profile.F0_n_kg, "N/kg", 1),
            ("v0", profile.v0_m_s, "m/s", 2),
            ("Pmax", profile.Pmax_w_kg, "W/kg", 1),
            ("slope", profile.slope, "N s/m/kg", 1),
            ("optimal slope", profile.optimal_slope, "N s/m/kg", 1),
            ("slope / optimal", profile.balance.scaled(100), "%", 0),
        )
    ]
    _table(console, rows)
    if why:
        _say(console, why)
