"""Plans for hundreds of invented athletes, gyms and calendars: no rule is ever broken."""

import datetime as dt
import random
from dataclasses import replace

import pytest

from saltus.athlete.assessment import Limiting, Worth
from saltus.athlete.health import Pain, Restriction
from saltus.athlete.observations import Lift
from saltus.athlete.person import BodyMass, Person
from saltus.athlete.qualities import TRAINABLE
from saltus.quantities import POUND, Estimate
from saltus.training.audit import audit
from saltus.training.exercises import EQUIPMENT
from saltus.training.planner import make_plan
from saltus.training.replan import replan
from saltus.training.situation import (
    Event,
    EventKind,
    Gym,
    Priority,
    Situation,
    TargetDate,
    Weekday,
)

CASES, BATCH = 200, 20
# Shares of the squat maximum, invented but ordinary.
RATIOS = {
    Lift.BACK_SQUAT: 1.0,
    Lift.FRONT_SQUAT: 0.83,
    Lift.POWER_CLEAN: 0.65,
    Lift.POWER_SNATCH: 0.5,
    Lift.DEADLIFT: 1.15,
    Lift.TRAP_BAR_DEADLIFT: 1.2,
    Lift.ROMANIAN_DEADLIFT: 0.9,
    Lift.JERK: 0.68,
    Lift.LEG_PRESS: 2.2,
}


def invent_gym(r):
    pounds = r.random() < 0.3
    if pounds:
        unit, bar = "lb", 45 * POUND
        plates = {p * POUND: r.choice([0, 2, 6]) for p in (45, 25, 10, 5, 2.5)}
    else:
        unit, bar = "kg", r.choice([15.0, 20.0])
        plates = {p: r.choice([0, 2, 4, 8]) for p in (20.0, 10.0, 5.0, 2.5, 1.25)}
    named = sorted(EQUIPMENT)
    boxes = sorted(r.sample([0.2, 0.3, 0.4, 0.45, 0.5, 0.6, 0.75], r.randrange(5)))
    return Gym(
        equipment=frozenset(named if r.random() < 0.4 else r.sample(named, r.randrange(13))),
        bar_kg=bar,
        plates_kg=plates,
        boxes_m=tuple(boxes),
        dumbbells_kg=tuple(range(5, r.choice([6, 21, 41]), 5)) if r.random() < 0.6 else (),
        kettlebells_kg=r.choice([(), (8, 12, 16, 24)]),
        unit=unit,
    )


def invent_sport(r, start, days):
    events = []
    for weekday in r.sample(range(7), r.choice([0, 0, 1, 2, 3])):
        kind, landings = r.choice(list(EventKind)), r.choice([0, 10, 40, 80, 150])
        dates = (start + dt.timedelta(days=i) for i in range(days))
        events += [
            Event(d, kind, landings) for d in dates if d.weekday() == weekday and r.random() < 0.85
        ]
    return tuple(events)


def invent_situation(r):
    start = dt.date(2026, 1, 1) + dt.timedelta(days=r.randrange(365))
    days = max(2, r.choice([1, 2, 3, 4, 6, 8, 10]) * 7 + r.randrange(-6, 7))
    within = [start + dt.timedelta(days=i) for i in range(days)]
    blocked = set(r.choices(within, k=r.choice([0, 0, 1, 3, 8])))
    if r.random() < 0.2:
        first = r.randrange(days)
        blocked |= set(within[first : first + 9])
    others = [
        TargetDate(r.choice(within), r.choice([Priority.SECOND, Priority.TRIAL]))
        for _ in range(r.choice([0, 0, 1, 2]))
    ]
    places = ["left knee", "Achilles tendon", "right shoulder", "lower back"]
    pains = [
        Pain(
            start - dt.timedelta(days=r.randrange(30)),
            r.choice(places),
            r.randrange(9),
            r.choice([None, True, False]),
        )
        for _ in range(r.choice([0, 0, 0, 1, 2]))
    ]
    words = ["depth_jump", "landing", "squat", "jumping", "power_clean", "weightlifting", "chess"]
    restrictions = [
        Restriction(
            r.choice(words),
            start + dt.timedelta(days=r.randrange(-5, 20)),
            r.choice([None, start + dt.timedelta(days=25)]),
        )
        for _ in range(r.choice([0, 0, 0, 1, 2]))
    ]
    weekdays = r.sample(list(Weekday), r.choice([1, 2, 3, 3, 4, 5, 6, 7]))
    return Situation(
        start=start,
        targets=(TargetDate(within[-1]), *others),
        minutes={day: r.choice([15, 20, 30, 45, 60, 75, 90, 120]) for day in weekdays},
        blocked=frozenset(blocked),
        events=invent_sport(r, start, days),
        gym=invent_gym(r),
        pains=tuple(pains),
        restrictions=tuple(restrictions),
        landing_practice_weeks=r.choice([0, 0, 1, 3, 8, 20]),
        soft_surface=r.random() < 0.6,
    )


