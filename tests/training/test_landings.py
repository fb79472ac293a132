import datetime as dt
from dataclasses import replace

import pytest

from saltus.training.landings import budget_for, day_ceiling, sport_load, week_ceiling
from saltus.training.situation import Event, EventKind

ON = dt.date(2026, 1, 5)


def _aged(adult, years, born=dt.date(2000, 1, 1)):
    return replace(adult, training_age_years=years, born=born)


def test_the_budget_grows_with_training_age(method, adult):
    found = [
        budget_for(method, _aged(adult, y), 75, ON).per_session for y in (0, 0.9, 1, 2.9, 3, 20)
    ]
    assert found == [100, 100, 120, 120, 140, 140]


def test_minors_get_less_at_every_training_age(method, adult):
    young = dt.date(2010, 1, 1)
    for years in (0.0, 1.0, 5.0):
        grown = budget_for(method, _aged(adult, years), 75, ON)
        small = budget_for(method, _aged(adult, years, young), 75, ON)
        assert small.minors
        assert small.per_session < grown.per_session
        assert small.per_week < grown.per_week


def test_an_unknown_age_is_that_of_a_minor(method, adult):
    assert budget_for(method, _aged(adult, 2, None), 75, ON).minors


def test_the_day_of_majority_changes_the_budget(method, adult):
    person = _aged(adult, 2, dt.date(2008, 3, 1))
    assert budget_for(method, person, 75, dt.date(2026, 2, 28)).minors
    assert not budget_for(method, person, 75, dt.date(2026, 3, 1)).minors


def test_a_heavy_body_bears_less(method, adult):
    light, heavy = (budget_for(method, adult, mass, ON) for mass in (100, 100.5))
    assert heavy.per_session == pytest.approx(0.75 * light.per_session)
    assert heavy.per_week == pytest.approx(0.75 * light.per_week)
    assert heavy.first_week == pytest.approx(0.75 * light.first_week)


def test_practices_and_matches_use_the_budget_up(method, adult):
    steps = method.landing_steps
    events = (
        Event(ON, EventKind.PRACTICE, 60),
        Event(ON + dt.timedelta(days=2), EventKind.MATCH, 100),
        Event(ON + dt.timedelta(days=9), EventKind.MATCH, 100),
    )
    assert sport_load(events, steps, ON, ON + dt.timedelta(days=6)) == pytest.approx(
        60 * steps.practice_cost + 100 * steps.match_cost
    )
    budget = budget_for(method, adult, 75, ON)
    assert day_ceiling(budget, 30) == budget.per_session - 30
    assert day_ceiling(budget, 1000) == 0
    assert week_ceiling(budget, steps, (400,), budget.per_week + 1) == 0


def test_a_week_rises_by_no_more_than_the_step(method, adult):
    steps, budget = method.landing_steps, budget_for(method, adult, 75, ON)
    assert week_ceiling(budget, steps, (), 0) == budget.first_week
    assert week_ceiling(budget, steps, (200,), 0) == pytest.approx(1.2 * 200 + 20)
    # A lighter week in between does not set one back.
    assert week_ceiling(budget, steps, (200, 50), 0) == week_ceiling(budget, steps, (200,), 0)
    # What lies further back than the method looks is forgotten.
    assert week_ceiling(budget, steps, (250, 100, 100, 100), 0) == pytest.approx(140)
    # Never above the budget, and never below what any first week may hold.
    assert week_ceiling(budget, steps, (390,), 0) == budget.per_week
    assert week_ceiling(budget, steps, (0, 0, 0), 0) == budget.first_week


def test_sport_of_the_week_counts_against_the_step(method, adult):
    steps, budget = method.landing_steps, budget_for(method, adult, 75, ON)
    assert week_ceiling(budget, steps, (200,), 100) == pytest.approx(1.2 * 200 + 20 - 100)
