"""Which tests a figure comes from, and how much each of them narrows it.

At the mode the tests inform the unknowns like straight lines with normal errors: the rows
``a_i`` of the Jacobian in units of error, reweighted so that an outlying reading counts for
little. The figure and the readings are then jointly normal, and what the readings say of the
figure is their mutual information, half the logarithm of the variance before over that
after. By the chain rule it falls into one part for each reading, in the order in which they
are heard; two squats tell little more than one, and whichever is heard first would get the
credit. The share told here is the mean over the orders (Shapley 1953, Contributions to the
Theory of Games 2:307-317): never negative, and adding up to one. How much wider the interval
would be without a reading is told beside it (Sherman & Morrison 1950, Ann Math Stat
21:124-127).
"""

import itertools
import math
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from saltus.athlete.posterior import Posterior
from saltus.athlete.postures import (
    bottom_force_n_kg,
    bottom_force_rate_n_s_kg,
    extension_speed_m_s,
)
from saltus.athlete.prediction import jump_height_m
from saltus.athlete.prior import N_STATE, RESPONSE, Constant, State
from saltus.athlete.pushoff import Start
from saltus.athlete.qualities import TRAINABLE, Quality
from saltus.athlete.readings import READING_UNITS, Reading
from saltus.athlete.response import block_effect

__all__ = ["FIGURES", "JUMP", "WORTH", "Part", "Provenance", "provenance", "provenance_document"]

JUMP = "jump"
"""The countermovement jump without arms."""

WORTH = "worth_"
"""Before a quality: what one ordinary block on it would bring."""

FIGURES: tuple[str, ...] = (
    JUMP,
    *(quality.value for quality in Quality),
    *(f"{WORTH}{quality.value}" for quality in TRAINABLE),
)
"""The figures whose provenance is told."""

_STEP = 1e-4
_ALL_BUT_NOTHING = 1e-9
_LEAST_SHARE = 0.001
_LEAST_GAIN_M = 1e-6
_CONSTANTS = [Constant.SEGMENT, *(RESPONSE[quality] for quality in TRAINABLE)]
_MOST_ORDERS = 120
_SEED = 19530301


@dataclass(frozen=True, slots=True)
class Part:
    """What one reading has to do with a figure.

    Parameters
    ----------
    reading : Reading
        Value, error and which test it came from.
    weight : float
        At the mode: 1 or more for one that fits, near 0 for one that cannot be believed.
    share : float
        Its share of what the tests say of the figure, 0 to 1.
    narrows : float
        How much wider the interval would be without it: 0.2 is a fifth.
    """

    reading: Reading
    weight: float
    share: float
    narrows: float


@dataclass(frozen=True, slots=True)
class Provenance:
    """Where a figure comes from.

    Parameters
    ----------
    figure : str
        One of :data:`FIGURES`.
    bits : float
        What all the tests together say of the figure.
    narrowed : float
        Width of the interval over what it would be without any test.
    parts : tuple of Part
        The most telling first.
    """

    figure: str
    bits: float
    narrowed: float
    parts: tuple[Part, ...]


def provenance(posterior: Posterior) -> tuple[Provenance, ...]:
    """Where the jump, each quality and each worth on the last date come from.

    Parameters
    ----------
    posterior : Posterior
        Of one athlete.

    Returns
    -------
    tuple of Provenance
        In the order of :data:`FIGURES`.
    """
    problem, mode = posterior.problem, posterior.mode
    if problem.readings:
        weights, rows = problem.weighed(*problem.linearised(mode))
    else:
        weights, rows = np.empty(0), np.empty((0, mode.size))
    slopes = _slopes(posterior)
    precision = np.eye(mode.size) + rows.T @ rows
    towards = np.linalg.solve(precision, slopes.T).T  # P^-1 g of each figure, (figures, size)
    leverage = np.sum(rows * np.linalg.solve(precision, rows.T).T, axis=1)
    before, after = np.sum(slopes**2, axis=1), np.sum(slopes * towards, axis=1)
    shares = _shares(rows @ rows.T, rows @ slopes.T, before)
    found = []
    for k, figure in enumerate(FIGURES):
        # Without reading i the variance is g'P^-1 g + (a_i'P^-1 g)^2 / (1 - a_i'P^-1 a_i).
        pull = (rows @ towards[k]) ** 2 / after[k]
        wider = np.sqrt(1 + pull / np.maximum(1 - leverage, _ALL_BUT_NOTHING)) - 1
        parts = [
            Part(reading, float(weight), float(share), float(narrows))
            for reading, weight, share, narrows in zip(
                problem.readings, weights, shares[k], wider, strict=True
            )
        ]
        found.append(
            Provenance(
                figure=figure,
                bits=float(0.5 * np.log2(before[k] / after[k])),
                narrowed=float(np.sqrt(after[k] / before[k])),
                parts=tuple(sorted(parts, key=lambda part: -part.share)),
            )
        )
    return tuple(found)


