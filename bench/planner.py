"""The planner's gap and time for 16 weeks of 5 days, against HiGHS on the same programs."""

import importlib.util
import time
from collections import defaultdict
from datetime import date, timedelta
from pathlib import Path
from statistics import mean, median
from types import ModuleType

import numpy as np

from saltus.athlete.assessment import Assessment, FitReport, Limiting, Worth
from saltus.athlete.observations import Lift
from saltus.athlete.person import BodyMass, Person
from saltus.athlete.qualities import TRAINABLE, Quality
from saltus.quantities import Estimate
from saltus.training.audit import audit
from saltus.training.laying import Layer
from saltus.training.method import Method
from saltus.training.method_file import load_method
from saltus.training.planner import make_plan
from saltus.training.programme import Programme
from saltus.training.situation import Event, EventKind, Gym, Situation, TargetDate, Weekday

Case = tuple[Person, Assessment, Situation]
TESTS = Path(__file__).parents[1] / "tests" / "outside" / "test_planner_against_milp.py"
START = date(2026, 1, 5)
FULL = Gym(
    equipment=frozenset(
        {"barbell", "rack", "trap_bar", "leg_press", "bench", "boxes", "blocks", "hurdles"}
        | {"runway", "reach", "nordic_bench"}
    ),
    plates_kg={20.0: 8, 15.0: 2, 10.0: 4, 5.0: 4, 2.5: 4, 1.25: 4},
    boxes_m=(0.3, 0.45, 0.6, 0.75),
    dumbbells_kg=tuple(range(5, 42, 5)),
    kettlebells_kg=(12, 16, 20, 24, 32),
)


def _outside() -> ModuleType:
    """Solve a program with HiGHS, as the test against it does."""
    spec = importlib.util.spec_from_file_location("milp", TESTS)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def _invent(rng: np.random.Generator) -> Case:
    """An invented athlete with 16 weeks of 5 days before them."""
    normal = Estimate.normal
    mass = float(rng.uniform(50, 105))
    squat = mass * float(rng.uniform(0.8, 2.2))
    shares = {
        Lift.BACK_SQUAT: 1.0,
        Lift.POWER_CLEAN: 0.65,
        Lift.DEADLIFT: 1.15,
        Lift.JERK: 0.68,
    }
    age = int(rng.integers(15, 35))
    person = Person(
        "Ada Probe",
        (BodyMass(START, mass),),
        born=date(START.year - age, 3, 1),
        training_age_years=float(rng.choice([0.3, 1, 2, 4, 8])),
    )
    worth = tuple(Worth(q, normal(float(rng.uniform(0.002, 0.03)), 0.01), 0.25) for q in TRAINABLE)
    assessment = Assessment(
        name=person.name,
        date=START,
        mass_kg=mass,
        jump_m=normal(0.38, 0.02),
        squat_jump_m=normal(0.35, 0.02),
        approach_jump_m=None,
        qualities={Quality.PUSH_OFF_DISTANCE: normal(0.42, 0.02)},
        maxima_kg={k: normal(squat * share, 0.05 * squat) for k, share in shares.items()},
        best_drop_m=None,
        worth=worth,
        limiting=Limiting(None, 0.4, Quality.MAX_STRENGTH),
        next_tests=(),
        goal=None,
        force_velocity=None,
        force_velocity_why="",
        body_mass=None,
        fit=FitReport(0, 0.0, ()),
        cautions=(),
    )
    goal = START + timedelta(weeks=16, days=-2)
    events = tuple(
        Event(START + timedelta(days=d), EventKind.PRACTICE, 40)
        for d in range(16 * 7)
        if d % 7 in (1, 3) and rng.random() < 0.9
    )
    situation = Situation(
        start=START,
        targets=(TargetDate(goal),),
        minutes={day: int(rng.choice([45, 60, 75, 90])) for day in list(Weekday)[:5]},
        blocked=frozenset(START + timedelta(days=int(d)) for d in rng.integers(0, 110, 3)),
        events=events if rng.random() < 0.5 else (),
        gym=FULL,
        landing_practice_weeks=float(rng.choice([0, 4, 12])),
        soft_surface=True,
    )
    return person, assessment, situation


