import math

import pytest

from saltus.jumps.analyse import analyse
from saltus.jumps.hops import chains
from saltus.jumps.jump import JumpKind, Trust
from saltus.quantities import STANDARD_GRAVITY as G


def test_each_contact_and_flight_of_a_series(plate):
    result = analyse(plate.recording(plate.hops(8, contact=0.18, flight=0.36)))

    assert [jump.kind for jump in result.jumps] == [JumpKind.HOPS] * 8
    assert {jump.series for jump in result.jumps} == {1}
    assert all(jump.trust is Trust.SOUND for jump in result.jumps)
    assert "contact_time" not in result.jumps[0].measures  # from a stand
    for jump in result.jumps[1:]:
        for name, value in {
            "contact_time": 0.18,
            "flight_time": 0.36,
            "rsi": G * 0.36**2 / 8 / 0.18,
            "take_off_velocity": G * 0.18,
            "touch_down_velocity": -G * 0.18,
        }.items():
            measure = jump.measures[name]
            assert measure.value == pytest.approx(value, abs=max(4 * measure.se, 0.002)), name
    assert "8 hops, mean contact 180 ms" in " ".join(result.notes)


def test_two_series_are_two(plate):
    result = analyse(plate.recording(plate.hops(4), plate.hops(5)))

    assert [jump.series for jump in result.jumps] == [1] * 4 + [2] * 5


def test_hops_without_any_stand_weigh_the_person_themselves(plate):
    force = plate.hops(14)[2700:8750]
    result = analyse(plate.recording(force))

    assert len(result.jumps) >= 9
    assert result.body_weight_n.value == pytest.approx(
        plate.weight, abs=3 * result.body_weight_n.se
    )
    assert result.body_weight_n.se < 0.01 * plate.weight
    assert all(jump.height_impulse_m is None for jump in result.jumps)
    assert all(jump.height_flight_m is not None for jump in result.jumps)


def test_two_flights_are_no_series(plate):
    result = analyse(plate.recording(plate.hops(2)))

    assert [jump.kind for jump in result.jumps][1] is JumpKind.DJ
    assert all(jump.series is None for jump in result.jumps)


def test_chains_break_at_long_contacts_and_lost_landings():
    take_offs = [100.0, 700.0, 1300.0, 5000.0, 5600.0]
    landings = [500.0, 1100.0, 1700.0, math.nan, 6000.0]

    assert chains(take_offs, landings, 1000.0) == [0, 0, 0, 1, 2]
