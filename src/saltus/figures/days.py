"""The axis of days that figures over time share."""

import datetime as dt
from collections.abc import Iterable
from typing import Any

import altair as alt

__all__ = ["day_axis"]

_SHORT = dt.timedelta(days=60)
_LONG = dt.timedelta(days=550)


def day_axis(days: Iterable[str]) -> alt.X:
    """The field ``date`` along x: no label twice, however short or long the time.

    Parameters
    ----------
    days : iterable of str
        ISO dates of what is drawn.
    """
    told = sorted(dt.date.fromisoformat(day) for day in days)
    span = told[-1] - told[0] if told else dt.timedelta(0)
    ticks: dict[str, Any]
    if told and span == dt.timedelta(0):
        only = alt.DateTime(year=told[0].year, month=told[0].month, date=told[0].day, utc=True)
        ticks = {"values": [only], "format": "%-d %b"}
    elif span < _SHORT:
        ticks = {"tickCount": {"interval": "week", "step": 1}, "format": "%-d %b"}
    elif span < _LONG:
        ticks = {"tickCount": {"interval": "month", "step": 1}, "format": "%b %Y"}
    else:
        ticks = {"tickCount": 5, "format": "%b %Y"}
    # Days of the calendar, the same wherever the page is read.
    return alt.X(
        "date:T",
        scale=alt.Scale(type="utc", padding=10),
        axis=alt.Axis(title=None, grid=False, labelOverlap=True, labelSeparation=8, **ticks),
    )
