"""Whether a C3D file is whole, looked at before it is opened for reading.

The layout is that of the C3D file format user guide (c3d.org), from memory: a header block
of 512 bytes, a parameter section of linked records, and frames of points and analogue
samples of one size each. A damaged link can make a reader run outside the file, so that the
links and sizes are followed here first.
"""

import math
import struct
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from saltus.errors import RecordingError

__all__ = ["FrameCount", "check_structure", "looks_like_c3d"]

_BLOCK = 512
_KEY = 0x50
_PROCESSORS = {84: "<", 85: "<", 86: ">"}  # Intel, DEC, MIPS
_TYPES = {-1: 1, 1: 1, 2: 2, 4: 4}  # characters, bytes, integers, floats
_MOST_FRAMES = 65535  # what the 16 bits of the header can count


_NUMBERS = frozenset(
    {f"POINT:{name}" for name in ("USED", "SCALE", "RATE", "DATA_START", "FRAMES")}
    | {f"ANALOG:{name}" for name in ("USED", "GEN_SCALE", "SCALE", "OFFSET", "RATE")}
    | {f"ROTATION:{name}" for name in ("USED", "DATA_START", "RATE", "RATIO")}
    | {"FORCE_PLATFORM:USED"}
)
_TEXTS = frozenset(
    f"{group}:{name}"
    for group in ("POINT", "ANALOG", "ROTATION")
    for name in ("LABELS", "DESCRIPTIONS", "UNITS", "FORMAT")
)
_MOST_RATIO = 1000  # rotations in a frame


@dataclass(frozen=True, slots=True)
class _Parameter:
    """Type of a parameter, its dimensions, number of its values, place of the first."""

    kind: int
    dimensions: int
    count: int
    place: int


@dataclass(frozen=True, slots=True)
class FrameCount:
    """Frames that a file announces and holds.

    Parameters
    ----------
    announced : int
        By the header.
    held : int
        By the length of the file.
    """

    announced: int
    held: int


def looks_like_c3d(head: bytes) -> bool:
    """Whether the first bytes of a file (up to 512) are those of a C3D header.

    Text may begin with the same two bytes, a line end and a capital P, but holds no zeros.
    """
    return len(head) >= 2 and head[1] == _KEY and 2 <= head[0] < 32 and 0 in head


def check_structure(path: Path) -> FrameCount:
    """Follow the links of the file and compare its sizes.

    Raises
    ------
    RecordingError
        If the file is cut off or damaged.
    """
    size = path.stat().st_size
    with path.open("rb") as file:
        header = file.read(_BLOCK)
        if len(header) < _BLOCK:
            raise RecordingError(f"{path.name}: the C3D file is cut off within its header.")
        start = (header[0] - 1) * _BLOCK
        file.seek(start)
        section = file.read(4)
        if len(section) < 4 or section[3] not in _PROCESSORS:
            raise _damaged(path, "its parameter section is not where the header says")
        order = _PROCESSORS[section[3]]
        file.seek(start)
        section = file.read(max(section[2], 1) * _BLOCK)
    found = _follow_records(path, section, order)
    _check_parameters(path, section, header, order, found)
    return _count_frames(path, header, order, size, dec=section[3] == 85)


def _damaged(path: Path, what: str) -> RecordingError:
    return RecordingError(f"{path.name}: the C3D file is damaged: {what}. Export or copy it again.")


def _follow_records(path: Path, section: bytes, order: str) -> dict[str, _Parameter]:
    """Walk over the groups and parameters; every one must end where the next begins.

    Returns the parameters by ``GROUP:NAME``, in the case of the file, as the reader needs it.
    """
    groups: dict[int, str] = {}
    found: dict[tuple[int, str], _Parameter] = {}
    place = 4
    while True:
        if place + 2 > len(section):
            raise _damaged(path, "its parameters run beyond their section")
        name_length, group = struct.unpack_from("bb", section, place)
        if name_length == 0:
            break
        link = place + 2 + abs(name_length)
        if group == 0 or link + 2 > len(section):
            raise _damaged(path, "a parameter has no proper name")
        name = section[place + 2 : link]
        if not all(32 <= letter < 127 for letter in name):
            raise _damaged(path, "the name of a parameter is no text")
        (offset,) = struct.unpack_from(order + "h", section, link)
        if group < 0:
            groups[-group] = name.decode()
            content = 2 + _group_length(path, section, link + 2)
        else:
            length, parameter = _parameter_length(path, section, link + 2)
            found[group, name.decode()] = parameter
            content = 2 + length
        if link + content > len(section) or offset not in (0, content):
            raise _damaged(path, f"{name.decode()} does not end where the next parameter begins")
        if offset == 0:
            break
        place = link + offset
    if not {group for group, _ in found} <= set(groups):
        raise _damaged(path, "a parameter belongs to no group")
    return {f"{groups[group]}:{name}": parameter for (group, name), parameter in found.items()}


