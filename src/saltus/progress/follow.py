"""Everything that follows an athlete, gathered: what is known of each day, and what came of it."""

import datetime as dt
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from saltus.athlete.health import Pain
from saltus.athlete.history import TrainingBlock
from saltus.athlete.observations import Observation
from saltus.athlete.posterior import Posterior
from saltus.athlete.readings import own_errors
from saltus.athlete.timeline import Moment, moments
from saltus.athlete.typical_error import OwnError
from saltus.progress.change import Change, changes, since_first
from saltus.progress.load import Rise, WeekLoad, rises, weekly_load
from saltus.progress.plateau import Plateau, plateaus
from saltus.progress.response import (
    BlockResponse,
    LearntResponse,
    block_responses,
    joined,
    learnt_responses,
)
from saltus.progress.retest import RetestDay, next_retest
from saltus.progress.soreness import PlaceOverTime, places_over_time
from saltus.training.log import LoggedSession
from saltus.training.method import Method
from saltus.training.situation import Event
from saltus.training.today.maximum import sets_as_tests

__all__ = ["Ahead", "Done", "Follow", "follow"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """What was done and felt beside the tests.

    Parameters
    ----------
    blocks : tuple of TrainingBlock
        Stated by hand.
    from_log : tuple of TrainingBlock
        Told by the log, week by week (:func:`saltus.training.emphasis.logged_blocks`).
    log : tuple of LoggedSession
        Sessions.
    events : tuple of Event
        Practices and matches.
    pains : tuple of Pain
        As reported.
    tests : tuple of Observation
        That the model heard.
    """

    blocks: tuple[TrainingBlock, ...] = ()
    from_log: tuple[TrainingBlock, ...] = ()
    log: tuple[LoggedSession, ...] = ()
    events: tuple[Event, ...] = ()
    pains: tuple[Pain, ...] = ()
    tests: tuple[Observation, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Ahead:
    """What is to come.

    Parameters
    ----------
    blocks : tuple of TrainingBlock
        Training planned (:func:`saltus.training.emphasis.planned_blocks`).
    test_days : collection of date
        Free and rested days that could hold a test.
    until : date or None
        The day that counts.
    """

    blocks: tuple[TrainingBlock, ...] = ()
    test_days: Collection[dt.date] = ()
    until: dt.date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Follow:
    """How an athlete is doing.

    Parameters
    ----------
    name : str
        The athlete.
    date : date
        The day spoken of.
    tested : tuple of date
        Days of tests that the model heard.
    moments : tuple of Moment
        Jump and qualities on each of them and on the day itself.
    changes : tuple of Change
        Of the jump from each test day to the next.
    whole : Change or None
        Of the jump from the first test day to the last; None where there is but one.
    plateaus : tuple of Plateau
        Of the qualities in training.
    response : tuple of BlockResponse
        What each block brought.
    learnt : tuple of LearntResponse
        How strongly this athlete responds.
    weeks : tuple of WeekLoad
        What training and sport cost, by the week.
    rises : tuple of Rise
        Weeks that held much more than those before.
    places : tuple of PlaceOverTime
        Soreness and pain.
    retest : RetestDay or None
        When to test the jump again.
    errors : tuple of (str, OwnError)
        Tests, in words, of which this athlete's own repeats tell the error.
    """

    name: str
    date: dt.date
    tested: tuple[dt.date, ...]
    moments: tuple[Moment, ...]
    changes: tuple[Change, ...]
    whole: Change | None
    plateaus: tuple[Plateau, ...]
    response: tuple[BlockResponse, ...]
    learnt: tuple[LearntResponse, ...]
    weeks: tuple[WeekLoad, ...]
    rises: tuple[Rise, ...]
    places: tuple[PlaceOverTime, ...]
    retest: RetestDay | None
    errors: tuple[tuple[str, OwnError], ...] = ()


def follow(posterior: Posterior, done: Done, method: Method, ahead: Ahead | None = None) -> Follow:
    """Follow an athlete up to the posterior's last date.

    Parameters
    ----------
    posterior : Posterior
        Of one athlete, fitted with the blocks of `done`.
    done : Done
        Training, log, sport and pains.
    method : Method
        For the cost of landings.
    ahead : Ahead or None
        For the next test; None leaves it out.

    Returns
    -------
    Follow
    """
    on = posterior.dates[-1]
    tested = tuple(sorted({reading.date for reading in posterior.problem.readings}))
    told = (*done.blocks, *joined(done.from_log))
    steps = method.landing_steps
    weeks = weekly_load(done.log, method.exercises, events=done.events, steps=steps, until=on)
    return Follow(
        name=posterior.problem.person.name,
        date=on,
        tested=tested,
        moments=moments(posterior),
        changes=changes(posterior),
        whole=next(reversed(since_first(posterior)), None),
        plateaus=plateaus(posterior, told, sets_as_tests(done.log, method)),
        response=block_responses(posterior, (*done.blocks, *done.from_log), told),
        learnt=learnt_responses(posterior),
        weeks=weeks,
        rises=rises(weeks, steps),
        places=places_over_time(done.log, done.pains, on=on),
        retest=_retest(posterior, ahead, tested),
        errors=own_errors(done.tests, posterior.problem.person),
    )


def _retest(
    posterior: Posterior,
    ahead: Ahead | None,
    tested: Sequence[dt.date],
) -> RetestDay | None:
    if ahead is None or not tested:
        return None
    return next_retest(
        posterior, ahead.blocks, ahead.test_days, until=ahead.until, tested=tested[-1]
    )
