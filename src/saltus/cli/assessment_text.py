"""An assessment in the terminal: a dot with an interval, and plain sentences."""

from collections.abc import Sequence

from rich.console import Console

from saltus.athlete.assessment import Assessment, GoalOutlook
from saltus.athlete.observations import Lift
from saltus.athlete.profile import ForceVelocityProfile
from saltus.athlete.qualities import WORDS
from saltus.cli.terminal import (
    Measures,
    capital,
    heading,
    interval_line,
    line_width,
    per_cent,
    say,
    table,
)
from saltus.quantities import Estimate

__all__ = ["print_assessment"]

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
    units = Measures(imperial)
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
        say(
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
        say(
            console,
            f"One {units.mass_word} more, strength held: {units.change(more, per_mass=True)}. "
            f"One less: {units.change(less, per_mass=True)}. "
            "This is mechanics, not advice to lose weight.",
        )
    heading(console, "Cautions")
    for sentence in (*assessment.cautions, *assessment.fit.outlying, *notes):
        say(console, f"- {sentence}")


def _limiting(console: Console, assessment: Assessment) -> None:
    found = assessment.limiting
    probability = per_cent(found.probability)
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
        say(console, f"The test that would tell most: {best.title}.")


def _worth(console: Console, assessment: Assessment, units: Measures) -> None:
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
                interval_line(worth.gain_m, low, high, line_width(console)),
                per_cent(worth.probability_largest),
            )
        )
    table(console, rows, header=("", "gain", "interval", "", "largest?"), right=(1, 4))


def _jumps(console: Console, assessment: Assessment, units: Measures) -> None:
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
                interval_line(estimate, low, high, line_width(console)),
            )
        )
    table(console, rows)


def _qualities(console: Console, assessment: Assessment, units: Measures) -> None:
    heading(console, "Qualities")
    rows = [
        (WORDS[quality], *units.quality(quality, estimate))
        for quality, estimate in assessment.qualities.items()
    ]
    table(console, rows)
    squat = assessment.maxima_kg[Lift.BACK_SQUAT]
    kg = squat.scaled(1 / units.weight)
    say(
        console,
        f"That strength goes with a parallel squat of about {kg.value:.0f} {units.mass_word} "
        f"({kg.low:.0f} to {kg.high:.0f}), {squat.value / assessment.mass_kg:.2f} x body mass.",
    )
    if assessment.best_drop_m is not None:
        say(console, f"Best box for drop jumps: {units.height(assessment.best_drop_m)}.")


def _next_tests(console: Console, assessment: Assessment) -> None:
    heading(console, "Next tests, the most telling first")
    if not assessment.next_tests:
        say(console, "None that the equipment and the cautions allow.")
        return
    if assessment.next_tests[0].information_bits < _SETTLED_BITS:
        say(
            console,
            "No test would change which quality is limiting. Test the jump again after the block.",
        )
        return
    for number, test in enumerate(assessment.next_tests[:_TESTS_SHOWN], start=1):
        say(
            console,
            f"{number}. {capital(test.title)} "
            f"({test.minutes:.0f} min, {test.risk} risk, {test.information_bits:.2f} bits). "
            f"{test.why}",
        )


def _goal(console: Console, outlook: GoalOutlook, units: Measures) -> None:
    heading(console, "Goal")
    what = outlook.goal.what or "the goal"
    needed = f"{outlook.needed_m / units.length:.1f} {units.length_word}"
    say(console, f"For {what} a jump of {needed} is needed, as it is measured here.")
    missing = outlook.missing_m
    if missing.value > 0:
        say(
            console,
            f"Now {units.height(outlook.now_m)}: {missing.value / units.length:.1f} "
            f"{units.length_word} short.",
        )
    else:
        say(console, f"Now {units.height(outlook.now_m)}: within reach already.")
    if outlook.probability is not None and outlook.expected_m is not None:
        assert outlook.goal.date is not None
        day = f"{outlook.goal.date.day} {outlook.goal.date:%B %Y}"
        say(
            console,
            f"With the ordinary response, {units.height(outlook.expected_m)} by {day}: "
            f"reached with a probability of {per_cent(outlook.probability)}.",
        )
    elif outlook.goal.date is None:
        say(console, "No date is set, so no probability can be given.")


def _profile(console: Console, profile: ForceVelocityProfile | None, why: str) -> None:
    heading(console, "Published force-velocity profile")
    if profile is None:
        say(console, why)
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
    table(console, rows)
    if why:
        say(console, why)
