"""The planner's program in the hands of a general mixed-integer solver (HiGHS, in SciPy)."""

import datetime as dt

import numpy as np
import pytest
from ortools.sat.python import cp_model
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

from saltus.athlete.qualities import TRAINABLE
from saltus.training.frame import FrameDay, FrameWeek
from saltus.training.method_file import load_method
from saltus.training.options import Option
from saltus.training.phases import LaidWeek
from saltus.training.programme import Programme, Rules, WeekCase
from saltus.training.spans import Count


def as_linear_program(model):
    """Arrays of a program in which every constraint is linear: c, A, low, high, bounds."""
    proto = model.proto
    rows, columns, values, low, high = [], [], [], [], []
    for row, constraint in enumerate(proto.constraints):
        linear = constraint.linear
        assert not constraint.enforcement_literal
        assert len(linear.domain) == 2
        rows += [row] * len(linear.vars)
        columns += list(linear.vars)
        values += list(linear.coeffs)
        low.append(linear.domain[0] if linear.domain[0] > -(2**60) else -np.inf)
        high.append(linear.domain[1] if linear.domain[1] < 2**60 else np.inf)
    assert all(len(v.domain) == 2 for v in proto.variables)
    bounds = Bounds([v.domain[0] for v in proto.variables], [v.domain[1] for v in proto.variables])
    c = np.zeros(len(proto.variables))
    for j, coefficient in zip(proto.objective.vars, proto.objective.coeffs, strict=True):
        c[j] = coefficient  # a maximum is stored as the minimum of its negative
    a = csr_array((values, (rows, columns)), shape=(len(low), len(c)))
    return c, LinearConstraint(a, low, high), bounds


def solve_with_highs(model, time_limit_s, gap):
    c, constraint, bounds = as_linear_program(model)
    return milp(
        c,
        constraints=constraint,
        bounds=bounds,
        integrality=np.ones_like(c),
        options={"time_limit": time_limit_s, "mip_rel_gap": gap},
    )


def small_week():
    """Three days, a few exercises: small enough to be solved to the end by anyone."""
    method = load_method()
    phase = method.phase("strength_speed")
    names = ("warm_up", "back_squat", "hang_power_clean", "box_jump", "pogo_hops", "deadlift")
    options = []
    for name in names:
        exercise = method.exercises[name]
        use = phase.use_of(exercise)
        reps = exercise.reps.meet(use.reps)
        sets = exercise.sets.meet(use.sets)
        load = exercise.landing_load(1, reps.low)
        options.append(Option(exercise, use, Count(sets.low, sets.high), reps.low, load))
    monday = dt.date(2026, 1, 5)
    minutes = {0: 60, 2: 45, 4: 60}
    days = tuple(
        FrameDay(monday + dt.timedelta(days=d), minutes.get(d, 0), why="" if d in minutes else "x")
        for d in range(7)
    )
    frame = FrameWeek(LaidWeek(monday, phase, back_off=False), days)
    allowed = frozenset((d, j) for d in minutes for j in range(len(options)))
    case = WeekCase(frame=frame, options=tuple(options), allowed=allowed, landing_room=100.0)
    worth = dict(zip(TRAINABLE, (0.003, 0.004, 0.002, 0.0025), strict=True))
    rules = Rules(
        method=method,
        exercises=method.exercises,
        budget=method.budgets[1],
        minor=False,
        worth=worth,
    )
    return Programme([case], rules)


def test_both_solvers_find_the_same_best_week():
    programme = small_week()
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.linearization_level = 2

    status = solver.solve(programme.model)
    other = solve_with_highs(programme.model, 60, 0.0)

    assert status == cp_model.OPTIMAL
    assert other.success
    # HiGHS works in floating point: a millionth of the value, and one unit, are its tolerance.
    assert -other.fun == pytest.approx(solver.objective_value, rel=1e-5, abs=1.0)
