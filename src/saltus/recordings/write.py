"""Recordings into files that anybody can read: delimited text and C3D."""

import math
from pathlib import Path

import ezc3d
import numpy as np
import polars as pl

from saltus.recordings.recording import Recording

__all__ = ["write_c3d", "write_delimited"]

_MOST_FRAMES = 65_000  # the header of a C3D file counts frames with 16 bits
_INTEGER = 2  # C3D's code for the type; other readers insist on it for these parameters
_WIDE_M, _LONG_M = 0.4, 0.6  # size of the platforms written


def write_delimited(
    recording: Recording,
    path: Path | str,
    *,
    delimiter: str = ",",
    decimal_comma: bool = False,
) -> None:
    """Write time and force as delimited text with a line of names and units.

    Parameters
    ----------
    recording : Recording
        Left and right are written where they are known, else the total.
    path : path-like
        File to write; its folder must exist.
    delimiter : str
        One character.
    decimal_comma : bool
        Write 1,5 for one and a half; the delimiter must not be a comma then.

    Raises
    ------
    ValueError
        If delimiter and decimal mark are the same.
    """
    if decimal_comma and delimiter == ",":
        raise ValueError("a decimal comma needs another delimiter than a comma")
    columns = {"time [s]": np.round(recording.time_s, 6)}
    if recording.left_n is not None and recording.right_n is not None:
        columns["left vertical force [N]"] = np.round(recording.left_n, 3)
        columns["right vertical force [N]"] = np.round(recording.right_n, 3)
    else:
        columns["vertical force [N]"] = np.round(recording.total_n, 3)
    pl.DataFrame(columns).write_csv(Path(path), separator=delimiter, decimal_comma=decimal_comma)


def write_c3d(recording: Recording, path: Path | str) -> None:
    """Write the force as a C3D file with one platform of type 2, or one under each foot.

    The laboratory's z axis is up and y forward; the left foot stands on the first platform,
    each on the middle of its own. A very long recording may lose its last few samples, as
    C3D counts whole frames.

    Parameters
    ----------
    recording : Recording
        What to write.
    path : path-like
        File to write; its folder must exist.
    """
    left, right = recording.left_n, recording.right_n
    forces = [recording.total_n] if left is None or right is None else [left, right]
    # a power of two, so that the rate of frames is exact in single precision
    per_frame = 2 ** max(0, math.ceil(math.log2(len(recording) / _MOST_FRAMES)))
    frames = len(recording) // per_frame
    samples = frames * per_frame
    count = len(forces)
    names = ("Fx", "Fy", "Fz", "Mx", "My", "Mz")
    analogue = np.zeros((1, 6 * count, samples))
    corners = np.zeros((3, 4, count))
    for i, force in enumerate(forces):
        # the platform's z axis points down, and the ground pushes up
        analogue[0, 6 * i + 2] = -force[:samples]
        middle = 1000 * _WIDE_M * (i - (count - 1) / 2)
        half_wide, half_long = 500 * _WIDE_M, 500 * _LONG_M
        corners[0, :, i] = middle + half_wide * np.array([1, 1, -1, -1])
        corners[1, :, i] = half_long * np.array([1, -1, -1, 1])
    file = ezc3d.c3d()
    parameters = file["parameters"]
    parameters["POINT"]["RATE"]["value"] = [recording.rate_hz / per_frame]
    parameters["POINT"]["UNITS"]["value"] = ["mm"]
    parameters["ANALOG"]["RATE"]["value"] = [recording.rate_hz]
    parameters["ANALOG"]["LABELS"]["value"] = [f"{n}{i + 1}" for i in range(count) for n in names]
    parameters["ANALOG"]["UNITS"]["value"] = (["N"] * 3 + ["Nmm"] * 3) * count
    file["data"]["points"] = np.zeros((4, 0, frames))
    file["data"]["analogs"] = analogue
    channels = np.arange(1.0, 6 * count + 1).reshape((6, count), order="F")
    for name, value in (
        ("USED", [count]),
        ("TYPE", [2] * count),
        ("ZERO", [0, 0]),
        ("CHANNEL", channels),
        ("CORNERS", corners),
        ("ORIGIN", np.zeros((3, count))),
    ):
        file.add_parameter("FORCE_PLATFORM", name, value)
    for name in ("USED", "TYPE", "ZERO", "CHANNEL"):
        parameters["FORCE_PLATFORM"][name]["type"] = _INTEGER
    file.write(str(path))
