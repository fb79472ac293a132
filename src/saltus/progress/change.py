"""What of a change is real: the posterior's draws on two of its days compared.

The draws of both days share the bias of method and person, so that it cancels out; what is
left is the form of the days, the errors of the readings, and the athlete.
"""

import datetime as dt
import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from saltus.athlete.assess import quality_draws
from saltus.athlete.history import TrainingBlock
from saltus.athlete.posterior import Posterior
from saltus.athlete.prediction import jump_height_m
from saltus.athlete.prior import State
from saltus.athlete.pushoff import Start
from saltus.athlete.qualities import Quality
from saltus.quantities import INTERVAL, Estimate

__all__ = [
    "FALSE_ALARMS",
    "SMALLEST_WORTHWHILE_M",
    "Change",
    "change_between",
    "change_since",
    "changes",
    "compared_with",
    "since_first",
    "smallest_worthwhile",
]

_SMALL_EFFECT = 0.2
_BETWEEN_ATHLETES_M = 0.05
SMALLEST_WORTHWHILE_M = _SMALL_EFFECT * _BETWEEN_ATHLETES_M
"""m; 0.2 of the standard deviation between athletes (convention, attributed to Hopkins 2000 and
Cohen 1988). That is put at 5 cm: 6 cm in 45 volleyball players (Kozinc et al., squat jump
0.39 ± 0.06 m), less the noise of the readings."""

_SURE = INTERVAL
# A change is called real with the probability that every interval of ours holds.

FALSE_ALARMS = 0.05
"""Share of comparisons, of an athlete who does not change at all, that are called real at most:
the usual one in twenty (common practice)."""

_APART = dt.timedelta(weeks=3)
# Without a block on record: two tests that are closer than this frame no block of training.

_STATE = {
    Quality.MAX_STRENGTH: State.TORQUE,
    Quality.RATE_OF_FORCE_DEVELOPMENT: State.RATE,
    Quality.PUSH_OFF_SPEED: State.SPEED,
    Quality.STRETCH_SHORTENING_GAIN: State.STRETCH,
    Quality.PUSH_OFF_DISTANCE: State.DISTANCE,
}


@dataclass(frozen=True, slots=True)
class Change:
    """The jump or a quality on one day against an earlier one.

    Parameters
    ----------
    since, until : date
        The two days.
    of : Quality or None
        Which quality; None for the countermovement jump without arms.
    change : Estimate
        Later less earlier: m for the jump, a share of the earlier value for a quality.
    smallest : float
        The smallest worthwhile change, in the same unit.
    probability_up : float
        That it rose at all.
    probability_worthwhile : float
        That it rose by more than the smallest worthwhile change.
    probability_worse : float
        That it fell by more than that.
    """

    since: dt.date
    until: dt.date
    of: Quality | None
    change: Estimate
    smallest: float
    probability_up: float
    probability_worthwhile: float
    probability_worse: float

    @property
    def probability_real(self) -> float:
        """That it went the way of its estimate by more than the smallest worthwhile change.

        Not that it differs from nothing: :attr:`probability_up` says that.
        """
        return self.probability_worthwhile if self.change.value >= 0 else self.probability_worse

    @property
    def verdict(self) -> str:
        """In a word: "rise", "fall", "none" (too small to matter), or "unclear".

        "rise" and "fall" are said where :attr:`probability_real` is at least 0.8, so that of
        those told at most one in five is none. Of comparisons of an athlete who does not change
        at all, fewer than :data:`FALSE_ALARMS` are told a rise or a fall (``python -m bench
        follow``).
        """
        if self.probability_worthwhile >= _SURE:
            return "rise"
        if self.probability_worse >= _SURE:
            return "fall"
        if self.probability_worthwhile + self.probability_worse <= 1 - _SURE:
            return "none"
        return "unclear"


