"""What the columns of a table are, from the words in their names.

Only general words of the field are known here (force, Fz, vertical, left, total, time);
no layout of any particular device. What the words leave open, `choose` settles by physics
or asks.
"""

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from saltus.errors import RecordingError
from saltus.recordings.options import ReadOptions
from saltus.recordings.table import Heading
from saltus.recordings.units import FORCE_UNITS, TIME_UNITS

__all__ = ["Column", "find", "recognise", "wanted"]

Kind = Literal["time", "count", "force", "pressure", "other", "unknown"]
Side = Literal["left", "right", "total"]

_LEFT = {"left", "l", "lt", "links", "linke", "linker", "linkes", "gauche", "izquierda"}
_LEFT |= {"izquierdo", "izq", "esquerda", "esquerdo", "sinistra", "sinistro"}
_RIGHT = {"right", "r", "rt", "rechts", "rechte", "rechter", "rechtes", "droite", "droit"}
_RIGHT |= {"derecha", "derecho", "direita", "direito", "destra", "destro"}
_TOTAL = {"total", "tot", "sum", "both", "combined", "bilateral", "gesamt", "summe"}
_TOTAL |= {"totale", "somme", "suma", "soma", "somma"}
_FORCE = {"force", "forces", "grf", "vgrf", "f", "load", "kraft", "fuerza", "forca", "forza"}
_VERTICAL = {"vertical", "vert", "vgrf", "vertikal", "vertikale", "verticale"}
_PLATE = {"plate", "platform", "forceplate", "fp", "platte", "plattform"}
_TIME = {"time", "t", "zeit", "temps", "tiempo", "tempo", "timestamp", "elapsed"}
_TIME |= {"seconds", "sec", "milliseconds", "ms"}
_COUNT = {"frame", "frames", "sample", "samples", "index", "nr", "no", "row", "subframe", "scan"}
_PRESSURE = {"cop", "pressure"}
_OTHER = {
    "moment", "moments", "torque", "velocity", "speed", "power", "displacement", "position",
    "acceleration", "accel", "acc", "horizontal", "shear", "ml", "ap", "mediolateral",
    "anteroposterior", "angle", "emg", "temperature", "work", "impulse", "jerk", "rfd",
    "trigger", "event", "marker", "height", "percent", "asymmetry", "resultant", "magnitude",
    "norm", "free",
}  # fmt: skip
_SIDES: tuple[tuple[set[str], Side], ...] = (
    (_LEFT, "left"),
    (_RIGHT, "right"),
    (_TOTAL, "total"),
)
_GLUED = re.compile(
    r"(?P<before>left|right|total|tot|sum|l|r)?(?P<stem>force|vgrf|grf|cop|f|p|v|m)?"
    r"(?P<axis>x|y|z|v)?(?P<after>left|right|total|tot|sum|l|r)?"
)


@dataclass(frozen=True, slots=True)
class Column:
    """What one column seems to be.

    Parameters
    ----------
    heading : Heading
        Its place, name and unit.
    kind : str
        time, count (of samples), force, pressure (centre of pressure), other or unknown.
    side : str or None
        left, right or total.
    axis : str or None
        x, y, z, or v for vertical.
    plate : int or None
        Number of the plate.
    """

    heading: Heading
    kind: Kind
    side: Side | None = None
    axis: str | None = None
    plate: int | None = None

    @property
    def index(self) -> int:
        """Place in the row, from 0."""
        return self.heading.index

    @property
    def force_unit(self) -> str | None:
        """N, kN, kgf, lbf or BW where the heading says so."""
        return FORCE_UNITS.get((self.heading.unit or "").lower())


def recognise(headings: Iterable[Heading]) -> tuple[Column, ...]:
    """Say what each column seems to be."""
    return tuple(_column(heading) for heading in headings)


def wanted(columns: Iterable[Column], options: ReadOptions) -> set[int]:
    """Columns that have to be read before it can be decided which ones count."""
    columns = tuple(columns)
    named = any(column.heading.name for column in columns)
    take = {
        column.index
        for column in columns
        if column.kind in ("time", "force", "pressure")
        or (column.kind == "unknown" and not (named and column.heading.unit))
    }
    if options.names_force:
        take = {column.index for column in columns if column.kind in ("time", "unknown")}
        take = {i for i in take if columns[i].kind == "time"} or take
    headings = [column.heading for column in columns]
    for name in (options.time, options.force, options.left, options.right):
        if name is not None:
            take.add(find(headings, name))
    return take