def _shares(
    between: NDArray[np.float64], with_figures: NDArray[np.float64], before: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Share of each reading in what all of them say of each figure, shape (figures, m).

    Parameters
    ----------
    between : ndarray, shape (m, m)
        Covariance of the readings as predicted before any test, in units of their errors.
    with_figures : ndarray, shape (m, figures)
        Their covariance with the figures.
    before : ndarray, shape (figures,)
        Variance of the figures before any test.
    """
    m, figures = with_figures.shape
    covariance = between + np.eye(m)
    total = np.zeros((m, figures))
    for order in _orders(m):
        root = np.linalg.cholesky(covariance[np.ix_(order, order)])
        heard = np.cumsum(np.linalg.solve(root, with_figures[order]) ** 2, axis=0)
        left = np.vstack([before, np.maximum(before - heard, _ALL_BUT_NOTHING * before)])
        total[order] += np.log(left[:-1] / left[1:])
    whole = total.sum(axis=0)
    return np.asarray((total / np.where(whole > 0, whole, 1.0)).T)


def _orders(m: int) -> list[NDArray[np.int64]]:
    """Every order of a few readings; of many, a sample, each with its reverse."""
    if math.factorial(min(m, _MOST_ORDERS)) <= _MOST_ORDERS:
        return [np.array(order, dtype=int) for order in itertools.permutations(range(m))]
    rng = np.random.default_rng(_SEED)
    sampled = [rng.permutation(m) for _ in range(_MOST_ORDERS // 2)]
    return [each for order in sampled for each in (order, order[::-1])]


def _slopes(posterior: Posterior) -> NDArray[np.float64]:
    """Slope of the logarithm of each figure along the unknowns, shape (figures, size)."""
    problem, mode = posterior.problem, posterior.mode
    trajectory = problem.trajectory
    shifted = np.vstack([mode, mode + _STEP * np.eye(mode.size)])
    at = trajectory.constants(shifted)[:, _CONSTANTS]
    told = np.column_stack([trajectory.states(shifted)[:, -1], at])
    moved = (told[1:] - told[0]) / _STEP  # (size, 10)
    probes = np.vstack([told[0], told[0] + _STEP * np.eye(told.shape[1])])
    mass = problem.person.mass_kg(posterior.dates[-1])
    figures = _logarithms(probes, mass, problem.prior.training_years)
    along = (figures[1:] - figures[0]) / _STEP  # (10, figures)
    return np.asarray((moved @ along).T)


def _logarithms(
    told: NDArray[np.float64], mass_kg: float, training_years: float
) -> NDArray[np.float64]:
    """Logarithms of the figures, (n, figures), of log-qualities and constants, (n, 10)."""
    state, segment = told[:, :N_STATE], np.exp(told[:, N_STATE])
    natural = np.exp(state)
    distance = natural[:, State.DISTANCE]
    jump = jump_height_m(Start.COUNTERMOVEMENT, state, segment, mass_kg)
    figures: dict[str, NDArray[np.float64]] = {
        JUMP: jump,
        Quality.MAX_STRENGTH: bottom_force_n_kg(natural[:, State.TORQUE], segment, distance),
        Quality.RATE_OF_FORCE_DEVELOPMENT: bottom_force_rate_n_s_kg(
            natural[:, State.RATE], segment, distance
        ),
        Quality.PUSH_OFF_SPEED: extension_speed_m_s(natural[:, State.SPEED], segment, distance),
        Quality.STRETCH_SHORTENING_GAIN: natural[:, State.STRETCH],
        Quality.PUSH_OFF_DISTANCE: distance,
    }
    for i, quality in enumerate(TRAINABLE):
        response = np.exp(told[:, N_STATE + 1 + i])
        effect = block_effect(
            state, segment, quality, response=response, training_years=training_years
        )
        after = jump_height_m(Start.COUNTERMOVEMENT, state + effect, segment, mass_kg)
        figures[f"{WORTH}{quality.value}"] = np.maximum(after - jump, _LEAST_GAIN_M)
    in_order = np.column_stack([figures[name] for name in FIGURES])
    return np.asarray(np.log(in_order))


def provenance_document(posterior: Posterior) -> dict[str, Any]:
    """Give :func:`provenance` as JSON, SI units.

    Returns
    -------
    dict
        ``readings``: each once, in order of date. ``figures``: for each of :data:`FIGURES` how
        it was narrowed, and the parts, each with the place of its reading; those of a share
        below a thousandth are left out.
    """
    readings = posterior.problem.readings
    place = {id(reading): i for i, reading in enumerate(readings)}
    return {
        "readings": [
            {
                "date": reading.date.isoformat(),
                "source": reading.source,
                "kind": reading.kind.value,
                "unit": READING_UNITS[reading.kind],
                "value": _short(reading.value),
                "sd": _short(reading.sd * reading.value if reading.is_log else reading.sd),
                "weight": _short(float(weight)),
            }
            for reading, weight in zip(readings, posterior.reading_weights, strict=True)
        ],
        "figures": {
            each.figure: {
                "bits": _short(each.bits),
                "narrowed": _short(each.narrowed),
                "parts": [
                    {
                        "reading": place[id(part.reading)],
                        "share": _short(part.share),
                        "narrows": _short(part.narrows),
                    }
                    for part in each.parts
                    if part.share >= _LEAST_SHARE
                ],
            }
            for each in provenance(posterior)
        },
    }


def _short(number: float) -> float:
    return float(f"{number:.4g}")
