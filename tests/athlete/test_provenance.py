import json
from dataclasses import replace

import numpy as np
import pytest

from saltus.athlete import provenance as module
from saltus.athlete.observations import Lift, Maximum
from saltus.athlete.posterior import Problem, fit
from saltus.athlete.provenance import FIGURES, provenance, provenance_document
from saltus.athlete.qualities import Quality
from saltus.athlete.readings import ReadingKind


def found_for(person, tests):
    posterior = fit(Problem(person, tests, [], tests[-1].date))
    return posterior, {each.figure: each for each in provenance(posterior)}


def test_shares_of_a_figure_add_up_to_one(person, tests):
    _, found = found_for(person, tests)

    assert tuple(found) == FIGURES
    for each in found.values():
        assert all(part.share >= 0 for part in each.parts)
        assert sum(part.share for part in each.parts) == pytest.approx(1.0)
        assert each.bits == pytest.approx(-np.log2(each.narrowed))


def test_the_last_heard_of_two_like_tests_gets_no_less_than_the_first(person, tests):
    """Shapley's symmetry: readings that say the same get the same, whatever the order."""
    twin = replace(tests[2], label="again")
    _, found = found_for(person, [*tests, twin])

    squats = [
        part
        for part in found[Quality.MAX_STRENGTH].parts
        if part.reading.kind is ReadingKind.SQUAT_MAXIMUM
    ]
    assert squats[0].share == pytest.approx(squats[1].share, rel=1e-6)
    assert squats[0].narrows < 0.1


def test_many_tests_are_shared_out_almost_as_all_orders_would(person, tests, monkeypatch):
    posterior, few = found_for(person, tests)
    monkeypatch.setattr(module, "_MOST_ORDERS", 4)
    rough = {each.figure: each for each in provenance(posterior)}
    exact = few["jump"].parts[0]

    assert len(posterior.problem.readings) == 3
    assert rough["jump"].parts[0].reading == exact.reading
    assert rough["jump"].parts[0].share == pytest.approx(exact.share, abs=0.1)


def test_strength_comes_from_the_squat_and_the_jump_from_the_jumps(person, tests):
    _, found = found_for(person, tests)

    strength = found[Quality.MAX_STRENGTH].parts[0]
    assert strength.reading.kind is ReadingKind.SQUAT_MAXIMUM
    assert strength.narrows > 0.2
    assert found["jump"].parts[0].reading.kind is ReadingKind.COUNTERMOVEMENT_JUMP
    assert found["jump"].narrowed < 0.5


def test_what_a_reading_narrows_is_what_a_fit_without_it_loses(person, tests):
    """The sum over the Jacobian against the direct way: invert the precision without the row."""
    posterior, found = found_for(person, tests)
    problem = posterior.problem
    _, rows = problem.weighed(*problem.linearised(posterior.mode))
    # The slope of log T0 alone is one unknown per date: the stretch gain is one as told.
    slope = np.zeros(posterior.mode.size)
    slope[3] = problem.prior.state_sd[3]

    def variance(kept):
        precision = np.eye(slope.size) + rows[kept].T @ rows[kept]
        return slope @ np.linalg.inv(precision) @ slope

    everything = np.arange(len(rows))
    stretch = found[Quality.STRETCH_SHORTENING_GAIN]
    for part in stretch.parts:
        i = problem.readings.index(part.reading)
        without = np.sqrt(variance(np.delete(everything, i)) / variance(everything)) - 1
        assert part.narrows == pytest.approx(without, rel=1e-3, abs=1e-6)
    assert stretch.narrowed == pytest.approx(np.sqrt(variance(everything)) / slope[3], rel=1e-3)


def test_the_laplace_width_agrees_with_the_sample(person, tests):
    posterior, found = found_for(person, tests)
    sample = posterior.now[posterior.resampled(2000), 3]
    before = posterior.problem.prior.state_sd[3]

    told = found[Quality.STRETCH_SHORTENING_GAIN].narrowed * before

    assert told == pytest.approx(np.std(sample), rel=0.2)


def test_an_outlying_test_has_hardly_a_share(person, tests):
    wild = Maximum(date=tests[-1].date, lift=Lift.BACK_SQUAT, load_kg=330.0)
    good = Maximum(date=tests[-1].date, lift=Lift.BACK_SQUAT, load_kg=128.0)
    _, found = found_for(person, [*tests, good, wild])
    parts = {
        part.reading.value: part
        for part in found[Quality.MAX_STRENGTH].parts
        if part.reading.kind is ReadingKind.SQUAT_MAXIMUM
    }

    assert parts[330.0].weight < 0.1
    assert parts[330.0].share < 0.2 * parts[128.0].share


def test_without_tests_everything_was_believed_before(person):
    posterior = fit(Problem(person, [], [], person.body_masses[-1].date))

    for each in provenance(posterior):
        assert each.bits == pytest.approx(0.0)
        assert each.narrowed == pytest.approx(1.0)
        assert each.parts == ()


def test_the_document_is_json_and_names_each_reading_once(person, tests):
    posterior, _ = found_for(person, tests)

    document = json.loads(json.dumps(provenance_document(posterior)))

    assert len(document["readings"]) == len(posterior.problem.readings)
    assert {"date", "source", "kind", "unit", "value", "sd", "weight"} == set(
        document["readings"][0]
    )
    first = document["figures"]["max_strength"]["parts"][0]
    assert document["readings"][first["reading"]]["kind"] == "squat_maximum"
    squat = document["readings"][first["reading"]]
    assert squat["value"] == 130.0
    assert 0 < squat["sd"] < 0.2 * squat["value"]


def test_worth_of_strength_comes_from_the_squat(person, tests):
    """What strength is worth shrinks with the strength already there, so a squat tells most."""
    _, found = found_for(person, tests)
    worth = found["worth_max_strength"]

    assert worth.parts[0].reading.kind is ReadingKind.SQUAT_MAXIMUM
    assert worth.narrowed < 0.95
    # The response to training is not tested by any of these.
    assert worth.narrowed > found[Quality.MAX_STRENGTH].narrowed
    assert len(found) == 1 + 5 + 4