def invent_person(r, start):
    age = r.choice([12, 15, 16, 17, 19, 25, 45, None])
    born = (
        None if age is None else dt.date(start.year - age, r.randrange(1, 13), r.randrange(1, 28))
    )
    return Person(
        "Ada Probe",
        (BodyMass(start, r.uniform(45, 120)),),
        born=born,
        training_age_years=r.choice([0, 0.3, 0.6, 1, 2, 4, 8]),
    )


def invent_assessment(r, strong, person):
    mass = person.body_masses[0].mass_kg
    squat, share = mass * r.uniform(0.6, 2.3), r.choice([0.03, 0.06, 0.15])
    known = [lift for lift in RATIOS if r.random() < r.choice([0.4, 1.0])]
    worth = tuple(Worth(q, Estimate.normal(r.uniform(-0.002, 0.03), 0.01), 0.25) for q in TRAINABLE)
    return replace(
        strong,
        mass_kg=mass,
        maxima_kg={k: Estimate.normal(squat * RATIOS[k], share * squat) for k in known},
        best_drop_m=r.choice([None, Estimate.normal(r.uniform(0.2, 0.6), 0.08)]),
        worth=worth,
        limiting=Limiting(r.choice([None, *TRAINABLE]), 0.5, TRAINABLE[0]),
    )


def invent(seed, strong):
    r = random.Random(seed)
    situation = invent_situation(r)
    person = invent_person(r, situation.start)
    return person, invent_assessment(r, strong, person), situation


@pytest.mark.parametrize("batch", range(CASES // BATCH))
def test_no_plan_breaks_a_rule(batch, strong, method):
    for seed in range(batch * BATCH, (batch + 1) * BATCH):
        person, assessment, situation = invent(seed, strong)

        plan = make_plan(person, assessment, situation, method, time_limit_s=0.5)

        assert audit(plan, method, situation, person, assessment) == (), f"case {seed}"
        assert not {s.date for s in plan.sessions} & situation.blocked, f"case {seed}"
        assert plan.sessions or plan.unmet, f"case {seed}"


def test_no_plan_after_a_break_breaks_a_rule(strong, method):
    loaded = [e.id for e in method.exercises.values() if e.load is not None]
    for seed in range(2000, 2040):
        person, assessment, situation = invent(seed, strong)
        r = random.Random(seed)
        last = situation.start - dt.timedelta(days=r.choice([16, 20, 30, 60]))
        trained = {
            last - dt.timedelta(days=2 * i): {e: r.uniform(10, 120) for e in r.sample(loaded, 5)}
            for i in range(6)
        }
        if r.random() < 0.3:
            trained[situation.start - dt.timedelta(days=3)] = {}
        situation = replace(situation, trained=trained)

        plan = make_plan(person, assessment, situation, method, time_limit_s=0.5)

        assert audit(plan, method, situation, person, assessment) == (), f"case {seed}"
        assert any(week.eased_after for week in plan.weeks), f"case {seed}"


@pytest.mark.parametrize("seed", range(1000, 1020))
def test_no_replan_breaks_a_rule(seed, strong, method):
    person, assessment, situation = invent(seed, strong)
    r = random.Random(seed)
    first = make_plan(person, assessment, situation, method, time_limit_s=0.5)
    length = (first.goal_date - first.start).days
    since = first.start + dt.timedelta(days=r.randrange(length))
    missed = [s.date for s in first.sessions if s.date < since and r.random() < 0.2]
    blocked = {since + dt.timedelta(days=r.randrange(14)) for _ in range(2)}
    now = replace(situation, blocked=situation.blocked | blocked)

    new, changes = replan(
        first, person, assessment, now, method, from_date=since, missed=missed, time_limit_s=0.5
    )

    earlier = [
        replace(w, sessions=tuple(s for s in w.sessions if s.date not in missed))
        for w in first.weeks
        if w.start < new.weeks[0].start
    ]
    as_now = replace(now, start=since, landing_practice_weeks=new.landing_practice_weeks)
    assert audit(new, method, as_now, person, assessment, earlier=earlier) == ()
    assert not {s.date for s in new.sessions if s.date >= since} & now.blocked
    assert all(change.date >= since for change in changes)
