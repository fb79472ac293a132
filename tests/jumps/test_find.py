import pytest

from saltus.jumps.find import leaps
from saltus.jumps.flight import visits
from saltus.jumps.plate import prepare


def leaps_in(plate, *pieces):
    trace = prepare(plate.recording(*pieces))
    return [leap for visit in visits(trace) for leap in leaps(trace, visit, plate.weight)]


@pytest.mark.parametrize(
    "movement",
    [
        lambda p: [p.empty(1), p.step_on(), p.still(3), p.step_off(), p.empty(1)],
        lambda p: [p.still(2), p.step_off(), p.empty(0.5), p.step_on(), p.still(2)],
        lambda p: [p.still(2), p.bend(0.45, 1.0), p.still(1)],
        lambda p: [p.still(1)] + [p.bend(0.45, 1.0)] * 5 + [p.still(1)],
        lambda p: [p.still(2), p.pull(), p.still(1)],
        # Feet snatched up without a push: the body just falls.
        lambda p: [p.still(2), p.weight * (1 - p.time(0.05) / 0.05), p.empty(0.18), p.still(2)],
        lambda p: [p.still(5)],
        lambda p: [p.empty(5)],
    ],
    ids=["on and off", "off and on", "squat", "squats", "pull", "snatch", "stand", "nobody"],
)
def test_what_is_no_jump(plate, movement):
    assert leaps_in(plate, *movement(plate)) == []


def test_a_jump_off_the_plate_is_a_jump_without_a_landing(plate):
    (leap,) = leaps_in(plate, plate.sines().force[:2260], plate.empty(3))

    assert leap.landing is None
    assert not leap.cut_off


def test_a_recording_that_stops_in_the_air_is_told_from_that(plate):
    (leap,) = leaps_in(plate, plate.sines().force[:2500])

    assert leap.landing is None
    assert leap.cut_off


def test_a_bouncing_landing_is_one_jump(plate):
    truth = plate.sines()
    force = truth.force.copy()
    land = int(truth.landing * 1000)
    force[land + 180 : land + 290] = 0.0
    (leap,) = leaps_in(plate, force)

    assert leap.bounced
    assert leap.flight_s(plate.rate) == pytest.approx(truth.flight_time, abs=0.002)


def test_a_contact_after_an_empty_plate_began_with_a_touch_down(plate):
    (drop,) = leaps_in(plate, plate.dj())
    (jump,) = leaps_in(plate, plate.cmj())

    assert drop.touch_down is not None
    assert jump.touch_down is None
