"""A cubic in place of every simulated reading, near one athlete's posterior.

A sampler that follows slopes asks for tens of thousands of predictions with their slopes.
Within the spread of one athlete's qualities the logarithm of a reading is a cubic in the
log-qualities and the leg to a few parts in ten thousand. The cubics are fitted by least
squares to simulations that were made anyway, and they decide no figure: what is sampled
with their help is weighted by the model itself.
"""

from collections.abc import Callable
from itertools import combinations_with_replacement

import numpy as np
from numpy.typing import NDArray

from saltus.athlete.prediction import IMPOSSIBLE, Predictor
from saltus.athlete.prior import N_STATE, Constant
from saltus.athlete.trajectory import Trajectory

__all__ = ["Surrogate"]

Floats = NDArray[np.float64]

_DEGREE = 3
_RIDGE = 1e-9
_LEAST_LOG, _MOST_LOG = -20.0, 20.0  # far outside all readings; keeps exponentials finite


class Surrogate:
    """Predictions and their slopes without simulation.

    Parameters
    ----------
    trajectory : Trajectory
        Of the unknowns.
    predictor : Predictor
        Of the readings; at least one.
    unknowns : ndarray, shape (n, size)
        Where the readings were simulated: a few hundred points over the posterior and a
        little beyond.
    raw : ndarray, shape (n, m)
        What :meth:`Predictor.raw` gave there.
    """

    def __init__(self, trajectory: Trajectory, predictor: Predictor, unknowns: Floats, raw: Floats):
        self._trajectory = trajectory
        self._predictor = predictor
        self._group = np.empty(len(predictor), dtype=int)
        for i, members in enumerate(predictor.alike):
            self._group[members] = i
        # Readings come in order of date: where each date's begin.
        self._read_dates, self._first = np.unique(predictor.date_index, return_index=True)
        # Body mass counts where a load is carried; it is a variable only if it changed.
        self._log_mass = np.zeros(len(trajectory.dates))
        self._log_mass[predictor.date_index] = np.log(predictor.mass_kg)
        self._mass_varies = bool(np.ptp(np.log(predictor.mass_kg)) > 0)
        self._variables = N_STATE + 1 + self._mass_varies
        inputs = self._inputs(trajectory.states(unknowns), trajectory.constants(unknowns))
        seen = inputs[:, self._read_dates]
        self._centre = seen.mean(axis=(0, 1))
        self._spread = seen.std(axis=(0, 1)) + 1e-12
        x = (inputs - self._centre) / self._spread
        self._monomials = _monomials(self._variables, _DEGREE)
        self._lower = _monomials(self._variables, _DEGREE - 1)
        self._coefficients = np.column_stack(
            [self._fitted(x[:, predictor.date_index[m]], raw[:, m]) for m in predictor.alike]
        )
        self._slopes = self._differentiated()

    def predict(self, unknowns: Floats) -> tuple[Floats, Callable[[Floats], Floats]]:
        """Predictions, and the way back from slopes in them to slopes in the unknowns.

        Parameters
        ----------
        unknowns : ndarray, shape (n, size)
            Where.

        Returns
        -------
        predicted : ndarray, shape (n, m)
            As :meth:`saltus.athlete.posterior.Problem.predict`.
        pulled_back : callable
            Takes the slopes of a function in the predictions, shape (n, m), and returns
            its slopes in the unknowns, shape (n, size).
        """
        trajectory, predictor = self._trajectory, self._predictor
        n, dates = unknowns.shape[0], len(trajectory.dates)
        constants = trajectory.constants(unknowns)
        states = trajectory.states(unknowns)
        x = (self._inputs(states, constants) - self._centre) / self._spread
        points = np.ascontiguousarray(x.transpose(2, 1, 0)).reshape(self._variables, -1)
        terms = _evaluated(points, self._monomials)
        logs = (self._coefficients.T @ terms).reshape(-1, dates, n)
        log_raw = np.clip(logs[self._group, predictor.date_index].T, _LEAST_LOG, _MOST_LOG)
        raw = np.exp(log_raw)
        predicted = predictor.finish(raw, constants)

        def pulled_back(by_predicted: Floats) -> Floats:
            by_log, by_constant = predictor.pulled_back(by_predicted, raw, constants)
            lower = terms[: len(self._lower)]  # monomials are in order of degree
            slopes = (self._slopes @ lower).reshape(N_STATE + 1, -1, dates, n)
            moved = slopes[:, self._group, predictor.date_index] * by_log.T
            by_input = np.zeros((N_STATE + 1, dates, n))
            by_input[:, self._read_dates] = np.add.reduceat(moved, self._first, axis=1)
            by_input /= self._spread[: N_STATE + 1, None, None]
            by_constant[:, Constant.SEGMENT] += by_input[N_STATE].sum(axis=0)
            by_state = np.ascontiguousarray(by_input[:N_STATE].transpose(2, 1, 0))
            return trajectory.pulled_back(states, constants, by_state, by_constant)

        return predicted, pulled_back

    def _inputs(self, states: Floats, constants: Floats) -> Floats:
        """Log-qualities, log leg and, if it varies, log mass, shape (n, k, variables)."""
        n, k, _ = states.shape
        inputs = np.empty((n, k, self._variables))
        inputs[..., :N_STATE] = states
        inputs[..., N_STATE] = constants[:, Constant.SEGMENT, None]
        if self._mass_varies:
            inputs[..., N_STATE + 1] = self._log_mass
        return inputs

    def _fitted(self, x: Floats, raw: Floats) -> Floats:
        """Coefficients of one group of readings, where they could be made at all."""
        possible = raw > 2 * IMPOSSIBLE
        terms = _evaluated(np.ascontiguousarray(x[possible].T), self._monomials)
        normal = terms @ terms.T
        normal[np.diag_indices_from(normal)] *= 1 + _RIDGE
        normal[np.diag_indices_from(normal)] += _RIDGE
        return np.asarray(np.linalg.solve(normal, terms @ np.log(raw[possible])))

    def _differentiated(self) -> Floats:
        """Coefficients of the slopes in qualities and leg, shape (6 * groups, lower terms)."""
        place = {powers: i for i, powers in enumerate(self._monomials)}
        groups = self._coefficients.shape[1]
        slopes = np.empty((N_STATE + 1, groups, len(self._lower)))
        for variable in range(N_STATE + 1):
            for i, powers in enumerate(self._lower):
                raised = tuple(sorted((*powers, variable)))
                slopes[variable, :, i] = raised.count(variable) * self._coefficients[place[raised]]
        return slopes.reshape(-1, len(self._lower))


def _monomials(variables: int, degree: int) -> list[tuple[int, ...]]:
    """Every product of up to `degree` variables, by the places of its factors."""
    return [
        factors
        for total in range(degree + 1)
        for factors in combinations_with_replacement(range(variables), total)
    ]


def _evaluated(x: Floats, monomials: list[tuple[int, ...]]) -> Floats:
    """Monomials at points of shape (variables, n), shape (monomials, n)."""
    place = {factors: i for i, factors in enumerate(monomials)}
    out = np.empty((len(monomials), x.shape[1]))
    for factors, i in place.items():
        if factors:
            np.multiply(out[place[factors[:-1]]], x[factors[-1]], out=out[i])
        else:
            out[i] = 1.0
    return out
