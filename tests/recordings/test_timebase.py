"""What is even, what is only rounded, and what is neither."""

import numpy as np
import pytest

from saltus.errors import RecordingError
from saltus.recordings.signals import Channel, Signals
from saltus.recordings.timebase import settle_time


def settle(time, unit=1.0, **keywords):
    signals = Signals("x", total=Channel("Fz", np.zeros(len(time))), time=time, time_unit_s=unit)
    asked = {"rate_hz": None, "resample": False, "notes": [], "doubts": []} | keywords
    return settle_time(signals, **asked)


@pytest.mark.parametrize(
    ("rate", "decimals"),
    [
        (rate, decimals)
        for rate in (240.0, 300.0, 500.0, 600.0, 960.0, 1000.0, 1024.0, 1200.0)
        for decimals in (3, 4, 6)
        if rate <= 10**decimals  # beyond that, time stands still
    ],
)
def test_rounded_time_gives_the_true_rate(rate, decimals):
    time = np.round(np.arange(6000) / rate + 3.2, decimals)

    base = settle(time)

    assert base.rate_hz == pytest.approx(rate, rel=1e-9)
    assert base.start_s == pytest.approx(3.2, abs=10.0**-decimals)
    assert base.uneven_s is None


def test_time_in_single_precision_is_even_for_an_hour():
    time = (np.arange(3_600_000) / 1000).astype(np.float32).astype(float)

    assert settle(time).rate_hz == 1000


def test_a_rate_that_is_no_whole_number_is_kept():
    assert settle(np.arange(5000) * 1.03e-3).rate_hz == pytest.approx(1 / 1.03e-3, rel=1e-6)


@pytest.mark.parametrize("missing", [1, 5, 200])
def test_a_missing_sample_is_found_even_in_rounded_time(missing):
    time = np.round(np.delete(np.arange(3000), np.arange(1500, 1500 + missing)) / 600, 3)

    with pytest.raises(RecordingError, match=r"missing after sample 1500|uneven"):
        settle(time)


def test_a_change_of_rate_is_uneven():
    time = np.concatenate([np.arange(1000) / 1000, 1 + np.arange(1000) / 900])

    with pytest.raises(RecordingError, match="uneven"):
        settle(time)


def test_a_short_gap_is_bridged_when_told_and_a_long_one_never():
    short = np.delete(np.arange(3000), slice(1500, 1506)) / 1000
    long = np.delete(np.arange(3000), slice(1500, 1530)) / 1000

    base = settle(short, resample=True)

    assert base.rate_hz == 1000
    np.testing.assert_allclose(base.resampled(2 * short), 2 * np.arange(3000) / 1000, atol=1e-9)
    with pytest.raises(RecordingError, match="too long to bridge"):
        settle(long, resample=True)


@pytest.mark.parametrize(
    ("step", "unit", "rate"),
    [(0.001, None, 1000), (1.0, None, 1000), (0.5, None, 2000), (5.0, None, 200), (2.0, 1e-3, 500)],
)
def test_the_unit_of_time_follows_from_its_step(step, unit, rate):
    assert settle(np.arange(2000) * step, unit).rate_hz == pytest.approx(rate)


def test_steps_that_are_neither_seconds_nor_milliseconds_are_refused():
    with pytest.raises(RecordingError, match=r"neither seconds nor milliseconds.*--rate"):
        settle(np.arange(2000) * 1000.0, None)
