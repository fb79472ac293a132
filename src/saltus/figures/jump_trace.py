"""Force, velocity and displacement of measured jumps over time, their phases shaded and named."""

import itertools
import math
import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import altair as alt
import numpy as np
from numpy.typing import NDArray

from saltus.figures.draw import Figure
from saltus.figures.theme import INK, MUTED, OKABE_ITO
from saltus.jumps.jump import Analysis, Jump, JumpKind, Motion, Trust
from saltus.jumps.motion import motion
from saltus.jumps.wording import shown, unit_shown
from saltus.quantities import CENTIMETRE

__all__ = ["MOST_ON_A_PAGE", "Trace", "page_of", "pages", "traces"]

MOST_ON_A_PAGE = 12
"""Jumps drawn on one page; more of them make more pages."""

_ACROSS = 3
_WIDE, _NARROW = 640, 300
_STRIP, _PANEL = 77, 130
_NAME_WIDTH = 8
_POINTS = 700
_BEFORE_S, _AFTER_S = 0.35, 0.6

_PHASE_TINT = {
    "weighing": "#B8B8B0",
    "unweighting": OKABE_ITO["sky"],
    "braking": OKABE_ITO["orange"],
    "propulsion": OKABE_ITO["green"],
    "flight": "#FFFFFF",
    "landing": OKABE_ITO["purple"],
}
_OTHER_TINTS = (OKABE_ITO["yellow"], OKABE_ITO["vermilion"], "#B8B8B0")


class _Curve(NamedTuple):
    field: str
    title: str
    colour: str


_CURVES = (
    _Curve("force", "force (N)", OKABE_ITO["black"]),
    _Curve("velocity", "velocity (m/s)", OKABE_ITO["blue"]),
    _Curve("displacement", "displacement (cm)", OKABE_ITO["vermilion"]),
)
_FEET = (("left", OKABE_ITO["vermilion"]), ("right", OKABE_ITO["blue"]))


@dataclass(frozen=True, slots=True)
class Trace:
    """What one cell of the page shows: a jump, a pull, or a whole series of hops.

    Parameters
    ----------
    analysis : Analysis
        Of the recording it is from.
    jumps : tuple of Jump
        One, or the hops of a series in order.
    number : int
        Its place in the recording, from 1.
    """

    analysis: Analysis
    jumps: tuple[Jump, ...]
    number: int


def traces(analyses: Iterable[Analysis]) -> list[Trace]:
    """List what there is to draw: every jump, the hops of a series together."""
    found = []
    for analysis in analyses:
        groups = itertools.groupby(
            enumerate(analysis.jumps),
            key=lambda item: ("series", item[1].series) if item[1].series else ("jump", item[0]),
        )
        for number, (_, members) in enumerate(groups, start=1):
            found.append(Trace(analysis, tuple(jump for _, jump in members), number))
    return found


def pages(analyses: Iterable[Analysis]) -> list[Figure]:
    """Draw every jump of some recordings.

    Parameters
    ----------
    analyses : iterable of Analysis
        In the order in which they are to be drawn.

    Returns
    -------
    list of Figure
        One jump fills a page; several stand side by side, :data:`MOST_ON_A_PAGE` on each page.
        Empty if there is no jump.
    """
    cells = traces(analyses)
    return [
        _page(cells[first : first + MOST_ON_A_PAGE])
        for first in range(0, len(cells), MOST_ON_A_PAGE)
    ]


def page_of(trace: Trace) -> Figure:
    """Draw one jump, or one series of hops, on a page of its own."""
    return _page([trace])


def _page(cells: Sequence[Trace]) -> Figure:
    samples: dict[str, list[dict[str, float]]] = {}
    width = _WIDE if len(cells) == 1 else _NARROW
    drawn: list[alt.VConcatChart] = []
    for first in range(0, len(cells), _ACROSS):
        row = cells[first : first + _ACROSS]
        subtitles = [_subtitle(cell, width) for cell in row]
        tallest = max(map(len, subtitles))
        for cell, lines in zip(row, subtitles, strict=True):
            # Blank lines keep the titles of a row level.
            level = lines + [" "] * (tallest - len(lines))
            name = f"jump{len(drawn)}"
            samples[name] = _samples(cell)
            drawn.append(_cell(cell, name, samples[name], level, width))
    if len(drawn) == 1:
        return Figure(drawn[0], samples)
    chart = alt.concat(*drawn, columns=_ACROSS, spacing={"row": 36, "column": 28})
    return Figure(
        chart.resolve_scale(x="independent", y="independent", color="independent"), samples
    )


