"""``saltus plan``: a dated programme to the day that counts."""

from pathlib import Path

import typer

from saltus.cli.options import Units, day_given

__all__ = ["plan"]


def plan(
    record: Path = typer.Argument(help="The athlete's record (TOML)."),
    start: str | None = typer.Option(
        None, "--from", metavar="DATE", help="First day to plan; the record's own otherwise."
    ),
    method: Path | None = typer.Option(
        None, "--method", help="A method of your own (TOML); the record's own otherwise."
    ),
    current: Path | None = typer.Option(
        None,
        "--current",
        help="The plan that the athlete has (as --json printed it): the new one stays close to "
        "it and tells what changed. The record's own otherwise.",
    ),
    missed: list[str] = typer.Option(
        [], metavar="DATE", help="A session of the current plan that was missed. May be repeated."
    ),
    weeks: int | None = typer.Option(None, min=1, help="Print so many weeks only."),
    units: Units | None = typer.Option(
        None, help="Units of what is printed; those of the gym otherwise."
    ),
    as_json: bool = typer.Option(False, "--json", help="Print one JSON document instead (SI)."),
) -> None:
    """Lay out a dated programme to the day that counts, in loads that this gym can make."""
    import saltus.record as records
    from saltus.errors import UsageError
    from saltus.record.following import assessment_for_planning
    from saltus.record.known import posterior_of
    from saltus.training.document import read_plan_file
    from saltus.training.method_file import load_method
    from saltus.training.planner import make_plan
    from saltus.training.replan import replan

    first = None if start is None else day_given(start, "--from")
    skipped = [day_given(day, "--missed") for day in missed]
    athlete = records.read(record)
    rules = load_method(method or athlete.method_path)
    situation = athlete.situation if first is None else athlete.situation_from(first)
    assessment = assessment_for_planning(athlete, posterior_of(athlete, method=rules))
    path = current or athlete.plan_path
    known = None if path is None else read_plan_file(path, rules.exercises)
    if known is None:
        if skipped:
            raise UsageError("--missed needs the plan that was missed: give it with --current.")
        made = make_plan(athlete.person, assessment, situation, rules)
    else:
        made, _ = replan(
            known,
            athlete.person,
            assessment,
            situation,
            rules,
            from_date=max(situation.start, known.start),
            missed=skipped,
        )
    if as_json:
        import json

        from saltus.training.document import plan_document

        typer.echo(json.dumps(plan_document(made), indent=2, ensure_ascii=False))
        return
    from rich.console import Console

    from saltus.cli.plan_text import print_plan

    print_plan(
        Console(),
        made,
        rules,
        pounds=situation.gym.unit == "lb" if units is None else units is Units.IMPERIAL,
        inches=units is Units.IMPERIAL,
        weeks=weeks,
    )