def _check_parameters(
    path: Path, section: bytes, header: bytes, order: str, found: Mapping[str, _Parameter]
) -> None:
    """What a reader takes for granted must be there, of the right type and long enough."""
    (analogue,) = struct.unpack_from(order + "H", header, 4)
    (per_frame,) = struct.unpack_from(order + "H", header, 18)
    channels = min(analogue // per_frame if per_frame else 0, 255)
    for name in ("ANALOG:SCALE", "ANALOG:OFFSET"):
        count = found[name].count if name in found else 0
        if count < channels:
            raise _damaged(path, f"{name} has {count} values for {channels} channels")
    for name, parameter in found.items():
        if name in _NUMBERS and (parameter.kind not in (2, 4) or parameter.count < 1):
            raise _damaged(path, f"{name} is no number")
        if name in _TEXTS and (parameter.kind != -1 or parameter.dimensions < 1):
            raise _damaged(path, f"{name} is no text")
    ratio = found.get("ROTATION:RATIO")
    if ratio is not None:
        code = order + ("h" if ratio.kind == 2 else "f")
        (value,) = struct.unpack_from(code, section, ratio.place)
        if not 0 <= value <= _MOST_RATIO:
            raise _damaged(path, f"ROTATION:RATIO is {value:g}")


def _group_length(path: Path, section: bytes, place: int) -> int:
    """Bytes after the link of a group: its description."""
    if place >= len(section):
        raise _damaged(path, "a group runs beyond its section")
    return 1 + section[place]


def _parameter_length(path: Path, section: bytes, place: int) -> tuple[int, _Parameter]:
    """Bytes after the link of a parameter, its description included, and what they hold."""
    if place + 2 > len(section):
        raise _damaged(path, "a parameter runs beyond its section")
    kind, dimensions = struct.unpack_from("bB", section, place)
    if kind not in _TYPES or dimensions > 7 or place + 2 + dimensions > len(section):
        raise _damaged(path, "a parameter is of no known type")
    count = math.prod(section[place + 2 : place + 2 + dimensions])
    length = 2 + dimensions + count * _TYPES[kind]
    if place + length >= len(section):
        raise _damaged(path, "a parameter runs beyond its section")
    parameter = _Parameter(kind, dimensions, count, place + 2 + dimensions)
    return length + 1 + section[place + length], parameter


def _count_frames(path: Path, header: bytes, order: str, size: int, *, dec: bool) -> FrameCount:
    points, analogue, first, last = struct.unpack_from(order + "4H", header, 2)
    data_block, per_frame = struct.unpack_from(order + "2H", header, 16)
    # the scale's sign says whether the frames hold floats; a DEC float keeps its sign in byte 1
    scale = header[12:16]
    negative = bool((scale[1] if dec else scale[3 if order == "<" else 0]) & 0x80)
    width = 4 if negative else 2
    if data_block < 2 or last < first or (per_frame and analogue % per_frame):
        raise _damaged(path, "its header contradicts itself")
    if per_frame == 0 and analogue:
        raise _damaged(path, "its header counts analogue samples but no rate of them")
    frame = (4 * points + analogue) * width
    if frame == 0:
        raise RecordingError(f"{path.name}: the C3D file holds neither points nor forces.")
    announced = last - first + 1
    held = max(size - (data_block - 1) * _BLOCK, 0) // frame
    if held < announced:
        raise RecordingError(
            f"{path.name}: the C3D file is cut off: its header announces {announced} frames, "
            f"it holds {held}. Export or copy it again."
        )
    # the last block is filled up; more than a block beyond the count are frames not counted
    extra = held - announced
    if announced >= _MOST_FRAMES - 1 and extra * frame > _BLOCK:
        raise RecordingError(
            f"{path.name}: the C3D file holds {held} frames, more than its header can count "
            f"({_MOST_FRAMES}). Export it in shorter parts, or as text."
        )
    return FrameCount(announced, held)
