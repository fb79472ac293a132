"""What of a change in the jump is real: the posterior's draws on two of its days compared.

The draws of both days share the bias of method and person, so that it cancels out; what is
left is the form of the days, the errors of the readings, and the athlete.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from saltus.athlete.history import TrainingBlock
from saltus.athlete.posterior import Posterior
from saltus.athlete.prediction import jump_height_m
from saltus.athlete.pushoff import Start
from saltus.quantities import Estimate

__all__ = ["SMALLEST_WORTHWHILE_M", "Change", "change_since", "compared_with"]

SMALLEST_WORTHWHILE_M = 0.2 * 0.05
"""m; 0.2 of the standard deviation between athletes (convention, attributed to Hopkins 2000 and
Cohen 1988). That is put at 5 cm: 6 cm in 45 volleyball players (Kozinc et al., squat jump
0.39 ± 0.06 m), less the noise of the readings."""

_SURE = 0.8
# A change is called real with the probability that every interval of ours holds.

_APART = dt.timedelta(weeks=3)
# Without a block on record: two tests that are closer than this frame no block of training.


@dataclass(frozen=True, slots=True)
class Change:
    """The jump now against the jump on an earlier day.

    Parameters
    ----------
    since : date
        The earlier day.
    change_m : Estimate
        Countermovement jump now less then, m.
    probability_up : float
        That it rose at all.
    probability_worthwhile : float
        That it rose by more than :data:`SMALLEST_WORTHWHILE_M`.
    probability_worse : float
        That it fell by more than that.
    """

    since: dt.date
    change_m: Estimate
    probability_up: float
    probability_worthwhile: float
    probability_worse: float

    @property
    def verdict(self) -> str:
        """In a word: "rise", "fall", "none" (too small to matter), or "unclear"."""
        if self.probability_worthwhile >= _SURE:
            return "rise"
        if self.probability_worse >= _SURE:
            return "fall"
        if self.probability_worthwhile + self.probability_worse <= 1 - _SURE:
            return "none"
        return "unclear"


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


def change_since(posterior: Posterior, since: dt.date) -> Change:
    """Change of the countermovement jump without arms from one day to the last.

    Parameters
    ----------
    posterior : Posterior
        Of one athlete.
    since : date
        One of its dates.

    Returns
    -------
    Change

    Raises
    ------
    ValueError
        If `since` is none of the posterior's dates.
    """
    person = posterior.problem.person
    states = posterior.states[:, [posterior.dates.index(since), -1]]
    mass = np.array([person.mass_kg(day) for day in (since, posterior.dates[-1])])
    height = jump_height_m(Start.COUNTERMOVEMENT, states, posterior.segment_m[:, None], mass)
    change = height[:, 1] - height[:, 0]

    def probability(holds: np.ndarray) -> float:
        return float(np.sum(posterior.weights[holds]))

    return Change(
        since=since,
        change_m=Estimate.of_sample(change, posterior.weights),
        probability_up=probability(change > 0),
        probability_worthwhile=probability(change > SMALLEST_WORTHWHILE_M),
        probability_worse=probability(change < -SMALLEST_WORTHWHILE_M),
    )
