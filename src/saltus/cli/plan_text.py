"""A plan in the terminal: week by week, session by session."""

import datetime as dt

from rich.console import Console
from rich.padding import Padding
from rich.table import Table

from saltus.athlete.qualities import Quality
from saltus.quantities import CENTIMETRE, INCH, POUND
from saltus.training.method import Method
from saltus.training.plan import Item, Plan, Session, Week

__all__ = ["print_plan"]

_WIDE = 112
"""Columns from which the cue stands beside each item; otherwise it stands below the plan."""
_MINUTE_S = 60
_SHORT = {
    Quality.MAX_STRENGTH: "strength",
    Quality.RATE_OF_FORCE_DEVELOPMENT: "RFD",
    Quality.PUSH_OFF_SPEED: "speed",
    Quality.STRETCH_SHORTENING_GAIN: "SSC",
}
"""What an item is mainly for, as short as the trade says it."""


class _Units:
    """How weights and heights are told."""

    def __init__(self, pounds: bool, inches: bool) -> None:
        self._pounds = pounds
        self._inches = inches

    def load(self, kilograms: float) -> str:
        """Weight with its unit."""
        return f"{kilograms / POUND:.4g} lb" if self._pounds else f"{kilograms:.4g} kg"

    def height(self, metres: float) -> str:
        """Height with its unit."""
        return f"{metres / INCH:.0f} in" if self._inches else f"{metres / CENTIMETRE:.0f} cm"


def print_plan(
    console: Console,
    plan: Plan,
    method: Method,
    *,
    pounds: bool,
    inches: bool,
    weeks: int | None = None,
) -> None:
    """Print a plan for a coach: what could not be met first, then the calendar.

    Parameters
    ----------
    console : Console
        Where to.
    plan : Plan
        What.
    method : Method
        Names of phases, exercises and rules.
    pounds, inches : bool
        Units of weights and of heights.
    weeks : int, optional
        Print so many weeks only.
    """
    units = _Units(pounds, inches)
    shown = plan.weeks if weeks is None else plan.weeks[:weeks]
    console.print(
        f"[bold]{plan.athlete}[/bold]  {_day(plan.start)} to {_day(plan.goal_date)}, "
        f"{_counted(len(plan.weeks), 'week')}, {_counted(len(plan.sessions), 'session')}"
    )
    console.print(f"[dim]{_proof(plan)}[/dim]")
    _listed(console, "What could not be met", plan.unmet, "yellow")
    _listed(console, "What changed", plan.changes, "cyan")
    _listed(console, "Cautions", plan.cautions, "yellow")
    cues: dict[str, str] = {}
    phase = ""
    for week in shown:
        if week.phase != phase:
            phase = week.phase
            _print_phase(console, plan, phase, method)
        _print_week(console, week, method, units, cues)
    if len(shown) < len(plan.weeks):
        left = _counted(len(plan.weeks) - len(shown), "more week")
        console.print(f"\n[dim]{left}: leave out --weeks to see all.[/dim]")
    if shown:
        console.print(
            "\n[dim]Last column, what it is mainly for: strength (max strength), RFD (rate of "
            "force development), speed (push-off speed), SSC (stretch-shortening gain). Per "
            "cents are of the estimated maximum.[/dim]"
        )
    if cues and console.width < _WIDE:
        console.print("\n[bold]What to think of[/bold]")
        for name, cue in cues.items():
            console.print(Padding(f"[bold]{name}[/bold]: {cue}", (0, 0, 0, 2)))


def _proof(plan: Plan) -> str:
    if not plan.sessions:
        return "No session could be laid out."
    return (
        f"Proven to lie within {100 * plan.solver.gap:.1f} % of the best expected gain under "
        f"these rules, in {plan.solver.seconds:.1f} s."
    )


def _listed(console: Console, title: str, lines: tuple[str, ...], colour: str) -> None:
    if not lines:
        return
    console.print(f"\n[bold {colour}]{title}[/bold {colour}]")
    for line in lines:
        table = Table.grid(padding=(0, 1))
        table.add_column(width=2, justify="right")
        table.add_column(overflow="fold")
        table.add_row("-", _plain(line))
        console.print(table)


def _plain(text: str) -> str:
    """Text in which square brackets mean nothing."""
    return text.replace("[", "\\[")


def _print_phase(console: Console, plan: Plan, phase_id: str, method: Method) -> None:
    names = {phase.id: phase for phase in method.phases}
    phase = names.get(phase_id)
    number = sum(week.phase == phase_id for week in plan.weeks)
    name = phase.name if phase is not None else phase_id
    console.print(f"\n[bold]{name.upper()}[/bold]  {_counted(number, 'week')}")
    if phase is not None and phase.rule in method.rules:
        console.print(Padding(f"[italic]{_plain(method.rules[phase.rule].text)}[/italic]", (0, 2)))


def _print_week(
    console: Console, week: Week, method: Method, units: _Units, cues: dict[str, str]
) -> None:
    lighter = ", a lighter week" if week.back_off else ""
    if week.eased_after:
        lighter += f", eased in after {week.eased_after} days without lifts or jumps"
    console.print(f"\n[bold]Week of {_day(week.start)}[/bold]{lighter}")
    if not week.sessions:
        console.print(Padding("[dim]no session[/dim]", (0, 2)))
    for session in week.sessions:
        _print_session(console, session, method, units, cues)


def _print_session(
    console: Console, session: Session, method: Method, units: _Units, cues: dict[str, str]
) -> None:
    landings = f", {_counted(round(session.landings), 'landing')}" if session.landings else ""
    date = session.date
    console.print(
        f"  [bold]{date:%a} {date.day} {date:%b}[/bold]  {session.minutes:.0f} min{landings}"
    )
    wide = console.width >= _WIDE
    table = Table.grid(padding=(0, 2))
    table.add_column(min_width=22, max_width=26)
    table.add_column(justify="right", no_wrap=True)
    table.add_column(justify="right", no_wrap=True)
    table.add_column(no_wrap=True)
    table.add_column(no_wrap=True)
    if wide:
        table.add_column(style="dim")
    for item in session.items:
        name = _name(item, method)
        if item.cue:
            cues.setdefault(name, _plain(item.cue))
        row = [name, f"{item.sets} x {item.reps}", _weight(item, units), _rest(item), _for(item)]
        table.add_row(*row, *([_plain(item.cue)] if wide else []))
    console.print(Padding(table, (0, 0, 0, 4)))


def _name(item: Item, method: Method) -> str:
    exercise = method.exercises.get(item.exercise)
    if exercise is None:
        return item.exercise
    return f"{exercise.name}, each leg" if exercise.per_side else exercise.name


def _weight(item: Item, units: _Units) -> str:
    parts = []
    if item.load_kg is not None:
        parts.append(units.load(item.load_kg))
        if item.percent is not None and item.percent_of != "body_mass":
            parts.append(f"({item.percent:.0f} %)")
    if item.box_m is not None:
        parts.append(f"at {units.height(item.box_m)}")
    if item.drop_m is not None:
        parts.append(f"from {units.height(item.drop_m)}")
    return " ".join(parts)


def _rest(item: Item) -> str:
    if item.sets == 1 and item.reps == 1:
        return ""
    if item.rest_s < 2 * _MINUTE_S:
        return f"rest {item.rest_s:.0f} s"
    return f"rest {item.rest_s / _MINUTE_S:g} min"


def _for(item: Item) -> str:
    return _SHORT.get(item.why.quality, "") if item.why.quality is not None else ""


def _day(date: dt.date) -> str:
    return f"{date:%a} {date.day} {date:%B %Y}"


def _counted(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
