"""How many frames a C3D file holds, also where the 16 bits of its header cannot count them.

The layout is that of the C3D file format user guide (c3d.org), from memory: the header numbers
the first and the last frame with 16 bits each and POINT:FRAMES counts them with as many. A
longer file numbers them in TRIAL:ACTUAL_START_FIELD and TRIAL:ACTUAL_END_FIELD, two words of 16
bits each, the low one first; POINT:FRAMES as a floating-point number and POINT:LONG_FRAMES are
seen in use. The header then stands at its highest number, or begins again at zero. Where nothing
tells the count, the length of the file does.
"""

import struct
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from saltus.errors import RecordingError

__all__ = [
    "BLOCK",
    "MOST_FRAMES",
    "Frames",
    "Layout",
    "Parameter",
    "count_frames",
    "damaged",
    "parts",
]

BLOCK = 512
_WORD = 1 << 16
MOST_FRAMES = _WORD - 1  # what the 16 bits of the header can count
_INTEGER, _FLOAT = 2, 4
_FRAMES = "POINT:FRAMES"
_START, _END = "TRIAL:ACTUAL_START_FIELD", "TRIAL:ACTUAL_END_FIELD"


@dataclass(frozen=True, slots=True)
class Parameter:
    """Type of a parameter, its dimensions, number of its values, place of the first in the file."""

    kind: int
    dimensions: int
    count: int
    place: int


@dataclass(frozen=True, slots=True)
class Layout:
    """What stands before the frames of a file.

    Parameters
    ----------
    content : bytes
        The file up to the end of its parameter section.
    parameters : mapping of str to Parameter
        By ``GROUP:NAME``, in the case of the file, as the reader needs it.
    order : str
        Of the bytes, as `struct` says it.
    dec : bool
        Whether floating-point numbers are those of a DEC machine.
    """

    content: bytes
    parameters: Mapping[str, Parameter]
    order: str
    dec: bool

    def header(self, first: int, count: int) -> tuple[int, ...]:
        """Words of 16 bits, without sign, from a place on."""
        return struct.unpack_from(f"{self.order}{count}H", self.content, first)

    def number(self, place: int) -> float:
        """Floating-point number at a place."""
        raw = self.content[place : place + 4]
        if self.dec:  # words in the other order, and an exponent that is larger by two
            raw = raw[2:4] + raw[:2]
        (value,) = struct.unpack(self.order + "f", raw)
        return float(value) / (4 if self.dec else 1)


@dataclass(frozen=True, slots=True)
class Frames:
    """The frames of a file.

    Parameters
    ----------
    count : int
        Frames of the recording.
    place : int
        Of the first, in bytes from the start of the file.
    size : int
        Bytes of a frame.
    in_parts : bool
        Whether the library reads it only in parts whose counts are written anew: the header has
        no room for the count, or POINT:FRAMES is a floating-point number.
    by_length : bool
        Whether nothing but the length of the file tells the count.
    """

    count: int
    place: int
    size: int
    in_parts: bool = False
    by_length: bool = False


def damaged(path: Path, what: str) -> RecordingError:
    """Return the error for a file that is not as the format says."""
    return RecordingError(f"{path.name}: the C3D file is damaged: {what}. Export or copy it again.")


def _whole(layout: Layout, name: str) -> int | None:
    """Return a count that has room for more than 16 bits; None where there is none."""
    told = layout.parameters.get(name)
    if told is None:
        return None
    if told.kind == _FLOAT and told.count >= 1:
        value = layout.number(told.place)
        return int(value) if 0 < value < 2**31 and value == int(value) else None
    if told.kind == _INTEGER and told.count >= 2:
        low, high = layout.header(told.place, 2)
        return low + _WORD * high
    return None


def _long_counts(layout: Layout) -> dict[str, int]:
    """Counts that the header has no room for, by the parameter that tells them."""
    out: dict[str, int] = {}
    start, end = _whole(layout, _START), _whole(layout, _END)
    if start is not None and end is not None and end > MOST_FRAMES and end >= start:
        out[_END] = end - start + 1
    for name in (_FRAMES, "POINT:LONG_FRAMES"):
        number = _whole(layout, name)
        if number is not None and number > MOST_FRAMES:
            out[name] = number
    return out


def _contradiction(path: Path, counts: Mapping[str, int]) -> RecordingError:
    told = ", ".join(f"{name} {number}" for name, number in counts.items())
    return damaged(path, f"its counts of frames contradict each other ({told})")


