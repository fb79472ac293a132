import datetime as dt
import json
from dataclasses import replace

import pytest

from saltus.athlete.assess import assess_posterior
from saltus.athlete.observations import BroadJump, Jump, JumpMethod, JumpStyle
from saltus.athlete.posterior import Problem, fit
from saltus.athlete.qualities import Quality
from saltus.athlete.timeline import jumps_tested, moments, timeline_document

ON = dt.date(2026, 11, 1)
EARLIER = ON - dt.timedelta(weeks=26)


@pytest.fixture
def posterior(person, tests):
    """The tests of the day, and a lower jump half a year before."""
    then = replace(tests[0], date=EARLIER, heights_m=(0.33, 0.335, 0.33))
    return fit(Problem(person, [*tests, then], [], ON))


def test_there_is_a_moment_for_every_date_in_order(posterior):
    found = moments(posterior)

    assert [moment.date for moment in found] == [EARLIER, ON]
    assert set(found[0].qualities) == set(Quality)
    assert found[0].jump_m.value < found[1].jump_m.value - 0.02


def test_the_last_moment_is_the_present(person, tests, posterior):
    last = moments(posterior)[-1]
    assessment = assess_posterior(posterior, tests)

    assert last.qualities == assessment.qualities
    assert last.jump_m.value == pytest.approx(assessment.jump_m.value, abs=0.001)
    assert last.jump_m.sd == pytest.approx(assessment.jump_m.sd, rel=0.1)


def test_a_test_is_told_without_bias_arms_and_run_up(person, tests):
    """Arms are worth 15 to 40 % (Lees et al. 2004), so 0.50 m with them is 0.36 to 0.43 m."""
    day = tests[0].date
    with_arms = Jump(
        date=day,
        style=JumpStyle.COUNTERMOVEMENT,
        method=JumpMethod.PLATE_IMPULSE,
        heights_m=(0.50, 0.50),
        arms=True,
    )
    run_up = replace(with_arms, style=JumpStyle.APPROACH, heights_m=(0.57,))
    posterior = fit(Problem(person, [*tests, with_arms, run_up], [], day))

    told = {test.read_m: test for test in jumps_tested(posterior)}

    assert 0.36 < told[0.50].jump_m.value < 0.43
    assert told[0.57].jump_m.value < 0.43
    assert told[0.50].method == "plate_impulse"


def test_squat_jumps_and_loaded_jumps_are_left_out(person, tests):
    loaded = replace(tests[0], load_kg=20.0, heights_m=(0.30,))
    broad = BroadJump(date=ON, distances_m=(2.4, 2.45))
    posterior = fit(Problem(person, [*tests, loaded, broad], [], ON))

    assert [test.method for test in jumps_tested(posterior)] == ["mat", "broad_jump"]


def test_the_document_is_json(posterior):
    document = json.loads(json.dumps(timeline_document(posterior)))

    assert set(document) == {"moments", "tests"}
    first = document["moments"][0]
    assert first["date"] == EARLIER.isoformat()
    assert set(first["jump"]) == {"estimate", "low", "high"}
    assert set(first["qualities"]) == {q.value for q in Quality}
    assert document["tests"][0]["low"] < document["tests"][0]["estimate"]
