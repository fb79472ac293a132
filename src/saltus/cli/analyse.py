"""``saltus analyse``: recordings of a force plate in, measured jumps out."""

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

import typer

from saltus.errors import SaltusError, UsageError

if TYPE_CHECKING:
    from saltus.jumps.jump import Analysis, JumpKind
    from saltus.recordings.options import ReadOptions

__all__ = ["analyse"]

_COLUMNS = "How to read a file that does not say it itself"
_RESULTS = "Where the results go"


def analyse(
    paths: list[Path] = typer.Argument(
        ..., metavar="PATH...", help="Recordings, or folders of them.", show_default=False
    ),
    kind: str | None = typer.Option(
        None,
        metavar="KIND",
        help="What was done, if Saltus takes it for something else: cmj, sj, dj, hops or "
        "isometric.",
    ),
    time: str | None = typer.Option(
        None, help="Time column, by name or number.", rich_help_panel=_COLUMNS
    ),
    force: str | None = typer.Option(
        None, help="Column of both feet together.", rich_help_panel=_COLUMNS
    ),
    left: str | None = typer.Option(
        None, help="Column of the left foot.", rich_help_panel=_COLUMNS
    ),
    right: str | None = typer.Option(
        None, help="Column of the right foot.", rich_help_panel=_COLUMNS
    ),
    rate: float | None = typer.Option(
        None,
        metavar="HZ",
        help="Sampling rate, for files without a usable time; with a single file it overrides "
        "its time.",
        rich_help_panel=_COLUMNS,
    ),
    unit: str | None = typer.Option(
        None,
        metavar="UNIT",
        help="Unit of the force: N, kN, kgf, lbf or BW.",
        rich_help_panel=_COLUMNS,
    ),
    mass: float | None = typer.Option(
        None,
        metavar="KG",
        help="Body mass in kg, where force is in body weights.",
        rich_help_panel=_COLUMNS,
    ),
    resample: bool = typer.Option(
        False,
        "--resample",
        help="Resample uneven time evenly, and bridge gaps of up to 10 ms.",
        rich_help_panel=_COLUMNS,
    ),
    first_plate: str | None = typer.Option(
        None,
        metavar="FOOT",
        help="Foot on the first plate: left or right.",
        rich_help_panel=_COLUMNS,
    ),
    measures: bool = typer.Option(
        False, "--measures", help="Print every measure.", rich_help_panel=_RESULTS
    ),
    as_json: bool = typer.Option(
        False, "--json", help="Print one JSON document instead.", rich_help_panel=_RESULTS
    ),
    out: Path | None = typer.Option(
        None,
        metavar="FILE",
        help="Write all jumps to FILE.csv, .parquet or .json.",
        rich_help_panel=_RESULTS,
    ),
    figure: Path | None = typer.Option(
        None,
        metavar="FILE",
        help="Draw the jumps over time into FILE.svg, .pdf or .png.",
        rich_help_panel=_RESULTS,
    ),
) -> None:
    """Find the jumps in force-plate recordings, measure them and say how far to trust them.

    Reads delimited text, motion-storage tables and C3D. A file that cannot be read is named,
    with the reason; the others are still analysed, and the exit status is 1.
    """
    from rich.console import Console

    from saltus.cli.analysis_report import print_analysis, print_failure, print_legend
    from saltus.jumps.export import (
        analysis_document,
        check_table_path,
        documents_as_json,
        failure_document,
        write_jumps,
    )
    from saltus.recordings.options import ReadOptions

    if out is not None:
        check_table_path(out)
    if figure is not None:
        from saltus.figures.draw import check_path

        check_path(figure)
    options = ReadOptions(
        time=time,
        force=force,
        left=left,
        right=right,
        rate_hz=rate,
        unit=unit,
        mass_kg=mass,
        resample=resample,
        first_plate=_foot(first_plate),
    )
    console = Console(highlight=False)
    documents, analyses = [], []
    for file, outcome in _outcomes(paths, options, _kind(kind)):
        if isinstance(outcome, SaltusError):
            documents.append(failure_document(file, outcome))
            if not as_json:
                print_failure(console, file, outcome)
            continue
        documents.append(analysis_document(file, outcome))
        if figure is not None:
            analyses.append(outcome)
        if not as_json:
            print_analysis(console, file, outcome, all_measures=measures)
    if as_json:
        typer.echo(documents_as_json(documents))
    elif any(document.get("jumps") for document in documents):
        print_legend(console)
    if out is not None:
        write_jumps(documents, out)
    if figure is not None:
        _draw(analyses, figure)
    if any("error" in document for document in documents):
        raise typer.Exit(1)


def _foot(first_plate: str | None) -> Literal["left", "right"] | None:
    match first_plate:
        case None | "left" | "right":
            return first_plate
        case _:
            raise UsageError(f"--first-plate is left or right, got {first_plate}.")


def _kind(name: str | None) -> "JumpKind | None":
    from saltus.jumps.jump import JumpKind

    if name is None:
        return None
    known = {kind.name.lower(): kind for kind in JumpKind} | {kind.value: kind for kind in JumpKind}
    if name.lower() not in known:
        short = ", ".join(kind.name.lower() for kind in JumpKind)
        raise UsageError(f"--kind {name} is nothing known here: use {short}.")
    return known[name.lower()]


def _outcomes(
    paths: Sequence[Path], options: "ReadOptions", kind: "JumpKind | None"
) -> "Iterator[tuple[str, Analysis | SaltusError]]":
    """Analysis of each recording, or why there is none, with progress on a terminal."""
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

    from saltus.jumps.analyse import analyse as analyse_jumps
    from saltus.recordings.files import find_recordings

    found: dict[Path, SaltusError | None] = {}
    for path in paths:
        try:
            found.update(dict.fromkeys(find_recordings([path])))
        except SaltusError as error:
            found[path] = error
    alone = len(found) == 1
    console = Console(stderr=True)
    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn())
    with Progress(
        *columns, console=console, transient=True, disable=alone or not console.is_terminal
    ) as progress:
        task = progress.add_task("analysing", total=len(found))
        for path, missing in found.items():
            progress.update(task, description=path.name)
            outcome: Any = missing
            if missing is None:
                try:
                    outcome = analyse_jumps(_read(path, options, alone=alone), kind=kind)
                except SaltusError as error:
                    outcome = error
            yield str(path), outcome
            progress.advance(task)


def _read(path: Path, options: "ReadOptions", *, alone: bool) -> "Any":
    """Read one recording; of several, the rate given is for those that need it."""
    from dataclasses import replace

    from saltus.errors import RecordingError
    from saltus.recordings.read import read

    if alone or options.rate_hz is None:
        return read(path, options=options)
    try:
        return read(path, options=replace(options, rate_hz=None))
    except RecordingError:
        return read(path, options=options)


def _draw(analyses: "Sequence[Analysis]", path: Path) -> None:
    """Draw all jumps; further pages get a number in their names."""
    from saltus.figures.draw import save
    from saltus.figures.jump_trace import pages

    drawn = pages(analyses)
    if not drawn:
        raise UsageError(f"There is no jump to draw, so {path.name} was not written.")
    for number, page in enumerate(drawn, start=1):
        name = path if number == 1 else path.with_stem(f"{path.stem}-{number}")
        save(page, name)
        typer.echo(f"Drawn: {name}", err=True)
