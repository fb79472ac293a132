"""The analysis against recordings that nobody here made.

Sources: squat jumps on two plates, an open student data set (2022, MIT licence); one
countermovement jump, M. Duarte and R. N. Watanabe, Notes on Scientific Computing for
Biomechanics and Motor Control (CC BY 4.0). They lie beside the repository and are never
copied into it. The expected flight times are those of an independent look at them: from the
first sample under 20 N to the first over it.
"""

from pathlib import Path

import numpy as np
import pytest

from saltus.jumps.analyse import analyse
from saltus.jumps.jump import JumpKind, Trust
from saltus.recordings.options import ReadOptions
from saltus.recordings.read import read

FOLDER = Path(__file__).parents[3] / "shared" / "open-recordings"

pytestmark = pytest.mark.skipif(
    not FOLDER.is_dir(), reason=f"the open recordings are not at {FOLDER}"
)

EXPECTED = {
    "squat-jumps-a.csv": [0.290, 0.309, 0.304],
    "squat-jumps-b.csv": [0.278, 0.324, 0.313],
    "cmj-600hz.txt": [0.425],
}
WEIGHT = {
    # Range in which the independent look weighed them, N.
    "squat-jumps-a.csv": (778, 785),
    "squat-jumps-b.csv": (880, 886),
    "cmj-600hz.txt": (612, 640),
}


@pytest.fixture(scope="module")
def analyses():
    found = {}
    for name in EXPECTED:
        rate = 600.0 if name.startswith("cmj") else None
        found[name] = analyse(read(FOLDER / name, options=ReadOptions(rate_hz=rate)))
    return found


@pytest.mark.parametrize("name", EXPECTED)
def test_all_jumps_are_found_and_none_besides(analyses, name):
    times = [jump.flight_time_s for jump in analyses[name].jumps]

    assert times == pytest.approx(EXPECTED[name], abs=0.004)


@pytest.mark.parametrize("name", EXPECTED)
def test_kinds(analyses, name):
    kind = JumpKind.CMJ if name.startswith("cmj") else JumpKind.SJ

    assert {jump.kind for jump in analyses[name].jumps} == {kind}


@pytest.mark.parametrize("name", EXPECTED)
def test_impulse_heights_agree_with_the_flights(analyses, name):
    given = [jump for jump in analyses[name].jumps if jump.height_impulse_m is not None]

    assert given
    for jump in given:
        assert jump.height_impulse_m == pytest.approx(jump.height_flight_m, abs=0.025)


@pytest.mark.parametrize("name", EXPECTED)
def test_body_weight(analyses, name):
    low, high = WEIGHT[name]

    assert low < analyses[name].body_weight_n.value < high


def test_nobody_is_told_that_the_restless_jump_was_46_cm_high(analyses):
    """Before it the person never stands still; after it they do."""
    jump = analyses["squat-jumps-b.csv"].jumps[0]

    assert jump.trust is Trust.DOUBTFUL
    assert any("Stand still for a second before the jump" in reason for reason in jump.reasons)
    for measure in jump.measures.values():
        if measure.unit == "m" and "height" in measure.title:
            assert abs(measure.value) < 0.15


def test_the_squats_were_not_held_and_the_coach_is_told(analyses):
    for name in ("squat-jumps-a.csv", "squat-jumps-b.csv"):
        for jump in analyses[name].jumps:
            assert any("squat was not held" in reason for reason in jump.reasons)


def test_the_take_off_velocity_of_the_countermovement_jump(analyses):
    """About 2.17 m/s in the independent look, which left the plate's zero as it was."""
    (jump,) = analyses["cmj-600hz.txt"].jumps

    assert jump.take_off_velocity_m_s == pytest.approx(2.17, abs=0.03)
    assert jump.trust is Trust.DOUBTFUL  # weighed for 0.15 s


def test_the_time_to_take_off_of_the_countermovement_jump_is_the_published_rules(analyses):
    """30 ms before the force leaves the mean of the still stand (here 0.15 s of it) by five
    standard deviations: Owen et al. 2014, J Strength Cond Res 28:1552-1558.
    """
    (jump,) = analyses["cmj-600hz.txt"].jumps
    force = np.loadtxt(FOLDER / "cmj-600hz.txt")
    quiet, later = force[:90], force[90:]
    left = 90 + int(np.argmax(np.abs(later - quiet.mean()) > 5 * quiet.std(ddof=1)))
    off = int(np.argmax(force < 20))

    # Our take-off is where the force reaches zero, up to a sample after it fell under 20 N.
    assert jump.onset_s == pytest.approx(left / 600 - 0.030, abs=1 / 600)
    assert jump.value("time_to_take_off") == pytest.approx((off - left) / 600 + 0.030, abs=2 / 600)


def test_the_countermovement_jump_truly_began_near_its_onset(analyses):
    """A level force that is left with the square of time, fitted: an onset by another way."""
    (jump,) = analyses["cmj-600hz.txt"].jumps
    force = np.loadtxt(FOLDER / "cmj-600hz.txt")
    end = int(np.argmax(force < 0.9 * force[:90].mean()))

    def misfit(begin):
        since = np.maximum(np.arange(end) - begin, 0) ** 2
        terms = np.column_stack([np.ones(end), since])
        return np.linalg.lstsq(terms, force[:end], rcond=None)[1][0]

    began = min(range(30, end - 5), key=misfit) / 600
    assert jump.onset_s == pytest.approx(began, abs=2 * jump.measures["time_to_take_off"].se)
