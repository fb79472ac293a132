"""Which test to do next: the expected information about which quality is limiting.

For each test that the equipment and the athlete allow, outcomes are drawn from the
posterior, and the remaining uncertainty about the limiting quality is averaged over them
(the mutual information between the outcome and the limiting quality; Lindley 1956, Ann
Math Stat 27:986-1005).
"""

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from saltus.athlete.assessment import NextTest
from saltus.athlete.health import Pain, PainBand, Restriction, pain_band
from saltus.athlete.observations import (
    BarSpeedSet,
    BroadJump,
    DropJump,
    IsometricPull,
    Jump,
    JumpMethod,
    JumpStyle,
    Lift,
    Maximum,
    Observation,
    RepSet,
)
from saltus.athlete.person import Person, TestingTool
from saltus.athlete.posterior import Posterior
from saltus.athlete.prediction import Predictor
from saltus.athlete.prior import Constant
from saltus.athlete.qualities import TRAINABLE, WORDS
from saltus.athlete.readings import Reading, ReadingKind, readings_of
from saltus.athlete.worth import Gains

__all__ = ["CANDIDATES", "Candidate", "next_tests"]

_DRAWS = 800
_SEED = 19560927
_RECENT_PAIN_DAYS = 28
_NOVICE_YEARS = 1.0
_TAPE_DISTANCE_SD_LOG = 0.04


@dataclass(frozen=True, slots=True)
class Candidate:
    """A test that could be done.

    Parameters
    ----------
    test, title : str
        Identifier, and what a coach calls it.
    tools : frozenset of TestingTool
        All that it takes.
    minutes : float
        For one athlete, its own warm-up included, min (common practice).
    risk : str
        "low", "moderate" or "high".
    shows : str
        What it looks at, to go into a sentence.
    make : callable
        Gives the observations that the test would bring, with ordinary values; they serve
        for the errors only.
    landings : bool
        Whether it is refused to someone in pain.
    maximal_strength : bool
        Whether it is refused to novices and minors.
    """

    test: str
    title: str
    tools: frozenset[TestingTool]
    minutes: float
    risk: str
    shows: str
    make: Callable[[dt.date, float], tuple[Observation, ...]]
    landings: bool = True
    maximal_strength: bool = False


def _jump(
    style: JumpStyle,
    method: JumpMethod,
    *,
    loads: Sequence[float] = (0.0,),
    height_m: float = 0.33,
    arms: bool = False,
) -> Callable[[dt.date, float], tuple[Observation, ...]]:
    def make(on: dt.date, mass_kg: float) -> tuple[Observation, ...]:
        return tuple(
            Jump(
                date=on,
                style=style,
                method=method,
                heights_m=(height_m / (1 + share),) * 3,
                arms=arms,
                load_kg=share * mass_kg,
                frame_rate_hz=240.0 if method is JumpMethod.FILM else None,
            )
            for share in loads
        )

    return make


def _drops(method: JumpMethod) -> Callable[[dt.date, float], tuple[Observation, ...]]:
    def make(on: dt.date, mass_kg: float) -> tuple[Observation, ...]:
        del mass_kg
        contact = () if method is JumpMethod.FILM else (0.21,) * 3
        return tuple(
            DropJump(date=on, drop_m=box, heights_m=(0.25,) * 3, contacts_s=contact, method=method)
            for box in (0.20, 0.40)
        )

    return make


_T = TestingTool
_METHODS = (
    (_T.FORCE_PLATE, JumpMethod.PLATE_IMPULSE, "on the force plate"),
    (_T.MAT, JumpMethod.MAT, "on the mat"),
    (_T.PHONE, JumpMethod.FILM, "filmed at 240 frames a second"),
)
"""Ways to measure a height, the best first: only the best at hand is offered."""


def _measured(tool: TestingTool, method: JumpMethod, how: str) -> tuple[Candidate, ...]:
    return (
        Candidate(
            f"countermovement_jump_{method.value}",
            f"countermovement jumps, hands on the hips, {how}",
            frozenset({tool}),
            6,
            "low",
            "shows the jump itself without the arms",
            _jump(JumpStyle.COUNTERMOVEMENT, method),
        ),
        Candidate(
            f"squat_jump_{method.value}",
            f"squat jumps from a held squat {how}",
            frozenset({tool}),
            8,
            "low",
            "takes away the stretch before the push, so that slow force shows",
            _jump(JumpStyle.SQUAT, method, height_m=0.30),
        ),
        Candidate(
            f"loaded_squat_jumps_{method.value}",
            f"squat jumps with a bar of a quarter and half of body mass {how}",
            frozenset({tool, _T.BARBELL}),
            20,
            "moderate",
            "shows how quickly the jump falls with load",
            _jump(JumpStyle.SQUAT, method, loads=(0.25, 0.5), height_m=0.30),
            maximal_strength=True,
        ),
        Candidate(
            f"drop_jumps_{method.value}",
            f"drop jumps from about 20 and 40 cm {how}",
            frozenset({tool, _T.BOXES}),
            15,
            "high",
            "shows what the legs do with a fast stretch",
            _drops(method),
            maximal_strength=True,
        ),
    )


