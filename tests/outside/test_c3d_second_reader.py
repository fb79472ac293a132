"""C3D files read by Saltus against two readers that it does not share its arithmetic with.

Sources: the `c3d` package (a reader of its own in Python) for the samples; the force
platforms that `ezc3d` computes itself, by the C3D file format user guide (c3d.org), for types
1 to 4. What Saltus turns into vertical force and centre of pressure must be what they say.
"""

import warnings

import c3d
import ezc3d
import numpy as np
import pytest

from saltus.recordings.platforms import frame_from_corners, plate_load
from saltus.recordings.read import read
from saltus.recordings.recording import Recording
from saltus.recordings.write import write_c3d

CHANNELS = {1: 6, 2: 6, 3: 8, 4: 6}


def second_reading(path):
    """Analogue samples, shape (channels, n), and their rate, by the second reader."""
    with path.open("rb") as file, warnings.catch_warnings():
        warnings.simplefilter("ignore", UserWarning)  # it warns that there are no markers
        reader = c3d.Reader(file)
        frames = [analogue for _, _, analogue in reader.read_frames()]
        return np.concatenate(frames, axis=1), reader.analog_rate


def invented_jump(n=2400):
    """A stand, a push, a flight and a landing, N, 1000 Hz."""
    levels = [(0, 780), (900, 780), (1100, 400), (1400, 1800), (1550, 0), (1950, 0), (2000, 2400)]
    force = np.interp(np.arange(n), *np.array([*levels, (2300, 780), (n, 780)]).T)
    return force + np.random.default_rng(2).normal(0, 0.5, n) * (force > 0)


def test_the_samples_are_those_of_the_second_reader(tmp_path):
    force = invented_jump()
    path = tmp_path / "two.c3d"
    write_c3d(Recording(1000.0, force, 0.45 * force, 0.55 * force), path)

    samples, rate = second_reading(path)
    recording = read(path)

    assert rate == recording.rate_hz == 1000
    # the ground's force on the person has the other sign than the platform's downward z
    np.testing.assert_allclose(recording.left_n, -samples[2], atol=1e-3)
    np.testing.assert_allclose(recording.right_n, -samples[8], atol=1e-3)
    np.testing.assert_allclose(recording.left_n, 0.45 * force, atol=1e-3)


def test_a_file_of_the_second_writer_is_read(tmp_path):
    """Integers and scales as another program lays them out, with markers at a tenth the rate."""
    force = invented_jump(2400)
    writer = c3d.Writer(point_rate=100.0, analog_rate=1000.0, point_scale=-1.0)
    channels = np.zeros((6, force.size))
    channels[2] = -force
    frames = []
    for i in range(0, force.size, 10):
        markers = np.array([[0.0, 0.0, 1000.0, 0.0, 0.0]])
        frames.append((markers, channels[:, i : i + 10]))
    writer.add_frames(frames)
    writer.set_point_labels(["top"])
    writer.set_analog_scales(np.ones(6))
    writer.set_analog_offsets(np.zeros(6, dtype=np.int16))
    writer.set_analog_labels(["Fx", "Fy", "Fz", "Mx", "My", "Mz"])
    path = tmp_path / "other.c3d"
    with path.open("wb") as file, warnings.catch_warnings():
        warnings.simplefilter("ignore")
        writer.write(file)

    recording = read(path)

    assert recording.rate_hz == 1000
    np.testing.assert_allclose(recording.total_n, force, atol=0.6)


@pytest.mark.parametrize("kind", [1, 2, 3, 4])
@pytest.mark.parametrize("seed", range(5))
def test_force_and_centre_of_pressure_of_each_platform_type(kind, seed, tmp_path):
    rng = np.random.default_rng(seed)
    n = 60
    channels = rng.normal(0, 10, (CHANNELS[kind], n))
    channels[4 : 8 if kind == 3 else 2] -= 200
    channels[2] -= 700
    calibration = np.eye(6) + 0.05 * rng.normal(size=(6, 6))
    origin = np.array([150.0, 200.0, -40.0]) if kind == 3 else rng.normal(0, 5, 3)
    # a platform of 400 by 600 mm, turned and moved in the laboratory
    rotation, _ = np.linalg.qr(rng.normal(size=(3, 3)))
    rotation *= np.sign(np.linalg.det(rotation))
    flat = np.array([[200, -200, -200, 200], [300, 300, -300, -300], [0, 0, 0, 0]], float)
    corners = rotation @ flat + rng.normal(0, 500, (3, 1))
    path = tmp_path / "platform.c3d"
    file = ezc3d.c3d()
    parameters = file["parameters"]
    parameters["POINT"]["RATE"]["value"] = [1000.0]
    parameters["POINT"]["UNITS"]["value"] = ["mm"]
    parameters["ANALOG"]["RATE"]["value"] = [1000.0]
    parameters["ANALOG"]["LABELS"]["value"] = [f"c{i}" for i in range(len(channels))]
    parameters["ANALOG"]["UNITS"]["value"] = ["N"] * len(channels)
    file["data"]["points"] = np.zeros((4, 0, n))
    file["data"]["analogs"] = channels[None]
    for name, value in {
        "USED": [1],
        "TYPE": [kind],
        "ZERO": [0, 0],
        "CHANNEL": np.arange(1.0, len(channels) + 1)[:, None],
        "CORNERS": corners[:, :, None],
        "ORIGIN": origin[:, None],
        "CAL_MATRIX": calibration[:, :, None],
    }.items():
        file.add_parameter("FORCE_PLATFORM", name, value)
    for name in ("USED", "TYPE", "ZERO", "CHANNEL"):
        parameters["FORCE_PLATFORM"][name]["type"] = 2
    file.write(str(path))
    theirs = ezc3d.c3d(str(path), extract_forceplat_data=True)["data"]["platform"][0]

    frame = frame_from_corners(corners)
    load = plate_load(kind, list(channels), origin, calibration, 1.0)

    force = frame.axes @ np.stack(load.force)
    pressure = frame.centre[:, None] + frame.axes[:, :2] @ load.pressure
    # single precision in the file
    np.testing.assert_allclose(force, theirs["force"], atol=2e-3)
    np.testing.assert_allclose(pressure, theirs["center_of_pressure"], atol=2e-2)
