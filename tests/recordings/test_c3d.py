"""C3D: platforms of types 1 to 4, whatever their axes, signs and units.

Sources: the C3D file format user guide (c3d.org), from memory, for types, corners and
origins; the channels are made from the load by statics in `conftest.write_platforms`.
"""

import struct

import numpy as np
import pytest

from saltus.errors import AmbiguousColumns, RecordingError
from saltus.recordings.options import ReadOptions
from saltus.recordings.read import read
from saltus.recordings.recording import Recording
from saltus.recordings.write import write_c3d

LEFT, RIGHT = np.array([-0.25, 0.1]), np.array([0.25, 0.1])


@pytest.fixture(scope="module")
def feet(jump):
    """Left and right force, and how far the pressure moves forward before take-off, m."""
    force = jump(noise_n=0.5)
    force[np.abs(force) < 3] = 0.0
    take_off = int(np.argmax(force < 10))
    forward = np.interp(np.arange(force.size), [take_off - 250, take_off - 60], [0.0, 0.09])
    forward[take_off + 200 :] = 0.0
    return 0.48 * force, 0.52 * force, forward


def pressure(middle, forward, facing=1.0):
    return np.column_stack((np.full(forward.size, middle[0]), middle[1] + facing * forward))


@pytest.mark.parametrize("kind", [1, 2, 3, 4])
@pytest.mark.parametrize("sign", [1.0, -1.0])
@pytest.mark.parametrize("laboratory", ["z up, y forward", "y up, x forward", "x up, z forward"])
def test_the_vertical_force_is_found_whatever_the_axes_and_signs(
    kind, sign, laboratory, feet, tmp_path, write_platforms, laboratories
):
    left, right, forward = feet
    path = write_platforms(
        tmp_path / "jump.c3d",
        [
            (kind, right, pressure(RIGHT, forward), RIGHT),
            (kind, left, pressure(LEFT, forward), LEFT),
        ],
        laboratory=laboratories[laboratory],
        sign=sign,
    )

    recording = read(path)

    assert recording.rate_hz == 1000
    np.testing.assert_allclose(recording.left_n, left, atol=0.01)
    np.testing.assert_allclose(recording.right_n, right, atol=0.01)
    assert any("centre of pressure moves forward" in note for note in recording.notes)


@pytest.mark.parametrize("kind", [1, 2, 3, 4])
def test_a_person_who_faces_backward_stands_with_the_feet_changed(
    kind, feet, tmp_path, write_platforms
):
    left, right, forward = feet
    plates = [
        (kind, right, pressure(LEFT, forward, -1.0), LEFT),
        (kind, left, pressure(RIGHT, forward, -1.0), RIGHT),
    ]

    recording = read(write_platforms(tmp_path / "back.c3d", plates))

    np.testing.assert_allclose(recording.left_n, left, atol=0.01)


def test_markers_say_which_way_is_up_when_the_laboratory_is_upside_down(
    feet, tmp_path, write_platforms
):
    left, right, forward = feet
    down = np.array([[1, 0, 0], [0, -1, 0], [0, 0, -1]], float)  # z points into the ground
    plates = [
        (2, right, pressure(RIGHT, forward), RIGHT),
        (2, left, pressure(LEFT, forward), LEFT),
    ]
    path = write_platforms(
        tmp_path / "down.c3d", plates, laboratory=down, markers=[(0, 0, 1.0), (0.1, 0, 1.7)]
    )

    np.testing.assert_allclose(read(path).left_n, left, atol=0.01)


def test_a_plate_described_from_below_is_read_alike(feet, tmp_path, write_platforms):
    left, right, forward = feet
    plates = [
        (2, right, pressure(RIGHT, forward), RIGHT),
        (2, left, pressure(LEFT, forward), LEFT),
    ]

    recording = read(write_platforms(tmp_path / "below.c3d", plates, face_up=True))

    np.testing.assert_allclose(recording.left_n, left, atol=0.01)


def test_without_a_forward_shift_the_order_decides_and_says_so(feet, tmp_path, write_platforms):
    left, right, _ = feet
    still = np.zeros(left.size)
    plates = [(2, left, pressure(RIGHT, still), RIGHT), (2, right, pressure(LEFT, still), LEFT)]
    path = write_platforms(tmp_path / "still.c3d", plates)

    recording = read(path)
    other = read(path, options=ReadOptions(first_plate="right"))

    np.testing.assert_allclose(recording.left_n, left, atol=0.01)
    assert any("from the order of the plates" in note for note in recording.notes)
    np.testing.assert_allclose(other.right_n, left, atol=0.01)


