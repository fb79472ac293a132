"""The unknowns as independent standard normals, and the states that they stand for.

The state at the first date is normal; between dates it walks at random around the drift
that the training done is expected to bring. Written by its innovations, every unknown is
a priori standard normal, whatever the number of dates.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from saltus.athlete.history import TrainingBlock
from saltus.athlete.person import Person
from saltus.athlete.prior import N_STATE, Constant, Prior, State
from saltus.athlete.qualities import Quality
from saltus.athlete.response import drift

__all__ = ["Trajectory"]


@dataclass(frozen=True, slots=True)
class _Step:
    """From one date to the next."""

    weeks: float
    dose_weeks: dict[Quality, float]
    log_mass_change: float


class Trajectory:
    """Maps unknowns to states and constants.

    Parameters
    ----------
    dates : sequence of date, length k
        In order, no two alike.
    person : Person
        For body mass.
    blocks : sequence of TrainingBlock
        Training done.
    prior : Prior
        Of this athlete.
    """

    def __init__(
        self,
        dates: Sequence[dt.date],
        person: Person,
        blocks: Sequence[TrainingBlock],
        prior: Prior,
    ):
        self.dates = tuple(dates)
        self.prior = prior
        self._steps = [
            _Step(
                weeks=(after - before).days / 7,
                dose_weeks=_dose_weeks(blocks, before, after),
                log_mass_change=float(np.log(person.mass_kg(after) / person.mass_kg(before))),
            )
            for before, after in zip(self.dates, self.dates[1:], strict=False)
        ]

    @property
    def size(self) -> int:
        """Number of unknowns: 5 at each of the k dates, and the constants."""
        return N_STATE * len(self.dates) + len(Constant)

    def constants(self, unknowns: NDArray[np.float64]) -> NDArray[np.float64]:
        """Constants, shape (n, 19), of unknowns of shape (n, size)."""
        z = unknowns[:, N_STATE * len(self.dates) :]
        return self.prior.constant_mean + self.prior.constant_sd * z

    def states(self, unknowns: NDArray[np.float64]) -> NDArray[np.float64]:
        """Log-qualities at every date, shape (n, k, 5), of unknowns of shape (n, size)."""
        n, k = unknowns.shape[0], len(self.dates)
        innovations = unknowns[:, : N_STATE * k].reshape(n, k, N_STATE)
        constants = self.constants(unknowns)
        states = np.empty((n, k, N_STATE))
        states[:, 0] = self.prior.state_mean + self.prior.state_sd * innovations[:, 0]
        for i, step in enumerate(self._steps):
            before = states[:, i]
            after = before + drift(before, constants, step.dose_weeks, self.prior.training_years)
            after += self.prior.walk_sd * np.sqrt(step.weeks) * innovations[:, i + 1]
            # Qualities are told per kg; what the muscles can do does not change with the scale.
            after[:, State.TORQUE] -= step.log_mass_change
            after[:, State.RATE] -= step.log_mass_change
            states[:, i + 1] = after
        return states


def _dose_weeks(
    blocks: Sequence[TrainingBlock], before: dt.date, after: dt.date
) -> dict[Quality, float]:
    weeks: dict[Quality, float] = {}
    for block in blocks:
        within = block.weeks_within(before, after)
        for quality, share in block.emphasis.items():
            if within > 0:
                weeks[quality] = weeks.get(quality, 0.0) + share * within
    return weeks
