"""``saltus assess``: what holds an athlete's jump back, as a coach would say it."""

import datetime as dt
from enum import StrEnum
from pathlib import Path

import typer

__all__ = ["Units", "assess"]


class Units(StrEnum):
    """Units in which figures are told."""

    METRIC = "metric"
    IMPERIAL = "imperial"


def assess(
    record: Path = typer.Argument(help="The athlete's record (TOML)."),
    on: str | None = typer.Option(
        None, "--on", metavar="DATE", help="Day to speak of; the latest test's otherwise."
    ),
    units: Units = typer.Option(Units.METRIC, help="Units of the printed figures."),
    decided: float = typer.Option(
        0.7, min=0.5, max=1.0, help="Probability from which a limiting quality is named."
    ),
    as_json: bool = typer.Option(False, "--json", help="Print one JSON document instead (SI)."),
) -> None:
    """Tell which quality limits the jump, what each is worth, and which test to do next."""
    import saltus.record as records
    from saltus.athlete.assess import assess as assess_athlete
    from saltus.errors import UsageError

    try:
        day = None if on is None else dt.date.fromisoformat(on)
    except ValueError as error:
        raise UsageError(f"--on {on} is no date: write it as 2026-11-25.") from error
    athlete = records.read(record)
    assessment = assess_athlete(
        athlete.person,
        athlete.observations,
        blocks=athlete.blocks,
        goal=athlete.goal,
        pains=athlete.pains,
        restrictions=athlete.restrictions,
        on=day,
        decided=decided,
    )
    if as_json:
        import json

        from saltus.athlete.document import assessment_document

        typer.echo(json.dumps(assessment_document(assessment), indent=2, ensure_ascii=False))
        return
    from rich.console import Console

    from saltus.cli.assessment_text import print_assessment

    print_assessment(Console(), assessment, imperial=units is Units.IMPERIAL, notes=athlete.notes)
