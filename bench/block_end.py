"""When a block of depth jumps is ended, for simulated athletes with known gains."""

import datetime as dt

import numpy as np

from saltus.athlete.measurement_error import ATTEMPT_CV, DAY_CV
from saltus.training.method_file import load_method
from saltus.training.today.block_end import next_week
from saltus.training.today.drop_choice import DropResult

BEGUN = dt.date(2026, 1, 5)
WEEKS = 6
SETS = 3


def ended_after(rng: np.random.Generator, gain: float, scale: float, weekly: float) -> float:
    """Weeks from the first session to the one before which it was ended; infinite if never."""
    day = load_method().day
    results: list[DropResult] = []
    for session in range(2 * WEEKS):
        date = BEGUN + dt.timedelta(days=7 * session // 2)
        weeks = (date - BEGUN).days / 7
        found = next_week(results, date, day)
        if found is not None and found.ended:
            return weeks
        level = 0.35 * (1 + gain * (1 - np.exp(-weeks / scale)) + weekly * weeks)
        noise = rng.normal(0, DAY_CV) + rng.normal(0, ATTEMPT_CV, SETS).mean()
        results.append(
            DropResult(
                date=date,
                box_m=0.45,
                height_m=float(level * (1 + noise)),
                contact_s=None,
                n=SETS,
                source="log",
                reading_sd_m=0.004,
            )
        )
    return np.inf


def run(athletes: int = 300) -> None:
    """Shares ended before the third and fourth week, and never within six."""
    print(f"{athletes} simulated athletes of each kind, two sessions a week, {SETS} sets measured")
    print(f"{'gain':44} before 3  before 4   never")
    kinds = (
        ("none", 0.0, 1.0, 0.0),
        ("3 % in all, two thirds of it in 1.5 weeks", 0.03, 1.5, 0.0),
        ("6 % in all, two thirds of it in 2 weeks", 0.06, 2.0, 0.0),
        ("2 % every week", 0.0, 1.0, 0.02),
    )
    for name, gain, scale, weekly in kinds:
        rng = np.random.default_rng(20260105)
        weeks = np.array([ended_after(rng, gain, scale, weekly) for _ in range(athletes)])
        shares = [np.mean(weeks < 3), np.mean(weeks < 4), np.mean(np.isinf(weeks))]
        print(f"{name:44} {shares[0]:8.1%}  {shares[1]:8.1%}  {shares[2]:6.1%}")
