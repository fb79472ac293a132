import dataclasses
import itertools
import json

import numpy as np
import pytest

from saltus.figures.draw import as_svg, specification
from saltus.figures.jump_trace import MOST_ON_A_PAGE, pages, traces
from saltus.jumps.jump import Analysis, Integration, Jump, JumpKind, Measure, Phase, Trust
from saltus.recordings.recording import Recording

WEIGHT = 700.0
PHASES = (
    Phase("weighing", 0.0, 1.0),
    Phase("unweighting", 1.0, 1.3),
    Phase("braking", 1.3, 1.5),
    Phase("propulsion", 1.5, 1.75),
    Phase("flight", 1.75, 2.25),
    Phase("landing", 2.25, 2.7),
)
HEIGHTS = {
    "height_impulse": Measure(0.312, 0.004, "m", "height from take-off velocity"),
    "height_flight": Measure(0.325, 0.003, "m", "height from flight time"),
}


def a_recording(*, feet: bool = False, rate: float = 1000.0) -> Recording:
    time = np.arange(0, 4, 1 / rate)
    force = np.full_like(time, WEIGHT)
    force[(time >= 1.5) & (time < 1.75)] = 2 * WEIGHT
    force[(time >= 1.75) & (time < 2.25)] = 0
    if not feet:
        return Recording(rate, force, source="example.csv")
    return Recording(rate, force, 0.55 * force, 0.45 * force, source="example.csv")


def a_jump(**changes) -> Jump:
    jump = Jump(
        JumpKind.CMJ,
        0.0,
        3.6,
        Trust.SOUND,
        measures=HEIGHTS,
        phases=PHASES,
        onset_s=1.0,
        take_off_s=1.75,
        landing_s=2.25,
        integration=Integration(WEIGHT, 0.5),
    )
    return dataclasses.replace(jump, **changes)


def an_analysis(*jumps: Jump, feet: bool = False, rate: float = 1000.0) -> Analysis:
    return Analysis(a_recording(feet=feet, rate=rate), Measure(WEIGHT, 1, "N", "weight"), jumps)


def drawn(*analyses: Analysis) -> str:
    (page,) = pages(analyses)
    return as_svg(page)


def curves(*analyses: Analysis) -> set[str]:
    (page,) = pages(analyses)
    specified = json.dumps(specification(page))
    return {name for name in ("force", "velocity", "displacement") if f'"{name} (' in specified}


def test_one_jump_shows_its_curves_with_every_phase_named():
    svg = drawn(an_analysis(a_jump()))
    for phase in PHASES:
        assert phase.name in svg
    for title in ("force (N)", "velocity (m/s)", "displacement (cm)", "time (s)"):
        assert title in svg
    assert "example.csv" in svg
    assert "countermovement jump" in svg
    assert "31.2 ± 0.4 cm by impulse" in svg


def test_without_motion_only_force_is_drawn():
    assert curves(an_analysis(a_jump(integration=None))) == {"force"}
    assert curves(an_analysis(a_jump())) == {"force", "velocity", "displacement"}


def test_a_withheld_height_is_no_number_and_the_reason_is_written():
    svg = drawn(
        an_analysis(
            a_jump(
                trust=Trust.REJECTED,
                reasons=("Stand still before the jump.",),
                measures={},
                integration=None,
            )
        )
    )
    assert "rejected" in svg
    assert "Stand still before the jump." in svg
    assert "by impulse" not in svg
    assert "by flight" not in svg


def test_both_feet_are_drawn_where_they_were_measured():
    assert "left foot" in drawn(an_analysis(a_jump(), feet=True))
    assert "left foot" not in drawn(an_analysis(a_jump()))


def test_the_hops_of_a_series_share_one_drawing_without_overlap():
    hops = tuple(
        a_jump(
            kind=JumpKind.HOPS,
            series=1,
            start_s=start,
            end_s=start + 1.2,
            onset_s=start + 0.1,
            landing_s=start + 0.9,
            phases=(),
        )
        for start in (0.5, 1.0, 1.5)
    )
    (trace,) = traces([an_analysis(*hops)])
    assert trace.jumps == hops
    (page,) = pages([an_analysis(*hops)])
    (rows,) = page.samples.values()
    times = [row["time"] for row in rows]
    assert times == sorted(times)
    assert {row["part"] for row in rows} == {0, 1, 2}
    assert "3 hops" in as_svg(page)


def test_two_series_and_a_jump_are_three_drawings():
    hop = a_jump(kind=JumpKind.HOPS)
    jumps = [dataclasses.replace(hop, series=number) for number in (1, 1, 2, 2)]
    assert [len(t.jumps) for t in traces([an_analysis(a_jump(), *jumps)])] == [1, 2, 2]


def test_many_jumps_fill_several_pages():
    analysis = an_analysis(*[a_jump() for _ in range(MOST_ON_A_PAGE + 1)], rate=200)
    first, second = pages([analysis])
    assert len(first.samples) == MOST_ON_A_PAGE
    assert len(second.samples) == 1


def test_no_jump_makes_no_page():
    assert pages([an_analysis()]) == []


@pytest.mark.parametrize("rate", [1000.0, 10_000.0])
def test_thinning_keeps_the_peaks(rate):
    recording = a_recording(rate=rate)
    force = recording.total_n.copy()
    peak = int(2.4 * rate)
    force[peak] = 4321.0
    spiked = dataclasses.replace(recording, total_n=force)
    (page,) = pages([Analysis(spiked, None, (a_jump(),))])
    (rows,) = page.samples.values()
    assert max(row["force"] for row in rows) == 4321.0
    assert len(rows) < 4000
    assert all(a["time"] < b["time"] for a, b in itertools.pairwise(rows))


def test_the_long_stand_before_a_jump_is_cut_short():
    (page,) = pages([an_analysis(a_jump(start_s=0.0))])
    (rows,) = page.samples.values()
    assert rows[0]["time"] == pytest.approx(0.65, abs=0.002)