CANDIDATES: tuple[Candidate, ...] = (
    *(c for tool, method, how in _METHODS for c in _measured(tool, method, how)),
    Candidate(
        "jump_and_reach",
        "jump and reach with the tape on a wall",
        frozenset({_T.TAPE}),
        6,
        "low",
        "shows the whole jump with the arms",
        _jump(JumpStyle.COUNTERMOVEMENT, JumpMethod.REACH, arms=True, height_m=0.45),
    ),
    Candidate(
        "broad_jump",
        "standing broad jumps with the tape",
        frozenset({_T.TAPE}),
        6,
        "low",
        "shows the legs' power by another route",
        lambda on, _: (BroadJump(date=on, distances_m=(2.1, 2.1, 2.1)),),
    ),
    Candidate(
        "squat_maximum",
        "a one-repetition maximum in the squat",
        frozenset({_T.BARBELL}),
        35,
        "high",
        "shows max strength alone",
        lambda on, _: (Maximum(date=on, lift=Lift.BACK_SQUAT, load_kg=100.0),),
        landings=False,
        maximal_strength=True,
    ),
    Candidate(
        "squat_five",
        "a heavy set of five squats with one or two left in reserve",
        frozenset({_T.BARBELL}),
        20,
        "moderate",
        "shows max strength without a maximal attempt",
        lambda on, _: (RepSet(date=on, lift=Lift.BACK_SQUAT, load_kg=85.0, reps=5, reserve=1.5),),
        landings=False,
    ),
    Candidate(
        "squat_bar_speed",
        "four squat loads up to about 80 % with the bar-speed sensor",
        frozenset({_T.BARBELL, _T.BAR_SENSOR}),
        20,
        "moderate",
        "shows max strength without a maximal attempt",
        lambda on, _: (
            BarSpeedSet(
                date=on,
                lift=Lift.BACK_SQUAT,
                loads_kg=(40.0, 55.0, 70.0, 80.0),
                speeds_m_s=(1.05, 0.86, 0.68, 0.56),
            ),
        ),
        landings=False,
    ),
    Candidate(
        "isometric_pull",
        "an isometric mid-thigh pull on the force plate",
        frozenset({_T.FORCE_PLATE, _T.BARBELL}),
        12,
        "low",
        "shows how much force there is and how much of it comes early",
        lambda on, mass: (IsometricPull(date=on, peak_n=35 * mass, force_at_n={150: 24 * mass}),),
        landings=False,
    ),
)
"""Every test that Saltus can weigh; a measured push-off distance is added by hand."""


def next_tests(
    posterior: Posterior,
    gains: Gains,
    *,
    pains: Sequence[Pain] = (),
    restrictions: Sequence[Restriction] = (),
) -> tuple[NextTest, ...]:
    """Tests that could be done now, the most telling first.

    Parameters
    ----------
    posterior : Posterior
        Of one athlete.
    gains : Gains
        Of the same posterior.
    pains, restrictions : sequences
        What was reported; tests with landings are left out for someone in pain.

    Returns
    -------
    tuple of NextTest
    """
    person = posterior.problem.person
    on = posterior.dates[-1]
    mass = person.mass_kg(on)
    chosen = posterior.resampled(_DRAWS)
    kinds = gains.largest[chosen]
    now = float(gains.probabilities.max())
    found = []
    for candidate in _allowed(person, on, pains, restrictions):
        readings = readings_of(candidate.make(on, mass), person)
        found.append(_weighed(candidate, readings, posterior, chosen, kinds, now))
    if person.push_off_distance_m is None and TestingTool.TAPE in person.testing_tools:
        reading = Reading(
            on, "tape", ReadingKind.DISTANCE, 0.41, _TAPE_DISTANCE_SD_LOG, is_log=True
        )
        found.append(_weighed(_TAPE_DISTANCE, (reading,), posterior, chosen, kinds, now))
    return tuple(sorted(found, key=lambda test: -test.information_bits))


_TAPE_DISTANCE = Candidate(
    "push_off_distance",
    "the push-off distance with the tape, from the bottom of the jump to toes pointed",
    frozenset({_T.TAPE}),
    3,
    "low",
    "settles how long the legs can push",
    lambda _on, _mass: (),
    landings=False,
)