def test_the_order_given_beats_the_centre_of_pressure_and_says_so(feet, tmp_path, write_platforms):
    left, right, forward = feet
    plates = [
        (2, right, pressure(RIGHT, forward), RIGHT),
        (2, left, pressure(LEFT, forward), LEFT),
    ]
    path = write_platforms(tmp_path / "order.c3d", plates)

    recording = read(path, options=ReadOptions(first_plate="left"))

    np.testing.assert_allclose(recording.left_n, right, atol=0.01)
    assert any("although the centre of pressure says otherwise" in n for n in recording.notes)


@pytest.mark.parametrize("length", ["mm", "cm", "m"])
def test_lengths_may_be_in_any_unit(length, feet, tmp_path, write_platforms):
    left, right, forward = feet
    plates = [
        (3, right, pressure(RIGHT, forward), RIGHT),
        (4, left, pressure(LEFT, forward), LEFT),
    ]

    recording = read(write_platforms(tmp_path / "length.c3d", plates, length=length))

    np.testing.assert_allclose(recording.left_n, left, atol=0.01)
    assert any("centre of pressure" in note for note in recording.notes)


def test_kilonewtons(feet, tmp_path, write_platforms):
    left, _, forward = feet
    plates = [(2, 2 * left, pressure(LEFT, forward), LEFT)]

    recording = read(write_platforms(tmp_path / "kn.c3d", plates, unit="kN", scale=0.001))

    assert recording.left_n is None
    np.testing.assert_allclose(recording.total_n, 2 * left, atol=0.01)


def test_plates_of_several_types_and_unused_ones(feet, tmp_path, write_platforms):
    left, right, forward = feet
    nothing = np.zeros(left.size)
    plates = [
        (1, nothing, pressure((1.0, 1.0), nothing), np.array([1.0, 1.0])),
        (3, left, pressure(LEFT, forward), LEFT),
        (4, right, pressure(RIGHT, forward), RIGHT),
        (2, nothing, pressure((2.0, 1.0), nothing), np.array([2.0, 1.0])),
    ]

    recording = read(write_platforms(tmp_path / "four.c3d", plates))

    np.testing.assert_allclose(recording.left_n, left, atol=0.01)
    np.testing.assert_allclose(recording.right_n, right, atol=0.01)
    assert any("Nobody stood on plate 1 and plate 4" in note for note in recording.notes)


def test_a_person_across_three_plates_has_a_total_but_no_feet(feet, tmp_path, write_platforms):
    left, right, forward = feet
    plates = [
        (2, left / 2, pressure(LEFT, forward), LEFT),
        (2, left / 2, pressure((-0.25, -0.5), forward), np.array([-0.25, -0.5])),
        (2, right, pressure(RIGHT, forward), RIGHT),
    ]

    recording = read(write_platforms(tmp_path / "three.c3d", plates))

    assert recording.left_n is None
    np.testing.assert_allclose(recording.total_n, left + right, atol=0.01)


def test_named_channels_are_taken_instead_of_platforms(feet, tmp_path, write_platforms):
    left, _, forward = feet
    path = write_platforms(tmp_path / "names.c3d", [(1, left, pressure(LEFT, forward), LEFT)])

    recording = read(path, options=ReadOptions(force="channel 3"))

    np.testing.assert_allclose(recording.total_n, left, atol=0.01)


def test_what_it_writes_it_reads(feet, tmp_path):
    left, right, _ = feet
    recording = Recording(1000.0, left + right, left, right)
    for rate in (1000.0, 600.0, 2000.0):
        path = tmp_path / f"{rate}.c3d"
        write_c3d(Recording(rate, left + right, left, right), path)

        back = read(path)

        assert back.rate_hz == rate
        np.testing.assert_allclose(back.left_n, left, atol=1e-3)
        np.testing.assert_allclose(back.right_n, right, atol=1e-3)
    write_c3d(Recording(1000.0, recording.total_n), tmp_path / "one.c3d")
    one = read(tmp_path / "one.c3d")
    assert one.left_n is None
    np.testing.assert_allclose(one.total_n, recording.total_n, atol=1e-3)


