"""From the signals of any reader to a recording: units, time, zero, sign, feet, checks."""

import numpy as np

from saltus.errors import RecordingError
from saltus.recordings.checks import (
    check_length,
    check_person,
    check_rate,
    clipping,
    is_upside_down,
)
from saltus.recordings.feet import left_plate
from saltus.recordings.options import ReadOptions
from saltus.recordings.recording import Recording
from saltus.recordings.signals import Channel, Floats, Signals, standing_load
from saltus.recordings.timebase import bridge_gaps, settle_time
from saltus.recordings.units import FORCE_UNITS, force_factor, unlabelled_force_unit
from saltus.recordings.zeroing import LARGE_OFFSET_N, find_empty, offset_note, remove_offset

__all__ = ["assemble"]

_BLANK_LINES = 3  # as many empty rows need no mention
_UNUSED_PLATE = 0.02  # of the standing load: a plate that bears less than this was not used


def assemble(signals: Signals, options: ReadOptions) -> Recording:
    """Make a recording, saying in its notes and doubts what was done and what is wrong.

    Parameters
    ----------
    signals : Signals
        From a reader; its arrays may be changed.
    options : ReadOptions
        What a person said about the file.

    Raises
    ------
    RecordingError
        If the signals cannot be trusted.
    """
    source = signals.source
    notes = list(signals.notes or ())
    doubts = list(signals.doubts or ())
    _trim(signals, notes)
    base = settle_time(
        signals, rate_hz=options.rate_hz, resample=options.resample, notes=notes, doubts=doubts
    )
    slow = check_rate(base.rate_hz, source)
    if slow:
        doubts.append(slow)
    check_length(signals.channels[0].force.size, base.rate_hz, source)
    for channel in signals.channels:
        channel.force = bridge_gaps(
            signals,
            channel.name,
            channel.force,
            rate_hz=base.rate_hz,
            resample=options.resample,
            notes=notes,
        )
        _doubt_clipping(channel, base.rate_hz, base.start_s, doubts)
        channel.force = base.resampled(channel.force)
        if channel.pressure_m is not None and base.uneven_s is not None:
            channel.pressure_m = np.stack(
                [base.resampled(axis) for axis in channel.pressure_m.T], axis=1
            )
    signals.time = None  # a third of the memory of a long recording
    _to_newtons(signals, options, notes)
    for channel in signals.channels:
        if is_upside_down(channel.force):
            notes.append(f"{channel.name} pointed down and was turned up.")
            channel.force = -channel.force
    empty = find_empty(_total(signals), base.rate_hz)
    for channel in signals.channels:
        channel.force, offset, drift = remove_offset(channel.force, empty)
        if offset or drift:
            notes.append(offset_note(channel.name, offset, drift))
        if abs(offset) > LARGE_OFFSET_N:
            doubts.append(
                f"{channel.name} read {offset:.0f} N when empty: zero the plate before the test"
            )
    total = _total(signals)
    check_person(total, list(signals.channels), source)
    if signals.plates:
        _name_feet(signals, total, base.rate_hz, options, notes)
    left, right = signals.left, signals.right
    if left is not None and right is not None:
        total = left.force + right.force
        _check_feet(left, right, total, source)
    return Recording(
        rate_hz=float(base.rate_hz),
        total_n=total,
        left_n=left.force if left is not None else None,
        right_n=right.force if right is not None else None,
        source=source,
        start_s=base.start_s,
        notes=tuple(notes),
        doubts=tuple(doubts),
    )


def _total(signals: Signals) -> Floats:
    first, *others = signals.channels
    if not others:
        return first.force
    total = first.force + others[0].force
    for channel in others[1:]:
        total += channel.force
    return total


