"""All tests on all dates, one posterior.

The mode comes from Gauss-Newton on the independent unknowns of
:class:`~saltus.athlete.trajectory.Trajectory`, with Student-t errors, so that an outlying
test loses its weight; the Laplace approximation there is the proposal of an importance
sampler, refined where it fits badly. All figures are read off the weighted sample.

References
----------
Tierney & Kadane 1986, J Am Stat Assoc 81:82-86 (Laplace); Lange, Little & Taylor 1989,
J Am Stat Assoc 84:881-896 (t errors by reweighting); Cappé et al. 2004, J Comput Graph
Stat 13:907-929 (adaptive importance sampling).
"""

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.special import gammaln, logsumexp

from saltus.athlete.history import TrainingBlock
from saltus.athlete.observations import Observation
from saltus.athlete.person import Person
from saltus.athlete.prediction import Predictor
from saltus.athlete.prior import N_STATE, Constant, Prior, prior_for
from saltus.athlete.readings import Reading, readings_of
from saltus.athlete.trajectory import Trajectory

__all__ = ["Posterior", "Problem", "fit"]

FREEDOM = 5.0
"""Degrees of freedom of the error of a test: now and then one is far off."""

_SCALE = np.sqrt((FREEDOM - 2) / FREEDOM)  # a t of this scale has the published deviation
_OUTLYING_WEIGHT = 0.35
_STEP = 1e-4
_CONVERGED = 1e-5
_MOST_ITERATIONS = 60
_GAUSSIAN_ITERATIONS = 4
_INFORMED = 0.05
_PROPOSAL_FREEDOM = 40.0
_PROPOSAL_INFORMATION = 0.8
# Readings with t errors inform less than their curvature at the mode says, and the posterior's
# tails are a little heavier than normal; both found by the effective sample size.
_DRAWS = 2000
_MOST_ROUNDS = 4
_GOOD_SHARE = 0.25
_SEED = 20110801


