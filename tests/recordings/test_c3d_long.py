"""C3D files with more frames than the 16 bits of their header can count.

Files are written byte by byte after the C3D file format user guide (c3d.org), from memory: blocks
of 512 bytes; a header of words; parameters that link to the next; frames. The numbers of first and
last frame stand in TRIAL:ACTUAL_START_FIELD and TRIAL:ACTUAL_END_FIELD as two words of 16 bits, the
low one first; POINT:FRAMES as a floating-point number and POINT:LONG_FRAMES are in use as well.
"""

import struct

import ezc3d
import numpy as np
import pytest

from saltus.errors import RecordingError
from saltus.recordings.read import read

FRAMES = 70_000
SCALE = 0.5
PROCESSORS = {"Intel": (84, "<"), "DEC": (85, "<"), "MIPS": (86, ">")}


def words(number):
    return [number % 65_536, number // 65_536]


TRIAL = {
    "TRIAL:ACTUAL_START_FIELD": ("i", words(1)),
    "TRIAL:ACTUAL_END_FIELD": ("i", words(FRAMES)),
}


class Writer:
    """Writes one channel of vertical force, a whole number of half newtons in each frame."""

    def __init__(self, processor="Intel"):
        self.processor, self.order = PROCESSORS[processor]

    def real(self, value):
        if self.processor != 85:
            return struct.pack(self.order + "f", value)
        raw = struct.pack("<f", 4 * value)
        return raw[2:] + raw[:2]

    def parameter(self, name, group, kind, values):
        if kind == "c":
            (text,) = values
            body = struct.pack("bBBB", -1, 2, len(text), 1) + text.encode()
        else:
            size = {"i": 2, "f": 4}[kind]
            several = bytes([1, len(values)]) if len(values) > 1 else bytes([0])
            body = struct.pack("b", size) + several
            for value in values:
                body += self.real(value) if kind == "f" else struct.pack(self.order + "H", value)
        body += bytes([0])  # no description
        link = struct.pack(self.order + "h", 2 + len(body))
        return struct.pack("bb", len(name), group) + name.encode() + link + body

    def file(self, path, force, *, first=1, last=None, frames=None, **more):
        """`more` are parameters by ``GROUP__NAME``, as type and values."""
        last = min(FRAMES, 65_535) if last is None else last
        told = {
            "POINT:USED": ("i", [0]),
            "POINT:SCALE": ("f", [1.0]),
            "POINT:RATE": ("f", [1000.0]),
            "POINT:DATA_START": ("i", [4]),
            "POINT:FRAMES": ("i", [last]),
            "ANALOG:USED": ("i", [1]),
            "ANALOG:GEN_SCALE": ("f", [1.0]),
            "ANALOG:RATE": ("f", [1000.0]),
            "ANALOG:SCALE": ("f", [SCALE]),
            "ANALOG:OFFSET": ("i", [0]),
            "ANALOG:LABELS": ("c", ["Fz"]),
            "ANALOG:UNITS": ("c", ["N"]),
            **more,
        }
        groups = list(dict.fromkeys(name.split(":")[0] for name in told))
        section = bytes([1, 0x50, 2, self.processor])
        for i, group in enumerate(groups, start=1):
            body = struct.pack("bb", len(group), -i) + group.encode()
            section += body + struct.pack(self.order + "h", 3) + bytes([0])
        for name, (kind, values) in told.items():
            group, own = name.split(":")
            section += self.parameter(own, groups.index(group) + 1, kind, values)
        header = bytes([2, 0x50]) + struct.pack(self.order + "5H", 0, 1, first, last, 0)
        header += self.real(1.0) + struct.pack(self.order + "2H", 4, 1) + self.real(1000.0)
        raw = np.round(np.asarray(force) / SCALE).astype(self.order + "i2").tobytes()
        data = header.ljust(512, b"\0") + section.ljust(1024, b"\0") + raw
        path.write_bytes(data + bytes(-len(data) % 512))
        return path


@pytest.fixture(scope="module")
def force():
    """Somebody who stands for over a minute, jumps, and stands again; no sample like another."""
    rng = np.random.default_rng(1)
    out = 700 + np.round(2 * rng.standard_normal(FRAMES)) / 2
    out[60_000:60_300] += 800 * np.sin(np.pi * np.arange(300) / 300)
    out[60_300:60_700] = 0
    out[60_700:60_900] += 900
    return np.round(out * 2) / 2


@pytest.mark.parametrize("processor", ["Intel", "DEC"])
@pytest.mark.parametrize(
    "told",
    [
        TRIAL,
        {"POINT:LONG_FRAMES": ("f", [FRAMES])},
        {"POINT:FRAMES": ("f", [FRAMES])},
        {**TRIAL, "POINT:LONG_FRAMES": ("f", [FRAMES]), "POINT:FRAMES": ("f", [FRAMES])},
    ],
    ids=lambda told: "+".join(told),
)
@pytest.mark.parametrize("last", [65_535, FRAMES % 65_536, 0])
def test_every_frame_is_read_wherever_the_count_stands(told, last, processor, force, tmp_path):
    """The header stands at its highest number, begins again, or says nothing."""
    recording = read(Writer(processor).file(tmp_path / "long.c3d", force, last=last, **told))

    assert recording.rate_hz == 1000
    np.testing.assert_allclose(recording.total_n, force, atol=0.01)


@pytest.mark.parametrize("processor", ["Intel", "DEC"])
def test_a_short_file_may_count_with_a_floating_point_number_too(processor, force, tmp_path):
    part = force[59_000:62_000]
    told = {"POINT:FRAMES": ("f", [3000])}
    path = Writer(processor).file(tmp_path / "short.c3d", part, last=3000, **told)

    np.testing.assert_allclose(read(path).total_n, part, atol=0.01)


def test_what_a_mips_machine_wrote_is_refused_in_our_words(force, tmp_path):
    path = Writer("MIPS").file(tmp_path / "mips.c3d", force[:3000], last=3000)

    with pytest.raises(RecordingError, match="in the order of a MIPS machine"):
        read(path)


def test_frames_cut_out_of_a_longer_recording_keep_their_numbers(force, tmp_path):
    """Frames 66 000 to 68 999: neither of them fits into the header."""
    told = {
        "TRIAL:ACTUAL_START_FIELD": ("i", words(66_000)),
        "TRIAL:ACTUAL_END_FIELD": ("i", words(68_999)),
        "POINT:FRAMES": ("i", [3000]),
    }
    part = force[59_000:62_000]
    recording = read(Writer().file(tmp_path / "part.c3d", part, first=65_535, last=65_535, **told))

    np.testing.assert_allclose(recording.total_n, part, atol=0.01)


def test_a_count_left_over_from_before_the_cutting_does_not_matter(force, tmp_path):
    """The file is as long as its header says."""
    path = Writer().file(tmp_path / "left over.c3d", force[59_000:62_000], last=3000, **TRIAL)

    np.testing.assert_allclose(read(path).total_n, force[59_000:62_000], atol=0.01)


def test_without_any_count_the_length_of_the_file_tells_and_is_named(force, tmp_path):
    """A library in wide use leaves the header at 65 535 and says nothing more."""
    file = ezc3d.c3d()
    parameters = file["parameters"]
    parameters["POINT"]["RATE"]["value"] = [1000.0]
    parameters["ANALOG"]["RATE"]["value"] = [1000.0]
    parameters["ANALOG"]["LABELS"]["value"] = ["Fz"]
    parameters["ANALOG"]["UNITS"]["value"] = ["N"]
    file["data"]["points"] = np.zeros((4, 0, FRAMES))
    file["data"]["analogs"] = force[None, None]
    file.write(str(tmp_path / "library.c3d"))

    recording = read(tmp_path / "library.c3d")

    np.testing.assert_allclose(recording.total_n, force, atol=0.01)
    assert any("by its length the file holds 70000" in note for note in recording.notes)


@pytest.mark.parametrize(
    ("told", "last", "message"),
    [
        (
            {**TRIAL, "POINT:LONG_FRAMES": ("f", [FRAMES - 50])},
            65_535,
            r"contradict each other \(TRIAL:ACTUAL_END_FIELD 70000, POINT:LONG_FRAMES 69950\)",
        ),
        (TRIAL, 3000, r"contradict each other \(header 3000, TRIAL:ACTUAL_END_FIELD 70000\)"),
        (
            {"POINT:LONG_FRAMES": ("f", [FRAMES + 9000])},
            65_535,
            r"cut off: its header announces 79000 frames, it holds 7\d{4}",
        ),
        ({"ROTATION:USED": ("i", [1])}, 65_535, "more than its header can count"),
    ],
)
def test_counts_that_cannot_be_are_told(told, last, message, force, tmp_path):
    path = Writer().file(tmp_path / "odd.c3d", force, last=last, **told)

    with pytest.raises(RecordingError, match=message):
        read(path)