def _allowed(
    person: Person,
    on: dt.date,
    pains: Sequence[Pain],
    restrictions: Sequence[Restriction],
) -> list[Candidate]:
    since = on - dt.timedelta(days=_RECENT_PAIN_DAYS)
    latest = [p for p in pains if since <= p.date <= on]
    in_pain = any(pain_band(p) is not PainBand.SAFE for p in latest)
    # A maximum can wait while anything hurts or is restricted: a set of five says nearly as much.
    tender = any(p.level > 0 for p in latest) or any(r.holds(on) for r in restrictions)
    unsafe_strength = (
        person.training_age_years < _NOVICE_YEARS
        or person.age(on) is None
        or person.is_minor(on)
        or tender
    )
    no_jumping = any(r.holds(on) and r.what in ("jumping", "landing") for r in restrictions)
    best_method = next((tool for tool, _, _ in _METHODS if tool in person.testing_tools), None)
    ways = {tool for tool, _, _ in _METHODS} - {best_method}
    allowed = []
    for candidate in CANDIDATES:
        if not candidate.tools <= person.testing_tools or candidate.tools & ways:
            continue
        if candidate.landings and (in_pain or no_jumping):
            continue
        if candidate.maximal_strength and unsafe_strength:
            continue
        allowed.append(candidate)
    return allowed


def _weighed(
    candidate: Candidate,
    readings: Sequence[Reading],
    posterior: Posterior,
    chosen: NDArray[np.int64],
    kinds: NDArray[np.int64],
    now: float,
) -> NextTest:
    predicted, sd = _outcomes(readings, posterior, chosen)
    bits, certainty = _information(predicted, sd, kinds)
    leader = int(np.bincount(kinds, minlength=len(TRAINABLE)).argmax())
    if certainty > now + 0.01:
        effect = (
            f"expected to make the leading quality {100 * certainty:.0f} % sure, "
            f"now {100 * now:.0f} %"
        )
    else:
        effect = f"not expected to change the picture much ({WORDS[TRAINABLE[leader]]} leads)"
    return NextTest(
        test=candidate.test,
        title=candidate.title,
        information_bits=bits,
        minutes=candidate.minutes,
        risk=candidate.risk,
        why=f"It {candidate.shows}; {effect}.",
    )


def _outcomes(
    readings: Sequence[Reading], posterior: Posterior, chosen: NDArray[np.int64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Predicted readings (n, m) for the chosen draws, and their errors (m,)."""
    problem = posterior.problem
    on = posterior.dates[-1]
    predictor = Predictor(readings, (on,), problem.person)
    states = np.repeat(posterior.now[chosen][:, None], len(readings), axis=1)
    constants = posterior.constants[chosen].copy()
    rng = np.random.default_rng(_SEED)
    # A method never used on this athlete brings a bias that is not in the posterior yet.
    fresh: dict[Constant, float] = {}
    for reading in readings:
        for constant in reading.add_terms:
            if problem.prior.constant_sd[constant] == 0:
                fresh[constant] = max(fresh.get(constant, 0.0), reading.bias_sd)
    for constant, bias_sd in sorted(fresh.items()):
        constants[:, constant] += bias_sd * rng.standard_normal(len(chosen))
    raw = predictor.raw(states, np.exp(constants[:, Constant.SEGMENT]))
    return predictor.finish(raw, constants), predictor.sd


def _information(
    predicted: NDArray[np.float64], sd: NDArray[np.float64], kinds: NDArray[np.int64]
) -> tuple[float, float]:
    """Mutual information (bits) of outcome and kind, and the expected certainty after.

    Parameters
    ----------
    predicted : ndarray, shape (n, m)
        Readings that each draw predicts.
    sd : ndarray, shape (m,)
        Their errors.
    kinds : ndarray, shape (n,)
        Which quality is limiting in each draw.
    """
    n = len(kinds)
    rng = np.random.default_rng(_SEED)
    outcome = predicted + sd * rng.standard_normal(predicted.shape)
    distance = np.zeros((n, n))
    for column in range(predicted.shape[1]):
        distance += ((outcome[:, column, None] - predicted[None, :, column]) / sd[column]) ** 2
    likelihood = np.exp(-0.5 * (distance - distance.min(axis=1, keepdims=True)))
    # A draw must not recognise itself, or every test would look more telling than it is.
    np.fill_diagonal(likelihood, 0.0)
    among = np.stack([likelihood[:, kinds == k].sum(axis=1) for k in range(len(TRAINABLE))], axis=1)
    prior = np.bincount(kinds, minlength=len(TRAINABLE)) / n
    after = (among + prior) / (among.sum(axis=1, keepdims=True) + 1.0)
    bits = _entropy(prior) - float(np.mean(_entropies(after)))
    return max(bits, 0.0), float(np.mean(after.max(axis=1)))


def _entropies(p: NDArray[np.float64]) -> NDArray[np.float64]:
    terms = np.where(p > 0, -p * np.log2(np.maximum(p, 1e-300)), 0.0)
    return np.asarray(np.sum(terms, axis=-1))


def _entropy(p: NDArray[np.float64]) -> float:
    return float(_entropies(p))
