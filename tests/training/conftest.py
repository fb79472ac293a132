import datetime as dt
from dataclasses import replace

import pytest

from saltus.athlete.assessment import Assessment, FitReport, Limiting, Worth
from saltus.athlete.observations import Lift
from saltus.athlete.person import BodyMass, Person
from saltus.athlete.qualities import TRAINABLE, Quality
from saltus.quantities import Estimate
from saltus.training.heights import choose_height
from saltus.training.loads import choose_load
from saltus.training.method_file import load_method
from saltus.training.plan import Item, Plan, Session, SolverReport, Week, Why
from saltus.training.situation import Gym, Situation, TargetDate, Weekday

START = dt.date(2026, 1, 5)  # a Monday
GOAL = dt.date(2026, 3, 28)  # the Saturday of the twelfth week

# Invented: exercise, sets, repetitions, for Monday and Thursday of each week.
_GENERAL = (
    (
        ("warm_up", 1, 1),
        ("landing_practice", 1, 4),
        ("power_clean", 3, 3),
        ("back_squat", 3, 5),
        ("romanian_deadlift", 2, 6),
    ),
    (("warm_up", 1, 1), ("landing_practice", 1, 4), ("power_clean", 3, 3), ("back_squat", 3, 5)),
)
_STRENGTH_SPEED = 2 * (
    (("warm_up", 1, 1), ("box_jump", 2, 3), ("power_clean", 3, 3), ("back_squat", 3, 4)),
)
_LIGHTER = (
    (("warm_up", 1, 1), ("box_jump", 2, 3), ("power_clean", 2, 3), ("back_squat", 2, 4)),
    (("warm_up", 1, 1), ("back_squat", 2, 4)),
)
_SPEED_STRENGTH = 2 * (
    (
        ("warm_up", 1, 1),
        ("jump_squat", 2, 3),
        ("box_jump", 2, 3),
        ("power_clean", 3, 3),
        ("back_squat", 3, 3),
    ),
)
_PEAKING = 2 * (
    (("warm_up", 1, 1), ("depth_jump", 2, 4), ("power_clean", 2, 3), ("back_squat", 2, 3)),
)
_UNLOADING = (
    (("warm_up", 1, 1), ("power_clean", 2, 3), ("back_squat", 2, 3)),
    (("warm_up", 1, 1), ("back_squat", 2, 3)),
)
_LAST = (_UNLOADING[0], ())
_WEEKS = (
    *2 * (("general_strength", _GENERAL),),
    ("strength_speed", _STRENGTH_SPEED),
    ("strength_speed", _LIGHTER),
    *2 * (("speed_strength", _SPEED_STRENGTH),),
    *4 * (("peaking", _PEAKING),),
    ("unloading", _UNLOADING),
    ("unloading", _LAST),
)


@pytest.fixture(scope="session")
def method():
    return load_method()


@pytest.fixture(scope="session")
def adult():
    return Person(
        "Ada Probe",
        (BodyMass(dt.date(2026, 1, 1), 75.0),),
        born=dt.date(2000, 5, 1),
        training_age_years=2.0,
    )


@pytest.fixture(scope="session")
def strong():
    """Assessment, made by hand, of an adult whose gates for depth jumps are all open."""
    normal = Estimate.normal
    return Assessment(
        name="Ada Probe",
        date=START,
        mass_kg=75.0,
        jump_m=normal(0.38, 0.015),
        squat_jump_m=normal(0.35, 0.015),
        approach_jump_m=None,
        qualities={Quality.PUSH_OFF_DISTANCE: normal(0.42, 0.02)},
        maxima_kg={Lift.BACK_SQUAT: normal(120.0, 5.0), Lift.POWER_CLEAN: normal(75.0, 5.0)},
        best_drop_m=None,
        worth=(),
        limiting=Limiting(None, 0.4, Quality.MAX_STRENGTH),
        next_tests=(),
        goal=None,
        force_velocity=None,
        force_velocity_why="",
        body_mass=None,
        fit=FitReport(1, 1.0, ()),
        cautions=(),
    )


