"""The published force-velocity profile from an athlete's jumps, with honest intervals.

The intervals come from drawing every height and the push-off distance anew within their
errors (an error in a height moves both the force and the velocity of its point) and
fitting each draw.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from saltus.athlete.measurement_error import jump_error, summary_m
from saltus.athlete.observations import Jump, JumpMethod, JumpStyle, Observation
from saltus.athlete.person import Person
from saltus.athlete.profile import ForceVelocityPoint, ForceVelocityProfile, LinePoint
from saltus.athlete.profile_equations import (
    force_velocity_line,
    maximal_power,
    mean_force,
    mean_velocity,
    optimal_slope,
)
from saltus.quantities import STANDARD_GRAVITY, Estimate

__all__ = ["force_velocity_profile"]

NEAR_DAYS = 14
"""Tests within this many days of each other count as one session."""

FEWEST_LOADS = 3
NARROWEST_SPAN = 0.10
"""Loads whose mean forces cover less than this share of F0 are called too close. Even 40 to 70 %
of F0 is not enough to have slope and v0 accurately with errors of 1.5 cm (Lindberg et al.
2021a, PLoS ONE 16(2):e0245791)."""

UNRELIABLE_CV = 0.15
"""Slopes of jumps repeat within 14 to 30 % only (Lindberg et al. 2021a)."""

OLD_DAYS = 60
ROUGH_DISTANCE_CV = 0.06

_DRAWS = 4000
_LINE_POINTS = 25
_MOST_IMPOSSIBLE = 0.05
_LOWEST_HEIGHT_M = 0.01
_STREAM = 20080901
_HALF_WIDTH = 1.2815515655446004


@dataclass(frozen=True, slots=True)
class _Session:
    """Jumps of one style from near dates."""

    style: JumpStyle
    jumps: tuple[Jump, ...]

    @property
    def last(self) -> dt.date:
        return max(jump.date for jump in self.jumps)

    @property
    def loads(self) -> frozenset[float]:
        return frozenset(jump.load_kg for jump in self.jumps)


def force_velocity_profile(
    person: Person,
    observations: Sequence[Observation],
    on: dt.date,
    *,
    push_off_distance: Estimate,
) -> tuple[ForceVelocityProfile | None, str]:
    """Fit the published force-velocity profile to an athlete's jumps.

    Parameters
    ----------
    person : Person
        For the body mass on the days of the tests.
    observations : sequence of Observation
        All tests; squat or countermovement jumps without arms, of one style, with at least two
        loads, at most 14 days apart, are used: the latest such session, squat jumps first.
    on : date
        Later tests are left out.
    push_off_distance : Estimate
        m.

    Returns
    -------
    profile : ForceVelocityProfile or None
        None where the tests do not allow one.
    why : str
        Why there is none, or what is doubtful about it; empty where neither.

    Notes
    -----
    Heights are the means of the attempts less the method's bias, so that a tape and a
    mat give the same profile. Values are those of the published fit; intervals hold the
    middle 80 % of the draws, and a standard deviation is had from their width, since a
    ratio of two uncertain numbers has none that is of use.
    """
    session = _latest_session(observations, on)
    if session is None:
        return None, (
            "It takes jumps without arms, of the same style, with at least two different loads "
            f"within {NEAR_DAYS} days: add squat jumps with a bar, such as 0, 20, 40 and 60 kg."
        )
    heights, drawn, loads = _heights(session)
    mass = person.mass_kg(session.last)
    rng = np.random.default_rng(_STREAM)
    distance = rng.normal(push_off_distance.value, push_off_distance.sd, (_DRAWS, 1))
    distance = np.maximum(distance, 0.5 * push_off_distance.value)

    moved = (mass + loads) / mass
    point = _read_off(heights[None, :], np.array([[push_off_distance.value]]), moved)
    draws = _read_off(drawn, distance, moved)
    possible = _possible(draws)
    if not _possible(point)[0]:
        return None, (
            "The heavier jumps were not slower in the way that a push has to be: F0 and v0 cannot "
            "be read off. Test again, every attempt maximal, with loads further apart."
        )
    if possible.mean() < 1 - _MOST_IMPOSSIBLE:
        return None, (
            f"The loads ({_kilograms(loads)}) are too close together for the errors of the "
            "heights: add a heavier one, under which the jump is about half as high."
        )
    kept = {name: values[possible] for name, values in draws.items()}
    estimates = {
        name: _estimate(float(point[name][0]), kept[name])
        for name in ("F0", "v0", "Pmax", "slope", "optimal", "balance")
    }
    points = tuple(
        ForceVelocityPoint(
            float(load),
            _estimate(float(point["force"][0, i]), kept["force"][:, i]),
            _estimate(float(point["velocity"][0, i]), kept["velocity"][:, i]),
        )
        for i, load in enumerate(loads)
    )
    doubts = _doubts(session, on, points, estimates["F0"], estimates["slope"], push_off_distance)
    profile = ForceVelocityProfile(
        F0_n_kg=estimates["F0"],
        v0_m_s=estimates["v0"],
        Pmax_w_kg=estimates["Pmax"],
        slope=estimates["slope"],
        optimal_slope=estimates["optimal"],
        balance=estimates["balance"],
        points=points,
        doubts=doubts,
        line=_line(float(point["F0"][0]), float(point["slope"][0]), kept),
    )
    return profile, " ".join(doubts)


def _latest_session(observations: Sequence[Observation], on: dt.date) -> _Session | None:
    """Latest session with two loads or more; of two equally late ones, the squat jumps."""
    best: _Session | None = None
    for style in (JumpStyle.SQUAT, JumpStyle.COUNTERMOVEMENT):
        jumps = [
            o
            for o in observations
            if isinstance(o, Jump) and o.style is style and not o.arms and o.date <= on
        ]
        for last in sorted({jump.date for jump in jumps}, reverse=True):
            near = tuple(j for j in jumps if 0 <= (last - j.date).days <= NEAR_DAYS)
            session = _Session(style, near)
            if len(session.loads) < 2:
                continue
            if best is None or (last - best.last).days > NEAR_DAYS:
                best = session
            break
    return best


def _heights(
    session: _Session,
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Heights per load, shape (n,), draws of them, (draws, n), and the loads, kg, (n,)."""
    rng = np.random.default_rng(_STREAM + 1)
    jumps = session.jumps
    errors = [jump_error(jump) for jump in jumps]
    read = np.array([summary_m(j) - e.bias_m for j, e in zip(jumps, errors, strict=True)])
    own = rng.normal(0, [e.sd_m for e in errors], (_DRAWS, len(jumps)))
    # One method misreads all jumps of one athlete alike.
    shared = {method: rng.normal(0, 1, _DRAWS) for method in JumpMethod}
    alike = np.column_stack(
        [shared[j.method] * e.bias_sd_m for j, e in zip(jumps, errors, strict=True)]
    )
    drawn = read + own + alike
    loads = np.array(sorted(session.loads))
    belongs = np.array([[j.load_kg == load for load in loads] for j in jumps], dtype=float)
    belongs /= belongs.sum(axis=0)
    return (
        np.maximum(read @ belongs, _LOWEST_HEIGHT_M),
        np.maximum(drawn @ belongs, _LOWEST_HEIGHT_M),
        loads,
    )


