"""Following over simulated seasons: coverage of bands, false alarms, and plateaus found in time."""

import datetime as dt
import time
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from typing import Any

import numpy as np

from saltus.athlete.qualities import TRAINABLE, WORDS, Quality
from saltus.progress.simulated_seasons import (
    PlateauOutcome,
    Schedule,
    band_outcome,
    false_alarm_outcome,
    plateau_outcome,
)

ON = dt.date(2026, 11, 1)
TESTINGS = {
    "jumps weekly, own test fortnightly": Schedule(1, 0.5),
    "jumps twice a week, own test weekly": Schedule(2, 1.0),
    "jumps twice a week, own test twice a week": Schedule(2, 2.0),
    "jumps and own test four times a week": Schedule(4, 4.0),
}
WANDER = {"in training by a written plan": 0.35, "as in a season nobody wrote down": 1.0}


def bands(seed: int) -> dict[str, list[int]]:
    return band_outcome(np.random.default_rng([1, seed]), ON)


def alarms(seed: int, *, trained: bool) -> dict[str, list[bool]]:
    return false_alarm_outcome(np.random.default_rng([2, seed]), ON, trained=trained)


def plateau(seed: int, *, quality: Quality, testing: Schedule, wander: float) -> PlateauOutcome:
    """Half of the athletes stop gaining, after four to eight weeks."""
    rng = np.random.default_rng([3, seed])
    onset = float(rng.integers(4, 9)) if seed % 2 == 0 else None
    return plateau_outcome(rng, ON, quality, testing, onset_week=onset, wander=wander)


def over(pool: ProcessPoolExecutor, one: Callable[[int], Any], athletes: int) -> list[Any]:
    return list(pool.map(one, range(athletes), chunksize=2))


def tell_bands(found: Sequence[dict[str, list[int]]]) -> None:
    print("80 % bands over a year of fortnightly tests")
    for name in found[0]:
        sides = np.array([side for each in found for side in each[name]])
        print(
            f"  {name:28} inside {np.mean(sides == 0):.3f}  below {np.mean(sides < 0):.3f}  "
            f"above {np.mean(sides > 0):.3f}"
        )


def tell_alarms(found: Sequence[dict[str, list[bool]]], words: str) -> None:
    print(f"Real changes told of a jump that does not change, {words}")
    for name in found[0]:
        each = np.array([alarm for one in found for alarm in one[name]])
        some = np.mean([any(one[name]) for one in found])
        print(
            f"  since the {name:6} test {np.mean(each):.3f} of comparisons, {some:.3f} of athletes"
        )


def tell_plateau(found: Sequence[PlateauOutcome], quality: Quality) -> None:
    stopped = [one for one in found if one.onset_week is not None]
    rising = [one for one in found if one.onset_week is None]
    hits = np.mean([one.found for one in stopped])
    early = np.mean([one.false for one in stopped])
    wrong = np.mean([one.false for one in rising])
    called = [one for one in found if one.called_week is not None]
    false = np.mean([one.false for one in called]) if called else 0.0
    print(
        f"  {WORDS[quality]:28} found {hits:.2f}  called too early {early:.2f}  "
        f"called while rising for 12 weeks {wrong:.2f}  false among calls {false:.2f}"
    )


def run(athletes: int = 100, plateaus: int = 40, wander: int = 0, testing: int = -1) -> None:
    """Numbers of athletes for bands and alarms, and for each row of plateaus."""
    begun = time.perf_counter()
    with ProcessPoolExecutor(2) as pool:
        if athletes:
            tell_bands(over(pool, bands, athletes))
            tell_alarms(over(pool, partial(alarms, trained=False), athletes), "no training told")
            tell_alarms(over(pool, partial(alarms, trained=True), athletes), "training told")
        for at, (words, how) in enumerate(TESTINGS.items()):
            if not plateaus or testing not in (-1, at):
                continue
            way, size = list(WANDER.items())[wander]
            print(f"Plateaus, {words}; the qualities wander {way}")
            for quality in TRAINABLE:
                one = partial(plateau, quality=quality, testing=how, wander=size)
                tell_plateau(over(pool, one, plateaus), quality)
    print(f"{time.perf_counter() - begun:.0f} s")
