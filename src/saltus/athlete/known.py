"""What the tests and the training say of an athlete: the posterior, and what went into it."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from saltus.athlete.history import TrainingBlock
from saltus.athlete.observations import Observation
from saltus.athlete.person import Person
from saltus.athlete.posterior import Posterior, Problem, fit
from saltus.athlete.usable import usable_tests
from saltus.errors import TestError

__all__ = ["Known", "known_of", "latest_day"]


@dataclass(frozen=True, slots=True, eq=False)
class Known:
    """A posterior with what it was fitted to.

    Parameters
    ----------
    posterior : Posterior
        Of one athlete; its last date is the day spoken of.
    usable : tuple of Observation
        Tests that an equation can use, later ones than that day included.
    left_out : tuple of str
        A sentence for each of the others.
    blocks : tuple of TrainingBlock
        Training done.
    """

    posterior: Posterior
    usable: tuple[Observation, ...]
    left_out: tuple[str, ...]
    blocks: tuple[TrainingBlock, ...]


def known_of(
    person: Person,
    observations: Sequence[Observation],
    *,
    blocks: Sequence[TrainingBlock] = (),
    on: dt.date | None = None,
) -> Known:
    """Fit all tests that can be used.

    Parameters
    ----------
    person : Person
        Who.
    observations : sequence of Observation
        Tests of any kind, on any dates.
    blocks : sequence of TrainingBlock
        Training done.
    on : date or None
        The day to speak of; None is :func:`latest_day`.

    Raises
    ------
    TestError
        If neither a test nor a body mass is on record.
    """
    usable, left_out = usable_tests(observations)
    on = on or latest_day(person, usable)
    posterior = fit(Problem(person, usable, blocks, on))
    return Known(posterior, usable, left_out, tuple(blocks))


def latest_day(person: Person, observations: Sequence[Observation]) -> dt.date:
    """The day of the latest test, or of the latest weighing without tests.

    Raises
    ------
    TestError
        If there is neither.
    """
    days = [o.date for o in observations] or [m.date for m in person.body_masses]
    if not days:
        raise TestError(f"{person.name} has neither a test nor a body mass on record.")
    return max(days)
