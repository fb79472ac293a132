"""Force platforms of C3D types 1 to 4: from channels to force and centre of pressure.

Types, corners, origins and calibration matrices as in the C3D file format user guide
(c3d.org), from memory:

====  ========================================================================
type  channels
====  ========================================================================
1     Fx Fy Fz, centre of pressure x y, free moment z
2     Fx Fy Fz Mx My Mz
3     Fx12 Fx34 Fy14 Fy23 Fz1 Fz2 Fz3 Fz4, one sensor in each corner
4     as type 2, after multiplication with a calibration matrix of 6 by 6
====  ========================================================================

Corner 1 lies in the quadrant +x +y of the platform's own axes, corner 2 in -x +y, corner 3
in -x -y and corner 4 in +x -y; its z axis follows from them, and is vertical whatever the
axes of the laboratory.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["CHANNELS", "Frame", "PlateLoad", "frame_from_corners", "horizontal_axes", "plate_load"]

Floats = NDArray[np.float64]

CHANNELS = {1: 6, 2: 6, 3: 8, 4: 6}
"""Number of channels of each type."""

_EMPTY = 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class PlateLoad:
    """Load on one platform, in its own axes.

    Parameters
    ----------
    force : three ndarrays, shape (n,)
        Along x, y and z, in the unit of the channels.
    pressure : ndarray, shape (2, n)
        Centre of pressure from the middle of the surface, x and y, in the length unit of the
        file; NaN where nothing presses.
    """

    force: tuple[Floats, Floats, Floats]
    pressure: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Frame:
    """Where a platform lies in the laboratory.

    Parameters
    ----------
    centre : ndarray, shape (3,)
        Middle of the surface.
    axes : ndarray, shape (3, 3)
        Columns are the platform's x, y and z axis, each of length 1.
    """

    centre: Floats
    axes: Floats


def plate_load(
    kind: int,
    channels: Sequence[Floats],
    origin: Floats,
    matrix: Floats | None,
    moment_length: float,
) -> PlateLoad:
    """Force and centre of pressure of one platform.

    Parameters
    ----------
    kind : int
        Type, 1 to 4.
    channels : sequence of 6 or 8 ndarrays, shape (n,)
        Scaled samples.
    origin : ndarray, shape (3,)
        For types 2 and 4 from the origin of the measurement to the middle of the surface; for
        type 3 the distances of the sensors from the middle, x and y, and their depth; type 1
        measures from the middle itself.
    matrix : ndarray, shape (6, 6), or None
        Calibration of type 4.
    moment_length : float
        Length unit of the moments in length units of the file.
    """
    if origin[2] > 0 and kind != 1:
        # z points down and the sensors lie below the surface: some programs write it reversed
        origin = origin * (1.0, 1.0, -1.0) if kind == 3 else -origin
    if kind == 1:
        return PlateLoad((channels[0], channels[1], channels[2]), np.stack(channels[3:5]))
    if kind == 3:
        z1, z2, z3, z4 = channels[4:8]
        force = (channels[0] + channels[1], channels[2] + channels[3], z1 + z2 + z3 + z4)
        moment_x = origin[1] * (z1 + z2 - z3 - z4)
        moment_y = origin[0] * (-z1 + z2 + z3 - z4)
        offset = np.array((0.0, 0.0, origin[2]))
    else:
        if kind == 4:
            assert matrix is not None
            # one row at a time: an hour of recording is too large to multiply at once
            channels = [
                sum((w * channel for w, channel in zip(row, channels, strict=True)), np.zeros(1))
                for row in matrix
            ]
        force = (channels[0], channels[1], channels[2])
        moment_x, moment_y = channels[3] * moment_length, channels[4] * moment_length
        offset = origin
    # moments about the middle of the surface: M - offset x F
    moment_x = moment_x - (offset[1] * force[2] - offset[2] * force[1])
    moment_y = moment_y - (offset[2] * force[0] - offset[0] * force[2])
    pressed = np.where(np.abs(force[2]) > _EMPTY, force[2], np.nan)
    return PlateLoad(force, np.stack((-moment_y / pressed, moment_x / pressed)))


def frame_from_corners(corners: Floats) -> Frame | None:
    """Place of a platform from its corners, shape (3, 4), or None where they say nothing."""
    if corners.shape != (3, 4) or not np.all(np.isfinite(corners)):
        return None
    first, second, third, fourth = corners.T
    x = first + fourth - second - third
    y = first + second - third - fourth
    z = np.cross(x, y)
    if min(np.linalg.norm(x), np.linalg.norm(y)) < _EMPTY or np.linalg.norm(z) < 0.5 * (
        np.linalg.norm(x) * np.linalg.norm(y)
    ):
        return None
    x, z = x / np.linalg.norm(x), z / np.linalg.norm(z)
    return Frame(corners.mean(axis=1), np.column_stack((x, np.cross(z, x), z)))


def horizontal_axes(up: Floats) -> Floats:
    """Two axes, rows of shape (2, 3), that make a right-handed frame with `up`."""
    aside = np.zeros(3)
    aside[(int(np.argmax(np.abs(up))) + 1) % 3] = 1.0
    first = aside - (aside @ up) * up
    first /= np.linalg.norm(first)
    return np.stack((first, np.cross(up, first)))
