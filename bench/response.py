"""Learnt response of simulated athletes with known true responses: is it as sure as it says?"""

import datetime as dt
import time

import numpy as np

from bench._workers import workers
from saltus.progress.simulated import BANDS, response_outcome

ON = dt.date(2026, 11, 1)


def one(seed: int) -> dict[str, list[int]]:
    return response_outcome(np.random.default_rng([20170, seed]), ON)


def run(athletes: int = 400) -> None:
    """Coverage of 80 % intervals over simulated seasons of three blocks and four test days."""
    begun = time.perf_counter()
    with workers() as pool:
        found = list(pool.map(one, range(athletes), chunksize=4))
    print(f"{athletes} simulated athletes, {time.perf_counter() - begun:.0f} s")
    for band in BANDS:
        sides = np.array([side for each in found for side in each[band]])
        print(
            f"{band:16} inside {np.mean(sides == 0):.3f}  below {np.mean(sides < 0):.3f}  "
            f"above {np.mean(sides > 0):.3f}  ({sides.size} intervals)"
        )