def find(headings: Iterable[Heading], wanted_name: str) -> int:
    """Place of the column that a person named or numbered.

    Parameters
    ----------
    headings : iterable of Heading
        All columns of the file.
    wanted_name : str
        A name, with or without its unit, in any case; or a number from 1.

    Raises
    ------
    RecordingError
        If no column or more than one answers to it.
    """
    headings = tuple(headings)
    key = _folded(wanted_name)
    for spelling in ("full", "name"):
        hits = [
            h.index
            for h in headings
            if h.name and key == _folded(h.shown if spelling == "full" else h.name)
        ]
        if len(hits) == 1:
            return hits[0]
        if hits:
            numbers = ", ".join(str(i + 1) for i in hits)
            raise RecordingError(
                f"Several columns are called {wanted_name!r}: give a number instead ({numbers})."
            )
    if wanted_name.strip().isdigit():
        number = int(wanted_name)
        if 1 <= number <= len(headings):
            return number - 1
        raise RecordingError(
            f"There is no column {number}: the file has {len(headings)}, counted from 1."
        )
    shown = ", ".join(f"{h.index + 1} {h.shown}" for h in headings)
    raise RecordingError(f"There is no column {wanted_name!r}. The columns are: {shown}.")


def _folded(text: str) -> str:
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[\s\[\]()_]+", " ", plain).strip()


def _tokens(name: str) -> list[str]:
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    plain = re.sub(r"([a-z])([A-Z])", r"\1 \2", plain)
    plain = re.sub(r"([A-Z]{2,})([A-Z][a-z]{2,})", r"\1 \2", plain)
    plain = re.sub(r"(\d+)", r" \1 ", plain)
    return [token for token in re.split(r"[^A-Za-z0-9]+", plain.lower()) if token]


def _column(heading: Heading) -> Column:
    tokens = _tokens(heading.name)
    words = set(tokens)
    unit = (heading.unit or "").lower()
    numbers = [int(token) for token in tokens if token.isdigit()]
    plate = numbers[-1] if numbers else None
    side: Side | None = next((s for known, s in _SIDES if words & known), None)
    axis = next((t for t in tokens if t in ("x", "y", "z")), None)
    force = bool(words & _FORCE) or (bool(words & _PLATE) and unit in FORCE_UNITS)
    pressure = bool(words & _PRESSURE)
    moment = False
    for token in tokens:
        match = _GLUED.fullmatch(token)
        if match is None or not (match["stem"] or match["axis"]):
            continue
        stem = match["stem"]
        glued_side = match["before"] or match["after"]
        if glued_side and not stem:
            continue  # "rz" alone says nothing
        axis = match["axis"] or axis
        moment |= stem == "m" and match["axis"] is not None
        pressure |= stem == "cop" or (stem == "p" and match["axis"] is not None)
        force |= stem in ("force", "vgrf", "grf") or (stem == "f" and bool(match["axis"]))
        if glued_side and stem:
            side = next((s for known, s in _SIDES if glued_side in known), side)
    if words & _VERTICAL or {"v", "grf"} <= words or any(t.startswith("vgrf") for t in tokens):
        axis = "v"
        force |= not words & _OTHER
    if moment or words & _OTHER:
        return Column(heading, "other", side, axis, plate)
    if pressure:
        return Column(heading, "pressure", side, axis, plate)
    if (words & _TIME or (not tokens and unit in TIME_UNITS)) and not force:
        return Column(heading, "time")
    if words & _COUNT and not force:
        return Column(heading, "count")
    if force:
        return Column(heading, "force", side, axis, plate)
    if unit in FORCE_UNITS:  # by its unit alone: the number in "channel 3" is no plate
        return Column(heading, "force", side, axis)
    if side is not None and (not unit or unit in FORCE_UNITS):
        return Column(heading, "force", side, axis, plate)
    return Column(heading, "unknown", side, axis, plate)
