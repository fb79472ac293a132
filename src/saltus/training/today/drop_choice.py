"""Which box to drop from: the athlete's own results by box, and the lower one when undecided.

The push-off model is not asked: it lets the rebound rise with every higher box, and people's
rebounds hardly differ between boxes (from 0.12 m up: The Sport Journal, 55 college
footballers). Results are therefore drawn towards a smooth, flat curve.
"""

import datetime as dt
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import exp, hypot, log, sqrt

import numpy as np
from scipy.special import ndtr

from saltus.athlete.drop_jumps import CURRENT_DAYS, box_for_true_drop
from saltus.athlete.jump_height import summary_of_attempts
from saltus.athlete.measurement_error import (
    ATTEMPT_CV,
    CONTACT_ATTEMPT_CV,
    CONTACT_DAY_CV,
    DAY_CV,
    METHODS,
)
from saltus.athlete.observations import DropJump, JumpMethod, Observation
from saltus.quantities import CENTIMETRE, Estimate
from saltus.training.log import LoggedSession
from saltus.training.method import DropBy

__all__ = ["DropChoice", "DropResult", "choose_drop", "drop_results"]

_LEVEL_SD = 0.5
# Of the logarithm of the rebound: wider than people differ, so that the results alone say it.
_CURVE_SD = {DropBy.HEIGHT: 0.08, DropBy.RSI: 0.15}
_CURVE_LENGTH_M = 0.25
# Boxes 15 cm apart differ by about 5 %, and 30 cm apart by 8 % (a judgement: trained athletes
# lose about so much beside their best box, and many lose nothing). The time on the floor
# differs more.
_BIAS_SHARE = 0.03
# Between ways of measuring (a judgement).


@dataclass(frozen=True, slots=True, kw_only=True)
class DropResult:
    """Rebounds from one box on one day.

    Parameters
    ----------
    date : date
        The day.
    box_m : float
        Nominal height, m.
    height_m : float
        Mean rebound, m.
    contact_s : float or None
        Mean contact time, s.
    n : int
        Attempts, or sets of which the best was noted.
    source : str
        Readings of one source share its bias.
    reading_sd_m : float
        Error of one reading, m.
    """

    date: dt.date
    box_m: float
    height_m: float
    contact_s: float | None
    n: int
    source: str
    reading_sd_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DropChoice:
    """A box, and how sure that is.

    Parameters
    ----------
    box_m : float
        The box to drop from, m.
    best_m : float
        The one that is best on the whole, m; higher than `box_m` where that is not sure enough.
    results : mapping of float to Estimate
        By box: rebound (m) or reactive strength index (m/s), on an ordinary day.
    probability : float
        That `best_m` is better than `box_m`; 0 where they are the same.
    why : str
        A sentence.
    """

    box_m: float
    best_m: float
    results: Mapping[float, Estimate]
    probability: float
    why: str


def drop_results(
    observations: Iterable[Observation],
    log: Iterable[LoggedSession],
    on: dt.date,
    exercises: Collection[str] = ("depth_jump",),
) -> tuple[DropResult, ...]:
    """Rebounds by day and box, from tests and from logged sets of the last 12 weeks.

    Parameters
    ----------
    observations : iterable of Observation
        Drop jumps among them; those without arms, unless there are none.
    log : iterable of LoggedSession
        Sets with a drop and a measured jump.
    on : date
        The day.
    exercises : collection of str
        Identifiers of the exercises that are depth jumps.

    Returns
    -------
    tuple of DropResult
        In order of day and box; logged sets count as measured by a mat.
    """
    tests = [
        test
        for test in observations
        if isinstance(test, DropJump) and 0 <= (on - test.date).days <= CURRENT_DAYS
    ]
    found = []
    for test in [test for test in tests if not test.arms] or tests:
        height, n = summary_of_attempts(test.heights_m)
        contact = sum(test.contacts_s) / len(test.contacts_s) if test.contacts_s else None
        found.append(
            DropResult(
                date=test.date,
                box_m=box_for_true_drop(test.drop_m) if test.true_drop else test.drop_m,
                height_m=height,
                contact_s=contact,
                n=n,
                source=f"{test.method}{test.arms}",
                reading_sd_m=METHODS[test.method].reading_sd_m,
            )
        )
    for session in log:
        if 0 <= (on - session.date).days <= CURRENT_DAYS:
            found.extend(_of_session(session, exercises))
    return tuple(sorted(found, key=lambda one: (one.date, one.box_m)))


