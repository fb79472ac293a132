"""All tests on all dates, one posterior.

The mode comes from Gauss-Newton on the independent unknowns of
:class:`~saltus.athlete.trajectory.Trajectory`, with Student-t errors, so that an outlying
test loses its weight; the Laplace approximation there is the proposal of an importance
sampler. Where it fits badly, as it does when many tests narrow what they weigh against each
other, the sample comes instead from Hamiltonian chains on a
:class:`~saltus.athlete.surrogate.Surrogate`. Either way the model itself weights every
draw, and all figures are read off the weighted sample.

References
----------
Tierney & Kadane 1986, J Am Stat Assoc 81:82-86 (Laplace); Lange, Little & Taylor 1989,
J Am Stat Assoc 84:881-896 (t errors by reweighting); Christen & Fox 2005, J Comput Graph
Stat 14:795-810 (sampling with an approximation of an expensive model, put right by it).
"""

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.special import logsumexp

from saltus.athlete.hamiltonian import hamiltonian_turns
from saltus.athlete.history import TrainingBlock
from saltus.athlete.observations import Observation
from saltus.athlete.person import Person
from saltus.athlete.prediction import Predictor
from saltus.athlete.prior import N_STATE, Constant, Prior, prior_for
from saltus.athlete.readings import Reading, readings_of
from saltus.athlete.surrogate import Surrogate
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
_TRIED = 300
_GOOD_SHARE = 0.25
_POOR_SHARE = 0.1
_SETTLING, _KEPT = 8, 10
# Turns of each chain before its first draw, and the most draws of each.
_FEWEST_CHAINS = 150  # the scale of the chains is told from where all of them are
_SEED = 20110801
_LARGE = 4_000_000
# Numbers: just under the 32 MiB up to which the threshold follows.


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

    def raw(self, unknowns: NDArray[np.float64]) -> NDArray[np.float64]:
        """Simulated readings before the constants of the methods, shape (n, m).

        For `unknowns` of shape (n, size); readings in m, s, kg or N.
        """
        return self.raw_later(unknowns)()

    def raw_later(self, unknowns: NDArray[np.float64]) -> Callable[[], NDArray[np.float64]]:
        """Begin what :meth:`raw` does; the callable waits for it, and gives the readings."""
        states = self.trajectory.states(unknowns)[:, self.predictor.date_index]
        segment = np.exp(self.trajectory.constants(unknowns)[:, Constant.SEGMENT])
        return self.predictor.raw_later(states, segment)

    def predict(
        self, unknowns: NDArray[np.float64], raw: NDArray[np.float64] | None = None
    ) -> NDArray[np.float64]:
        """What the readings should be, shape (n, m), for unknowns of shape (n, size).

        `raw` is that of :meth:`raw`, if it is known already.
        """
        raw = self.raw(unknowns) if raw is None else raw
        return self.predictor.finish(raw, self.trajectory.constants(unknowns))

    def residuals(self, predicted: NDArray[np.float64]) -> NDArray[np.float64]:
        """Reading less prediction, in scales of the t error, shape of `predicted`."""
        return np.asarray((self.predictor.value - predicted) / (self.predictor.sd * _SCALE))

    def log_density(
        self, unknowns: NDArray[np.float64], raw: NDArray[np.float64] | None = None
    ) -> NDArray[np.float64]:
        """Unnormalised log posterior, shape (n,), of unknowns of shape (n, size).

        `raw` is that of :meth:`raw`, if it is known already.
        """
        loss = _t_loss(self.residuals(self.predict(unknowns, raw))).sum(axis=1)
        return np.asarray(-0.5 * np.sum(unknowns**2, axis=1) - loss)

    def log_density_near(
        self, surrogate: Surrogate, unknowns: NDArray[np.float64]
    ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """The same by a surrogate, shape (n,), with its slope in `unknowns`, shape (n, size)."""
        predicted, pulled_back = surrogate.predict(unknowns)
        residuals = self.residuals(predicted)
        loss = _t_loss(residuals).sum(axis=1)
        towards = _t_weights(residuals) * residuals / (self.predictor.sd * _SCALE)
        density = -0.5 * np.sum(unknowns**2, axis=1) - loss
        return np.asarray(density), pulled_back(towards) - unknowns

    def linearised(
        self, unknowns: NDArray[np.float64]
    ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Predictions (m,) and their Jacobian (m, size) at `unknowns` of shape (size,)."""
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

        `predicted` and `jacobian` are what :meth:`linearised` gives; an outlying reading's row
        is as small as its weight.
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
        How many independent draws the n are worth: Kish's for the weights, and less where
        chains remember, by the quality on the last date that they remember longest.
    refined : bool
        Whether the normal approximation was too rough and chains were run.
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
    unknowns, log_weights, refined = _sample(problem, mode, scaled, draws, rng)
    share = np.exp(log_weights - logsumexp(log_weights))
    states = problem.trajectory.states(unknowns)
    memory = _memory(states[:, -1]) if refined else 1.0
    return Posterior(
        problem=problem,
        states=states,
        constants=problem.trajectory.constants(unknowns),
        weights=share,
        mode=mode,
        reading_weights=weights,
        effective_sample_size=float(1 / np.sum(share**2)) / memory,
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


class _Proposal:
    """A multivariate t in the directions that the readings inform, the prior in all others.

    Parameters
    ----------
    mode : ndarray, shape (size,)
        Its centre. Directions that are hardly informed have theirs all but at zero.
    scaled : ndarray, shape (m, size)
        Jacobian of the readings there, from :meth:`Problem.weighed`.
    """

    def __init__(self, mode: NDArray[np.float64], scaled: NDArray[np.float64]):
        _, singular, rows = np.linalg.svd(scaled, full_matrices=True)
        information = np.zeros(mode.size)
        information[: singular.size] = _PROPOSAL_INFORMATION * singular**2
        informed = information > _INFORMED
        self._basis, self._rest = rows[informed], rows[~informed]
        self._centre = self._basis @ mode
        self._sd = 1 / np.sqrt(1 + information[informed])

    def draw(self, n: int, rng: np.random.Generator) -> NDArray[np.float64]:
        """Unknowns, shape (n, size)."""
        normal = rng.standard_normal((n, self._sd.size))
        stretch = np.sqrt(_PROPOSAL_FREEDOM / rng.chisquare(_PROPOSAL_FREEDOM, size=n))
        inner = self._centre + normal * stretch[:, None] * self._sd
        outer = rng.standard_normal((n, self._rest.shape[0]))
        return np.asarray(inner @ self._basis + outer @ self._rest)

    def log_density(self, unknowns: NDArray[np.float64]) -> NDArray[np.float64]:
        """Log density but for a constant, shape (n,)."""
        freedom = _PROPOSAL_FREEDOM
        inner = np.sum(((unknowns @ self._basis.T - self._centre) / self._sd) ** 2, axis=1)
        outer = np.sum((unknowns @ self._rest.T) ** 2, axis=1)
        spread = -0.5 * (freedom + self._sd.size) * np.log1p(inner / freedom)
        return np.asarray(spread - 0.5 * outer)


def _sample(
    problem: Problem,
    mode: NDArray[np.float64],
    scaled: NDArray[np.float64],
    draws: int,
    rng: np.random.Generator,
) -> tuple[NDArray[np.float64], NDArray[np.float64], bool]:
    """Draws (draws, size), their log weights, and whether it took chains."""
    proposal = _Proposal(mode, scaled)
    proposed = proposal.draw(max(draws, _TRIED), rng)
    tried = proposed[:_TRIED]
    raw = problem.raw(tried)
    log_weights = problem.log_density(tried, raw) - proposal.log_density(tried)
    if _effective(log_weights) >= _GOOD_SHARE * _TRIED:
        rest = proposed[_TRIED:]
        more = problem.log_density(rest) - proposal.log_density(rest)
        return proposed[:draws], _truncated(np.concatenate([log_weights, more])[:draws]), False
    lower = np.linalg.cholesky(np.eye(mode.size) + scaled.T @ scaled)
    turn = np.linalg.inv(lower)  # from unknowns to nearly independent standard normals
    for _ in range(2):
        surrogate = Surrogate(problem.trajectory, problem.predictor, tried, raw)
        unknowns, density, simulated = _chains(problem, surrogate, mode, turn, draws, rng)
        log_weights = _truncated(problem.log_density(unknowns, simulated) - density)
        if _effective(log_weights) >= _POOR_SHARE * draws:
            break
        # The cubics were fitted off the mark: once more, where the chains have been.
        tried, raw = np.vstack([tried, unknowns]), np.vstack([raw, simulated])
    return unknowns, log_weights, True


def _chains(
    problem: Problem,
    surrogate: Surrogate,
    mode: NDArray[np.float64],
    turn: NDArray[np.float64],
    draws: int,
    rng: np.random.Generator,
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Unknowns (draws, size) from the surrogate's posterior, its log density, and the readings.

    The readings are simulated while the chains go on.
    """

    def density(points: NDArray[np.float64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        value, slope = problem.log_density_near(surrogate, mode + points @ turn)
        return value, slope @ turn.T

    # A large block, got and let go, has the C library keep what the next turns need, in place of
    # giving it back and asking for it page by page (mallopt(3), on the dynamic threshold).
    np.empty(_LARGE)
    chains = _number_of_chains(draws)
    start = rng.standard_normal((chains, mode.size))
    unknowns, densities, simulated = [], [], []
    for points, densities_there in hamiltonian_turns(
        density, start, rng, settling=_SETTLING, kept=-(-draws // chains)
    ):
        unknowns.append(mode + points @ turn)
        densities.append(densities_there)
        simulated.append(problem.raw_later(unknowns[-1]))
    raw = np.concatenate([readings() for readings in simulated])
    return np.concatenate(unknowns)[:draws], np.concatenate(densities)[:draws], raw[:draws]


def _number_of_chains(draws: int) -> int:
    return max(-(-draws // _KEPT), _FEWEST_CHAINS)


def _memory(draws: NDArray[np.float64]) -> float:
    """How many draws of a chain are worth one, for the slowest column of shape (n, d).

    The variance of the means of the chains, over what it would be if they forgot at once;
    draws come turn by turn, one of every chain (Vats, Flegal & Jones 2019, Biometrika
    106:321-337, on batch means).
    """
    chains = _number_of_chains(draws.shape[0])
    turns = draws.shape[0] // chains
    if turns < 2:
        return 1.0
    by_turn = draws[: turns * chains].reshape(turns, chains, -1)
    means = by_turn.mean(axis=0).var(axis=0, ddof=1)
    ratio = turns * means / by_turn.var(axis=(0, 1))
    return float(max(1.0, np.max(ratio)))


def _truncated(log_weights: NDArray[np.float64]) -> NDArray[np.float64]:
    """Weights of which no single one rules (Ionides 2008, J Comput Graph Stat 17:295-311)."""
    normalised = log_weights - logsumexp(log_weights)
    return np.asarray(np.minimum(normalised, -0.5 * np.log(log_weights.size)))


def _effective(log_weights: NDArray[np.float64]) -> float:
    return float(np.exp(2 * logsumexp(log_weights) - logsumexp(2 * log_weights)))
