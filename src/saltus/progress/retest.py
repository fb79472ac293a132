"""When the next test is worth its cost.

A jump tested again too soon shows little but its own noise; tested too late, it tells when nothing
can be done about it any more. What a test is worth is the centimetres that its result is expected
to bring: with it the coach goes on where the training works and turns to the next quality where it
does not, for the weeks that are left. That expected value of sample information (Raiffa & Schlaifer
1961, Applied Statistical Decision Theory; the closed form for a normal difference is their linear
loss, from memory) is worked out for every week ahead from the posterior's own draws, carried on
through the training that is planned, and held against the gain of the training time that the test
takes. No formula knows the risk of over-testing: days that are not rested are for the caller to
leave out.
"""

import datetime as dt
from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from saltus.athlete.history import BLOCK_WEEKS, TrainingBlock
from saltus.athlete.next_test import CANDIDATES, Candidate
from saltus.athlete.person import Person, TestingTool
from saltus.athlete.posterior import Posterior
from saltus.athlete.prediction import jump_height_m
from saltus.athlete.prior import N_STATE
from saltus.athlete.pushoff import Start
from saltus.athlete.qualities import TRAINABLE, Quality
from saltus.athlete.readings import readings_of
from saltus.athlete.trajectory import Trajectory
from saltus.athlete.worth import expected_gains
from saltus.quantities import CENTIMETRE, Estimate

__all__ = [
    "HORIZON",
    "LATEST_WEEKS",
    "USUAL_MINUTES",
    "RetestDay",
    "WorthOfTest",
    "expected_value",
    "next_retest",
]

LATEST_WEEKS = 8
"""Weeks after which a test is due whatever it may show: at the end of every block of four to
eight weeks (common practice)."""

_STOPS_AFTER_WEEKS = 8.0
# A quality answers the same training for so long on average, and may stop in any week: blocks
# are changed after four to eight (common practice). To find that out is what the test is for.

_EARLIEST_DAYS = 7
HORIZON = dt.timedelta(weeks=12)
"""What is gained by then matters, where no day counts."""

USUAL_MINUTES = 180.0
"""Minutes of training in a week, where they are not known (common practice)."""

_DRAWS = 1000
_SEED = 19610101
_JUMP_TESTS = (
    (TestingTool.FORCE_PLATE, "countermovement_jump_plate_impulse"),
    (TestingTool.MAT, "countermovement_jump_mat"),
    (TestingTool.PHONE, "countermovement_jump_film"),
    (TestingTool.TAPE, "jump_and_reach"),
)
# The best at hand first.


@dataclass(frozen=True, slots=True)
class WorthOfTest:
    """What a test on a day is worth.

    Parameters
    ----------
    date : date
        The day.
    value_m : float
        Gain that its result is expected to bring by the end, m.
    cost_m : float
        Gain of the training time that it takes, m.
    probability_turns : float
        That its result makes another quality the better bet.
    change_m : Estimate
        How far the jump is expected to have moved by then, m.
    """

    date: dt.date
    value_m: float
    cost_m: float
    probability_turns: float
    change_m: Estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class RetestDay:
    """The next test of the jump.

    Parameters
    ----------
    date : date
        The day proposed.
    test : str
        Identifier of the test, as in :data:`saltus.athlete.next_test.CANDIDATES`.
    title : str
        What a coach calls it.
    minutes : float
        What it costs one athlete, warm-up included, min.
    error_m : float
        What the test may be off by from day to day (one standard deviation), m.
    worth : WorthOfTest
        Of that day.
    asked : tuple of WorthOfTest
        Of every day that was looked at, in order.
    due : bool
        Whether it is proposed because time is up, and not because it is worth its cost.
    text : str
        In a sentence or two.
    """

    date: dt.date
    test: str
    title: str
    minutes: float
    error_m: float
    worth: WorthOfTest
    asked: tuple[WorthOfTest, ...]
    due: bool
    text: str


