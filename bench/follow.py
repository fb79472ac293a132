"""Following over simulated seasons: coverage of bands, false alarms, and plateaus found in time."""

import datetime as dt
import time
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from typing import Any

import numpy as np

from bench._workers import workers
from saltus.athlete.qualities import WORDS, Quality
from saltus.progress.simulated_seasons import (
    PlateauOutcome,
    Schedule,
    band_outcome,
    false_alarm_outcome,
    plateau_outcome,
)

ON = dt.date(2026, 11, 1)
TESTINGS = {
    "jumps and own test once a week": Schedule(1, 1.0),
    "jumps once and own test three times a week": Schedule(1, 3.0),
}
LOGGED = {
    "one logged session a week": Schedule(1, 0.0, 1.0),
    "three logged sessions a week": Schedule(1, 0.0, 3.0),
    "three, of two leg lifts each": Schedule(1, 0.0, 3.0, lifts=2),
    "three, of two leg lifts each, with bar speeds": Schedule(
        1, 0.0, 3.0, lifts=2, bar_speeds=True
    ),
    "three, of three leg lifts each, with bar speeds": Schedule(
        1, 0.0, 3.0, lifts=3, bar_speeds=True
    ),
    "three, of two leg lifts each, with bar speeds and a test of jumps": Schedule(
        3, 0.0, 3.0, lifts=2, bar_speeds=True
    ),
    "three, of an athlete with half the usual error": Schedule(1, 0.0, 3.0, 0.5),
    "three, of two leg lifts, with half the usual error": Schedule(1, 0.0, 3.0, 0.5, 2),
}
LEAST_GAINS = (0.0, 0.01, 0.02)
WANDER = 0.35  # of a season that nobody wrote down


def bands(seed: int) -> dict[str, list[int]]:
    return band_outcome(np.random.default_rng([1, seed]), ON)


def alarms(seed: int, *, trained: bool) -> dict[str, list[bool]]:
    return false_alarm_outcome(np.random.default_rng([2, seed]), ON, trained=trained)


def plateau(
    seed: int, *, quality: Quality, testing: Schedule, least_gain: float, first: int
) -> PlateauOutcome:
    """Half of the athletes stop gaining, after four to eight weeks."""
    rng = np.random.default_rng([3, first + seed])
    onset = float(rng.integers(4, 9)) if seed % 2 == 0 else None
    return plateau_outcome(
        rng, ON, quality, testing, onset_week=onset, wander=WANDER, least_gain=least_gain
    )


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


def tell_plateau(found: Sequence[PlateauOutcome], words: str) -> None:
    stopped = [one for one in found if one.onset_week is not None]
    rising = [one for one in found if one.onset_week is None]
    calls = [week in one.called_weeks for one in found for week in one.looks_rising]
    print(
        f"  {words:64} found {np.mean([one.found for one in stopped]):.2f}  "
        f"false, of athletes rising eight weeks {np.mean([one.false(8) for one in rising]):.2f}, "
        f"twelve {np.mean([one.false() for one in rising]):.2f}; of looks {np.mean(calls):.2f}; "
        f"called before it stopped {np.mean([one.false() for one in stopped]):.2f}",
        flush=True,
    )


def run(athletes: int = 100, plateaus: int = 200, first: int = 100_000) -> None:
    """Numbers of athletes for bands and alarms, and for each row of plateaus, and their seed."""
    begun = time.perf_counter()
    rows = [
        (Quality.MAX_STRENGTH, words, how, least)
        for least in LEAST_GAINS
        for words, how in LOGGED.items()
    ]
    rows += [
        (Quality.RATE_OF_FORCE_DEVELOPMENT, words, how, 0.02) for words, how in TESTINGS.items()
    ]
    with workers() as pool:
        if athletes:
            tell_bands(over(pool, bands, athletes))
            tell_alarms(over(pool, partial(alarms, trained=False), athletes), "no training told")
            tell_alarms(over(pool, partial(alarms, trained=True), athletes), "training told")
        if plateaus:
            print("Plateaus found within four weeks, and false calls")
        for quality, words, how, least in rows if plateaus else ():
            one = partial(plateau, quality=quality, testing=how, least_gain=least, first=first)
            told = f"{WORDS[quality]}, {100 * least:.0f} % a week or more, {words}"
            tell_plateau(over(pool, one, plateaus), told)
    print(f"{time.perf_counter() - begun:.0f} s")
