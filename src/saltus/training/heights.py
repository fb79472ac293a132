"""Heights of boxes and hurdles: never so high that a jump is missed, the lower in doubt."""

import datetime as dt
import math

from saltus.athlete.assessment import Assessment
from saltus.athlete.person import Person
from saltus.athlete.qualities import Quality
from saltus.quantities import CENTIMETRE
from saltus.training.exercises import Exercise, Height, HeightKind
from saltus.training.gates import treated_as_minor
from saltus.training.loads import Unloadable
from saltus.training.method import Method
from saltus.training.situation import Gym

__all__ = ["HURDLE_STEP_M", "body_limit", "choose_height", "height_ceiling"]

HURDLE_STEP_M = 0.05
"""Hurdles are set in steps of so much (common practice)."""

_TOLERANCE_M = 1e-6


def height_ceiling(
    exercise: Exercise, method: Method, assessment: Assessment, person: Person, on: dt.date
) -> float:
    """Highest box, drop or hurdle for an athlete on a day, m.

    A box to land on: on it, the centre of mass stands lower than on an outstretched leg by
    the depth of the crouch, so a jump of height h ends in a parallel squat on a box of
    h + d, with d the push-off distance. The method allows a share of d only, and h is the
    low end of the squat jump's interval.

    A box to drop from: the low end of the interval of the best drop (or the exercise's
    start, where that lies within what the best drop may be), and the start where no drop
    jump was tested. A hurdle: no higher than the low end of the countermovement jump.

    Always within the exercise's range and its limits for heavy or young bodies.

    Raises
    ------
    ValueError
        If the exercise has no height.
    """
    height = exercise.height
    if height is None:
        raise ValueError(f"{exercise.id} has no height to choose")
    limit = body_limit(height, assessment, person, on)
    if height.kind is HeightKind.BOX:
        distance = assessment.qualities.get(Quality.PUSH_OFF_DISTANCE)
        depth = 0.0 if distance is None else distance.low
        able = max(assessment.squat_jump_m.low, 0.0) + method.careful.height_share * depth
    elif height.kind is HeightKind.HURDLE:
        able = max(assessment.jump_m.low, 0.0)
    elif assessment.best_drop_m is not None and height.start_m is not None:
        able = max(assessment.best_drop_m.low, min(height.start_m, assessment.best_drop_m.value))
    else:
        able = height.range_m.high if height.start_m is None else height.start_m
    return min(limit, able)


def body_limit(height: Height, assessment: Assessment, person: Person, on: dt.date) -> float:
    """Top of the range for an athlete: lower limits for heavy and young bodies included, m."""
    highest = height.range_m.high
    for limit in height.limits:
        heavy = limit.over_kg is not None and assessment.mass_kg > limit.over_kg
        if heavy or (limit.minors and treated_as_minor(person, on)):
            highest = min(highest, limit.max_m)
    return highest


def choose_height(
    exercise: Exercise,
    method: Method,
    assessment: Assessment,
    person: Person,
    gym: Gym,
    on: dt.date,
) -> float | Unloadable:
    """Choose the highest box at hand (or hurdle, in steps of 5 cm) that is low enough, m.

    Returns
    -------
    float or Unloadable
        The height, or why there is none.

    Raises
    ------
    ValueError
        If the exercise has no height.
    """
    height = exercise.height
    if height is None:
        raise ValueError(f"{exercise.id} has no height to choose")
    ceiling = height_ceiling(exercise, method, assessment, person, on)
    if height.kind is HeightKind.HURDLE:
        steps = math.floor((ceiling + _TOLERANCE_M) / HURDLE_STEP_M)
        heights: tuple[float, ...] = (round(steps * HURDLE_STEP_M, 3),)
    else:
        heights = gym.boxes_m
    fit = [h for h in heights if height.range_m.low <= h <= ceiling + _TOLERANCE_M]
    if fit:
        return max(fit)
    most = f"{ceiling / CENTIMETRE:.0f} cm"
    least = f"{height.range_m.low / CENTIMETRE:.0f} cm"
    what = "hurdle" if height.kind is HeightKind.HURDLE else "box"
    return Unloadable(f"{exercise.name}: needs a {what} of {least} to {most}, and none is here.")
