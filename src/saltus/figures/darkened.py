"""A figure that was drawn for paper, in the dark: its colours exchanged one for one."""

from typing import Any

from saltus.figures.theme import DARK, LIGHT, OKABE_ITO

__all__ = ["darkened"]

_COLOURS = {
    LIGHT.paper: DARK.paper,
    LIGHT.ink: DARK.ink,
    LIGHT.muted: DARK.muted,
    LIGHT.grid: DARK.grid,
    OKABE_ITO["black"]: DARK.ink,
    OKABE_ITO["blue"]: OKABE_ITO["sky"],
    "#FFFFFF": DARK.grid,
}


def darkened(specification: Any) -> Any:
    """Give the same Vega-Lite specification with the colours of :data:`theme.DARK`.

    The samples are left as they are; everything else is searched for colours.
    """
    if isinstance(specification, dict):
        return {
            key: value if key == "datasets" else darkened(value)
            for key, value in specification.items()
        }
    if isinstance(specification, list):
        return [darkened(each) for each in specification]
    if isinstance(specification, str):
        return _COLOURS.get(specification.upper(), specification)
    return specification
