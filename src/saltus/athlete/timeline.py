"""The jump and the qualities date by date, and the tests as jumps of one kind.

A test with arms or a run-up, or by a method that reads high, is told here as the
countermovement jump without arms that it speaks of, so that all of them share one scale.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from math import exp
from typing import Any

import numpy as np

from saltus.athlete.assess import quality_draws
from saltus.athlete.posterior import Posterior
from saltus.athlete.prediction import jump_height_m
from saltus.athlete.prior import BIAS, Constant
from saltus.athlete.pushoff import Start
from saltus.athlete.qualities import Quality
from saltus.athlete.readings import Reading, ReadingKind
from saltus.quantities import Estimate

__all__ = ["Moment", "TestedJump", "jumps_tested", "moments", "timeline_document"]

_DRAWS = 500
_METHODS = {constant: method.value for method, constant in BIAS.items()} | {
    Constant.BIAS_BROAD: "broad_jump"
}


@dataclass(frozen=True, slots=True)
class Moment:
    """What is known today of one date of the past.

    Parameters
    ----------
    date : date
        The day.
    jump_m : Estimate
        Countermovement jump without arms, m.
    qualities : mapping of Quality to Estimate
        In the units of :data:`saltus.athlete.qualities.UNITS`.
    """

    date: dt.date
    jump_m: Estimate
    qualities: Mapping[Quality, Estimate]


@dataclass(frozen=True, slots=True)
class TestedJump:
    """A jump test as the countermovement jump without arms that it speaks of.

    Parameters
    ----------
    date : date
        The day.
    method : str
        How it was measured: a :class:`~saltus.athlete.observations.JumpMethod`, or
        "broad_jump".
    source : str
        Which test, in words.
    read_m : float
        As it was read, m.
    jump_m : Estimate
        Less the method's bias, and without what arms and run-up gave, m; the interval is that
        of the test's own error.
    believed : float
        Weight that the fit gave it: about 1 for one that fits, near 0 for an outlying one.
    """

    __test__ = False

    date: dt.date
    method: str
    source: str
    read_m: float
    jump_m: Estimate
    believed: float


def moments(posterior: Posterior) -> tuple[Moment, ...]:
    """Jump and qualities at every date of a posterior, in order.

    Dates are joined by nothing but the eye: between two tests less is known than at either.
    """
    chosen = posterior.resampled(_DRAWS)
    person, dates = posterior.problem.person, posterior.dates
    mass = np.array([person.mass_kg(date) for date in dates])
    states = posterior.states[chosen]
    segment = np.repeat(posterior.segment_m[chosen][:, None], len(dates), axis=1)
    heights = jump_height_m(Start.COUNTERMOVEMENT, states, segment, mass[None, :])
    found = []
    for i, date in enumerate(dates):
        draws = quality_draws(posterior, i)
        qualities = {q: Estimate.of_sample(d, posterior.weights) for q, d in draws.items()}
        found.append(Moment(date, Estimate.of_sample(heights[:, i]), qualities))
    return tuple(found)


def jumps_tested(posterior: Posterior) -> tuple[TestedJump, ...]:
    """Jumps without load that were tested, each as a countermovement jump without arms.

    Squat jumps are left out: they speak of another jump.
    """
    constants = np.average(posterior.constants, axis=0, weights=posterior.weights)
    return tuple(
        _told(reading, float(weight), constants)
        for reading, weight in zip(
            posterior.problem.readings, posterior.reading_weights, strict=True
        )
        if reading.kind is ReadingKind.COUNTERMOVEMENT_JUMP and reading.load_kg == 0
    )


def _told(reading: Reading, weight: float, constants: np.ndarray) -> TestedJump:
    gain = exp(sum(float(constants[term]) for term in reading.log_terms))
    bias = reading.shift + sum(float(constants[term]) for term in reading.add_terms)
    return TestedJump(
        date=reading.date,
        method=_METHODS[reading.add_terms[0]],
        source=reading.source,
        read_m=reading.value,
        jump_m=Estimate.normal((reading.value - bias) / gain, reading.sd / gain),
        believed=weight,
    )


def timeline_document(posterior: Posterior) -> dict[str, list[dict[str, Any]]]:
    """Give :func:`moments` and :func:`jumps_tested` as JSON, SI units, every interval 80 %.

    Returns
    -------
    dict
        ``moments`` and ``tests``.
    """
    return {
        "moments": [
            {
                "date": moment.date.isoformat(),
                "jump": _ends(moment.jump_m),
                "qualities": {q.value: _ends(e) for q, e in moment.qualities.items()},
            }
            for moment in moments(posterior)
        ],
        "tests": [
            {
                "date": test.date.isoformat(),
                "method": test.method,
                "source": test.source,
                "read_m": _short(test.read_m),
                **_ends(test.jump_m),
                "believed": _short(test.believed),
            }
            for test in jumps_tested(posterior)
        ],
    }


def _ends(estimate: Estimate) -> dict[str, float]:
    return {
        "estimate": _short(estimate.value),
        "low": _short(estimate.low),
        "high": _short(estimate.high),
    }


def _short(number: float) -> float:
    """Five digits: finer than any error here, and short to keep."""
    return float(f"{number:.5g}")