def smallest_worthwhile(posterior: Posterior, of: Quality | None) -> float:
    """The smallest change that matters: 0.2 of the standard deviation between such athletes.

    Parameters
    ----------
    posterior : Posterior
        Its prior tells how different athletes are.
    of : Quality or None
        None for the jump.

    Returns
    -------
    float
        m for the jump, a share for a quality.
    """
    if of is None:
        return SMALLEST_WORTHWHILE_M
    return _SMALL_EFFECT * float(posterior.problem.prior.state_sd[_STATE[of]])


def change_between(
    posterior: Posterior, since: dt.date, until: dt.date, of: Quality | None = None
) -> Change:
    """Change of the jump, or of a quality, between two of the posterior's dates.

    Parameters
    ----------
    posterior : Posterior
        Of one athlete.
    since, until : date
        Two of its dates, in order.
    of : Quality or None
        None for the countermovement jump without arms.

    Raises
    ------
    ValueError
        If a day is none of the posterior's dates, or they are not in order.
    """
    if until < since:
        raise ValueError(f"{until} comes before {since}")
    places = [posterior.dates.index(since), posterior.dates.index(until)]
    draws = _jump(posterior, places) if of is None else _shares(posterior, places, of)
    smallest = smallest_worthwhile(posterior, of)

    def probability(holds: NDArray[np.bool_]) -> float:
        return float(np.sum(posterior.weights[holds]))

    return Change(
        since=since,
        until=until,
        of=of,
        change=Estimate.of_sample(draws, posterior.weights),
        smallest=smallest,
        probability_up=probability(draws > 0),
        probability_worthwhile=probability(draws > smallest),
        probability_worse=probability(draws < -smallest),
    )


def change_since(posterior: Posterior, since: dt.date) -> Change:
    """Change of the jump from one of the posterior's dates to its last."""
    return change_between(posterior, since, posterior.dates[-1])


def changes(posterior: Posterior, of: Quality | None = None) -> tuple[Change, ...]:
    """Every change from one test day to the next, in order.

    Parameters
    ----------
    posterior : Posterior
        Of one athlete.
    of : Quality or None
        None for the jump.
    """
    tested = sorted({reading.date for reading in posterior.problem.readings})
    return tuple(
        change_between(posterior, before, after, of) for before, after in itertools.pairwise(tested)
    )


def since_first(posterior: Posterior, of: Quality | None = None) -> tuple[Change, ...]:
    """Every change from the first test day to each later one, in order; see :func:`changes`."""
    tested = sorted({reading.date for reading in posterior.problem.readings})
    return tuple(change_between(posterior, tested[0], later, of) for later in tested[1:])


def compared_with(posterior: Posterior, blocks: Sequence[TrainingBlock]) -> dt.date | None:
    """The day to compare with: that of the last test before the latest block began.

    Parameters
    ----------
    posterior : Posterior
        Of one athlete.
    blocks : sequence of TrainingBlock
        Training done. Without any that began before the last day, the latest test at least
        three weeks before the last day is taken.

    Returns
    -------
    date or None
        None where nothing was tested early enough.
    """
    on = posterior.dates[-1]
    tested = {reading.date for reading in posterior.problem.readings}
    started = [block.start for block in blocks if block.start < on]
    latest = max(started) if started else on - _APART
    return max((day for day in tested if day <= latest and day < on), default=None)


def _jump(posterior: Posterior, places: Sequence[int]) -> NDArray[np.float64]:
    person = posterior.problem.person
    mass = np.array([person.mass_kg(posterior.dates[i]) for i in places])
    height = jump_height_m(
        Start.COUNTERMOVEMENT,
        posterior.states[:, places],
        posterior.segment_m[:, None],
        mass,
    )
    return np.asarray(height[:, 1] - height[:, 0])


def _shares(posterior: Posterior, places: Sequence[int], of: Quality) -> NDArray[np.float64]:
    before, after = (quality_draws(posterior, place)[of] for place in places)
    return np.asarray(after / before - 1)
