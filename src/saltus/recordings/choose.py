"""Which columns of a table are the vertical force and the time: by name, then by physics."""

import math
import shlex
from collections.abc import Sequence

import numpy as np
import polars as pl

from saltus.errors import RecordingError
from saltus.recordings.ask import ambiguous
from saltus.recordings.columns import Column, find, recognise
from saltus.recordings.options import ReadOptions
from saltus.recordings.signals import Channel, Floats, Signals, standing_load
from saltus.recordings.table import Table
from saltus.recordings.units import TIME_UNITS, rough_factor

__all__ = ["choose"]

_CLEAR = 3.0  # the vertical force of a jumper is several times the horizontal one
_HEAVIEST_N = 1300.0  # more standing on two plates alike is one force written twice
_LARGEST = 1e12  # in any unit
_SUMS_UP = 0.02  # a column this close to the sum of the others is their total
_SAME_PERSON = 0.05  # left and right must add up to the total within 5 %


def choose(table: Table, options: ReadOptions) -> Signals:
    """Pick time and force out of a table.

    Raises
    ------
    AmbiguousColumns
        If more than one choice makes sense.
    RecordingError
        If none does, or a chosen column holds what is no number.
    """
    chooser = _Chooser(table, options)
    signals = chooser.forces()
    chooser.add_time(signals)
    signals.first_line = table.first_line
    signals.notes = [*table.notes, *chooser.notes]
    return signals


