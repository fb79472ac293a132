from pathlib import Path

import numpy as np
import pytest

OPEN_RECORDINGS = Path(__file__).parents[3] / "shared" / "open-recordings"


@pytest.fixture(scope="session")
def open_recordings():
    if not OPEN_RECORDINGS.is_dir():
        pytest.skip("the open recordings are not beside the repository")
    return OPEN_RECORDINGS


@pytest.fixture(scope="session")
def jump():
    """Vertical force of an invented countermovement jump: stand, dip, push, flight, landing."""

    def make(rate_hz=1000.0, weight_n=780.0, noise_n=1.0, flight_s=0.45, seed=1, stand_s=1.0):
        parts = [
            (0.0, 1.0),
            (stand_s, 1.0),
            (stand_s + 0.20, 0.45),
            (stand_s + 0.35, 1.0),
            (stand_s + 0.55, 2.35),
            (stand_s + 0.72, 1.9),
            (stand_s + 0.80, 0.0),
            (stand_s + 0.80 + flight_s, 0.0),
            (stand_s + 0.85 + flight_s, 3.1),
            (stand_s + 1.05 + flight_s, 1.3),
            (stand_s + 1.30 + flight_s, 0.9),
            (stand_s + 1.60 + flight_s, 1.0),
            (stand_s + 2.30 + flight_s, 1.0),
        ]
        times, levels = np.array(parts).T
        n = int(times[-1] * rate_hz)
        force = weight_n * np.interp(np.arange(n) / rate_hz, times, levels)
        return force + np.random.default_rng(seed).normal(0, noise_n, n)

    return make


# Rows: right, forward and up of the person, in the axes of the laboratory; all right-handed.
LABORATORIES = {
    "z up, y forward": np.array([[1, 0, 0], [0, 1, 0], [0, 0, 1]], float),
    "y up, x forward": np.array([[0, 0, 1], [1, 0, 0], [0, 1, 0]], float),
    "x up, z forward": np.array([[0, 1, 0], [0, 0, 1], [1, 0, 0]], float),
}


@pytest.fixture(scope="session")
def write_platforms():
    """Write a C3D file with force platforms of any type, from what happens on the floor.

    A plate is (type, vertical force (n,), centre of pressure (n, 2) in m to the right and
    forward, middle of the plate (2,) in m). Everything is turned into channels by statics.
    """
    import ezc3d

    def channels(kind, local_force, u, v, origin, calibration):
        fz = local_force[2]
        zero = np.zeros_like(fz)
        if kind == 1:
            return [*local_force, u, v, zero]
        if kind == 3:
            a, b = origin[:2]
            corners = [(1, 1), (-1, 1), (-1, -1), (1, -1)]
            z = [fz / 4 * (1 + su * u / a) * (1 + sv * v / b) for su, sv in corners]
            return [zero, zero, zero, zero, *z]
        arm = np.stack((u + origin[0], v + origin[1], zero + origin[2]))
        moment = np.cross(arm.T, np.asarray(local_force).T).T
        six = np.stack((*local_force, *moment))
        return six if kind == 2 else np.linalg.solve(calibration, six)

    def write(
        path,
        plates,
        *,
        rate_hz=1000.0,
        laboratory=None,
        sign=1.0,
        unit="N",
        scale=1.0,
        markers=None,
        face_up=False,
        length="mm",
    ):
        lab = LABORATORIES["z up, y forward"] if laboratory is None else laboratory
        per_metre = {"mm": 1000.0, "m": 1.0, "cm": 100.0}[length]
        rng = np.random.default_rng(4)
        rows, units, corner, origins, matrices, index = [], [], [], [], [], []
        for kind, vertical, pressure, middle in plates:
            # columns: the plate's x, y, z in floor axes; z down unless it lies the other way
            axes = np.array([[0, 1, 0], [1, 0, 0], [0, 0, -1]], float)
            if face_up:
                axes = np.array([[1, 0, 0], [0, 1, 0], [0, 0, 1]], float)
            up = np.stack((np.zeros_like(vertical), np.zeros_like(vertical), vertical))
            force = sign * scale * (axes.T @ up)
            away = (np.asarray(pressure) - middle) * per_metre
            u, v = axes[:2, 0] @ away.T, axes[:2, 1] @ away.T
            origin = np.array([0.15, 0.2, -0.04] if kind == 3 else [0.0, 0.0, -0.04]) * per_metre
            calibration = np.eye(6) + 0.05 * rng.normal(size=(6, 6))
            made = channels(kind, force, u, v, origin, calibration)
            first = len(rows)
            rows += list(made)
            units += ["V" if kind == 4 else unit] * len(made)
            index.append(np.arange(first + 1.0, len(rows) + 1))
            signs = np.array([[1, 1], [-1, 1], [-1, -1], [1, -1]], float)
            at = np.array([middle[0], middle[1], 0.0])
            floor = [at + 0.2 * s * axes[:, 0] + 0.3 * t * axes[:, 1] for s, t in signs]
            corner.append((np.array(floor) @ lab).T * per_metre)
            origins.append(origin)
            matrices.append(calibration)
        most = max(map(len, index))
        channel = np.zeros((most, len(plates)))
        for i, numbers in enumerate(index):
            channel[: len(numbers), i] = numbers
        file = ezc3d.c3d()
        parameters = file["parameters"]
        n = len(rows[0])
        parameters["POINT"]["RATE"]["value"] = [rate_hz]
        parameters["POINT"]["UNITS"]["value"] = [length]
        parameters["ANALOG"]["RATE"]["value"] = [rate_hz]
        parameters["ANALOG"]["LABELS"]["value"] = [f"channel {i + 1}" for i in range(len(rows))]
        parameters["ANALOG"]["UNITS"]["value"] = units
        if markers is None:
            file["data"]["points"] = np.zeros((4, 0, n))
        else:
            parameters["POINT"]["LABELS"]["value"] = [f"m{i}" for i in range(len(markers))]
            place = (np.asarray(markers, float) @ lab).T * per_metre
            points = np.ones((4, len(markers), n))
            points[:3] = place[:, :, None]
            file["data"]["points"] = points
        file["data"]["analogs"] = np.array(rows)[None]
        count = len(plates)
        for name, value in (
            ("USED", [count]),
            ("TYPE", [plate[0] for plate in plates]),
            ("ZERO", [0, 0]),
            ("CHANNEL", channel),
            ("CORNERS", np.stack(corner, axis=2)),
            ("ORIGIN", np.stack(origins, axis=1)),
            ("CAL_MATRIX", np.stack(matrices, axis=2)),
        ):
            file.add_parameter("FORCE_PLATFORM", name, value)
        for name in ("USED", "TYPE", "ZERO", "CHANNEL"):
            parameters["FORCE_PLATFORM"][name]["type"] = 2
        file.write(str(path))
        return path

    return write


@pytest.fixture(scope="session")
def laboratories():
    return LABORATORIES