class Problem:
    """The posterior density of one athlete's unknowns.

    Parameters
    ----------
    person : Person
        Who.
    observations : sequence of Observation
        Tests of any kind on any dates; none at all is allowed.
    blocks : sequence of TrainingBlock
        Training done.
    on : date
        The day to speak of; tests after it are left out.
    prior : Prior, optional
        In place of the one for this person.
    """

    def __init__(
        self,
        person: Person,
        observations: Sequence[Observation],
        blocks: Sequence[TrainingBlock],
        on: dt.date,
        prior: Prior | None = None,
    ):
        self.readings = tuple(r for r in readings_of(observations, person) if r.date <= on)
        dates = sorted({r.date for r in self.readings} | {on})
        prior = prior if prior is not None else prior_for(person)
        self.prior = _with_biases(prior, self.readings)
        self.trajectory = Trajectory(dates, person, blocks, self.prior)
        self.predictor = Predictor(self.readings, dates, person)
        self.person = person

    def predict(self, unknowns: NDArray[np.float64]) -> NDArray[np.float64]:
        """What the readings should be, shape (n, m), for unknowns of shape (n, size)."""
        constants = self.trajectory.constants(unknowns)
        states = self.trajectory.states(unknowns)[:, self.predictor.date_index]
        raw = self.predictor.raw(states, np.exp(constants[:, Constant.SEGMENT]))
        return self.predictor.finish(raw, constants)

    def residuals(self, predicted: NDArray[np.float64]) -> NDArray[np.float64]:
        """Reading less prediction, in scales of the t error, shape of `predicted`."""
        return np.asarray((self.predictor.value - predicted) / (self.predictor.sd * _SCALE))

    def log_density(self, unknowns: NDArray[np.float64]) -> NDArray[np.float64]:
        """Unnormalised log posterior, shape (n,), of unknowns of shape (n, size)."""
        loss = _t_loss(self.residuals(self.predict(unknowns))).sum(axis=1)
        return np.asarray(-0.5 * np.sum(unknowns**2, axis=1) - loss)

    def linearised(
        self, unknowns: NDArray[np.float64]
    ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Predictions (m,) and their Jacobian (m, size) at one point of shape (size,)."""
        trajectory, predictor = self.trajectory, self.predictor
        size = trajectory.size
        shifted = np.vstack([unknowns, unknowns + _STEP * np.eye(size)])
        states = trajectory.states(shifted)[:, predictor.date_index]
        constants = trajectory.constants(shifted)
        base, segment = states[0], float(np.exp(constants[0, Constant.SEGMENT]))
        # Simulate only along the five qualities and the leg; the chain rule does the rest.
        probes = np.repeat(base[None], N_STATE + 2, axis=0)
        for j in range(N_STATE):
            probes[1 + j, :, j] += _STEP
        segments = np.full(N_STATE + 2, segment)
        segments[-1] *= np.exp(_STEP)
        raw = predictor.raw(probes, segments)
        slope = (raw[1:] - raw[0]) / _STEP  # (6, m)
        moved = states[1:] - base  # (size, m, 5)
        raw_moved = np.einsum("smj,jm->sm", moved, slope[:N_STATE])
        leg = constants[1:, Constant.SEGMENT] - constants[0, Constant.SEGMENT]
        raw_moved += leg[:, None] * slope[-1]
        predicted = predictor.finish(raw[:1], constants[:1])[0]
        jacobian = (predictor.finish(raw[0] + raw_moved, constants[1:]) - predicted) / _STEP
        return predicted, jacobian.T

    def weighed(
        self, predicted: NDArray[np.float64], jacobian: NDArray[np.float64]
    ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Weights of the readings (m,), and the Jacobian in units of their errors (m, size).

        The arguments are those of :meth:`linearised`; an outlying reading's row is as small
        as its weight.
        """
        weights = _t_weights(self.residuals(predicted))
        return weights, jacobian * (np.sqrt(weights) / (self.predictor.sd * _SCALE))[:, None]


@dataclass(frozen=True, eq=False)
class Posterior:
    """A weighted sample of everything unknown.

    Parameters
    ----------
    problem : Problem
        What was asked.
    states : ndarray, shape (n, k, 5)
        Log-qualities at each date.
    constants : ndarray, shape (n, 19)
        Constants of person and methods.
    weights : ndarray, shape (n,)
        Importance weights, adding up to one.
    mode : ndarray, shape (size,)
        Most probable unknowns.
    reading_weights : ndarray, shape (m,)
        Weight of each reading at the mode: 1 or more for one that fits, near 0 for one
        that cannot be believed.
    effective_sample_size : float
        Kish's, of n draws.
    refined : bool
        Whether the normal approximation was too rough and the proposal was refined.
    """

    problem: Problem
    states: NDArray[np.float64]
    constants: NDArray[np.float64]
    weights: NDArray[np.float64]
    mode: NDArray[np.float64]
    reading_weights: NDArray[np.float64]
    effective_sample_size: float
    refined: bool

    @property
    def dates(self) -> tuple[dt.date, ...]:
        """Dates of the states; the last is the day that was asked about."""
        return self.problem.trajectory.dates

    @property
    def now(self) -> NDArray[np.float64]:
        """Log-qualities on the last date, shape (n, 5)."""
        return self.states[:, -1]

    @property
    def segment_m(self) -> NDArray[np.float64]:
        """Half the outstretched leg, m, shape (n,)."""
        return np.exp(self.constants[:, Constant.SEGMENT])

    @property
    def outlying(self) -> tuple[Reading, ...]:
        """Readings that the fit gave little weight."""
        return tuple(
            reading
            for reading, weight in zip(self.problem.readings, self.reading_weights, strict=True)
            if weight < _OUTLYING_WEIGHT
        )

    def resampled(self, n: int) -> NDArray[np.int64]:
        """Indices of `n` draws of equal weight (systematic resampling, no randomness)."""
        places = (np.arange(n) + 0.5) / n
        return np.searchsorted(np.cumsum(self.weights), places).clip(0, self.weights.size - 1)


def fit(problem: Problem, *, draws: int = _DRAWS, seed: int = _SEED) -> Posterior:
    """Posterior of a problem.

    Parameters
    ----------
    problem : Problem
        Person, tests, training and day.
    draws : int
        Size of the sample.
    seed : int
        Of the draws: the same input gives the same figures.

    Returns
    -------
    Posterior
    """
    mode = _mode(problem)
    predicted, jacobian = problem.linearised(mode)
    weights, scaled = problem.weighed(predicted, jacobian)
    rng = np.random.default_rng(seed)
    unknowns, log_weights, refined = _importance_sample(
        problem.log_density, mode, scaled, draws, rng
    )
    share = np.exp(log_weights - logsumexp(log_weights))
    return Posterior(
        problem=problem,
        states=problem.trajectory.states(unknowns),
        constants=problem.trajectory.constants(unknowns),
        weights=share,
        mode=mode,
        reading_weights=weights,
        effective_sample_size=float(1 / np.sum(share**2)),
        refined=refined,
    )


def _with_biases(prior: Prior, readings: Sequence[Reading]) -> Prior:
    """Prior with the spread of each method's bias that the readings name."""
    sd = prior.constant_sd.copy()
    for reading in readings:
        for constant in reading.add_terms:
            sd[constant] = max(sd[constant], reading.bias_sd)
    return replace(prior, constant_sd=sd)


def _t_loss(residuals: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.asarray(0.5 * (FREEDOM + 1) * np.log1p(residuals**2 / FREEDOM))


def _t_weights(residuals: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.asarray((FREEDOM + 1) / (FREEDOM + residuals**2))


def _mode(problem: Problem) -> NDArray[np.float64]:
    """Most probable unknowns by damped Gauss-Newton, reweighted for the t errors."""
    z = np.zeros(problem.trajectory.size)
    if not problem.readings:
        return z
    density: float | None = None
    damping = 0.0
    for iteration in range(_MOST_ITERATIONS):
        predicted, jacobian = problem.linearised(z)
        residuals = problem.residuals(predicted)
        # The first steps see plain squares: far from the mode every reading looks outlying.
        gaussian = iteration < _GAUSSIAN_ITERATIONS
        weights = np.ones_like(residuals) if gaussian else _t_weights(residuals)
        scaled = jacobian / (problem.predictor.sd * _SCALE)[:, None]
        gradient = scaled.T @ (weights * residuals) - z
        curvature = scaled.T @ (weights[:, None] * scaled) + np.eye(z.size)
        step = np.linalg.solve(curvature + damping * np.eye(z.size), gradient)
        if gaussian:
            longest = np.max(np.abs(step))
            z = z + step * min(1.0, 2.0 / max(longest, 1e-12))
            continue
        if density is None:
            density = float(problem.log_density(z[None])[0])
        trials = z + step * np.array([1.0, 0.5, 0.25, 0.1, 0.02])[:, None]
        densities = problem.log_density(trials)
        best = int(np.argmax(densities))
        if not densities[best] > density:
            if damping > 1e3 or np.max(np.abs(step)) < _CONVERGED:
                break
            damping = 10 * max(damping, 0.1)
            continue
        damping /= 10
        gained = densities[best] - density
        z, density = trials[best], float(densities[best])
        if gained < _CONVERGED and damping < 1e-2:
            break
    return z


def _importance_sample(
    log_density: Callable[[NDArray[np.float64]], NDArray[np.float64]],
    mode: NDArray[np.float64],
    scaled: NDArray[np.float64],
    draws: int,
    rng: np.random.Generator,
) -> tuple[NDArray[np.float64], NDArray[np.float64], bool]:
    """Sample by importance from the Laplace approximation, refined while it fits badly.

    Only the directions that the readings inform leave the prior; the proposal is a
    multivariate t in them and the prior itself in all others.
    """
    size = mode.size
    _, singular, rows = np.linalg.svd(scaled, full_matrices=True)
    information = np.zeros(size)
    information[: singular.size] = _PROPOSAL_INFORMATION * singular**2
    informed = information > _INFORMED
    basis = rows[informed]  # (r, size)
    rest = rows[~informed]
    centre = basis @ mode
    root = np.diag(1 / np.sqrt(1 + information[informed]))
    # Directions that are hardly informed are proposed from the prior; their mode is all but zero.
    proposals = [(centre, root)]
    best = (0.0, np.empty((0, size)), np.empty(0))
    for _ in range(_MOST_ROUNDS):
        chosen = rng.integers(len(proposals), size=draws)
        inner = np.empty((draws, basis.shape[0]))
        for i, (mean, spread) in enumerate(proposals):
            members = chosen == i
            inner[members] = _t_draws(mean, spread, int(members.sum()), rng)
        outer = rng.standard_normal((draws, rest.shape[0]))
        unknowns = inner @ basis + outer @ rest
        log_proposal = logsumexp(
            [_t_log_density(inner, mean, spread) for mean, spread in proposals], axis=0
        ) - np.log(len(proposals))
        log_weights = log_density(unknowns) + 0.5 * np.sum(outer**2, axis=1) - log_proposal
        # Truncated weights (Ionides 2008, J Comput Graph Stat 17:295-311): no single draw rules.
        log_weights -= logsumexp(log_weights)
        log_weights = np.minimum(log_weights, -0.5 * np.log(draws))
        effective = float(np.exp(2 * logsumexp(log_weights) - logsumexp(2 * log_weights)))
        if effective > best[0]:
            best = (effective, unknowns, log_weights)
        if effective >= _GOOD_SHARE * draws or basis.shape[0] == 0:
            break
        tempered = _tempered(log_weights, basis.shape[0], draws)
        mean = tempered @ inner
        centred = inner - mean
        covariance = (tempered[:, None] * centred).T @ centred + 1e-3 * root @ root.T
        proposals = [*proposals[-2:], (mean, np.asarray(np.linalg.cholesky(covariance), float))]
    _, unknowns, log_weights = best
    return unknowns, log_weights, len(proposals) > 1


def _tempered(log_weights: NDArray[np.float64], dimensions: int, draws: int) -> NDArray[np.float64]:
    """Weights flattened just enough to tell a mean and a covariance from."""
    wanted = min(4.0 * dimensions, 0.5 * draws)

    def flattened(power: float) -> NDArray[np.float64]:
        return np.asarray(np.exp(power * log_weights - logsumexp(power * log_weights)))

    for power in (1.0, 0.7, 0.5, 0.35, 0.25, 0.15, 0.1, 0.05):
        share = flattened(power)
        if 1 / np.sum(share**2) >= wanted:
            break
    return share


def _t_draws(
    mean: NDArray[np.float64], root: NDArray[np.float64], n: int, rng: np.random.Generator
) -> NDArray[np.float64]:
    normal = rng.standard_normal((n, mean.size))
    stretch = np.sqrt(_PROPOSAL_FREEDOM / rng.chisquare(_PROPOSAL_FREEDOM, size=n))
    return np.asarray(mean + (normal * stretch[:, None]) @ root.T)


def _t_log_density(
    x: NDArray[np.float64], mean: NDArray[np.float64], root: NDArray[np.float64]
) -> NDArray[np.float64]:
    d = mean.size
    if d == 0:
        return np.zeros(x.shape[0])
    y = np.linalg.solve(root, (x - mean).T)
    freedom = _PROPOSAL_FREEDOM
    constant = (
        gammaln((freedom + d) / 2)
        - gammaln(freedom / 2)
        - 0.5 * d * np.log(freedom * np.pi)
        - np.linalg.slogdet(root)[1]
    )
    return np.asarray(constant - 0.5 * (freedom + d) * np.log1p(np.sum(y**2, axis=0) / freedom))