def next_retest(
    posterior: Posterior,
    ahead: Sequence[TrainingBlock],
    days: Collection[dt.date],
    *,
    until: dt.date | None = None,
    weekly_minutes: float = USUAL_MINUTES,
    tested: dt.date | None = None,
) -> RetestDay | None:
    """The day on which testing the jump again is worth most, if it is worth its cost.

    Parameters
    ----------
    posterior : Posterior
        Of one athlete; its last date is today.
    ahead : sequence of TrainingBlock
        Training planned from today on.
    days : collection of date
        Days that could hold a test: free, and rested (see the planner's spacing). Those less
        than a week after `tested`, or not after today, are left out.
    until : date or None
        The day that counts: what is gained by then matters. None for twelve weeks on.
    weekly_minutes : float
        Minutes of training in an ordinary week, min.
    tested : date or None
        The latest test, one of the posterior's dates; change is counted from it. None for the
        posterior's last date.

    Returns
    -------
    RetestDay or None
        None where there is no tool to test a jump with, or no day before the one that counts.
    """
    person = posterior.problem.person
    today = posterior.dates[-1]
    since = tested or today
    until = until or today + HORIZON
    candidate = _jump_test(person)
    first = max(since + dt.timedelta(days=_EARLIEST_DAYS), today + dt.timedelta(days=1))
    open_days = sorted(day for day in days if first <= day < until)
    if candidate is None or not open_days:
        return None
    latest = max(since + dt.timedelta(weeks=LATEST_WEEKS), today)
    due_day = next((day for day in open_days if day >= latest), open_days[-1])
    # One day a week is asked about: a day sooner or later tells nearly the same.
    asked = [day for i, day in enumerate(open_days) if not i or _new_week(day, open_days[i - 1])]
    asked = sorted({day for day in asked if day <= due_day} | {due_day})
    ways = _Ahead(posterior, ahead, since, asked)
    error = _error_m(candidate, person, ways.jump_m)
    cost = max(ways.gain_m_per_week, 0.0) * candidate.minutes / max(weekly_minutes, 1.0)
    worths = tuple(
        ways.worth(i, day, error, (until - day).days / 7, cost) for i, day in enumerate(asked)
    )
    best = max(worths, key=lambda each: each.value_m)
    due = best.value_m <= best.cost_m
    chosen = worths[-1] if due else best
    return RetestDay(
        date=chosen.date,
        test=candidate.test,
        title=candidate.title,
        minutes=candidate.minutes,
        error_m=error,
        worth=chosen,
        asked=worths,
        due=due,
        text=_told(candidate, chosen, error, since, due=due),
    )


def expected_value(mean: float, spread: float) -> float:
    """What it is worth to know which of two ways is better before choosing one.

    Parameters
    ----------
    mean : float
        Expected gain of the first over the second.
    spread : float
        Standard deviation of what the result will make of that expectation.

    Returns
    -------
    float
        In the unit of the two; never below 0 (the unit normal linear loss integral).
    """
    if spread <= 0:
        return 0.0
    ratio = abs(mean) / spread
    loss = np.exp(-0.5 * ratio**2) / np.sqrt(2 * np.pi) - ratio * ndtr(-ratio)
    return float(max(spread * loss, 0.0))


class _Ahead:
    """The jump on days to come, draw by draw, and what either way from there brings a week."""

    def __init__(
        self,
        posterior: Posterior,
        ahead: Sequence[TrainingBlock],
        since: dt.date,
        days: Sequence[dt.date],
    ) -> None:
        chosen = posterior.resampled(_DRAWS)
        person = posterior.problem.person
        rng = np.random.default_rng(_SEED)
        unknowns = _unknowns(posterior, chosen, len(days), rng)
        dates = (posterior.dates[-1], *days)
        prior = posterior.problem.prior
        trained = Trajectory(dates, person, ahead, prior).states(unknowns)[:, 1:]
        left_alone = Trajectory(dates, person, (), prior).states(unknowns)[:, 1:]
        then = posterior.states[chosen, posterior.dates.index(since)][:, None]
        mass = np.array([person.mass_kg(day) for day in (since, *days, *days)])
        height = jump_height_m(
            Start.COUNTERMOVEMENT,
            np.concatenate([then, trained, left_alone], axis=1),
            posterior.segment_m[chosen][:, None],
            mass,
        )
        first, trained_m, alone_m = np.split(height, [1, 1 + len(days)], axis=1)
        weeks = np.array([(day - posterior.dates[-1]).days / 7 for day in days])
        stops = rng.exponential(_STOPS_AFTER_WEEKS, size=(len(chosen), 1))
        answered = np.minimum(stops / weeks, 1.0)
        self._height = alone_m + answered * (trained_m - alone_m)
        self._change = self._height - first
        self._answers = stops > weeks
        self.jump_m = float(np.median(first))
        self._noise = rng.standard_normal(len(chosen))
        gains = expected_gains(posterior).possible_m[chosen] / BLOCK_WEEKS  # (n, 4), m a week
        emphasis = _emphasis(ahead, posterior.dates[-1], days[-1])
        on = TRAINABLE.index(max(emphasis, key=lambda q: emphasis[q])) if emphasis else None
        rest = [i for i in range(len(TRAINABLE)) if i != on]
        other = rest[int(np.argmax(gains[:, rest].mean(axis=0)))]
        going_on = gains[:, on] if on is not None else np.zeros(len(chosen))
        self.gain_m_per_week = float(max(going_on.mean(), gains[:, other].mean()))
        self._going_on, self._turning = going_on, gains[:, other]

    def worth(
        self, index: int, day: dt.date, error_m: float, weeks_left: float, cost_m: float
    ) -> WorthOfTest:
        change = self._change[:, index]
        result = self._height[:, index] + error_m * self._noise
        # Gain and result are all but jointly normal: what a result says of the gain is a line.
        difference = self._going_on * self._answers[:, index] - self._turning
        covariance = float(np.cov(difference, result)[0, 1])
        spread = abs(covariance) / float(np.std(result, ddof=1)) * weeks_left
        mean = float(np.mean(difference)) * weeks_left
        return WorthOfTest(
            day,
            expected_value(mean, spread),
            cost_m,
            float(ndtr(-abs(mean) / spread)) if spread > 0 else 0.0,
            Estimate.of_sample(change),
        )


