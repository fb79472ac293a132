"""Real recordings: what their README says is found in them."""

from itertools import pairwise

import numpy as np
import pytest

from saltus.errors import RecordingError
from saltus.recordings.options import ReadOptions
from saltus.recordings.read import read


def flights(recording):
    """Flight times, s: from the first sample under 20 N to the first over it (the README's way)."""
    off = recording.total_n < 20
    edges = np.flatnonzero(np.diff(off.astype(int)))
    spans = pairwise(edges)
    times = [(b - a) / recording.rate_hz for a, b in spans if off[a + 1]]
    return [t for t in times if 0.15 < t < 0.8]


@pytest.mark.parametrize(
    ("name", "samples", "weight", "flight_times", "left"),
    [
        ("squat-jumps-a.csv", 12080, (778, 785), [0.290, 0.309, 0.304], "ground_force1_vy"),
        ("squat-jumps-b.csv", 16350, (878, 888), [0.278, 0.324, 0.313], "ground_force2_vy"),
    ],
)
def test_two_plates_with_a_motion_storage_header(
    name, samples, weight, flight_times, left, open_recordings
):
    recording = read(open_recordings / name)

    assert recording.rate_hz == 1000
    assert len(recording) == samples
    np.testing.assert_allclose(recording.total_n, recording.left_n + recording.right_n)
    assert flights(recording)[:3] == pytest.approx(flight_times, abs=0.0011)
    standing = recording.total_n[(recording.total_n > 0.8 * weight[0])]
    assert weight[0] - 15 < np.median(standing) < weight[1] + 15
    assert "The vertical axis is y: it bears the weight." in recording.notes
    # nobody noted which foot stood where; the pressure moves forward before each take-off
    assert any(note.startswith(f"{left} is the left foot") for note in recording.notes)
    assert recording.doubts == ()


def test_one_column_at_600_hz_with_an_offset_in_flight(open_recordings):
    recording = read(open_recordings / "cmj-600hz.txt", options=ReadOptions(rate_hz=600))

    assert recording.rate_hz == 600
    assert len(recording) == 1200
    assert flights(recording) == pytest.approx([0.425], abs=0.002)
    raw = np.loadtxt(open_recordings / "cmj-600hz.txt")
    offset = np.median(raw - recording.total_n)
    assert offset == pytest.approx(6.0, abs=0.8)  # "about 6 N in flight"
    assert any(f"{offset:+.1f} N when empty" in note for note in recording.notes)


def test_one_column_asks_for_the_rate(open_recordings):
    with pytest.raises(RecordingError, match="--rate"):
        read(open_recordings / "cmj-600hz.txt")