def run(athletes: int = 20, against: int = 2, limit: int = 5, seed: int = 1) -> None:
    """Plan for `athletes`; give every program of the first `against` to HiGHS as well."""
    rng = np.random.default_rng(seed)
    method = load_method()
    cases = [_invent(rng) for _ in range(athletes)]
    gaps, seconds, work, breaches = [], [], [], 0
    make_plan(*cases[0], method, time_limit_s=limit)  # imports and caches
    for person, assessment, situation in cases:
        began, worked = time.perf_counter(), time.process_time()
        plan = make_plan(person, assessment, situation, method, time_limit_s=limit)
        seconds.append(time.perf_counter() - began)
        work.append(time.process_time() - worked)
        gaps.append(plan.solver.gap)
        breaches += len(audit(plan, method, situation, person, assessment))
    print(f"{athletes} athletes, 16 weeks of 5 days, limit {limit} s")
    print(f"gap      median {median(gaps):.2%}, mean {mean(gaps):.2%}, largest {max(gaps):.2%}")
    print(f"seconds  median {median(seconds):.2f}, largest {max(seconds):.2f}")
    print(f"processor seconds (all threads)  median {median(work):.2f}, largest {max(work):.2f}")
    within = sum(g <= 0.01 and s <= limit for g, s in zip(gaps, seconds, strict=True))
    print(f"within 1 %: {sum(g <= 0.01 for g in gaps)} of {athletes}, and in {limit} s: {within}")
    print(f"rules broken, by the checker: {breaches}")
    if against:
        _compare(cases[:against], method, limit)


def _compare(cases: list[Case], method: Method, limit: int) -> None:
    """Time our way with some athletes' weeks against HiGHS, to the same gap.

    HiGHS gets the same ordinary weeks, one by one, and then the plain formulation: one program
    for each phase, in which every week has variables of its own and follows the first.
    """
    outside, programmes, phases = _outside(), [], defaultdict(list)
    solve, lay = Layer.__dict__["_solve"].__func__, Layer.lay
    ours: list[float] = []

    def watched_solve(programme: Programme, time_limit_s: float) -> object:
        began = time.perf_counter()
        answer = solve(programme, time_limit_s)
        if programme.ordinary:
            ours.append(time.perf_counter() - began)
            programmes.append((programme, answer))
        return answer

    def watched_lay(layer: Layer, time_limit_s: float) -> object:
        filled, report = lay(layer, time_limit_s)
        for week in filled:
            phases[id(layer), week.frame.laid.phase.id].append((layer, week.case))
        return filled, report

    Layer._solve, Layer.lay = staticmethod(watched_solve), watched_lay
    try:
        began = time.perf_counter()
        for person, assessment, situation in cases:
            make_plan(person, assessment, situation, method, time_limit_s=limit)
        whole = time.perf_counter() - began
    finally:
        Layer._solve, Layer.lay = staticmethod(solve), lay
    longest = 10 * limit
    theirs, unsolved = 0.0, 0
    for programme, answer in programmes:
        gap = max(answer.distance / max(answer.gain, 1), 0.001)
        began = time.perf_counter()
        unsolved += not outside.solve_with_highs(programme.model, longest, gap).success
        theirs += time.perf_counter() - began
    print(
        f"\n{len(programmes)} ordinary weeks: ours {sum(ours):.1f} s, HiGHS {theirs:.1f} s to the "
        f"same gap ({unsolved} not within {longest} s), ratio {theirs / sum(ours):.1f}"
    )
    theirs, unsolved = 0.0, 0
    for weeks in phases.values():
        plain = Programme([case for _, case in weeks], weeks[0][0].rules)
        began = time.perf_counter()
        unsolved += not outside.solve_with_highs(plain.model, longest, 0.01).success
        theirs += time.perf_counter() - began
    print(
        f"{len(cases)} plans, plainly formulated: ours {whole:.1f} s, HiGHS {theirs:.1f} s to 1 % "
        f"({unsolved} of {len(phases)} phases not within {longest} s each), "
        f"ratio {theirs / whole:.1f}"
    )
