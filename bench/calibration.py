"""Calibration of the posterior over virtual athletes, with the code that a coach runs."""

import datetime as dt
import time

import numpy as np

from bench._workers import workers
from saltus.athlete.calibration import Outcome, calibrate_one, season

ON = dt.date(2026, 11, 1)
BINS = 10


def one(seed: int) -> Outcome:
    rng = np.random.default_rng([20260, seed])
    tests, blocks = season(rng, ON, dates=1 + seed % 3)
    return calibrate_one(rng, ON, tests, blocks)


def run(athletes: int = 500) -> None:
    """Rank histogram and coverage of the 80 % intervals, by quality."""
    begun = time.perf_counter()
    with workers() as pool:
        outcomes = list(pool.map(one, range(athletes), chunksize=8))
    seconds = time.perf_counter() - begun
    print(f"{athletes} virtual athletes, one to three test dates, {seconds:.0f} s")
    print(f"{'':28} {'coverage':>8}  rank histogram ({BINS} bins, {athletes / BINS:.0f} expected)")
    for name in outcomes[0].ranks:
        ranks = np.array([o.ranks[name] for o in outcomes])
        inside = np.mean((ranks > 0.1) & (ranks < 0.9))
        histogram = np.histogram(ranks, bins=BINS, range=(0, 1))[0]
        print(f"{name:28} {inside:8.3f}  {' '.join(f'{n:4d}' for n in histogram)}")
    shares = np.array([o.effective_share for o in outcomes])
    low, median = np.percentile(shares, [5, 50])
    print(f"effective share of the draws: median {median:.2f}, 5th percentile {low:.2f}")
    probabilities = np.array([o.probability for o in outcomes])
    right = np.array([o.named is o.truly for o in outcomes])
    print("probability of the leading quality, and how often it is truly the largest:")
    for low, high in ((0.25, 0.5), (0.5, 0.7), (0.7, 0.85), (0.85, 1.01)):
        within = (probabilities >= low) & (probabilities < high)
        if within.any():
            print(
                f"  {low:.2f}-{min(high, 1):.2f}: {within.sum():4d} athletes, said "
                f"{probabilities[within].mean():.2f}, right {right[within].mean():.2f}"
            )
