"""A figure as a file: SVG for the page, PDF and PNG for print and mail."""

import re
from pathlib import Path

import altair as alt
import vl_convert

from saltus.errors import UsageError
from saltus.figures.theme import config

__all__ = ["FORMATS", "as_svg", "check_format", "save"]

FORMATS = (".svg", ".pdf", ".png")

_OPENING_TAG = re.compile(r"<svg\b[^>]*>")
_TABULAR = "<style>text{font-variant-numeric:tabular-nums}</style>"


def check_format(path: Path) -> None:
    """Raise a UsageError unless a figure can be written under that name."""
    if path.suffix.lower() not in FORMATS:
        raise UsageError(
            f"A figure cannot be written as {path.name}: end the name in {', '.join(FORMATS)}."
        )


def _specification(chart: alt.TopLevelMixin) -> str:
    themed = chart.properties(config=alt.Config(**config()))
    return str(themed.to_json(indent=None))


def as_svg(chart: alt.TopLevelMixin) -> str:
    """Draw `chart` as SVG in the common theme, with figures of even width."""
    svg: str = vl_convert.vegalite_to_svg(_specification(chart))
    return _OPENING_TAG.sub(lambda tag: tag.group() + _TABULAR, svg, count=1)


def save(chart: alt.TopLevelMixin, path: Path) -> None:
    """Write `chart` as SVG, PDF or PNG, by the extension of `path`.

    Raises
    ------
    UsageError
        If the extension is none of these, or the file cannot be written.
    """
    check_format(path)
    suffix = path.suffix.lower()
    if suffix == ".svg":
        content = as_svg(chart).encode()
    elif suffix == ".pdf":
        content = vl_convert.vegalite_to_pdf(_specification(chart))
    else:
        content = vl_convert.vegalite_to_png(_specification(chart), scale=2)
    try:
        path.write_bytes(content)
    except OSError as error:
        raise UsageError(f"{path} cannot be written: {error.strerror or error}.") from error