def _cell(
    trace: Trace, name: str, rows: Sequence[dict[str, float]], subtitle: list[str], width: int
) -> alt.VConcatChart:
    """Strip of phase names over the curves of one trace, whose samples are called `name`."""
    span = _span(trace)
    bands = _bands(trace, span)
    panels: list[alt.LayerChart | alt.FacetChart] = [_strip(bands, span, width)] if bands else []
    curves = [curve for curve in _CURVES if any(curve.field in row for row in rows)]
    for curve in curves:
        force = curve.field == "force"
        panels.append(
            _panel(
                alt.NamedData(name),
                bands,
                curve,
                span,
                width,
                level=_body_weight(trace) if force else 0.0,
                feet=force and any("left" in row for row in rows),
                last=curve is curves[-1],
            )
        )
    title = alt.TitleParams(_title(trace), subtitle=subtitle, offset=8)
    return (
        alt.vconcat(*panels, spacing=6)
        .resolve_scale(x="independent", y="independent", color="independent")
        .properties(title=title)
    )


def _body_weight(trace: Trace) -> float | None:
    """Weight that was taken off the force, N, drawn as a line for the eye."""
    integration = trace.jumps[0].integration
    if integration is not None:
        return integration.weight_n
    whole = trace.analysis.body_weight_n
    return None if whole is None else whole.value


def _span(trace: Trace) -> tuple[float, float]:
    """Stretch that is drawn, s: the still stand before is cut short."""
    first, last = trace.jumps[0], trace.jumps[-1]
    start, end = first.start_s, last.end_s
    if first.onset_s is not None:
        start = max(start, first.onset_s - _BEFORE_S)
    if last.landing_s is not None:
        end = min(end, last.landing_s + _AFTER_S)
    return start, end


def _thin(force: NDArray[np.float64]) -> NDArray[np.intp]:
    """Samples to draw: all of them, or the lowest and the highest of each small stretch."""
    n = force.size
    if n <= 2 * _POINTS:
        return np.arange(n)
    edges = np.linspace(0, n, _POINTS + 1).astype(int)
    keep = {0, n - 1}
    for a, b in itertools.pairwise(edges):
        keep.add(a + int(np.argmin(force[a:b])))
        keep.add(a + int(np.argmax(force[a:b])))
    return np.array(sorted(keep))


def _samples(trace: Trace) -> list[dict[str, float]]:
    """Samples of a trace as rows, time in s, displacement in cm.

    Each hop of a series is integrated for itself, so each is drawn from its own contact to
    the next one's, as a line of its own (``part``).
    """
    start, end = _span(trace)
    begins = [start, *(jump.onset_s or jump.start_s for jump in trace.jumps[1:])]
    ends = [*begins[1:], end]
    rows = []
    for part, (jump, begin, stop) in enumerate(zip(trace.jumps, begins, ends, strict=True)):
        rows += _rows(trace.analysis, motion(trace.analysis, jump), begin, stop, part)
    return rows


def _rows(
    analysis: Analysis, seen: Motion, begin: float, stop: float, part: int
) -> list[dict[str, float]]:
    inside = np.flatnonzero((seen.time_s >= begin) & (seen.time_s <= stop))
    if inside.size == 0:
        return []
    inside = inside[_thin(seen.force_n[inside])]
    time = seen.time_s[inside]
    columns = {"time": time, "force": seen.force_n[inside]}
    recording = analysis.recording
    if recording.left_n is not None and recording.right_n is not None:
        place = np.rint((time - recording.start_s) * recording.rate_hz).astype(int)
        columns["left"], columns["right"] = recording.left_n[place], recording.right_n[place]
    if seen.velocity_m_s is not None and seen.displacement_m is not None:
        columns["velocity"] = seen.velocity_m_s[inside]
        columns["displacement"] = seen.displacement_m[inside] / CENTIMETRE
    names = list(columns)
    return [
        {"part": part}
        | {name: round(float(value), 4) for name, value in zip(names, values, strict=True)}
        for values in zip(*columns.values(), strict=True)
    ]


