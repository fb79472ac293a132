"""Charts as they stand on a page: the definition of a figure, fitted to its place."""

from typing import Any

from saltus.figures.draw import Figure, specification
from saltus.figures.theme import Palette
from saltus.web.chart_locale import localised

__all__ = ["on_page"]


def on_page(figure: Figure, palette: Palette) -> dict[str, Any]:
    """Specification of a figure in the reader's language, on the ground of the page.

    It is as wide as the page allows, its own margins included.

    Parameters
    ----------
    figure : Figure
        Drawn with the width "container".
    palette : Palette
        With which it was drawn.
    """
    specified = specification(figure, palette)
    specified["autosize"] = {"type": "fit-x", "contains": "padding"}
    specified["config"] |= {"background": "transparent", "padding": 4}
    return localised(specified)