@pytest.fixture
def gym():
    return Gym(
        equipment=frozenset({"barbell", "rack", "bench", "hurdles", "runway"}),
        plates_kg={20.0: 4, 15.0: 2, 10.0: 4, 5.0: 4, 2.5: 4, 1.25: 2},
        boxes_m=(0.30, 0.45, 0.60),
        dumbbells_kg=(5.0, 7.5, 10.0, 12.5, 15.0, 20.0),
        kettlebells_kg=(16.0, 24.0),
    )


@pytest.fixture
def situation(gym):
    return Situation(
        start=START,
        targets=(TargetDate(GOAL),),
        minutes=dict.fromkeys((Weekday.MON, Weekday.TUE, Weekday.THU), 90),
        gym=gym,
        landing_practice_weeks=3.0,
        soft_surface=True,
    )


@pytest.fixture
def make_item(method, strong, adult, gym):
    """Put an item together as it should be, loads and heights chosen by the rules."""

    def make(name, sets, reps, phases, date):
        exercise = method.exercises[name]
        chosen = choose_load(exercise, method, phases, strong, gym, reps=reps)
        height = None
        if exercise.height is not None:
            height = choose_height(exercise, method, strong, adult, gym, date)
        drop = height if name in {"depth_jump", "drop_landing"} else None
        return Item(
            exercise=name,
            sets=sets,
            reps=reps,
            load_kg=chosen.load_kg,
            percent_of=chosen.percent_of,
            percent=chosen.percent,
            box_m=None if drop is not None else height,
            drop_m=drop,
            rest_s=exercise.rest_s,
            rest_between_reps_s=exercise.rest_between_reps_s,
            cue=exercise.cues[0],
            why=Why(phases[-1].use_of(exercise).rule, None, "Written by hand for a test."),
            landings=exercise.landings(sets, reps),
            landing_load=exercise.landing_load(sets, reps, drop),
            minutes=exercise.minutes(sets, reps),
        )

    return make


@pytest.fixture
def sound_plan(method, make_item):
    """A plan written by hand that keeps every rule."""
    weeks, phases = [], []
    for number, (phase, days) in enumerate(_WEEKS):
        monday = START + dt.timedelta(weeks=number)
        phases.append(method.phase(phase))
        sessions = tuple(
            Session(date, tuple(make_item(*rows, phases, date) for rows in day))
            for day, date in zip(days, (monday, monday + dt.timedelta(days=3)), strict=True)
            if day
        )
        weeks.append(Week(monday, phase, sessions, back_off=number in (3, 7)))
    return Plan(
        athlete="Ada Probe",
        start=START,
        goal_date=GOAL,
        weeks=tuple(weeks),
        unmet=(),
        solver=SolverReport("feasible", 1.0, 0.0),
    )


@pytest.fixture
def edit():
    """Change items, sessions or weeks of a plan."""

    def item(plan, week, day, name, **changes):
        def changed(old):
            return replace(old, **changes) if old.exercise == name else old

        return session(plan, week, day, items=lambda items: tuple(changed(i) for i in items))

    def session(plan, week, day, **changes):
        old = plan.weeks[week].sessions[day]
        made = {k: v(getattr(old, k)) if callable(v) else v for k, v in changes.items()}
        sessions = list(plan.weeks[week].sessions)
        sessions[day] = replace(old, **made)
        return weeks(plan, week, sessions=tuple(sessions))

    def weeks(plan, week, **changes):
        all_weeks = list(plan.weeks)
        all_weeks[week] = replace(all_weeks[week], **changes)
        return replace(plan, weeks=tuple(all_weeks))

    class Edit:
        pass

    Edit.item, Edit.session, Edit.week = map(staticmethod, (item, session, weeks))
    return Edit


@pytest.fixture
def valued(strong):
    """The same, with what a block on each quality is worth."""
    worth = tuple(
        Worth(q, Estimate.normal(g, 0.008), 0.25)
        for q, g in zip(TRAINABLE, (0.026, 0.020, 0.012, 0.015), strict=True)
    )
    return replace(strong, worth=worth)