def count_frames(path: Path, layout: Layout) -> Frames:
    """Count the frames of a file and hold the count against its length.

    Raises
    ------
    RecordingError
        If the file is cut off, or its counts contradict each other.
    """
    points, analogue, first, last = layout.header(2, 4)
    data_block, per_frame = layout.header(16, 2)
    # the scale's sign says whether the frames hold floats; a DEC float keeps its sign in byte 1
    scale = layout.content[12:16]
    sign = scale[1] if layout.dec else scale[3 if layout.order == "<" else 0]
    if data_block < 2 or (per_frame and analogue % per_frame):
        raise damaged(path, "its header contradicts itself")
    if per_frame == 0 and analogue:
        raise damaged(path, "its header counts analogue samples but no rate of them")
    size = (4 * points + analogue) * (4 if sign & 0x80 else 2)
    if size == 0:
        raise RecordingError(f"{path.name}: the C3D file holds neither points nor forces.")
    place = (data_block - 1) * BLOCK
    held = max(path.stat().st_size - place, 0) // size
    counted = last - first + 1
    full = counted >= MOST_FRAMES - 1
    # the last block is filled up; more than a block beyond the count are frames not counted
    more = (held - counted) * size > BLOCK

    told = _long_counts(layout)
    ran_over = full or counted < 1 or last in (0, MOST_FRAMES)
    overrun = {
        name: number for name, number in told.items() if ran_over or (number - counted) % _WORD == 0
    }
    if len(set(overrun.values())) > 1:
        raise _contradiction(path, overrun)
    if overrun and place >= len(layout.content):
        (number,) = set(overrun.values())
        _not_cut_off(path, number, held)
        return Frames(number, place, size, in_parts=True)
    if counted < 1:
        raise damaged(path, "its header contradicts itself")
    _not_cut_off(path, counted, held)
    if more and any(number <= held for number in told.values()):
        raise _contradiction(path, {"header": counted, **told})
    if not (full and more):
        told_frames = layout.parameters.get(_FRAMES)
        as_float = told_frames is not None and told_frames.kind == _FLOAT
        return Frames(counted, place, size, in_parts=as_float and place >= len(layout.content))
    rotations = layout.parameters.get("ROTATION:USED")
    if place < len(layout.content) or (
        rotations is not None and any(layout.content[rotations.place : rotations.place + 2])
    ):
        raise RecordingError(
            f"{path.name}: the C3D file holds {held} frames, more than its header can count "
            f"({MOST_FRAMES}). Export it in shorter parts, or as text."
        )
    held = _without_filling(path, place, size, held)
    return Frames(held, place, size, in_parts=True, by_length=True)


def _not_cut_off(path: Path, announced: int, held: int) -> None:
    if held < announced:
        raise RecordingError(
            f"{path.name}: the C3D file is cut off: its header announces {announced} frames, "
            f"it holds {held}. Export or copy it again."
        )


def _without_filling(path: Path, place: int, size: int, held: int) -> int:
    """Frames without those, all zeros, that may only fill up the last block."""
    most = min((BLOCK - 1) // size, held - 1)
    with path.open("rb") as file:
        file.seek(place + (held - most) * size)
        rest = file.read(most * size)
    while held > 1 and most > 0 and not any(rest[(most - 1) * size : most * size]):
        held, most = held - 1, most - 1
    return held


def parts(path: Path, layout: Layout, frames: Frames) -> Iterator[bytes]:
    """Take a file apart into whole files whose headers can count their frames.

    Yields
    ------
    bytes
        The content of a C3D file that holds some of the frames, in order.
    """
    with path.open("rb") as file:
        head = bytearray(file.read(frames.place))
        told = _as_integer(head, layout)
        for begin in range(0, frames.count, MOST_FRAMES):
            count = min(MOST_FRAMES, frames.count - begin)
            struct.pack_into(layout.order + "2H", head, 6, 1, count)
            for place, word in zip(told, (count, 0), strict=False):
                struct.pack_into(layout.order + "H", head, place, word)
            file.seek(frames.place + begin * frames.size)
            yield bytes(head) + file.read(count * frames.size)


def _as_integer(head: bytearray, layout: Layout) -> tuple[int, ...]:
    """Make POINT:FRAMES an integer, which is all that the library takes; places of its words."""
    told = layout.parameters.get(_FRAMES)
    if told is None:
        return ()
    if told.kind == _FLOAT and told.count == 1 and head[told.place + 4] <= 253:
        # Two bytes less for the number are two more for the description behind it.
        head[told.place - told.dimensions - 2] = _INTEGER
        head[told.place + 2] = head[told.place + 4] + 2
        head[told.place + 3 : told.place + 5] = b"  "
    elif told.kind != _INTEGER:
        return ()
    return tuple(told.place + 2 * i for i in range(min(told.count, 2)))
