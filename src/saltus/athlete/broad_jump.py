"""From the distance of a standing broad jump to the height of a vertical one."""

import math

from saltus.athlete.jump_height import (
    flight_time_with_lower_landing,
    height_from_velocity,
    summary_of_attempts,
    velocity_from_height,
)
from saltus.athlete.measurement_error import ATTEMPT_CV, DAY_CV, HeightError, naming
from saltus.athlete.observations import BroadJump
from saltus.errors import TestError
from saltus.quantities import STANDARD_GRAVITY

__all__ = ["broad_jump_distance_m", "broad_jump_height"]

SPEED_RATIO = 1.10
"""Take-off speed of a broad jump over that of a vertical one: a flat push spends less on
lifting the body (after Wakai & Linthorne 2005, Hum Mov Sci 24:81-96; from memory)."""

TAKE_OFF_ANGLE_RAD = math.radians(37)
"""Preferred take-off angle, 31 to 39° (Wakai & Linthorne 2005; from memory)."""

REACHED_PER_STATURE = 0.44
"""Share of the distance that is posture: the body's centre ahead of the toes at take-off
and behind the heels at landing, over stature (derived; about 0.8 m in an adult)."""

FALL_PER_STATURE = 0.20
"""How much lower the centre of mass is at landing, over stature (derived)."""

NO_ARMS_POSTURE = 0.85
"""Without the arms the body is thrown less far ahead; with it the model gives 2.08 and 1.72 m
where 2.09 and 1.72 m were measured (Ashby & Heegaard 2002, J Biomech 35:1631-1637; from
memory)."""

USUAL_STATURE_M = 1.75
_STATURE_UNKNOWN_SD_M = 0.09

BETWEEN_PEOPLE_SD_M = 0.12
"""How far people with the same vertical jump differ in distance: technique, take-off
angle, landing. It leaves correlations of 0.7 to 0.8 between the two jumps (a judgement)."""

_LOWEST_M, _HIGHEST_M = 0.02, 1.3


def broad_jump_distance_m(
    height_m: float, *, stature_m: float = USUAL_STATURE_M, arms: bool = True
) -> float:
    """Broad jump of a person whose vertical jump with the same arms is `height_m`, m.

    Notes
    -----
    A projectile that lands lower than it starts, plus what posture adds at both ends. From
    the line to the nearer heel.
    """
    speed = SPEED_RATIO * velocity_from_height(height_m)
    ahead, up = speed * math.cos(TAKE_OFF_ANGLE_RAD), speed * math.sin(TAKE_OFF_ANGLE_RAD)
    flight = flight_time_with_lower_landing(up, FALL_PER_STATURE * stature_m)
    return _posture_m(stature_m, arms) + ahead * flight


def _posture_m(stature_m: float, arms: bool) -> float:
    return REACHED_PER_STATURE * stature_m * (1.0 if arms else NO_ARMS_POSTURE)


def _height_at(distance_m: float, stature_m: float, arms: bool) -> float:
    """The other way round, m: the speed that carries so far at that angle; 0 if posture does."""
    flown = max(distance_m - _posture_m(stature_m, arms), 0.0)
    fallen = flown * math.tan(TAKE_OFF_ANGLE_RAD) + FALL_PER_STATURE * stature_m
    ahead = flown * math.sqrt(STANDARD_GRAVITY / (2 * fallen))
    return height_from_velocity(ahead / math.cos(TAKE_OFF_ANGLE_RAD) / SPEED_RATIO)


def broad_jump_height(test: BroadJump, stature_m: float | None = None) -> tuple[float, HeightError]:
    """Vertical jump with the same arms that a broad jump points to, and its error.

    Parameters
    ----------
    test : BroadJump
        Distances from the line to the nearer heel.
    stature_m : float or None
        Of the athlete, m; unknown widens the error.

    Returns
    -------
    height_m : float
        Rise of the centre of mass after take-off in a vertical jump, m.
    HeightError
        Without bias on average; the spread between people is wide.

    Raises
    ------
    TestError
        If the distance is outside what a person can do.
    """
    with naming(test):
        return _height(test, stature_m)


def _height(test: BroadJump, stature_m: float | None) -> tuple[float, HeightError]:
    distance, n = summary_of_attempts(test.distances_m)
    stature = USUAL_STATURE_M if stature_m is None else stature_m
    height = _height_at(distance, stature, test.arms)
    if not _LOWEST_M <= height <= _HIGHEST_M:
        raise TestError(
            f"A broad jump of {distance:.2f} m cannot be turned into a vertical one: give the "
            "distance in metres from the line to the nearer heel."
        )
    step = 0.005
    lower, higher = (
        broad_jump_distance_m(h, stature_m=stature, arms=test.arms)
        for h in (height - step, height + step)
    )
    per_metre = 2 * step / (higher - lower)
    between = BETWEEN_PEOPLE_SD_M
    if stature_m is None:
        reached = REACHED_PER_STATURE * _STATURE_UNKNOWN_SD_M
        between = math.hypot(between, reached)
    own = distance * math.hypot(DAY_CV, ATTEMPT_CV / math.sqrt(n))
    return height, HeightError(0.0, per_metre * between, per_metre * own)
