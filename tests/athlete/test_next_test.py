import datetime as dt
from dataclasses import replace

import numpy as np
import pytest

from saltus.athlete.health import Pain, Restriction
from saltus.athlete.next_test import CANDIDATES, _information, next_tests
from saltus.athlete.person import TestingTool
from saltus.athlete.posterior import Problem, fit
from saltus.athlete.readings import readings_of
from saltus.athlete.worth import expected_gains

ON = dt.date(2026, 11, 1)


def offered(person, tests=(), **health):
    posterior = fit(Problem(person, tests, [], ON), draws=1000)
    return next_tests(posterior, expected_gains(posterior), **health)


def test_only_what_the_equipment_allows_is_offered(person):
    tape = replace(person, testing_tools=frozenset({TestingTool.TAPE}))

    assert {t.test for t in offered(tape)} == {"jump_and_reach", "broad_jump", "push_off_distance"}


def test_only_the_best_way_to_measure_a_height_is_offered(person):
    names = {t.test for t in offered(person)}

    assert "countermovement_jump_plate_impulse" in names
    assert not any(name.endswith(("_mat", "_film")) for name in names)


def test_the_most_telling_comes_first(person, tests):
    bits = [t.information_bits for t in offered(person, tests)]

    assert bits == sorted(bits, reverse=True)
    assert min(bits) >= 0


def test_a_squat_tells_more_than_another_jump_when_only_jumps_are_known(person, tests):
    """The design's trial: a squat 1RM added to a jump decides far more athletes."""
    found = {t.test: t.information_bits for t in offered(person, tests[:1])}

    assert found["squat_maximum"] > 3 * found["countermovement_jump_plate_impulse"]


def test_a_test_that_was_just_done_tells_little_more(person, tests):
    before = {t.test: t.information_bits for t in offered(person, tests[:1])}
    after = {t.test: t.information_bits for t in offered(person, tests)}

    assert after["squat_maximum"] < 0.5 * before["squat_maximum"]


def test_minors_and_novices_are_not_sent_to_a_maximum(person):
    minor = replace(person, born=dt.date(2010, 1, 1))
    novice = replace(person, training_age_years=0.5)
    unknown = replace(person, born=None)

    for someone in (minor, novice, unknown):
        names = {t.test for t in offered(someone)}
        assert "squat_maximum" not in names
        assert "drop_jumps_plate_impulse" not in names
        assert "squat_five" in names


@pytest.mark.parametrize(
    "health",
    [
        {"pains": [Pain(ON, "left knee", 4)]},
        {"restrictions": [Restriction("jumping", ON)]},
    ],
)
def test_nobody_in_pain_or_restricted_is_sent_to_jump(person, health):
    names = {t.test for t in offered(person, **health)}

    assert not any("jump" in name for name in names)
    assert "isometric_pull" in names


@pytest.mark.parametrize(
    "health",
    [
        {"pains": [Pain(ON, "patellar tendon", 1, True)]},
        {"restrictions": [Restriction("depth_jump", ON)]},
    ],
)
def test_a_maximum_waits_while_anything_hurts_or_is_restricted(person, health):
    names = {t.test for t in offered(person, **health)}

    assert "squat_maximum" not in names
    assert "squat_five" in names


def test_a_known_distance_is_not_asked_for_again(person):
    measured = replace(person, push_off_distance_m=0.42)

    assert "push_off_distance" not in {t.test for t in offered(measured)}


def test_every_candidate_makes_tests_that_can_be_read(person):
    for candidate in CANDIDATES:
        assert readings_of(candidate.make(ON, 78.0), person), candidate.test


def test_information_of_a_perfect_a_useless_and_a_known_test():
    """Two equally likely kinds hold one bit; a test that shows the kind tells it all."""
    rng = np.random.default_rng(0)
    kinds = np.repeat([0, 1], 400)
    telling = kinds[:, None] * 10.0 + 0.1 * rng.standard_normal((800, 1))
    blank = rng.standard_normal((800, 1))
    # For unit noise and kinds two apart: the information of a binary-input Gaussian channel at
    # this distance is 0.486 bit (numerical integral of its definition).
    middling = kinds[:, None] * 2.0

    assert _information(telling, np.ones(1), kinds)[0] == pytest.approx(1.0, abs=0.03)
    assert _information(blank, np.ones(1), kinds)[0] == pytest.approx(0.0, abs=0.02)
    y = np.linspace(-8, 10, 20001)
    a, b = (np.exp(-0.5 * (y - m) ** 2) / np.sqrt(2 * np.pi) for m in (0.0, 2.0))
    both = (a + b) / 2
    exact = 0.5 * sum(np.trapezoid(p * np.log2(p / both), y) for p in (a, b))
    assert _information(middling, np.ones(1), kinds)[0] == pytest.approx(exact, abs=0.05)