def _trim(signals: Signals, notes: list[str]) -> None:
    """Leave out empty rows before and after the numbers, as tables side by side have them."""
    filled = np.zeros(signals.channels[0].force.size, dtype=bool)
    for channel in signals.channels:
        filled |= np.isfinite(channel.force)
    if filled.all():
        return
    if not filled.any():
        raise RecordingError(
            f"{signals.source}: {signals.channels[0].name} holds no numbers; name another column "
            "with --force."
        )
    start, stop = int(np.argmax(filled)), filled.size - int(np.argmax(filled[::-1]))
    if start == 0 and stop == filled.size:
        return
    left_out = filled.size - (stop - start)
    if left_out > _BLANK_LINES:
        notes.append(f"{left_out} empty rows at the start or the end were left out.")
    for channel in signals.channels:
        channel.force = channel.force[start:stop]
        if channel.pressure_m is not None:
            channel.pressure_m = channel.pressure_m[start:stop]
    if signals.time is not None:
        signals.time = signals.time[start:stop]
    if signals.first_line is not None:
        signals.first_line += start


def _doubt_clipping(channel: Channel, rate_hz: float, start_s: float, doubts: list[str]) -> None:
    clipped = clipping(np.abs(channel.force), rate_hz)
    if clipped is not None:
        level, when = clipped
        unit = f" {channel.unit}" if channel.unit else ""
        doubts.append(
            f"{channel.name} is cut off at {level:.5g}{unit} (first at {start_s + when:.2f} s): "
            "set the plate to a larger range"
        )


def _to_newtons(signals: Signals, options: ReadOptions, notes: list[str]) -> None:
    """Turn every channel into newtons, in place."""
    source = signals.source
    plain = {channel.unit for channel in signals.channels}
    if options.unit is not None:
        units = dict.fromkeys(plain, FORCE_UNITS[options.unit.lower()])
    elif None in plain:
        load = standing_load(_total(signals))
        unit = unlabelled_force_unit(load, source)
        if plain - {None, unit}:
            raise RecordingError(
                f"{source}: some force columns have a unit and others none; give --unit for all."
            )
        units = {None: unit, unit: unit}
        notes.append(f"The force has no unit; about {load:.0f} while standing was read as newtons.")
    else:
        units = {unit: str(unit) for unit in plain}
    for channel in signals.channels:
        unit = units[channel.unit]
        factor = force_factor(unit, options.mass_kg, source)
        if factor != 1.0:
            channel.force = channel.force * factor
    others = sorted({str(unit) for unit in units.values()} - {"N"})
    if others:
        notes.append(f"The force was turned from {' and '.join(others)} into newtons.")


def _name_feet(
    signals: Signals, total: Floats, rate_hz: float, options: ReadOptions, notes: list[str]
) -> None:
    """Say which foot stands on which plate, where two plates bear one person."""
    load = standing_load(total)
    used = [p for p in signals.plates if _load_on(p, total) > _UNUSED_PLATE * load]
    unused = [p.name for p in signals.plates if p not in used]
    if unused:
        notes.append(f"Nobody stood on {' and '.join(unused)}.")
    if len(used) != 2:
        if len(used) > 2:
            notes.append(
                f"{len(used)} plates were stood on; their sum is the total, the feet are unknown."
            )
        return
    found = left_plate(used, total, rate_hz)
    if options.first_plate is not None:
        left = 0 if options.first_plate == "left" else 1
        how = "as given by --first-plate"
        if found is not None and found != left:
            how += ", although the centre of pressure says otherwise"
    elif found is not None:
        left = found
        how = "from the way the centre of pressure moves forward at take-off"
    else:
        left = 0
        how = "from the order of the plates; if that is wrong, give --first-plate right"
    signals.left, signals.right = used[left], used[1 - left]
    notes.append(f"{used[left].name} is the left foot, {used[1 - left].name} the right: {how}.")


def _load_on(plate: Channel, total: Floats) -> float:
    """Median force, N, on one plate while somebody is on any of them."""
    step = max(1, total.size // 200_000)
    some = total[::step]
    on = some > 0.25 * float(np.percentile(some, 95))
    return float(np.median(plate.force[::step][on])) if on.any() else 0.0


def _check_feet(left: Channel, right: Channel, total: Floats, source: str) -> None:
    """Refuse two feet of which one never bears anything."""
    for channel, side in ((left, "left"), (right, "right")):
        if _load_on(channel, total) < _UNUSED_PLATE * standing_load(total):
            raise RecordingError(
                f"{source}: the {side} foot ({channel.name}) bears nothing while the other bears "
                "everything. Was its plate connected? If one plate bears both feet, name that "
                "column with --force."
            )