def _read_off(
    heights: NDArray[np.float64], distance: NDArray[np.float64], moved: NDArray[np.float64]
) -> dict[str, NDArray[np.float64]]:
    """Everything that is read off the line, for heights (m, n) and distances (m, 1)."""
    force, velocity = mean_force(moved, heights, distance), mean_velocity(heights)
    F0, slope = force_velocity_line(velocity, force)
    with np.errstate(all="ignore"):  # impossible lines are sorted out by the caller
        v0 = -F0 / slope
        Pmax = maximal_power(F0, v0)
        optimal = optimal_slope(np.where(Pmax > 0, Pmax, np.nan), distance[:, 0])
        balance = slope / optimal
    return {
        "force": force,
        "velocity": velocity,
        "F0": F0,
        "slope": slope,
        "v0": v0,
        "Pmax": Pmax,
        "optimal": optimal,
        "balance": balance,
    }


def _possible(read: dict[str, NDArray[np.float64]]) -> NDArray[np.bool_]:
    return np.asarray(
        (read["slope"] < 0) & (read["F0"] > STANDARD_GRAVITY) & np.isfinite(read["balance"])
    )


def _line(F0: float, slope: float, draws: dict[str, NDArray[np.float64]]) -> tuple[LinePoint, ...]:
    """The fitted line from F0 to v0 with the spread of the drawn ones."""
    return tuple(
        LinePoint(float(v), _estimate(F0 + slope * float(v), draws["F0"] + draws["slope"] * v))
        for v in np.linspace(0, -F0 / slope, _LINE_POINTS)
    )


def _estimate(value: float, draws: NDArray[np.float64]) -> Estimate:
    low, high = (float(q) for q in np.percentile(draws, [10, 90]))
    sd = (high - low) / (2 * _HALF_WIDTH)
    return Estimate(value, min(low, value), max(high, value), sd)


def _kilograms(loads: NDArray[np.float64]) -> str:
    return ", ".join(f"{load:g}" for load in loads) + " kg"


def _doubts(
    session: _Session,
    on: dt.date,
    points: Sequence[ForceVelocityPoint],
    F0: Estimate,
    slope: Estimate,
    push_off_distance: Estimate,
) -> tuple[str, ...]:
    """Plain warnings, most important first."""
    doubts = []
    forces = [point.force_n_kg.value / F0.value for point in points]
    low, high = 100 * min(forces), 100 * max(forces)
    if len(points) < FEWEST_LOADS:
        doubts.append(
            "Two loads only: nothing shows whether the line is straight. Add a third, heavier one."
        )
    if high - low < 100 * NARROWEST_SPAN:
        doubts.append(
            f"The loads are close together: their forces cover only {low:.0f} to {high:.0f} % of "
            "F0. Add a load under which the jump is about half as high."
        )
    cv = slope.sd / abs(slope.value)
    if cv > UNRELIABLE_CV:
        doubts.append(
            f"The slope is uncertain by {100 * cv:.0f} %: the balance is a hint, nothing to plan "
            "by. More attempts at each load and a heavier load would help."
        )
    if push_off_distance.sd > ROUGH_DISTANCE_CV * push_off_distance.value:
        doubts.append(
            "The push-off distance is a rough figure: measure it with a tape, from the bottom of "
            "the push to the outstretched leg."
        )
    if session.style is JumpStyle.COUNTERMOVEMENT:
        doubts.append(
            "From countermovement jumps, whose profile lies above that of the squat jumps for "
            "which the optimum was published."
        )
    age = (on - session.last).days
    if age > OLD_DAYS:
        doubts.append(f"From tests of {session.last.isoformat()}, {age} days earlier.")
    return tuple(doubts)
