"""An hour of two plates at 1000 Hz stays under 1 GiB, the interpreter and its libraries in it."""

import subprocess
import sys

import numpy as np
import polars as pl
import pytest

from saltus.recordings.recording import Recording
from saltus.recordings.write import write_c3d

MEASURE = """
import sys
from pathlib import Path
from saltus.recordings.read import read
recording = read(sys.argv[1])
print(len(recording), recording.left_n is not None)
# Of this program alone: ru_maxrss would also hold what the test runner had before it.
status = dict(line.split(":", 1) for line in Path("/proc/self/status").read_text().splitlines())
print(int(status["VmHWM"].split()[0]) * 1024)
"""
HOUR = 3_600_000


def peak_bytes(path):
    done = subprocess.run(
        [sys.executable, "-c", MEASURE, str(path)], capture_output=True, text=True, check=True
    )
    what, peak = done.stdout.strip().splitlines()
    assert what == f"{HOUR} True"
    return int(peak)


@pytest.fixture(scope="module")
def hour():
    rng = np.random.default_rng(0)
    return np.round(rng.normal(380, 3, HOUR), 2), np.round(rng.normal(400, 3, HOUR), 2)


@pytest.mark.slow
@pytest.mark.parametrize("decimal_comma", [False, True])
def test_an_hour_of_text_stays_under_a_gibibyte(decimal_comma, hour, tmp_path):
    left, right = hour
    path = tmp_path / "hour.csv"
    columns = {"time [s]": np.round(np.arange(HOUR) / 1000, 3)}
    for side, force in (("left", left), ("right", right)):
        for axis, share in (("x", 0.01), ("y", 0.02), ("z", 1.0)):
            columns[f"{side} F{axis} [N]"] = share * force
    pl.DataFrame(columns).write_csv(
        path, separator=";", decimal_comma=decimal_comma, float_precision=3
    )

    assert peak_bytes(path) < 2**30


@pytest.mark.slow
def test_an_hour_of_c3d_stays_under_a_gibibyte(hour, tmp_path):
    left, right = hour
    path = tmp_path / "hour.c3d"
    write_c3d(Recording(1000.0, left + right, left, right), path)

    assert peak_bytes(path) < 2**30