def _bands(trace: Trace, span: tuple[float, float]) -> list[dict[str, Any]]:
    """Phases as far as they lie within what is drawn."""
    others: dict[str, str] = {}
    bands = []
    for phase in (phase for jump in trace.jumps for phase in jump.phases):
        start, end = max(phase.start_s, span[0]), min(phase.end_s, span[1])
        if end <= start:
            continue
        name = phase.name.lower()
        tint = _PHASE_TINT.get(name) or others.setdefault(
            name, _OTHER_TINTS[len(others) % len(_OTHER_TINTS)]
        )
        bands.append(
            {
                "name": phase.name,
                "start": start,
                "end": end,
                "middle": (start + end) / 2,
                "tint": tint,
            }
        )
    return bands


def _time(field: str, span: tuple[float, float], axis: alt.Axis | None) -> alt.X:
    return alt.X(f"{field}:Q", axis=axis, scale=alt.Scale(domain=list(span), nice=False))


def _shading(
    bands: Sequence[dict[str, Any]], span: tuple[float, float], axis: alt.Axis | None
) -> alt.Chart:
    return (
        alt.Chart(alt.Data(values=list(bands)))
        .mark_rect(opacity=0.22)
        .encode(x=_time("start", span, axis), x2="end:Q", color=alt.Color("tint:N", scale=None))
    )


def _strip(
    bands: Sequence[dict[str, Any]], span: tuple[float, float], width: int
) -> alt.LayerChart | alt.FacetChart:
    per_second = width / (span[1] - span[0])
    wide = [band for band in bands if (band["end"] - band["start"]) * per_second >= _NAME_WIDTH]
    names = (
        alt.Chart(alt.Data(values=wide))
        .mark_text(angle=270, align="left", baseline="middle", fontSize=11, color=INK)
        .encode(
            x=_time("middle", span, None),
            y=alt.value(_STRIP - 5),
            text="name:N",
        )
    )
    return alt.layer(_shading(bands, span, None), names).properties(width=width, height=_STRIP)


def _panel(
    data: alt.NamedData,
    bands: Sequence[dict[str, Any]],
    curve: _Curve,
    span: tuple[float, float],
    width: int,
    *,
    level: float | None,
    feet: bool,
    last: bool,
) -> alt.LayerChart | alt.FacetChart:
    """One curve over the shaded phases, with a line at `level` and thin ones for the feet."""
    axis = (
        alt.Axis(title="time (s)", tickCount=6, grid=False)
        if last
        else alt.Axis(labels=False, ticks=False, title=None, domain=False, grid=False)
    )
    x = _time("time", span, axis)
    y_axis = alt.Axis(title=curve.title, tickCount=5, minExtent=34)
    layers: list[alt.Chart] = [_shading(bands, span, axis)] if bands else []
    if level is not None:
        layers.append(
            alt.Chart(alt.Data(values=[{"level": level}]))
            .mark_rule(color=MUTED, strokeWidth=0.75)
            .encode(y="level:Q")
        )
    lines = [(foot, colour, 1.0) for foot, colour in _FEET] if feet else []
    lines.append((curve.field, curve.colour, 1.5))
    layers.extend(
        alt.Chart(data)
        .mark_line(color=colour, strokeWidth=stroke)
        .encode(x=x, y=alt.Y(f"{drawn}:Q", axis=y_axis), detail="part:N")
        for drawn, colour, stroke in lines
    )
    return alt.layer(*layers).properties(width=width, height=_PANEL)


def _title(trace: Trace) -> str:
    first = trace.jumps[0]
    kind = f"{len(trace.jumps)} hops" if first.kind is JumpKind.HOPS else first.kind.in_words
    return f"{trace.analysis.recording.source} · {trace.number} · {kind}"


def _subtitle(trace: Trace, width: int) -> list[str]:
    """Trust and heights, then the reasons, broken into lines that fit."""
    first = trace.jumps[0]
    trust = min((jump.trust for jump in trace.jumps), key=list(Trust)[::-1].index)
    parts = [trust.value]
    if len(trace.jumps) == 1:
        for name, words in (("height_impulse", "impulse"), ("height_flight", "flight")):
            if name in first.measures:
                height = first.measures[name]
                parts.append(f"{shown(height)} {unit_shown(height.unit)} by {words}")
    lines = [" · ".join(parts)]
    reasons = dict.fromkeys(reason for jump in trace.jumps for reason in jump.reasons)
    for reason in reasons:
        lines.extend(textwrap.wrap(reason, math.floor(width / 5.3)))
    if trace.analysis.recording.left_n is not None:
        lines.append("thin lines: red the left foot, blue the right")
    return lines