def _of_session(session: LoggedSession, exercises: Collection[str]) -> list[DropResult]:
    by_box: dict[float, list[tuple[float, float | None]]] = defaultdict(list)
    for done in session.sets:
        if done.exercise in exercises and done.drop_m and done.jump_m and not done.skipped:
            by_box[round(done.drop_m, 2)].append((done.jump_m, done.contact_s))
    found = []
    for box, jumps in by_box.items():
        contacts = [contact for _, contact in jumps if contact]
        found.append(
            DropResult(
                date=session.date,
                box_m=box,
                height_m=sum(height for height, _ in jumps) / len(jumps),
                contact_s=sum(contacts) / len(contacts) if contacts else None,
                n=len(jumps),
                source="log",
                reading_sd_m=METHODS[JumpMethod.MAT].reading_sd_m,
            )
        )
    return found


def choose_drop(
    results: Sequence[DropResult], boxes_m: Sequence[float], by: DropBy, probability: float
) -> DropChoice | None:
    """The box with the best expected result, or a lower one that may be as good.

    Parameters
    ----------
    results : sequence of DropResult
        From :func:`drop_results`.
    boxes_m : sequence of float
        Boxes that may be taken; of them those with results are compared.
    by : DropBy
        What is compared.
    probability : float
        The lowest box is taken than which the best one is better with less than this.

    Returns
    -------
    DropChoice or None
        None where fewer than two boxes have results: nothing then says which is best.

    Notes
    -----
    On the logarithm: a level, a smooth curve over the boxes, the form of the day, which lifts
    all boxes of one day alike, the bias of the source, and the error of the attempts; normal,
    solved in one step (as :mod:`saltus.training.today.expected`).
    """
    rows = [one for one in results if by is DropBy.HEIGHT or one.contact_s]
    known = sorted(
        {box for box in boxes_m if any(abs(one.box_m - box) <= CENTIMETRE for one in rows)}
    )
    if len(known) < 2:
        return None
    value = np.array([log(_value(one, by)) for one in rows])
    boxes = np.array([one.box_m for one in rows])
    days = np.array([one.date.toordinal() for one in rows])
    sources = np.array([one.source for one in rows])
    rsi = by is DropBy.RSI
    day = hypot(DAY_CV, CONTACT_DAY_CV) if rsi else DAY_CV
    own = [
        hypot(ATTEMPT_CV, one.reading_sd_m / one.height_m, CONTACT_ATTEMPT_CV if rsi else 0.0)
        / sqrt(one.n)
        for one in rows
    ]
    mean = float(value.mean())
    covariance = (
        _LEVEL_SD**2
        + _curve(boxes, boxes, by)
        + day**2 * (days[:, None] == days[None, :])
        + _BIAS_SHARE**2 * (sources[:, None] == sources[None, :])
        + np.diag(np.square(own))
    )
    at = np.array(known)
    cross = _LEVEL_SD**2 + _curve(at, boxes, by)
    gain = np.linalg.solve(covariance, cross.T).T
    expected = mean + gain @ (value - mean)
    spread = _LEVEL_SD**2 + _curve(at, at, by) - gain @ cross.T
    best = int(np.argmax(expected))
    chosen, doubt = best, 0.0
    for lower in range(best):
        sd = sqrt(
            max(float(spread[best, best] + spread[lower, lower] - 2 * spread[best, lower]), 1e-12)
        )
        better = float(ndtr((expected[best] - expected[lower]) / sd))
        if better < probability:
            chosen, doubt = lower, better
            break
    return DropChoice(
        box_m=known[chosen],
        best_m=known[best],
        results={
            box: _lognormal(float(expected[i]), sqrt(max(float(spread[i, i]), 0.0)))
            for i, box in enumerate(known)
        },
        probability=doubt,
        why=_why(known[chosen], known[best], doubt, by),
    )


def _value(one: DropResult, by: DropBy) -> float:
    return one.height_m if by is DropBy.HEIGHT else one.height_m / (one.contact_s or np.inf)


def _curve(one: np.ndarray, other: np.ndarray, by: DropBy) -> np.ndarray:
    apart = (one[:, None] - other[None, :]) / _CURVE_LENGTH_M
    return np.asarray(_CURVE_SD[by] ** 2 * np.exp(-0.5 * apart**2))


def _lognormal(mean: float, sd: float) -> Estimate:
    on_log = Estimate.normal(mean, sd)
    return Estimate(exp(mean), exp(on_log.low), exp(on_log.high), exp(mean) * sd)


def _why(chosen: float, best: float, probability: float, by: DropBy) -> str:
    what = (
        "the highest jump" if by is DropBy.HEIGHT else "the highest jump for its time on the floor"
    )
    told = f"The box of {chosen / CENTIMETRE:.0f} cm"
    if chosen == best:
        return f"{told} gives {what} of those tried."
    return (
        f"{told}: that of {best / CENTIMETRE:.0f} cm is better only with "
        f"{100 * probability:.0f} %, and the lower one is taken when in doubt."
    )
