"""A figure as a file: SVG for the page, PDF and PNG for print and mail."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import altair as alt
import vl_convert

from saltus.errors import UsageError
from saltus.figures.theme import LIGHT, Palette, config

__all__ = ["FORMATS", "Figure", "as_svg", "check_path", "save", "specification"]

FORMATS = (".svg", ".pdf", ".png")

_OPENING_TAG = re.compile(r"<svg\b[^>]*>")
_TABULAR = "<style>text{font-variant-numeric:tabular-nums}</style>"


def check_path(path: Path) -> None:
    """Raise a UsageError unless a figure can be written under that name."""
    if path.suffix.lower() not in FORMATS:
        raise UsageError(
            f"A figure cannot be written as {path.name}: end the name in {', '.join(FORMATS)}."
        )
    if not path.parent.is_dir():
        raise UsageError(f"{path} cannot be written: there is no folder {path.parent}.")


@dataclass(frozen=True, slots=True)
class Figure:
    """A chart and the samples it draws.

    Parameters
    ----------
    chart : Altair chart
        It refers to its samples by name (``alt.NamedData``).
    samples : mapping of str to list of dict
        Rows of each named set. They are kept out of the chart because Altair copies and checks
        every row that is inside one.
    """

    chart: alt.TopLevelMixin
    samples: Mapping[str, Sequence[Mapping[str, Any]]] = field(default_factory=dict)


def specification(figure: Figure, palette: Palette = LIGHT) -> dict[str, Any]:
    """Give the Vega-Lite specification of `figure` in the common theme."""
    themed: Any = figure.chart.properties(config=alt.Config(**config(palette)))
    specified: dict[str, Any] = themed.to_dict()
    specified["datasets"] = {**specified.get("datasets", {}), **figure.samples}
    return specified


def as_svg(figure: Figure) -> str:
    """Draw `figure` as SVG, with digits of even width."""
    svg: str = vl_convert.vegalite_to_svg(specification(figure))
    return _OPENING_TAG.sub(lambda tag: tag.group() + _TABULAR, svg, count=1)


def save(figure: Figure, path: Path) -> None:
    """Write `figure` as SVG, PDF or PNG, by the extension of `path`.

    Raises
    ------
    UsageError
        If the extension is none of these, or the file cannot be written.
    """
    check_path(path)
    suffix = path.suffix.lower()
    if suffix == ".svg":
        content = as_svg(figure).encode()
    elif suffix == ".pdf":
        content = vl_convert.vegalite_to_pdf(specification(figure))
    else:
        content = vl_convert.vegalite_to_png(specification(figure), scale=2)
    try:
        path.write_bytes(content)
    except OSError as error:
        raise UsageError(f"{path} cannot be written: {error.strerror or error}.") from error
