"""C3D files: the force platforms in them, or analogue channels named as vertical force."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import ezc3d
import numpy as np
import polars as pl
from numpy.typing import NDArray

from saltus.errors import RecordingError
from saltus.recordings.c3d_frames import MOST_FRAMES, Frames, Layout, parts
from saltus.recordings.c3d_structure import check_structure
from saltus.recordings.checks import is_upside_down
from saltus.recordings.choose import choose
from saltus.recordings.options import ReadOptions
from saltus.recordings.platforms import (
    CHANNELS,
    Frame,
    frame_from_corners,
    horizontal_axes,
    plate_load,
)
from saltus.recordings.signals import Channel, Signals
from saltus.recordings.table import Heading, Table
from saltus.recordings.units import FORCE_UNITS, rough_factor

__all__ = ["read_c3d"]

Floats = NDArray[np.float64]

_METRES = {"m": 1.0, "cm": 0.01, "mm": 0.001}
_FLAT = 0.999  # cosine: a platform this level is taken as level


def read_c3d(path: Path, options: ReadOptions) -> Signals:
    """Read the vertical force of every platform of a C3D file.

    Raises
    ------
    RecordingError
        If the file is damaged, holds no force, or platforms of another type than 1 to 4.
    """
    if options.time is not None:
        raise RecordingError(f"{path.name}: a C3D file has its own rate; leave out --time.")
    file = _C3D(path)
    if file.analogue.size == 0:
        raise RecordingError(
            f"{path.name}: the C3D file holds no analogue channels, so that there is no force in "
            "it. Export it with the force plates."
        )
    used = file.numbers("FORCE_PLATFORM", "USED")
    count = int(used[0]) if used.size and np.isfinite(used[0]) else 0
    if options.names_force or count <= 0:
        return choose(file.table(), options)
    return Signals(
        path.name, plates=file.plates(count), rate_hz=file.rate_hz, notes=list(file.notes)
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Opened:
    """What the library read: samples of shape (channels, n), points of shape (3, points, n)."""

    parameters: Mapping[str, Mapping[str, Any]]
    rate_hz: float
    analogue: Floats
    points: Floats


def _opened(path: Path) -> _Opened:
    content = ezc3d.c3d(str(path))
    analogue = np.asarray(content["data"]["analogs"], dtype=np.float64)
    points = np.asarray(content["data"]["points"], dtype=np.float64)
    return _Opened(
        content["parameters"],
        float(content["header"]["analogs"]["frame_rate"]),
        analogue[0] if analogue.ndim == 3 else np.zeros((0, 0)),
        points[:3] if points.ndim == 3 else np.zeros((3, 0, 0)),
    )


def _files(path: Path, layout: Layout, frames: Frames) -> Iterator[Path]:
    """The file, or parts of it where the library would read too few of its frames."""
    if not frames.in_parts:
        yield path
        return
    with TemporaryDirectory() as folder:
        for content in parts(path, layout, frames):
            part = Path(folder, path.name)
            part.write_bytes(content)
            yield part


class _C3D:
    """An opened C3D file."""

    def __init__(self, path: Path) -> None:
        self.source = path.name
        self.path = path
        layout, frames = check_structure(path)
        try:
            opened = [_opened(each) for each in _files(path, layout, frames)]
        except (OSError, RuntimeError, ValueError, IndexError, KeyError, TypeError) as error:
            raise self._damaged(str(error)) from error
        except (MemoryError, OverflowError) as error:
            raise self._damaged("its sizes are impossible") from error
        self.parameters, self.rate_hz = opened[0].parameters, opened[0].rate_hz
        self.analogue: Floats = np.concatenate([each.analogue for each in opened], axis=1)
        self.points: Floats = np.concatenate([each.points for each in opened], axis=2)
        self.notes = []
        if frames.by_length:
            self.notes.append(
                f"The header counts no more than {MOST_FRAMES} frames; by its length the file "
                f"holds {frames.count}, and those were read."
            )
        self.metres = _METRES.get("".join(self.texts("POINT", "UNITS")[:1]).strip().lower(), 0.001)

    def _damaged(self, what: str) -> RecordingError:
        said = " ".join(what.split())[:120]
        return RecordingError(
            f"{self.source}: the C3D file cannot be read ({said}). Export it again."
        )

    def numbers(self, group: str, name: str) -> Floats:
        """Values of a numeric parameter; empty where there is none."""
        value = self.parameters.get(group, {}).get(name, {}).get("value", ())
        try:
            return np.asarray(value, dtype=np.float64)
        except (TypeError, ValueError):
            return np.zeros(0)

    def texts(self, group: str, name: str) -> Sequence[str]:
        """Values of a text parameter."""
        value = self.parameters.get(group, {}).get(name, {}).get("value", ())
        return [text for text in value if isinstance(text, str)]

    def unit(self, channel: int) -> str | None:
        """Unit of an analogue channel, as the file writes it."""
        units = self.texts("ANALOG", "UNITS")
        return (units[channel].strip() or None) if channel < len(units) else None

    def table(self) -> Table:
        """All analogue channels as a table, to be recognised by their names."""
        labels = self.texts("ANALOG", "LABELS")
        headings = [
            Heading(i, labels[i].strip() if i < len(labels) else "", self._force_unit(i))
            for i in range(len(self.analogue))
        ]
        values = pl.DataFrame({str(i): channel for i, channel in enumerate(self.analogue)})
        return Table(
            self.source,
            tuple(headings),
            values,
            stated_rate_hz=self.rate_hz,
            notes=tuple(self.notes),
            path=str(self.path),
        )

    def _force_unit(self, channel: int) -> str | None:
        unit = self.unit(channel)
        return None if unit is not None and unit.lower() == "v" else unit

    def plates(self, count: int) -> tuple[Channel, ...]:
        """Vertical force and centre of pressure of each platform, in the order of the file."""
        kinds = self.numbers("FORCE_PLATFORM", "TYPE").ravel()
        if kinds.size < count:
            raise self._damaged(f"{count} force platforms, but types for {kinds.size}")
        frames = [self._frame(i, count) for i in range(count)]
        up = self._up(frames)
        return tuple(
            self._plate(i, count, int(kind) if np.isfinite(kind) else 0, frames[i], up)
            for i, kind in enumerate(kinds[:count])
        )

    def _frame(self, plate: int, count: int) -> Frame | None:
        corners = self._of_plate("CORNERS", plate, count, (3, 4))
        return None if corners is None else frame_from_corners(corners * self.metres)

    def _up(self, frames: Sequence[Frame | None]) -> Floats | None:
        """Which way is up: across the platforms, to the side on which the markers are.

        Without markers it is the positive direction of the laboratory's axis.
        """
        known = [frame for frame in frames if frame is not None]
        if not known:
            return None
        up = known[0].axes[:, 2]
        seen = np.all(np.isfinite(self.points), axis=0) & np.any(self.points != 0, axis=0)
        if seen.any():
            above = np.mean(self.points[:, seen], axis=1) * self.metres - known[0].centre
            side = float(above @ up)
        else:
            side = float(up[np.argmax(np.abs(up))])
        return up if side > 0 else -up

    def _of_plate(self, name: str, plate: int, count: int, shape: tuple[int, ...]) -> Floats | None:
        """Part of a platform parameter that belongs to one platform, or None."""
        values = self.numbers("FORCE_PLATFORM", name)
        size = int(np.prod(shape))
        if values.size < size * count:
            return None
        flat = values.ravel(order="F")[size * plate : size * (plate + 1)]
        return flat.reshape(shape, order="F")

    def _plate(
        self, plate: int, count: int, kind: int, frame: Frame | None, up: Floats | None
    ) -> Channel:
        name = f"plate {plate + 1}"
        if kind not in CHANNELS:
            raise RecordingError(
                f"{self.source}: {name} is a force platform of type {kind}; types 1 to 4 can be "
                "read. Export the forces as text instead."
            )
        rows = self._rows(plate, count, kind)
        matrix = self._of_plate("CAL_MATRIX", plate, count, (6, 6)) if kind == 4 else None
        if kind == 4 and (matrix is None or not np.all(np.isfinite(matrix)) or not matrix.any()):
            raise RecordingError(
                f"{self.source}: {name} is of type 4 but has no calibration matrix of 6 by 6; "
                "export the recording again with it."
            )
        origin = self._of_plate("ORIGIN", plate, count, (3,))
        if origin is None or not np.all(np.isfinite(origin)):
            origin = np.zeros(3)
        z_row = rows[4] if kind == 3 else rows[2]
        moment = (self.unit(int(rows[3])) or "").lower().replace(".", "").replace("*", "")
        moment_metres = {"nm": 1.0, "ncm": 0.01, "nmm": 0.001}.get(moment, self.metres)
        with np.errstate(all="ignore"):
            load = plate_load(
                kind,
                [self.analogue[row] for row in rows],
                origin,
                matrix,
                moment_metres / self.metres,
            )
            vertical = load.force[2]
            pressure = None
            if frame is not None and up is not None:
                local_up = frame.axes.T @ up
                if abs(local_up[2]) < _FLAT:
                    vertical = (
                        local_up[0] * load.force[0]
                        + local_up[1] * load.force[1]
                        + local_up[2] * load.force[2]
                    )
                flat = horizontal_axes(up)
                pressure = frame.centre @ flat.T + load.pressure.T * self.metres @ (
                    frame.axes[:, :2].T @ flat.T
                )
        vertical = np.where(np.isfinite(vertical), vertical, np.nan)
        unit = "N" if kind == 4 else FORCE_UNITS.get((self.unit(int(z_row)) or "").lower())
        finite = vertical[np.isfinite(vertical)] * rough_factor(unit)
        if finite.size and is_upside_down(finite):
            vertical = -vertical  # what the person does to the platform rather than it to them
        return Channel(name, vertical, unit, pressure)

    def _rows(self, plate: int, count: int, kind: int) -> NDArray[np.intp]:
        """Rows of the analogue data that belong to a platform."""
        values = self.numbers("FORCE_PLATFORM", "CHANNEL")
        need = CHANNELS[kind]
        each = values.size // count if count else 0
        flat = values.ravel(order="F")[each * plate : each * (plate + 1)][:need]
        if flat.size < need or not np.all((flat >= 1) & (flat <= len(self.analogue))):
            raise RecordingError(
                f"{self.source}: plate {plate + 1} of type {kind} needs {need} channels; the file "
                f"names {flat.size} of {len(self.analogue)}. Export it again."
            )
        return flat.astype(np.intp) - 1
