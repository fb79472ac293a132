"""Working sets and maxima of the leg lifts as readings of how strength changes.

A set with repetitions in reserve tells the maximum poorly, since formulas part and people differ
in what they can do below it. But what is wrong with a formula for this athlete is wrong in every
set of the same kind: it moves the level and leaves the change. So each lift has its own level here,
each kind of set its own offset, and what is left is the form of the day and what was felt to be
left.
"""

import datetime as dt
from collections import defaultdict
from collections.abc import Sequence
from math import log

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import cho_factor, cho_solve

from saltus.athlete.measurement_error import maximum_from
from saltus.athlete.observations import BarSpeedSet, Lift, Maximum, RepSet
from saltus.athlete.person import Person
from saltus.athlete.posterior import FREEDOM
from saltus.athlete.postures import parallel_squat_kg
from saltus.athlete.strength import MAXIMUM_CV
from saltus.athlete.typical_error import own_error

__all__ = ["INFORMATION", "LiftTest", "LiftsOverTime", "weighed_variance"]

LiftTest = Maximum | RepSet | BarSpeedSet
"""A test that points to a maximum."""

INFORMATION = (FREEDOM + 1) / (FREEDOM + 3) * FREEDOM / (FREEDOM - 2)
"""Fisher information of a t error of unit deviation (Lange, Little & Taylor 1989, J Am Stat Assoc
84:881-896)."""

_LEVEL_SD = 1.0
# Of the log maximum of a lift: nothing is known of it.
_COMMON_SHARE = 0.5
# Half of a set's own variance beside the form of the day comes back with every set of the same
# kind, and half of the form of the day is common to all lifts of it (judgements).
_TREND_SD = 0.02
_BEND_SD = 0.005
# A week, and a squared week: wide, to see which sets lie far off their neighbours.
_CHAIN = dt.timedelta(days=10)

_Kind = tuple[Lift, type, int]


