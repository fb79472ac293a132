"""The landing budget: what the joints of this athlete can bear, sport included.

Landings are counted by their cost, a vertical jump's landing being 1 (peak impact forces
of Wallace et al. 2010, J Strength Cond Res 24:207-212). How many an athlete can bear grows
with training age and is less for the young and the heavy; practices and matches use it up
first. The plan can only add what is left, and a week may rise only a little above the
weeks before it.
"""

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import replace

from saltus.athlete.person import Person
from saltus.training.gates import treated_as_minor
from saltus.training.method import Budget, LandingSteps, Method
from saltus.training.situation import Event, EventKind

__all__ = ["budget_for", "day_ceiling", "sport_load", "week_ceiling"]


def budget_for(method: Method, person: Person, mass_kg: float, on: dt.date) -> Budget:
    """Find the landing budget of an athlete.

    Parameters
    ----------
    method : Method
        Budgets by training age, and how much a heavy body takes off.
    person : Person
        Training age and date of birth; an unknown age gets the budget of a minor.
    mass_kg : float
        Body mass, kg.
    on : date
        The day.

    Returns
    -------
    Budget
        Scaled down where the athlete is heavier than the method's limit.
    """
    minor = treated_as_minor(person, on)
    held = [
        budget
        for budget in method.budgets
        if budget.minors is minor and budget.from_years <= person.training_age_years
    ]
    budget = max(held, key=lambda b: b.from_years)
    steps = method.landing_steps
    if mass_kg <= steps.over_kg:
        return budget
    return replace(
        budget,
        per_session=budget.per_session * steps.heavy_share,
        per_week=budget.per_week * steps.heavy_share,
        first_week=budget.first_week * steps.heavy_share,
    )


def sport_load(
    events: Iterable[Event], steps: LandingSteps, first: dt.date, last: dt.date
) -> float:
    """Landing load of the practices and matches from one day to another, both included."""
    cost = {EventKind.PRACTICE: steps.practice_cost, EventKind.MATCH: steps.match_cost}
    return sum(e.landings * cost[e.kind] for e in events if first <= e.date <= last)


def day_ceiling(budget: Budget, sport: float) -> float:
    """Landing load that a session may add on a day that holds so much sport."""
    return max(budget.per_session - sport, 0.0)


def week_ceiling(
    budget: Budget,
    steps: LandingSteps,
    before: Sequence[float],
    sport: float,
    *,
    share: float = 1.0,
) -> float:
    """Landing load that the plan may add in a week.

    Parameters
    ----------
    budget : Budget
        From :func:`budget_for`.
    steps : LandingSteps
        How it may grow.
    before : sequence of float
        Whole landing loads (plan and sport) of the weeks before, the latest last; empty in
        the first week.
    sport : float
        Landing load of the week's practices and matches.
    share : float
        What a week that is eased in may hold of an ordinary one.

    Returns
    -------
    float
        Never more than what sport leaves of the week's budget. Within that, as much as the
        first week of any plan may hold, or more where the fullest of the last weeks and the
        step above it leave room for more.
    """
    left = max(budget.per_week - sport, 0.0)
    recent = list(before)[-steps.look_back :]
    risen = (1 + steps.step) * max(recent) + steps.allowance - sport if recent else 0.0
    return min(left, share * max(budget.first_week, risen))
