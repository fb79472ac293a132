"""``saltus follow``: what really changed, what training brought, and what it cost."""

from pathlib import Path

import typer

from saltus.cli.options import Units, day_given

__all__ = ["follow"]


def follow(
    record: Path = typer.Argument(help="The athlete's record (TOML)."),
    on: str | None = typer.Option(
        None, "--on", metavar="DATE", help="Day to speak of; the latest test's otherwise."
    ),
    units: Units = typer.Option(Units.METRIC, help="Units of the printed figures."),
    as_json: bool = typer.Option(False, "--json", help="Print one JSON document instead (SI)."),
) -> None:
    """Tell which changes are real, what each block brought, what training cost, what to do now."""
    import saltus.record as records
    from saltus.record.following import follow_record
    from saltus.record.known import posterior_of
    from saltus.training.document import read_plan_file
    from saltus.training.method_file import load_method

    day = None if on is None else day_given(on, "--on")
    athlete = records.read(record)
    method = load_method(athlete.method_path)
    plan = (
        None if athlete.plan_path is None else read_plan_file(athlete.plan_path, method.exercises)
    )
    known = posterior_of(athlete, on=day, method=method)
    found = follow_record(athlete, known, method, plan=plan)
    if as_json:
        import json

        from saltus.progress.document import follow_document

        typer.echo(json.dumps(follow_document(found), indent=2, ensure_ascii=False))
        return
    from rich.console import Console

    from saltus.cli.follow_text import print_follow

    print_follow(
        Console(), found, imperial=units is Units.IMPERIAL, notes=(*known.left_out, *athlete.notes)
    )
