"""The assessment of an athlete: all tests in, everything a coach asks out."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from saltus.athlete.assessment import Assessment, BodyMassEffect, FitReport, Goal
from saltus.athlete.cautions import cautions, outlying_in_words
from saltus.athlete.drop_jumps import best_drop
from saltus.athlete.goal import outlook
from saltus.athlete.health import Pain, Restriction
from saltus.athlete.history import TrainingBlock
from saltus.athlete.known import Known, known_of
from saltus.athlete.maxima import maxima_kg
from saltus.athlete.next_test import next_tests
from saltus.athlete.observations import Jump, JumpStyle, Observation
from saltus.athlete.person import Person
from saltus.athlete.posterior import Posterior
from saltus.athlete.postures import (
    bottom_force_n_kg,
    bottom_force_rate_n_s_kg,
    extension_speed_m_s,
)
from saltus.athlete.prediction import jump_height_m
from saltus.athlete.prior import Constant, State
from saltus.athlete.profile_fit import force_velocity_profile
from saltus.athlete.pushoff import Start
from saltus.athlete.qualities import Quality
from saltus.athlete.worth import DECIDED, expected_gains, limiting, what_if, worths
from saltus.quantities import Estimate

__all__ = ["assess", "assess_known", "assess_posterior", "quality_draws"]


def assess(
    person: Person,
    observations: Sequence[Observation],
    *,
    blocks: Sequence[TrainingBlock] = (),
    goal: Goal | None = None,
    pains: Sequence[Pain] = (),
    restrictions: Sequence[Restriction] = (),
    on: dt.date | None = None,
    decided: float = DECIDED,
) -> Assessment:
    """Everything that is known of an athlete on a day.

    Parameters
    ----------
    person : Person
        Who.
    observations : sequence of Observation
        Tests of any kind, on any dates. One that no equation can use is left out, and the
        cautions say so.
    blocks : sequence of TrainingBlock
        Training done.
    goal : Goal or None
        What is wanted.
    pains, restrictions : sequences
        What was reported.
    on : date or None
        The day; None is that of the latest test, or of the latest weighing without tests.
    decided : float
        Probability from which a limiting quality is named.

    Returns
    -------
    Assessment

    Raises
    ------
    TestError
        If the goal cannot be used; the sentence says why.
    """
    return assess_known(
        known_of(person, observations, blocks=blocks, on=on),
        goal=goal,
        pains=pains,
        restrictions=restrictions,
        decided=decided,
    )


def assess_known(
    known: Known,
    *,
    goal: Goal | None = None,
    pains: Sequence[Pain] = (),
    restrictions: Sequence[Restriction] = (),
    decided: float = DECIDED,
) -> Assessment:
    """The same from what is known already; the cautions tell the tests that were left out.

    Arguments and errors as for :func:`assess`.
    """
    assessment = assess_posterior(
        known.posterior,
        known.usable,
        goal=goal,
        pains=pains,
        restrictions=restrictions,
        decided=decided,
    )
    return replace(assessment, cautions=(*assessment.cautions, *known.left_out))


def assess_posterior(
    posterior: Posterior,
    observations: Sequence[Observation],
    *,
    goal: Goal | None = None,
    pains: Sequence[Pain] = (),
    restrictions: Sequence[Restriction] = (),
    decided: float = DECIDED,
) -> Assessment:
    """The same from a posterior that is at hand already.

    Arguments and errors as for :func:`assess`.
    """
    person = posterior.problem.person
    on = posterior.dates[-1]
    gains = expected_gains(posterior)
    draws = quality_draws(posterior)
    qualities = {q: Estimate.of_sample(d, posterior.weights) for q, d in draws.items()}
    squat_jump = jump_height_m(
        Start.SQUAT, posterior.now, posterior.segment_m, person.mass_kg(on)
    ) * np.exp(posterior.constants[:, Constant.SQUAT_START])
    profile, profile_why = force_velocity_profile(
        person, observations, on, push_off_distance=qualities[Quality.PUSH_OFF_DISTANCE]
    )
    return Assessment(
        name=person.name,
        date=on,
        mass_kg=person.mass_kg(on),
        jump_m=Estimate.of_sample(gains.jump_m, posterior.weights),
        squat_jump_m=Estimate.of_sample(squat_jump, posterior.weights),
        approach_jump_m=_approach_jump(posterior, observations, gains.jump_m),
        qualities=qualities,
        maxima_kg=maxima_kg(posterior, observations, on),
        best_drop_m=best_drop(observations, on),
        worth=worths(gains),
        limiting=limiting(gains, decided=decided),
        next_tests=next_tests(posterior, gains, pains=pains, restrictions=restrictions),
        goal=None if goal is None else outlook(posterior, goal, observations),
        force_velocity=profile,
        force_velocity_why=profile_why,
        body_mass=_body_mass(posterior),
        fit=FitReport(
            draws=posterior.weights.size,
            effective_sample_size=posterior.effective_sample_size,
            outlying=outlying_in_words(posterior),
        ),
        cautions=cautions(person, posterior, pains),
    )


def quality_draws(posterior: Posterior, date_index: int = -1) -> dict[Quality, np.ndarray]:
    """Draws of each quality as a coach is told it, shape (n,), on one of the dates.

    In the units of :data:`saltus.athlete.qualities.UNITS`; they carry the posterior's
    weights.
    """
    natural = np.exp(posterior.states[:, date_index])
    segment = posterior.segment_m
    distance = natural[:, State.DISTANCE]
    return {
        Quality.MAX_STRENGTH: bottom_force_n_kg(natural[:, State.TORQUE], segment, distance),
        Quality.RATE_OF_FORCE_DEVELOPMENT: bottom_force_rate_n_s_kg(
            natural[:, State.RATE], segment, distance
        ),
        Quality.PUSH_OFF_SPEED: extension_speed_m_s(natural[:, State.SPEED], segment, distance),
        Quality.STRETCH_SHORTENING_GAIN: natural[:, State.STRETCH],
        Quality.PUSH_OFF_DISTANCE: distance,
    }


def _approach_jump(
    posterior: Posterior, observations: Sequence[Observation], plain_m: np.ndarray
) -> Estimate | None:
    """Rise of the centre of mass with a run-up and arms, m; None where none was tested."""
    if not any(isinstance(o, Jump) and o.style is JumpStyle.APPROACH for o in observations):
        return None
    gain = posterior.constants[:, Constant.ARMS] + posterior.constants[:, Constant.APPROACH]
    return Estimate.of_sample(plain_m * np.exp(gain), posterior.weights)


def _body_mass(posterior: Posterior) -> BodyMassEffect | None:
    """What a kilogram does; withheld from minors and where the age is not known."""
    person, on = posterior.problem.person, posterior.dates[-1]
    if person.age(on) is None or person.is_minor(on):
        return None
    _, more = what_if(posterior, {}, mass_change_kg=1.0)
    _, less = what_if(posterior, {}, mass_change_kg=-1.0)
    return BodyMassEffect(per_kg_more_m=more, per_kg_less_m=less)