def test_a_long_recording_does_not_run_out_of_frames(tmp_path, jump):
    force = np.tile(jump(), 40)
    assert force.size > 65_535
    write_c3d(Recording(1000.0, force), tmp_path / "long.c3d")

    back = read(tmp_path / "long.c3d")

    assert back.rate_hz == 1000
    assert force.size - len(back) < 4
    np.testing.assert_allclose(back.total_n, force[: len(back)], atol=1)


# -- damaged files ----------------------------------------------------------------------------


@pytest.fixture
def whole(feet, tmp_path, write_platforms):
    left, _, forward = feet
    path = write_platforms(tmp_path / "bad.c3d", [(2, 2 * left, pressure(LEFT, forward), LEFT)])
    return path, bytearray(path.read_bytes())


def _parameter(data, name):
    """Place of the first value of a parameter, found by its name."""
    at = data.index(name) + len(name) + 2
    return at + 2 + data[at + 1]


def test_a_file_that_is_cut_off_says_so(whole):
    path, data = whole
    for keep, message in (
        (len(data) // 2, r"cut off: its header announces \d+ frames, it holds \d+"),
        (300, "cut off within its header"),
        (700, "damaged"),
    ):
        path.write_bytes(data[:keep])
        with pytest.raises(RecordingError, match=message):
            read(path)


def test_other_platform_types_are_refused(whole):
    path, data = whole
    at = _parameter(data, b"TYPE")
    data[at : at + 2] = struct.pack("<h", 6)
    path.write_bytes(data)

    with pytest.raises(RecordingError, match=r"platform of type 6; types 1 to 4"):
        read(path)


def test_a_channel_that_is_not_there_is_refused(whole):
    path, data = whole
    at = _parameter(data, b"CHANNEL")
    data[at : at + 2] = struct.pack("<h", 99)
    path.write_bytes(data)

    with pytest.raises(RecordingError, match=r"plate 1 of type 2 needs 6 channels"):
        read(path)


def test_a_file_without_platforms_or_names_of_force_asks(whole):
    path, data = whole
    place = data.index(b"FORCE_PLATFORM")
    data[place : place + 5] = b"OTHER"
    path.write_bytes(data)

    with pytest.raises(AmbiguousColumns, match="several columns could be") as caught:
        read(path)
    assert f"saltus analyse {path} --force" in str(caught.value)


def test_type_4_without_calibration_is_refused(feet, tmp_path, write_platforms):
    left, _, forward = feet
    path = write_platforms(tmp_path / "cal.c3d", [(4, left, pressure(LEFT, forward), LEFT)])
    data = bytearray(path.read_bytes())
    place = data.index(b"CAL_MATRIX")
    data[place : place + 10] = b"CAL_NOTHIN"
    path.write_bytes(data)

    with pytest.raises(RecordingError, match="type 4 but has no calibration matrix"):
        read(path)


def test_a_parameter_that_runs_out_of_its_section_is_refused(whole):
    """Such a link makes a reader run outside the file."""
    path, data = whole
    place = data.index(b"SCALE", data.index(b"ANALOG"))
    data[place + 5 : place + 7] = struct.pack("<h", 30_000)
    path.write_bytes(data)

    with pytest.raises(RecordingError, match="damaged"):
        read(path)


def test_a_scale_that_is_missing_is_refused(whole):
    path, data = whole
    place = data.index(b"OFFSET")
    data[place : place + 6] = b"OFFICE"
    path.write_bytes(data)

    with pytest.raises(RecordingError, match=r"ANALOG:OFFSET has 0 values for 6 channels"):
        read(path)


def test_more_channels_than_the_header_counts_are_refused(whole):
    """Room was made for every one of them, for minutes on end."""
    path, data = whole
    place = data.index(b"USED", data.index(b"ANALOG", data.index(b"GEN_SCALE") - 200))
    at = place + len(b"USED") + 2
    at += 2 + data[at + 1]
    assert struct.unpack_from("<h", data, at) == (6,)
    data[at : at + 2] = struct.pack("<h", 16_390)
    path.write_bytes(data)

    with pytest.raises(RecordingError, match=r"ANALOG:SCALE has 6 values for 255 channels"):
        read(path)


def test_time_cannot_be_named(whole):
    path, _ = whole
    with pytest.raises(RecordingError, match="leave out --time"):
        read(path, options=ReadOptions(time="1"))


def test_a_c3d_under_another_name_is_read_as_c3d(whole):
    path, _ = whole
    other = path.rename(path.with_suffix(".csv"))

    assert read(other).rate_hz == 1000
