"""The command line: parse, one call into the core, print.

Only Typer is imported here; each command imports what it needs when it runs, so that
``saltus --help`` starts at once.
"""

import sys

import typer

from saltus import __version__
from saltus.cli.analyse import analyse
from saltus.cli.assess import assess
from saltus.cli.backup import backup, restore
from saltus.cli.demo import demo
from saltus.cli.example import example
from saltus.cli.follow import follow
from saltus.cli.plan import plan
from saltus.cli.serve import serve
from saltus.cli.simulate import simulate
from saltus.errors import SaltusError

__all__ = ["app", "main"]

app = typer.Typer(
    name="saltus",
    help="Which quality limits an athlete's jump, and a plan to train it.",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
)


def _print_version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"saltus {__version__}")
        raise typer.Exit


@app.callback()
def _root(
    version: bool = typer.Option(
        False, "--version", help="Print the version.", callback=_print_version, is_eager=True
    ),
) -> None:
    pass


app.command()(analyse)
app.command()(assess)
app.command()(backup)
app.command()(demo)
app.command()(example)
app.command()(follow)
app.command()(plan)
app.command()(restore)
app.command()(serve)
app.command()(simulate)


def main() -> None:
    """Run the command line; an error of ours becomes one message and exit status 1."""
    try:
        app()
    except SaltusError as error:
        typer.secho(f"saltus: {error}", err=True, fg=typer.colors.RED)
        sys.exit(1)