def _unknowns(
    posterior: Posterior, chosen: NDArray[np.int64], days: int, rng: np.random.Generator
) -> NDArray[np.float64]:
    """Unknowns of a trajectory from the posterior's last date over so many days, (n, size)."""
    prior = posterior.problem.prior
    states = N_STATE * (1 + days)
    unknowns = rng.standard_normal((len(chosen), states + posterior.constants.shape[1]))
    unknowns[:, :N_STATE] = (posterior.now[chosen] - prior.state_mean) / prior.state_sd
    free = prior.constant_sd > 0
    known = posterior.constants[chosen][:, free] - prior.constant_mean[free]
    unknowns[:, states:][:, free] = known / prior.constant_sd[free]
    return unknowns


def _emphasis(
    ahead: Sequence[TrainingBlock], first: dt.date, last: dt.date
) -> dict[Quality, float]:
    """Dose-weeks of each trainable quality that the training ahead holds; empty for none."""
    doses: dict[Quality, float] = {}
    for block in ahead:
        weeks = block.weeks_within(first, last)
        for quality, share in block.emphasis.items():
            if weeks > 0 and quality in TRAINABLE:
                doses[quality] = doses.get(quality, 0.0) + share * weeks
    return doses


def _new_week(day: dt.date, before: dt.date) -> bool:
    return day.isocalendar()[:2] != before.isocalendar()[:2]


def _jump_test(person: Person) -> Candidate | None:
    by_name = {candidate.test: candidate for candidate in CANDIDATES}
    return next((by_name[name] for tool, name in _JUMP_TESTS if tool in person.testing_tools), None)


def _error_m(candidate: Candidate, person: Person, jump_m: float) -> float:
    (reading,) = readings_of(candidate.make(dt.date.max, person.body_masses[-1].mass_kg), person)
    return reading.sd * (jump_m if reading.is_log else 1.0)


def _told(
    candidate: Candidate, worth: WorthOfTest, error_m: float, since: dt.date, *, due: bool
) -> str:
    change = worth.change_m
    head = (
        f"Test the jump on {worth.date.isoformat()} ({candidate.title}, "
        f"{candidate.minutes:.0f} minutes)"
    )
    moved = (
        f"by then it is expected to have moved by {change.value / CENTIMETRE:+.1f} cm "
        f"({change.low / CENTIMETRE:+.1f} to {change.high / CENTIMETRE:+.1f}), and the test errs "
        f"by {error_m / CENTIMETRE:.1f} cm from day to day"
    )
    if due:
        weeks = (worth.date - since).days / 7
        return (
            f"{head}: it is due after {weeks:.0f} weeks. It is not expected to change what is "
            f"best to train: {moved}."
        )
    return (
        f"{head}: {moved}. The chance that the result makes another quality the better bet is "
        f"{100 * worth.probability_turns:.0f} %; sooner a test would show more noise than change, "
        "later less could be made of it."
    )
