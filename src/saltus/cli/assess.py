"""``saltus assess``: what holds an athlete's jump back, as a coach would say it."""

from pathlib import Path
from typing import TYPE_CHECKING

import typer

from saltus.cli.options import Units, day_given

if TYPE_CHECKING:
    from saltus.athlete.qualities import Quality

__all__ = ["assess"]


def assess(
    record: Path = typer.Argument(help="The athlete's record (TOML)."),
    on: str | None = typer.Option(
        None, "--on", metavar="DATE", help="Day to speak of; the latest test's otherwise."
    ),
    units: Units = typer.Option(Units.METRIC, help="Units of the printed figures."),
    decided: float = typer.Option(
        0.7, min=0.5, max=1.0, help="Probability from which a limiting quality is named."
    ),
    what_if: list[str] = typer.Option(
        [],
        metavar="QUALITY=PERCENT",
        help="Also tell the jump if a quality changed by so many per cent, such as "
        "max_strength=+10; body_mass takes kilograms (body_mass=+2). May be repeated.",
    ),
    as_json: bool = typer.Option(False, "--json", help="Print one JSON document instead (SI)."),
) -> None:
    """Tell which quality limits the jump, what each is worth, and which test to do next."""
    import saltus.record as records
    from saltus.athlete.worth import what_if as what_if_athlete
    from saltus.errors import UsageError
    from saltus.record.known import assessment_of, posterior_of

    factors, mass_change_kg = _changes(what_if)

    day = None if on is None else day_given(on, "--on")
    athlete = records.read(record)
    known = posterior_of(athlete, on=day)
    assessment = assessment_of(athlete, known, decided=decided)
    supposed = None
    if what_if:
        if mass_change_kg and assessment.body_mass is None:
            raise UsageError(
                "Figures about body mass are left out for minors and where the date of birth is "
                "not on record."
            )
        supposed = what_if_athlete(known.posterior, factors, mass_change_kg=mass_change_kg)
    if as_json:
        import json

        from saltus.athlete.document import assessment_document

        document = assessment_document(assessment, what_if=supposed)
        typer.echo(json.dumps(document, indent=2, ensure_ascii=False))
        return
    from rich.console import Console

    from saltus.cli.assessment_text import print_assessment

    print_assessment(
        Console(),
        assessment,
        imperial=units is Units.IMPERIAL,
        notes=athlete.notes,
        what_if=supposed,
    )


def _changes(what_if: list[str]) -> "tuple[dict[Quality, float], float]":
    """Factors of the qualities and change of body mass in kg that were asked about."""
    from saltus.athlete.qualities import Quality
    from saltus.errors import UsageError

    factors, mass_change_kg = {}, 0.0
    for change in what_if:
        name, _, amount = change.partition("=")
        try:
            figure = float(amount)
            if name == "body_mass":
                mass_change_kg = figure
                continue
            factors[Quality(name)] = 1 + figure / 100
        except ValueError as error:
            names = ", ".join([*Quality, "body_mass"])
            raise UsageError(
                f"--what-if {change} cannot be read: write it as max_strength=+10, with one of "
                f"{names}."
            ) from error
        if not 0.5 <= factors[Quality(name)] <= 2.0:
            raise UsageError(f"--what-if {change}: a change between -50 and +100 per cent, please.")
    return factors, mass_change_kg
