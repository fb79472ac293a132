"""Simulated athletes whose best box to drop from is known, to hold the choice against."""

import datetime as dt

import numpy as np

from saltus.athlete.measurement_error import ATTEMPT_CV, DAY_CV, METHODS
from saltus.athlete.observations import DropJump, JumpMethod
from saltus.training.method import DropBy
from saltus.training.method_file import load_method
from saltus.training.today.drop_choice import choose_drop, drop_results

__all__ = ["ATTEMPTS", "BOXES_M", "LOSS_15_CM", "shares"]

ON = dt.date(2026, 11, 1)
BOXES_M = (0.15, 0.30, 0.45, 0.60, 0.75)
LOSS_15_CM = (0.005, 0.04)
"""Loss of rebound 15 cm below and above the best box, as a share: from hardly any to clear."""
POWER = 1.5
"""How the loss grows with the distance: between a straight line and a parabola."""
ATTEMPTS = 3


def _one(rng: np.random.Generator, days: int, probability: float) -> tuple[int, int]:
    """Places of the chosen and of the truly best box."""
    best = int(rng.integers(len(BOXES_M)))
    level = rng.uniform(0.22, 0.45)
    away = (np.array(BOXES_M) - BOXES_M[best]) / 0.15
    loss = np.where(away < 0, rng.uniform(*LOSS_15_CM), rng.uniform(*LOSS_15_CM))
    truth = level * (1 - loss * np.abs(away) ** POWER)
    mat = METHODS[JumpMethod.MAT]
    bias = rng.normal(mat.bias_m, mat.bias_sd_m)
    tests = []
    for day in range(days):
        form = rng.normal(0, DAY_CV)
        for box, height in zip(BOXES_M, truth, strict=True):
            attempts = height * (1 + form + rng.normal(0, ATTEMPT_CV, ATTEMPTS))
            read = attempts + bias + rng.normal(0, mat.reading_sd_m, ATTEMPTS)
            tests.append(
                DropJump(
                    date=ON - dt.timedelta(days=7 * day),
                    drop_m=box,
                    heights_m=tuple(map(float, np.maximum(read, 0.05))),
                )
            )
    choice = choose_drop(drop_results(tests, (), ON), BOXES_M, DropBy.HEIGHT, probability)
    assert choice is not None
    return BOXES_M.index(choice.box_m), best


def shares(athletes: int, days: int, seed: int = 0) -> tuple[float, float, float]:
    """How often the choice comes near the best box.

    Parameters
    ----------
    athletes : int
        How many to simulate.
    days : int
        Test days of each, all boxes on each of them, with the published errors.
    seed : int
        Of the draws.

    Returns
    -------
    tuple of float
        Shares of athletes: within one box of the best, exactly on it, above it.
    """
    rng = np.random.default_rng([20261101, days, seed])
    probability = load_method().day.drop_probability
    found = np.array([_one(rng, days, probability) for _ in range(athletes)])
    off = found[:, 0] - found[:, 1]
    return float(np.mean(np.abs(off) <= 1)), float(np.mean(off == 0)), float(np.mean(off > 0))