class _Chooser:
    """One table being looked at."""

    def __init__(self, table: Table, options: ReadOptions) -> None:
        self.table = table
        self.options = options
        self.columns = recognise(table.headings)
        self.notes: list[str] = []
        self.time = self._time()

    def _values(self, column: Column) -> Floats:
        return _floats(self.table.column(column.index))

    def _channel(self, column: Column) -> Channel:
        force = _floats(self.table.checked(column.index))
        unit = column.heading.unit
        if unit is not None and column.force_unit is None and self.options.unit is None:
            raise RecordingError(
                f"{self.table.source}: column {column.index + 1} ({column.heading.shown}) is in "
                f"{unit!r}, which is no unit of force known here; give --unit, or name another "
                "column with --force."
            )
        return Channel(
            column.heading.name or f"column {column.index + 1}", force, column.force_unit
        )

    def _ask(self, why: str, candidates: Sequence[Column]) -> RecordingError:
        columns = [Column(c.heading, "time") if c is self.time else c for c in self.columns]
        return ambiguous(
            why,
            table=self.table,
            columns=columns,
            candidates=candidates,
            options=self.options,
        )

    # -- time ---------------------------------------------------------------------------------

    def _time(self) -> Column | None:
        options, table = self.options, self.table
        if options.time is not None:
            return self.columns[find(table.headings, options.time)]
        named = [c for c in self.columns if c.kind == "time" and table.has(c.index)]
        if named:
            return named[0]
        if any(c.kind == "count" for c in self.columns):
            return None
        first = self.columns[0]
        if (
            len(self.columns) > 1
            and first.kind == "unknown"
            and table.has(0)
            and self._ticks(first)
        ):
            return first
        return None

    def _ticks(self, column: Column) -> bool:
        """Whether a nameless column rises in even steps, as time does."""
        values = self._values(column)[:2000]
        steps = np.diff(values)
        if steps.size < 3 or not np.all(np.isfinite(steps)):
            return False
        step = float(np.median(steps))
        return step > 0 and bool(np.all(np.abs(steps - step) <= max(0.5 * step, 1e-9)))

    def add_time(self, signals: Signals) -> None:
        """Put time, or the rate that stands for it, into the signals."""
        options, table, time = self.options, self.table, self.time
        if time is not None:
            unit = (time.heading.unit or "").lower()
            signals.time_unit_s = TIME_UNITS.get(unit)
            if signals.time_unit_s is None:
                words = time.heading.name.lower().replace("(", " ").replace("_", " ").split()
                signals.time_unit_s = next((TIME_UNITS[w] for w in words if w in TIME_UNITS), None)
            same = [
                c for c in self.columns if c.kind == "time" and c is not time and table.has(c.index)
            ]
            signals.stated_rate_hz = table.stated_rate_hz
            signals.time = _floats(
                table.column(time.index)
                if options.rate_hz
                else table.checked(
                    time.index, " If the samples are evenly spaced, give --rate instead of time."
                )
            )
            for other in same:
                if options.time is None and not self._same_time(signals, other):
                    raise self._ask(
                        "there are several time columns that differ", self._force_candidates()
                    )
            nameless = time.kind == "unknown" and options.time is None and options.rate_hz is None
            # a nameless column is only taken for time where its steps are even numbers
            step = float(np.median(np.diff(signals.time[:2000]))) if nameless else 0.0
            if step >= 0.1:
                raise RecordingError(
                    f"{table.source}: column 1 counts in steps of {step:g}, which may be "
                    "milliseconds or sample numbers; give the sampling rate with --rate."
                )
            return
        if options.rate_hz is None and table.stated_rate_hz is not None:
            signals.rate_hz = table.stated_rate_hz
            self.notes.append(
                f"There is no time column; the rate of {table.stated_rate_hz:g} Hz is the one "
                "stated above the table."
            )
        elif options.rate_hz is None:
            raise RecordingError(
                f"{table.source}: there is no time column and no sampling rate; give it with "
                f"--rate, for example: saltus analyse {shlex.quote(table.to_call)} --rate 1000"
            )

    def _same_time(self, signals: Signals, other: Column) -> bool:
        assert signals.time is not None
        values = self._values(other)
        both = np.isfinite(values) & np.isfinite(signals.time)
        if not both.any():
            return True
        unit = TIME_UNITS.get((other.heading.unit or "").lower(), signals.time_unit_s)
        scale = (unit or 1.0) / (signals.time_unit_s or 1.0)
        return bool(np.allclose(values[both] * scale, signals.time[both], rtol=1e-5, atol=1e-9))

    # -- force --------------------------------------------------------------------------------

    def forces(self) -> Signals:
        """Pick the force columns."""
        options, table = self.options, self.table
        if options.force is not None:
            total = self.columns[find(table.headings, options.force)]
            return Signals(table.source, total=self._channel(total))
        if options.left is not None and options.right is not None:
            left, right = (
                self.columns[find(table.headings, name)] for name in (options.left, options.right)
            )
            return Signals(table.source, left=self._channel(left), right=self._channel(right))
        candidates = self._vertical(self._force_candidates())
        if not candidates:
            raise self._ask("no column of vertical force was recognised", self._numeric())
        return self._by_side(candidates)

    def _numeric(self) -> list[Column]:
        """Columns that hold numbers and are not time."""
        there = set(self.table.values.columns)
        return [
            c
            for c in self.columns
            if c is not self.time
            and c.kind in ("unknown", "force")
            and str(c.index) in there
            and self.table.column(c.index).count() > 0
        ]

    def _force_candidates(self) -> list[Column]:
        """Columns that are force by name, or the only column there is."""
        usable = self._numeric()
        force = [c for c in usable if c.kind == "force"]
        if force:
            return force
        return usable if len(usable) == 1 else []

    def _vertical(self, candidates: list[Column]) -> list[Column]:
        """Drop horizontal forces: by their names, else by how small they are."""
        upright = [c for c in candidates if c.axis == "v"]
        if upright:
            return upright
        groups: dict[str, list[Column]] = {}
        for column in candidates:
            groups.setdefault(column.axis or "", []).append(column)
        if len(groups) < 2:
            return candidates
        loads = {
            axis: sum(standing_load(self._values(c)) * rough_factor(c.force_unit) for c in group)
            for axis, group in groups.items()
        }
        most = max(loads.values())
        loaded = sorted(axis for axis, load in loads.items() if load * _CLEAR > most)
        named = [axis for axis in loaded if axis]
        if len(named) > 1:
            raise self._ask(
                "it is unclear which axis points up, because "
                f"{' and '.join(named)} bear similar loads",
                candidates,
            )
        if named and len(groups) - ("" in groups) > 1:
            self.notes.append(f"The vertical axis is {named[0]}: it bears the weight.")
        return [c for c in candidates if (c.axis or "") in loaded]

    def _by_side(self, candidates: list[Column]) -> Signals:
        left = [c for c in candidates if c.side == "left"]
        right = [c for c in candidates if c.side == "right"]
        total = [c for c in candidates if c.side == "total"]
        rest = [c for c in candidates if c.side is None]
        source = self.table.source
        if len(left) == 1 and len(right) == 1 and len(total) + len(rest) <= 1:
            return self._feet(left[0], right[0], (*total, *rest))
        if left and right:
            raise self._ask("several columns could be the force of the feet", candidates)
        if len(total) == 1 and not rest:
            return Signals(source, total=self._channel(total[0]))
        if len(total) + len(rest) == 1:
            return Signals(source, total=self._channel((*total, *rest)[0]))
        if (left or right) and not total and not rest:
            found, missing = ("left", "right") if left else ("right", "left")
            raise RecordingError(
                f"{source}: only the {found} foot was found "
                f"({(left or right)[0].heading.shown}), the {missing} one is missing. Name it with "
                f"--{missing} (and --{found}), or give --force if that column holds both feet."
            )
        plates = [c.plate for c in rest]
        if rest and not total and None not in plates and len(set(plates)) == len(plates):
            return self._plates(rest)
        raise self._ask("several columns could be the vertical force", candidates)

    def _feet(self, left: Column, right: Column, total: Sequence[Column]) -> Signals:
        signals = Signals(self.table.source, left=self._channel(left), right=self._channel(right))
        assert signals.left is not None
        assert signals.right is not None
        if total:
            both = self._channel(total[0])
            units = {both.unit, signals.left.unit, signals.right.unit}
            sum_n = signals.left.force + signals.right.force
            if len(units) == 1 and _differ(both.force, sum_n) > _SAME_PERSON:
                raise self._ask(
                    f"{left.heading.shown} and {right.heading.shown} do not add up to "
                    f"{total[0].heading.shown}",
                    (total[0], left, right),
                )
        return signals

    def _plates(self, columns: Sequence[Column]) -> Signals:
        columns = sorted(columns, key=lambda column: column.plate or 0)
        channels = [self._channel(c) for c in columns]
        for i, first in enumerate(channels):
            for second in channels[i + 1 :]:
                same = _differ(first.force, second.force) < 0.005
                load_n = 2 * standing_load(first.force) * rough_factor(first.unit)
                # two feet may share a person evenly, but not two persons
                if same and load_n > _HEAVIEST_N:
                    raise self._ask(
                        f"{first.name} and {second.name} hold the same force, so that they are "
                        "not two feet",
                        columns,
                    )
        if len(channels) > 2:
            everything = np.sum([c.force for c in channels], axis=0)
            for channel in channels:
                if _differ(channel.force, everything - channel.force) < _SUMS_UP:
                    raise self._ask(
                        f"{channel.name} is what the others add up to, so that they are not "
                        f"{len(channels)} plates",
                        columns,
                    )
        for channel, column in zip(channels, columns, strict=True):
            channel.pressure_m = self._pressure(column)
        return Signals(self.table.source, plates=tuple(channels))

    def _pressure(self, force: Column) -> Floats | None:
        """Centre of pressure under the same plate, in right-handed horizontal axes, in m."""
        axes = {"x": "yz", "y": "zx", "z": "xy"}.get(force.axis or "", "")
        found = []
        for axis in axes:
            hits = [
                c
                for c in self.columns
                if c.kind == "pressure" and c.plate == force.plate and c.axis == axis
            ]
            if len(hits) != 1 or not self.table.has(hits[0].index):
                return None
            unit = {"mm": 1e-3, "cm": 1e-2}.get((hits[0].heading.unit or "m").lower(), 1.0)
            found.append(self._values(hits[0]) * unit)
        return np.stack(found, axis=1) if len(found) == 2 else None


def _differ(first: Floats, second: Floats) -> float:
    """Typical difference of two forces, as a share of the load; infinite where they never meet."""
    both = np.isfinite(first) & np.isfinite(second)
    load = standing_load(first)
    if not both.any() or load == 0:
        return math.inf
    return float(np.median(np.abs(first[both] - second[both]))) / load


def _floats(series: pl.Series) -> Floats:
    """Column as an array; gaps and what no sensor puts out are NaN."""
    values = np.array(series.fill_null(float("nan")).to_numpy(), dtype=np.float64)
    values[~(np.abs(values) < _LARGEST)] = np.nan
    return values
