"""Whether a C3D file is whole, looked at before it is opened for reading.

The layout is that of the C3D file format user guide (c3d.org), from memory: a header block
of 512 bytes, a parameter section of linked records, and frames of points and analogue
samples of one size each. A damaged link can make a reader run outside the file, so that the
links and sizes are followed here first.
"""

import math
import struct
from collections.abc import Mapping
from pathlib import Path

from saltus.errors import RecordingError
from saltus.recordings.c3d_frames import BLOCK, Frames, Layout, Parameter, count_frames, damaged

__all__ = ["check_structure", "looks_like_c3d"]

_KEY = 0x50
_DEC = 85
_PROCESSORS = {84: "<", _DEC: "<", 86: ">"}  # Intel, DEC, MIPS
_TYPES = {-1: 1, 1: 1, 2: 2, 4: 4}  # characters, bytes, integers, floats

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


def looks_like_c3d(head: bytes) -> bool:
    """Whether the first bytes of a file (up to 512) are those of a C3D header.

    Text may begin with the same two bytes, a line end and a capital P, but holds no zeros.
    """
    return len(head) >= 2 and head[1] == _KEY and 2 <= head[0] < 32 and 0 in head


def check_structure(path: Path) -> tuple[Layout, Frames]:
    """Follow the links of the file and compare its sizes.

    Raises
    ------
    RecordingError
        If the file is cut off or damaged.
    """
    with path.open("rb") as file:
        header = file.read(BLOCK)
        if len(header) < BLOCK:
            raise RecordingError(f"{path.name}: the C3D file is cut off within its header.")
        start = (header[0] - 1) * BLOCK
        file.seek(start)
        section = file.read(4)
        if len(section) < 4 or section[3] not in _PROCESSORS:
            raise damaged(path, "its parameter section is not where the header says")
        file.seek(0)
        content = file.read(start + max(section[2], 1) * BLOCK)
    order = _PROCESSORS[section[3]]
    if order == ">":
        why = "its numbers are in the order of a MIPS machine"
        raise RecordingError(f"{path.name}: the C3D file cannot be read ({why}). Export it again.")
    found = _follow_records(path, content, start, order)
    _check_parameters(path, content, order, found)
    layout = Layout(content, found, order, dec=section[3] == _DEC)
    return layout, count_frames(path, layout)


def _follow_records(path: Path, content: bytes, start: int, order: str) -> dict[str, Parameter]:
    """Walk over the groups and parameters; every one must end where the next begins.

    Returns the parameters by ``GROUP:NAME``, in the case of the file, as the reader needs it.
    """
    groups: dict[int, str] = {}
    found: dict[tuple[int, str], Parameter] = {}
    place = start + 4
    while True:
        if place + 2 > len(content):
            raise damaged(path, "its parameters run beyond their section")
        name_length, group = struct.unpack_from("bb", content, place)
        if name_length == 0:
            break
        link = place + 2 + abs(name_length)
        if group == 0 or link + 2 > len(content):
            raise damaged(path, "a parameter has no proper name")
        name = content[place + 2 : link]
        if not all(32 <= letter < 127 for letter in name):
            raise damaged(path, "the name of a parameter is no text")
        (offset,) = struct.unpack_from(order + "h", content, link)
        if group < 0:
            groups[-group] = name.decode()
            rest = 2 + _group_length(path, content, link + 2)
        else:
            length, parameter = _parameter_length(path, content, link + 2)
            found[group, name.decode()] = parameter
            rest = 2 + length
        if link + rest > len(content) or offset not in (0, rest):
            raise damaged(path, f"{name.decode()} does not end where the next parameter begins")
        if offset == 0:
            break
        place = link + offset
    if not {group for group, _ in found} <= set(groups):
        raise damaged(path, "a parameter belongs to no group")
    return {f"{groups[group]}:{name}": parameter for (group, name), parameter in found.items()}


def _check_parameters(
    path: Path, content: bytes, order: str, found: Mapping[str, Parameter]
) -> None:
    """What a reader takes for granted must be there, of the right type and long enough."""
    (analogue,) = struct.unpack_from(order + "H", content, 4)
    (per_frame,) = struct.unpack_from(order + "H", content, 18)
    channels = max(analogue // per_frame if per_frame else 0, _used(content, order, found))
    channels = min(channels, 255)
    for name in ("ANALOG:SCALE", "ANALOG:OFFSET"):
        count = found[name].count if name in found else 0
        if count < channels:
            raise damaged(path, f"{name} has {count} values for {channels} channels")
    for name, parameter in found.items():
        if name in _NUMBERS and (parameter.kind not in (2, 4) or parameter.count < 1):
            raise damaged(path, f"{name} is no number")
        if name in _TEXTS and (parameter.kind != -1 or parameter.dimensions < 1):
            raise damaged(path, f"{name} is no text")
    ratio = found.get("ROTATION:RATIO")
    if ratio is not None:
        code = order + ("h" if ratio.kind == 2 else "f")
        (value,) = struct.unpack_from(code, content, ratio.place)
        if not 0 <= value <= _MOST_RATIO:
            raise damaged(path, f"ROTATION:RATIO is {value:g}")


def _used(content: bytes, order: str, found: Mapping[str, Parameter]) -> int:
    """Channels by ANALOG:USED, which the library makes room for whatever the header says."""
    used = found.get("ANALOG:USED")
    if used is None or used.kind != 2 or used.count < 1:
        return 0
    (count,) = struct.unpack_from(order + "H", content, used.place)
    return int(count)


def _group_length(path: Path, content: bytes, place: int) -> int:
    """Bytes after the link of a group: its description."""
    if place >= len(content):
        raise damaged(path, "a group runs beyond its section")
    return 1 + content[place]


def _parameter_length(path: Path, content: bytes, place: int) -> tuple[int, Parameter]:
    """Bytes after the link of a parameter, its description included, and what they hold."""
    if place + 2 > len(content):
        raise damaged(path, "a parameter runs beyond its section")
    kind, dimensions = struct.unpack_from("bB", content, place)
    if kind not in _TYPES or dimensions > 7 or place + 2 + dimensions > len(content):
        raise damaged(path, "a parameter is of no known type")
    count = math.prod(content[place + 2 : place + 2 + dimensions])
    length = 2 + dimensions + count * _TYPES[kind]
    if place + length >= len(content):
        raise damaged(path, "a parameter runs beyond its section")
    parameter = Parameter(kind, dimensions, count, place + 2 + dimensions)
    return length + 1 + content[place + length], parameter
