"""The unknowns as independent standard normals, and the states that they stand for.

The state at the first date is normal; between dates it walks at random around the drift
that the training done is expected to bring. Written by its innovations, every unknown is
a priori standard normal, whatever the number of dates.
"""

import datetime as dt
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from saltus.athlete.history import BLOCK_WEEKS, TrainingBlock, dose_weeks
from saltus.athlete.person import Person
from saltus.athlete.prior import N_STATE, RESPONSE, Constant, Prior, State
from saltus.athlete.qualities import Quality
from saltus.athlete.response import TRAINED, drift_slopes, gained_in_turn

__all__ = ["Trajectory"]


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
        pairs = list(pairwise(self.dates))
        self._root_weeks = np.sqrt([(after - before).days / 7 for before, after in pairs])
        mass = [person.mass_kg(date) for date in self.dates]
        self._log_mass_changes = np.diff(np.log(mass))
        doses = [dose_weeks(blocks, before, after) for before, after in pairs]
        self._all_dose_weeks = {
            quality: np.array([dose.get(quality, 0.0) for dose in doses])
            for quality in TRAINED
            if any(dose.get(quality, 0.0) > 0 for dose in doses)
        }

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
        states[:, 1:] = self.prior.walk_sd * self._root_weeks[:, None] * innovations[:, 1:]
        # Qualities are told per kg; what the muscles can do does not change with the scale.
        states[:, 1:, State.TORQUE] -= self._log_mass_changes
        states[:, 1:, State.RATE] -= self._log_mass_changes
        states = np.cumsum(states, axis=1)
        # Strength last: what it gains depends on the speed.
        for quality in sorted(self._all_dose_weeks, key=lambda q: q is Quality.MAX_STRENGTH):
            states[:, 1:, TRAINED[quality]] += gained_in_turn(
                states[:, :-1],
                np.exp(constants[:, Constant.SEGMENT]),
                quality,
                response=np.exp(constants[:, RESPONSE[quality]]),
                training_years=self.prior.training_years,
                doses=self._all_dose_weeks[quality] / BLOCK_WEEKS,
            )
        return states

    def pulled_back(
        self,
        states: NDArray[np.float64],
        constants: NDArray[np.float64],
        by_state: NDArray[np.float64],
        by_constant: NDArray[np.float64],
    ) -> NDArray[np.float64]:
        """Slope of a function in the unknowns, from its slopes in states and constants.

        Parameters
        ----------
        states : ndarray, shape (n, k, 5)
            Log-qualities at every date, from :meth:`states`.
        constants : ndarray, shape (n, 19)
            From :meth:`constants`.
        by_state, by_constant : ndarray, shapes of the two
            Slopes of the function there.

        Returns
        -------
        ndarray, shape (n, size)
            By the chain rule from the last date to the first.
        """
        n, k, _ = states.shape
        carried = by_state.copy()
        constant = by_constant.copy()
        if self._all_dose_weeks:
            slopes = drift_slopes(
                states[:, :-1], constants, self._all_dose_weeks, self.prior.training_years
            )
            for i in range(k - 2, -1, -1):
                after = carried[:, i + 1]
                carried[:, i] += after + np.einsum("nj,njl->nl", after, slopes.by_state[:, i])
            moved = carried[:, 1:]
            constant[:, Constant.SEGMENT] += np.sum(
                moved[..., State.TORQUE] * slopes.by_segment, axis=1
            )
            for quality, slope in slopes.by_response.items():
                constant[:, RESPONSE[quality]] += np.sum(
                    moved[..., TRAINED[quality]] * slope, axis=1
                )
        else:
            carried = np.cumsum(carried[:, ::-1], axis=1)[:, ::-1]
        whole = np.empty((n, self.size))
        innovations = whole[:, : N_STATE * k].reshape(n, k, N_STATE)
        innovations[:, 0] = self.prior.state_sd * carried[:, 0]
        innovations[:, 1:] = self.prior.walk_sd * self._root_weeks[:, None] * carried[:, 1:]
        whole[:, N_STATE * k :] = self.prior.constant_sd * constant
        return whole
