"""An hour of force-plate jumps analysed, against filtering and integrating it with SciPy.

The other side does no more than what a script would start with: a zero-lag Butterworth filter
of the fourth order at 50 Hz, and two trapezoid integrals. It finds and measures nothing.
"""

import time
import tracemalloc

import numpy as np
from scipy.integrate import cumulative_trapezoid
from scipy.signal import butter, sosfiltfilt

from saltus.athlete.pushoff_terms import Start
from saltus.athlete.pushoff_trace import trace
from saltus.jumps.analyse import analyse
from saltus.recordings.recording import Recording

RATE = 1000.0


def _hour(jumps: int) -> Recording:
    """An hour with so many countermovement and squat jumps, on two plates with noise."""
    athlete = {
        "mass_kg": 78.0, "segment_m": 0.505, "torque_nm": 900.0, "speed_rad_s": 18.0,
        "rfd_nm_s": 6000.0, "distance_m": 0.42, "rate_hz": RATE,
    }  # fmt: skip
    made = [trace(start, **athlete) for start in (Start.COUNTERMOVEMENT, Start.SQUAT)]
    force = np.full(round(3600 * RATE), made[0].weight_n)
    room = force.size // jumps
    for i in range(jumps):
        one = made[i % 2].force_n[:room]
        force[i * room : i * room + one.size] = one
    noise = np.random.default_rng(0).standard_normal((2, force.size))
    left, right = 0.5 * force + noise[0], 0.5 * force + noise[1]
    return Recording(RATE, left + right, left, right, source="invented")


def _least(work, repeats: int) -> float:
    least = np.inf
    for _ in range(repeats):
        begun = time.process_time()
        work()
        least = min(least, time.process_time() - begun)
    return least


def run(jumps: int = 200, repeats: int = 3) -> None:
    """Processor time and memory for an hour at 1000 Hz with so many jumps."""
    recording = _hour(jumps)
    sections = butter(2, 50, fs=RATE, output="sos")

    def script() -> None:
        force = sosfiltfilt(sections, recording.total_n)
        velocity = cumulative_trapezoid(force, dx=1 / RATE, initial=0)
        cumulative_trapezoid(velocity, dx=1 / RATE, initial=0)

    ours = _least(lambda: analyse(recording), repeats)
    theirs = _least(script, repeats)
    tracemalloc.start()
    found = analyse(recording).jumps
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    print(f"{len(found)} of {jumps} jumps found in an hour at {RATE:.0f} Hz, two plates")
    print(f"analysed in {ours:.2f} s; filtered and integrated in {theirs:.2f} s")
    print(f"ratio {ours / theirs:.1f}; {peak / 2**20:.0f} MiB beside the recording")
