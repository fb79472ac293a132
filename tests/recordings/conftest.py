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
