import numpy as np
import pytest

from saltus.jumps.flight import landing, take_off, visits
from saltus.jumps.plate import prepare


def edge(plate, power, at, steepness):
    """Standing, and from `at` seconds before the end of it a fall to zero like t^power."""
    t = plate.time(1.5)
    down = steepness * np.maximum(at - t, 0.0) ** power
    return np.minimum(plate.weight, down)


@pytest.mark.parametrize(
    ("power", "steepness"),
    [(1.0, 2.0e4), (1.0, 8.0e3), (1.5, 3.0e5), (2.0, 5.0e6)],
)
@pytest.mark.parametrize("rate", [500.0, 1000.0, 2000.0])
def test_take_off_and_landing_are_found_between_samples(plate_at, power, steepness, rate):
    plate = plate_at(rate)
    at = 1.20037
    force = edge(plate, power, at, steepness)
    found, errors = [], []
    for _ in range(20):
        trace = prepare(plate.recording(force, force[::-1], noise=1.0))
        (visit,) = visits(trace)
        leave, down = take_off(trace, visit.contacts[0]), landing(trace, visit.contacts[1])
        length = 2 * force.size - 1
        found += [leave.position / rate - at, (length - down.position) / rate - at]
        errors += [leave.se / rate, down.se / rate]

    # Feet leave and meet the plate at a power of time that is not known: 0.9 ms at worst.
    assert abs(np.mean(found)) < 0.0009
    assert np.sqrt(np.mean(np.square(found))) < 2 * np.mean(errors)


def test_the_threshold_itself_counts_where_the_plate_hides_small_forces(plate):
    force = edge(plate, 1.0, 1.2, 5.0e3)
    force[force < 20] = 0.0
    trace = prepare(plate.recording(force, noise=0.0))
    (visit,) = visits(trace)

    found = take_off(trace, visit.contacts[0])

    assert trace.plate.hides
    last = np.flatnonzero(force >= 20)[-1]
    assert last < found.position < last + 1
    # Some 4 ms are hidden; the error says so, up to a point.
    assert found.se > 0.5


def test_ringing_after_take_off_is_no_contact(plate):
    flight = plate.empty(0.5)
    flight[100:115] += 60.0
    trace = prepare(plate.recording(plate.still(2), flight, plate.still(2)))

    assert len(visits(trace)[0].contacts) == 2


def test_a_rolling_foot_is_one_landing(plate):
    touch = plate.still(2)
    touch[4:12] = 0.0
    trace = prepare(plate.recording(plate.still(2), plate.empty(0.5), touch))
    (visit,) = visits(trace)

    assert len(visit.contacts) == 2
    assert visit.contacts[1].first == 2500


def test_a_long_absence_makes_two_visits(plate):
    trace = prepare(
        plate.recording(plate.empty(1), plate.still(2), plate.empty(1.5), plate.still(2))
    )

    first, second = visits(trace)

    assert (first.came_on, first.went_off) == (True, True)
    assert (second.came_on, second.went_off) == (True, False)
    assert visits(prepare(plate.recording(plate.empty(3)))) == ()
