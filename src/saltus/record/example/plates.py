"""Recordings of an invented athlete on one or two force plates."""

import math

import numpy as np
from numpy.typing import NDArray

from saltus.athlete.measurement_error import true_drop
from saltus.athlete.pushoff import Start
from saltus.athlete.pushoff_trace import trace
from saltus.record.entries import RecordedTest
from saltus.record.example.truth import Athlete
from saltus.recordings.recording import Recording

__all__ = ["record_test"]

_STARTS = {
    "countermovement_jump": Start.COUNTERMOVEMENT,
    "squat_jump": Start.SQUAT,
    "drop_jump": Start.DROP,
}
_NOISE_N = 1.3
"""Of each plate (ordinary plates: 1 to 2 N, common practice)."""
_STEP_N = 0.1
"""Steps in which the plate's numbers come."""
_BREATH_N, _BREATH_HZ = 0.5, 0.25
_SWAY, _SWAY_HZ = 0.012, (0.11, 0.31)
_DAY_SD, _ATTEMPT_SD = 0.015, 0.02
"""Form, as a share of torque and of its rate; each share moves the height by about one."""
_BENT_M = 0.14
"""How much lower than at take-off somebody lands who bends the knees early."""

Floats = NDArray[np.float64]


def record_test(
    test: RecordedTest,
    athlete: Athlete,
    attempts: int,
    rng: np.random.Generator,
    *,
    rate_hz: float,
    plates: int,
    bent_landing: int | None = None,
) -> Recording:
    """Record the attempts of one test, one after the other.

    Parameters
    ----------
    test : RecordedTest
        What was done, with which load, from which box.
    athlete : Athlete
        Who.
    attempts : int
        How many jumps or pulls.
    rng : Generator
        Of form and noise.
    rate_hz : float
        Sampling rate, Hz.
    plates : int
        1 for the total only, 2 for one under each foot.
    bent_landing : int or None
        Number of the attempt, from 0, that ends on bent knees.

    Returns
    -------
    Recording
        In steps of 0.1 N, as a plate gives them.
    """
    day = 1 + _DAY_SD * rng.standard_normal()
    parts = []
    for attempt in range(attempts):
        form = float(day + _ATTEMPT_SD * rng.standard_normal())
        if test.jump == "isometric_pull":
            parts.append(_pull(athlete, test, form, rate_hz, rng))
        else:
            bend = _BENT_M if attempt == bent_landing else athlete.truth.landing_bend_m
            parts.append(_jump(athlete, test, form, rate_hz, rng, bend))
    force = np.concatenate(parts)
    time = np.arange(force.size) / rate_hz
    on = force > 0
    force = force + on * _BREATH_N * np.sin(2 * math.pi * _BREATH_HZ * time)
    if plates == 1:
        total = _stepped(force + _NOISE_N * rng.standard_normal(force.size))
        return Recording(rate_hz, total)
    share = athlete.truth.left_share + _sway(time, rng)
    left = _stepped(force * share + _NOISE_N * rng.standard_normal(force.size))
    right = _stepped(force * (1 - share) + _NOISE_N * rng.standard_normal(force.size))
    return Recording(rate_hz, left + right, left, right)


def _stepped(force: Floats) -> Floats:
    return np.asarray(np.round(force / _STEP_N) * _STEP_N)


def _sway(time: Floats, rng: np.random.Generator) -> Floats:
    """How the weight wanders from foot to foot, as a share."""
    phases = rng.uniform(0, 2 * math.pi, len(_SWAY_HZ))
    waves = [
        np.sin(2 * math.pi * hz * time + phase) for hz, phase in zip(_SWAY_HZ, phases, strict=True)
    ]
    return np.asarray(_SWAY * np.mean(waves, axis=0))


def _jump(
    athlete: Athlete,
    test: RecordedTest,
    form: float,
    rate_hz: float,
    rng: np.random.Generator,
    bend_m: float,
) -> Floats:
    start = _STARTS[str(test.jump)]
    qualities = athlete.qualities(test.date)
    qualities["torque_nm"] *= form
    qualities["rfd_nm_s"] *= form
    drop = true_drop(test.box_m)[0] if test.box_m else 0.0
    jump = trace(
        start,
        **qualities,
        load_kg=test.load_kg,
        drop_m=drop,
        rate_hz=rate_hz,
        quiet_before_s=float(rng.uniform(1.6, 2.4)),
        after_s=2.5,
        landing_bend_m=bend_m,
    )
    force = jump.force_n
    if start is Start.DROP:
        force = np.concatenate([force, _stepping_off(jump.weight_n, rate_hz)])
    return force


def _stepping_off(weight_n: float, rate_hz: float) -> Floats:
    """Going from standing to nobody on the plate, and a second of that."""
    s = np.linspace(0, 1, int(0.5 * rate_hz))
    return np.concatenate(
        [weight_n * (1 - s**3 * (10 - 15 * s + 6 * s**2)), np.zeros(int(rate_hz))]
    )


def _pull(
    athlete: Athlete, test: RecordedTest, form: float, rate_hz: float, rng: np.random.Generator
) -> Floats:
    """Standing on the plate, a pull of three seconds, letting go, standing again."""
    weight = athlete.qualities(test.date)["mass_kg"] * 9.80665
    quiet = np.full(int(rng.uniform(2.2, 3.0) * rate_hz), weight)
    time = np.arange(int(3.0 * rate_hz)) / rate_hz
    state = athlete.state(test.date)
    torque, rate = np.exp(state[0]), np.exp(state[2])
    peak = form * athlete.pull_n(test.date)
    rise = peak + (weight - peak) * np.exp(-rate / torque * time)
    tired = 1 - 0.015 * time  # a held pull sinks a little
    s = np.linspace(0, 1, int(0.4 * rate_hz))
    release = rise[-1] * tired[-1] + (weight - rise[-1] * tired[-1]) * s**2 * (3 - 2 * s)
    after = np.full(int(1.5 * rate_hz), weight)
    return np.concatenate([quiet, weight + (rise - weight) * tired, release, after])
