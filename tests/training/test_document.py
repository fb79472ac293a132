import json

import pytest

from saltus.errors import PlanError
from saltus.training.document import plan_document, read_plan_document
from saltus.training.planner import make_plan


@pytest.fixture
def plan(adult, strong, situation, method):
    return make_plan(adult, strong, situation, method, time_limit_s=60.0)


def test_a_plan_survives_the_way_out_and_back(plan, method):
    document = json.loads(json.dumps(plan_document(plan)))

    back = read_plan_document(document, method.exercises)

    assert back.goal_date == plan.goal_date
    assert back.solver == plan.solver
    assert [s.date for s in back.sessions] == [s.date for s in plan.sessions]
    for ours, theirs in zip(plan.sessions, back.sessions, strict=True):
        assert theirs.minutes == pytest.approx(ours.minutes)
        assert theirs.landing_load == pytest.approx(ours.landing_load)
        for mine, other in zip(ours.items, theirs.items, strict=True):
            assert (other.exercise, other.sets, other.reps) == (mine.exercise, mine.sets, mine.reps)
            assert (other.why, other.cue, other.rest_s) == (mine.why, mine.cue, mine.rest_s)
            assert other.percent_of == mine.percent_of
            for field in ("load_kg", "percent", "box_m", "drop_m"):
                told, read = getattr(mine, field), getattr(other, field)
                assert read is None if told is None else read == pytest.approx(told, rel=1e-6)


def test_it_holds_the_fields_that_it_promises(plan):
    document = plan_document(plan)

    assert set(document) >= {"athlete", "start", "goal_date", "solver", "unmet", "weeks"}
    assert set(document["solver"]) == {"status", "gap", "seconds"}
    session = document["weeks"][1]["sessions"][0]
    assert set(document["weeks"][1]) >= {"start", "phase", "sessions"}
    assert set(session) >= {"date", "minutes", "landings", "items"}
    loads = {"load_kg", "percent_of", "percent", "box_cm", "drop_cm"}
    assert set(session["items"][0]) >= loads | {"exercise", "sets", "reps", "cue", "why"}


def test_a_document_without_a_field_is_named(plan, method):
    document = plan_document(plan)
    del document["weeks"][0]["start"]

    with pytest.raises(PlanError, match=r"here\.json: the field 'start' is missing"):
        read_plan_document(document, method.exercises, "here.json")


def test_what_is_no_plan_is_refused_in_a_sentence(method):
    with pytest.raises(PlanError, match="not a plan"):
        read_plan_document({"start": "soon", "weeks": []}, method.exercises)
