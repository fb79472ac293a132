"""``saltus example``: an invented squad to try everything on."""

from pathlib import Path

import typer

__all__ = ["example"]


def example(
    folder: Path = typer.Argument(help="Folder to write to; it is made if it is not there."),
    if_changed: bool = typer.Option(
        False, "--if-changed", help="Do nothing if this version wrote the squad there already."
    ),
) -> None:
    """Write an invented squad: records to assess and plan for, and recordings to analyse."""
    from saltus.record.example.stamp import is_written

    if if_changed and is_written(folder):
        typer.echo(f"The invented squad is in {folder} already.")
        return
    from saltus.record.example.folder import write_example

    records = write_example(folder)
    typer.echo(f"Wrote an invented squad of {len(records)} to {folder}:")
    for record in records:
        typer.echo(f"  {record}")
    typer.echo(f"Try: saltus assess {records[0]}")