class LiftsOverTime:
    """Readings of lifts, to hold paths of strength against.

    Parameters
    ----------
    tests : sequence of Maximum, RepSet or BarSpeedSet
        That :func:`saltus.athlete.measurement_error.maximum_from` can read; none is allowed.
    person : Person
        For body mass.
    torque, speed : ndarray, shape (k,)
        Log-qualities on `dates`, of which only the size of a change in the lifts is had.
    dates : sequence of date, length k
        In order.
    segment_m : float
        Half the outstretched leg, m.
    walk_sd : float
        How far the log torque wanders by itself, per root week.
    """

    def __init__(
        self,
        tests: Sequence[LiftTest],
        person: Person,
        *,
        torque: NDArray[np.float64],
        speed: NDArray[np.float64],
        dates: Sequence[dt.date],
        segment_m: float,
        walk_sd: float,
    ):
        tests = sorted(tests, key=lambda each: each.date)
        self._days = np.array([each.date.toordinal() for each in tests], dtype=float)
        if not tests:
            return
        mass = np.array([person.mass_kg(each.date) for each in tests])
        # Torque is told per kg: what the muscles can do does not change with the scale.
        self._torque = float(torque[0]) - np.log(mass / mass[0])
        self._mass, self._segment_m = mass, segment_m
        at = np.array([date.toordinal() for date in dates], dtype=float)
        self._speed = np.interp(self._days, at, speed)
        read = [maximum_from(each) for each in tests]
        self._value = np.array([log(kg) for kg, _ in read])
        own = np.array([max(sd**2 - MAXIMUM_CV**2, 0.0) for _, sd in read])
        kinds = [_kind(each) for each in tests]
        fresh = MAXIMUM_CV**2 + (1 - _COMMON_SHARE) * own
        ratio = self._own_ratio(kinds, np.sqrt(fresh))
        weeks = (self._days - self._days[0]) / 7
        steepness = self._steepness()
        covariance = _LEVEL_SD**2 * _alike([kind[0] for kind in kinds])
        covariance += _COMMON_SHARE * _alike(kinds) * np.sqrt(np.outer(own, own))
        covariance += ratio**2 * _COMMON_SHARE * MAXIMUM_CV**2 * _alike(list(self._days))
        covariance += walk_sd**2 * np.minimum.outer(weeks, weeks) * np.outer(steepness, steepness)
        alone = ratio**2 * (fresh - _COMMON_SHARE * MAXIMUM_CV**2)
        smooth = covariance + np.diag(alone / INFORMATION)
        smooth += _TREND_SD**2 * np.outer(weeks, weeks)
        smooth += _BEND_SD**2 * np.outer(weeks, weeks) ** 2
        centred = self._value - self._value.mean()
        off = alone / INFORMATION * np.linalg.solve(smooth, centred)
        variance = weighed_variance(alone, off / np.sqrt(ratio**2 * fresh))
        self._factor = cho_factor(covariance + np.diag(variance), lower=True)

    @property
    def days(self) -> NDArray[np.float64]:
        """Ordinals of the days of the readings, shape (m,)."""
        return self._days

    def predicted(self, gained: NDArray[np.float64]) -> NDArray[np.float64]:
        """Log maxima but for their levels, shape (..., m), by the log torque gained up to each."""
        if not self._days.size:
            return np.zeros(gained.shape)
        squat = parallel_squat_kg(
            np.exp(self._torque + gained), np.exp(self._speed), self._segment_m, self._mass
        )
        return np.asarray(np.log(squat))

    def log_evidence(self, predicted: NDArray[np.float64]) -> NDArray[np.float64]:
        """Log evidence, up to a constant, of predictions of shape (n, m); shape (n,)."""
        if not self._days.size:
            return np.zeros(len(predicted))
        left = (self._value - predicted).T
        return np.asarray(-0.5 * np.sum(left * cho_solve(self._factor, left), axis=0))

    def products(self, moved: NDArray[np.float64]) -> NDArray[np.float64]:
        """Of n differences between predictions, in the errors of the readings, shape (n, n)."""
        if not self._days.size:
            return np.zeros((len(moved), len(moved)))
        return np.asarray(moved @ cho_solve(self._factor, moved.T))

    def _steepness(self) -> NDArray[np.float64]:
        step = 1e-4
        zero = np.zeros(self._days.size)
        return (self.predicted(zero + step) - self.predicted(zero)) / step

    def _own_ratio(self, kinds: Sequence[_Kind], published: NDArray[np.float64]) -> float:
        """Error of this athlete's repeats over the published one."""
        chains: dict[_Kind, list[list[tuple[float, float]]]] = defaultdict(list)
        scaled = (self._value - self._value.mean()) / np.sqrt(np.mean(published**2))
        for kind, day, value in zip(kinds, self._days, scaled, strict=True):
            of_kind = chains[kind]
            if not of_kind or day - of_kind[-1][-1][0] > _CHAIN.days:
                of_kind.append([])
            if not of_kind[-1] or day > of_kind[-1][-1][0]:
                of_kind[-1].append((float(day), float(value)))
        return own_error([chain for found in chains.values() for chain in found]).ratio.value


def weighed_variance(
    variance: NDArray[np.float64], residual: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Variance of a normal error that informs as a t error does, more for readings far off.

    Parameters
    ----------
    variance : ndarray, shape (m,)
        Of the t errors.
    residual : ndarray, shape (m,)
        How far each reading lies off, in standard deviations.
    """
    far = residual**2 / (FREEDOM - 2)
    return np.asarray(variance / INFORMATION * (1 + far) * (FREEDOM / (FREEDOM + 1)))


def _kind(test: LiftTest) -> _Kind:
    reps = round(test.reps + test.reserve) if isinstance(test, RepSet) else 0
    return test.lift, type(test), reps


def _alike(labels: Sequence[object]) -> NDArray[np.float64]:
    """1 where two labels are the same, shape (m, m)."""
    places = {label: i for i, label in enumerate(dict.fromkeys(labels))}
    at = np.array([places[label] for label in labels])
    return np.asarray(at[:, None] == at, dtype=float)
