"""Kinds told apart by colour and shape at once, so that neither is needed alone."""

from collections.abc import Sequence

import altair as alt

__all__ = ["told_apart"]

_SHORT = 20
"""Letters of a name beside which another one has room on a phone."""


def told_apart(
    field: str, names: Sequence[str], colours: Sequence[str], shapes: Sequence[str]
) -> tuple[alt.Color, alt.Shape]:
    """Colour and shape of each kind, with one legend below; none for a single kind.

    Parameters
    ----------
    field : str
        Which field says the kind.
    names, colours, shapes : sequence of str
        Of the kinds, in order.
    """
    long = max(map(len, names), default=0) > _SHORT
    below = alt.Legend(
        title=None,
        orient="bottom",
        symbolOpacity=1,
        labelLimit=0,
        columns=1 if long else alt.Undefined,
    )
    legend = below if len(names) > 1 else None
    return (
        alt.Color(f"{field}:N", scale=alt.Scale(domain=names, range=colours), legend=legend),
        alt.Shape(f"{field}:N", scale=alt.Scale(domain=names, range=shapes), legend=legend),
    )
