"""Working sets and maxima of the leg lifts as readings of how strength changes.

A set with repetitions in reserve tells the maximum poorly, since formulas part and people differ
in what they can do below it. But what is wrong with a formula for this athlete is wrong in every
set of the same kind: it moves the level and leaves the change. So each lift has its own level here,
each kind of set its own offset, and what is left is the form of the day and what was felt to be
left. Bar speeds of all days are read by one line for the same reason
(:mod:`saltus.progress.bar_speeds_over_time`).
"""

import datetime as dt
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from math import log, sqrt

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
from saltus.progress.bar_speeds_over_time import speeds_together

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
_LEAST_VARIANCE = 1e-6
# Of what is told of a log maximum beside the form of the day: plates come in steps.
_SPEED_LEVEL_SD = 0.05
# Of the log maximum: the speed at the maximum differs by 0.05 to 0.06 m/s between people, and the
# log maximum goes by about 1 per m/s (:data:`saltus.athlete.load_velocity.SPEED_AT_MAXIMUM`).
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
        Maxima and sets that :func:`saltus.athlete.measurement_error.maximum_from` can read, and
        bar speeds of any loads; none is allowed.
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
        read = _read(tests)
        self._days = np.array([each.date.toordinal() for each in read.tests], dtype=float)
        if not read.tests:
            return
        mass = np.array([person.mass_kg(each.date) for each in read.tests])
        # Torque is told per kg: what the muscles can do does not change with the scale.
        self._torque = float(torque[0]) - np.log(mass / mass[0])
        self._mass, self._segment_m = mass, segment_m
        at = np.array([date.toordinal() for date in dates], dtype=float)
        self._speed = np.interp(self._days, at, speed)
        self._value = read.log_maximum
        kinds = [_kind(each) for each in read.tests]
        ratio = self._own_ratio(kinds, np.sqrt(MAXIMUM_CV**2 + read.own))
        weeks = (self._days - self._days[0]) / 7
        steepness = self._steepness()
        lifts = [kind[0] for kind in kinds]
        fixed = _LEVEL_SD**2 * _alike(lifts)
        of_kind = np.outer(read.level_sd, read.level_sd) + np.outer(read.line, read.line)
        fixed += _alike(kinds) * of_kind
        fixed += walk_sd**2 * np.minimum.outer(weeks, weeks) * np.outer(steepness, steepness)
        form = ratio**2 * MAXIMUM_CV**2
        days = [each.date for each in read.tests]
        errors = (
            _Common.by(days, _COMMON_SHARE * form),
            _Common.by(list(zip(days, lifts, strict=True)), (1 - _COMMON_SHARE) * form),
            _Common(ratio**2 * read.own, np.arange(len(lifts))),
        )
        trend = _TREND_SD**2 * np.outer(weeks, weeks)
        trend += _BEND_SD**2 * np.outer(weeks, weeks) ** 2
        off = self._value - self._value.mean()
        self._factor = cho_factor(fixed + _weighed(errors, off, fixed + trend), lower=True)

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
        usual: dict[_Kind, list[float]] = defaultdict(list)
        for kind, error in zip(kinds, published, strict=True):
            usual[kind].append(error**2)
        for kind, day, value in zip(kinds, self._days, self._value, strict=True):
            scaled = value / float(np.sqrt(np.mean(usual[kind])))
            of_kind = chains[kind]
            if not of_kind or day - of_kind[-1][-1][0] > _CHAIN.days:
                of_kind.append([])
            if not of_kind[-1] or day > of_kind[-1][-1][0]:
                of_kind[-1].append((float(day), float(scaled)))
        return own_error([chain for found in chains.values() for chain in found]).ratio.value


@dataclass(frozen=True, slots=True)
class _Readings:
    """Tests in order of date, with the log maximum that each points to.

    `level_sd` (m,) is of what moves all of a kind alike, `line` (m,) what the error of a line of
    bar speeds does to each of its kind, and `own` (m,) the variance of the rest, beside the form of
    the day.
    """

    tests: Sequence[LiftTest]
    log_maximum: NDArray[np.float64]
    level_sd: NDArray[np.float64]
    line: NDArray[np.float64]
    own: NDArray[np.float64]


def _read(tests: Sequence[LiftTest]) -> _Readings:
    by_lift: dict[Lift, list[BarSpeedSet]] = defaultdict(list)
    rows: list[tuple[LiftTest, float, float, float, float]] = []
    for test in tests:
        if isinstance(test, BarSpeedSet):
            by_lift[test.lift].append(test)
            continue
        kg, sd_log = maximum_from(test)
        own = max(sd_log**2 - MAXIMUM_CV**2, _LEAST_VARIANCE)
        rows.append((test, log(kg), sqrt(_COMMON_SHARE * own), 0.0, (1 - _COMMON_SHARE) * own))
    for sets in by_lift.values():
        read = speeds_together(sets)
        levels = np.full(len(read.tests), _SPEED_LEVEL_SD)
        rows += zip(
            read.tests, read.log_maximum, levels, read.common, read.own_variance, strict=True
        )
    rows.sort(key=lambda row: row[0].date)
    numbers = np.array([row[1:] for row in rows]).reshape(-1, 4).T
    return _Readings([row[0] for row in rows], *numbers)


@dataclass(frozen=True, slots=True)
class _Common:
    """A t error that comes back in all readings of one place.

    `variance` (g,) by place; `place` (m,) of each reading.
    """

    variance: NDArray[np.float64]
    place: NDArray[np.int64]

    @property
    def reached(self) -> NDArray[np.float64]:
        """1 where an error is in a reading, shape (m, g)."""
        return np.asarray(self.place[:, None] == np.arange(self.variance.size), dtype=float)

    @classmethod
    def by(cls, labels: Sequence[object], variance: float) -> "_Common":
        """One error for each label."""
        place = _places(labels)
        return cls(np.full(place.max() + 1, variance), place)


def _weighed(
    parts: Sequence[_Common], value: NDArray[np.float64], besides: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Covariance of a sum of t errors in which those that lie far off have lost weight.

    How far each lies off is its mean square given all readings, as in a step of expectation and
    maximisation (Lange, Little & Taylor 1989); `besides` is the covariance of all else.
    """
    reached = [part.reached for part in parts]
    whole = besides + sum(
        (into * part.variance) @ into.T for part, into in zip(parts, reached, strict=True)
    )
    inverse = np.linalg.inv(whole)
    weighed = np.zeros_like(whole)
    for part, into in zip(parts, reached, strict=True):
        mean = part.variance * (into.T @ inverse @ value)
        left = part.variance - part.variance**2 * np.sum(into * (inverse @ into), axis=0)
        residual = np.sqrt((mean**2 + left) / part.variance)
        weighed += (into * weighed_variance(part.variance, residual)) @ into.T
    return weighed


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


def _places(labels: Sequence[object]) -> NDArray[np.int64]:
    """Numbers from 0 on in place of labels, shape (m,)."""
    numbers = {label: i for i, label in enumerate(dict.fromkeys(labels))}
    return np.array([numbers[label] for label in labels])


def _alike(labels: Sequence[object]) -> NDArray[np.float64]:
    """1 where two labels are the same, shape (m, m)."""
    at = _places(labels)
    return np.asarray(at[:, None] == at, dtype=float)
