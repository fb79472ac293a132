"""Which tests separate which qualities: share decided and share right, by set of tests."""

import datetime as dt

import numpy as np

from bench._workers import workers
from saltus.athlete.calibration import Outcome, battery, calibrate_one
from saltus.athlete.worth import DECIDED

ON = dt.date(2026, 11, 1)
BATTERIES = {
    "CMJ alone": ("cmj",),
    "CMJ, squat 1RM": ("cmj", "squat"),
    "CMJ, squat 1RM, isometric pull": ("cmj", "squat", "pull"),
    "everything": ("cmj", "sj", "squat", "pull", "drops", "loaded"),
}


def one(task: tuple[str, int]) -> Outcome:
    name, seed = task
    rng = np.random.default_rng([4711, seed])
    return calibrate_one(rng, ON, battery(BATTERIES[name], ON), draws=1000)


def run(athletes: int = 200) -> None:
    """Share of athletes whose limiting quality is named, and of these named rightly."""
    print(f"{athletes} virtual athletes; named from a probability of {DECIDED:.0%}")
    print(f"{'tests':34} {'named':>6} {'right':>6}")
    for name in BATTERIES:
        with workers() as pool:
            outcomes = list(pool.map(one, [(name, i) for i in range(athletes)], chunksize=4))
        named = np.array([o.probability >= DECIDED for o in outcomes])
        right = np.array([o.named is o.truly for o in outcomes])[named]
        print(f"{name:34} {named.mean():6.0%} {right.mean() if right.size else np.nan:6.0%}")
