"""``saltus demo``: the coach's pages on an invented squad."""

from pathlib import Path

import typer

__all__ = ["demo"]


def demo(
    port: int = typer.Option(8427, min=0, max=65535, help="Port; 0 takes any that is free."),
    folder: Path | None = typer.Option(
        None, "--folder", help="Folder for the demo's data; one in the user's cache otherwise."
    ),
    prepare_only: bool = typer.Option(
        False, "--prepare-only", help="Make the data, and do not serve the pages."
    ),
    fresh: bool = typer.Option(
        False, "--fresh", help="Throw away what was changed in the demo, and begin anew."
    ),
) -> None:
    """Open the coach's pages on an invented squad, apart from your own data."""
    from saltus.web.demo import default_folder, prepare_demo, serve_demo

    place = default_folder() if folder is None else folder
    if prepare_only:
        prepare_demo(place, typer.echo, fresh=fresh)
    else:
        serve_demo(place, "127.0.0.1", port, typer.echo, fresh=fresh)
