"""``saltus backup`` and ``saltus restore``: everything in one file, and back."""

from pathlib import Path

import typer

__all__ = ["backup", "restore"]


def backup(
    to: Path | None = typer.Option(
        None, "--to", help="File to write; among the other backups otherwise."
    ),
) -> None:
    """Back up the database and all recordings; pages may be open meanwhile."""
    from saltus.web.backups import make
    from saltus.web.serve import place_of_backups

    made = make(place_of_backups(), to=to)
    typer.echo(f"Everything is in {made.path} ({made.size / 1e6:.1f} MB).")


def restore(
    file: Path = typer.Argument(..., exists=True, dir_okay=False, help="A backup."),
    yes: bool = typer.Option(False, "--yes", help="Do not ask."),
) -> None:
    """Make everything as it was in a backup; the present state is backed up before."""
    from saltus.web.backups import restore as put_back
    from saltus.web.serve import place_of_backups

    place = place_of_backups()
    if not yes:
        typer.confirm(f"Replace everything in {place.database.parent} by {file}?", abort=True)
    before = put_back(place, file)
    typer.echo("Done." if before is None else f"Done. What was before is in {before.path}.")
