"""Fit of one athlete with a year of tests, against SciPy's solver and an ensemble sampler."""

import datetime as dt
import functools
import importlib.util
import os
import time
from pathlib import Path

import emcee
import numpy as np

from saltus.athlete.calibration import battery
from saltus.athlete.history import TrainingBlock
from saltus.athlete.posterior import Posterior, Problem, fit
from saltus.athlete.prediction import IMPOSSIBLE, jump_height_m
from saltus.athlete.prior import N_STATE, Constant
from saltus.athlete.pushoff import Start
from saltus.athlete.qualities import TRAINABLE
from saltus.athlete.readings import ReadingKind
from saltus.athlete.virtual import random_person, virtual_athlete

ON = dt.date(2026, 11, 1)
DAYS = 26
TESTS = 120
ROTA = ("squat", "pull", "loaded", "drops", "squat")
STARTS = {
    ReadingKind.SQUAT_JUMP: "squat",
    ReadingKind.COUNTERMOVEMENT_JUMP: "countermovement",
    ReadingKind.REBOUND_HEIGHT: "drop",
    ReadingKind.REBOUND_CONTACT: "drop",
}
SCIPY = Path(__file__).parents[1] / "tests" / "outside" / "test_simulator_against_scipy.py"


def year(seed: int) -> Problem:
    """An invented athlete with 120 tests on 26 days, and blocks of six weeks."""
    rng = np.random.default_rng([26, 120, seed])
    first = ON - dt.timedelta(weeks=2 * (DAYS - 1))
    tests = []
    for i in range(DAYS):
        day = first + dt.timedelta(weeks=2 * i)
        names = ["cmj", "sj", ROTA[i % 5], ROTA[(i + 2) % 5]]
        tests += battery(dict.fromkeys(names), day)
    squats = [test for day in range(DAYS) for test in battery(["squat"], first + _weeks(2 * day))]
    taken = {(type(test).__name__, test.date) for test in tests}
    spare = [test for test in squats if (type(test).__name__, test.date) not in taken]
    tests = [*tests, *spare[: max(TESTS - len(tests), 0)]][:TESTS]
    blocks = [
        TrainingBlock(
            first + _weeks(6 * i) + dt.timedelta(days=1),
            first + _weeks(6 * i + 6),
            {quality: 1.0 if quality is TRAINABLE[i % 4] else 0.2 for quality in TRAINABLE},
        )
        for i in range(2 * DAYS // 6)
    ]
    athlete = virtual_athlete(random_person(rng, ON), tests, rng, on=ON, blocks=blocks)
    return Problem(athlete.person, athlete.observations, blocks, ON)


def _weeks(n: int) -> dt.timedelta:
    return dt.timedelta(weeks=n)


def figures(problem: Problem, unknowns: np.ndarray) -> np.ndarray:
    """Log-qualities and the jump (m) on the last date, shape (n, 6)."""
    now = problem.trajectory.states(unknowns)[:, -1]
    segment = np.exp(problem.trajectory.constants(unknowns)[:, Constant.SEGMENT])
    return _with_jump(problem, now, segment)


def _with_jump(problem: Problem, now: np.ndarray, segment: np.ndarray) -> np.ndarray:
    mass = problem.person.mass_kg(ON)
    jump = jump_height_m(Start.COUNTERMOVEMENT, now, segment, mass)
    return np.column_stack([now, jump])


def moments(posterior: Posterior) -> tuple[np.ndarray, np.ndarray]:
    """Means and deviations of the figures."""
    values = _with_jump(posterior.problem, posterior.now, posterior.segment_m)
    mean = posterior.weights @ values
    return mean, np.sqrt(posterior.weights @ (values - mean) ** 2)


def _scipy_model() -> type:
    """The model in SciPy's hands, as the tests write it out, no more exact than the readings ask.

    A relative tolerance of 1e-4 keeps heights within a tenth of a millimetre.
    """
    spec = importlib.util.spec_from_file_location("scipy_pushoff", SCIPY)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    settings = {"method": "RK45", "rtol": 1e-4, "atol": 1e-6, "first_step": None}
    return type("Loose", (module.Reference,), settings)


def scipy_log_density(problem: Problem, model: type, unknowns: np.ndarray) -> float:
    """The same log density at one point, with each push solved by SciPy."""
    predictor = problem.predictor
    z = unknowns[None]
    raw = problem.raw(z)  # the closed forms; every simulated reading is replaced
    states = np.exp(problem.trajectory.states(z)[0, predictor.date_index])
    segment = float(np.exp(problem.trajectory.constants(z)[0, Constant.SEGMENT]))

    @functools.cache
    def solved(start: str, date: int, load: float, drop: float) -> tuple[float, float]:
        i = int(np.flatnonzero(predictor.date_index == date)[0])
        torque, speed, rate, stretch, distance = states[i]
        mass = predictor.mass_kg[i]
        try:
            height, _, whole, _ = getattr(
                model(
                    mass_kg=mass, segment_m=segment, torque_nm=torque * mass, speed_rad_s=speed,
                    rfd_nm_s=rate * mass, distance_m=distance, stretch_gain=stretch,
                    load_kg=load, drop_m=drop,
                ),
                start,
            )()  # fmt: skip
        except (AssertionError, ValueError):  # no take-off
            return IMPOSSIBLE, 1.0
        return float(height), float(whole)

    for i, reading in enumerate(predictor.readings):
        if reading.kind in STARTS:
            date = int(predictor.date_index[i])
            pair = solved(STARTS[reading.kind], date, reading.load_kg, reading.drop_m)
            raw[0, i] = pair[reading.kind is ReadingKind.REBOUND_CONTACT]
    return float(problem.log_density(z, raw)[0])


def run(fits: int = 20, solved: int = 12, steps: int = 400) -> None:
    """Time and true effective sample size of both.

    `fits` fits of ours with seeds of their own; `solved` densities by SciPy are timed; the
    ensemble takes `steps` steps on our simulator, which moves it just as SciPy's would. A minute
    and a half; with 20000 steps, an hour, the ensemble's own figures are sure as well.
    """
    problem = year(0)
    kinds = sorted({str(reading.kind) for reading in problem.readings})
    print(f"{TESTS} tests on {DAYS} days, {len(problem.readings)} readings: {', '.join(kinds)}")
    print(f"{problem.trajectory.size} unknowns; load of the machine {os.getloadavg()[0]:.1f}")
    fit(problem)  # compiles
    walls, processor, found = [], [], []
    for seed in range(fits):
        begun, spent = time.perf_counter(), time.process_time()
        posterior = fit(problem, seed=seed)
        walls.append(time.perf_counter() - begun)
        processor.append(time.process_time() - spent)
        found.append(moments(posterior))
    means, deviations = np.array([m for m, _ in found]), np.array([s for _, s in found])
    sd = np.sqrt(np.mean(deviations**2, axis=0))
    effective = sd**2 / means.var(axis=0, ddof=1)
    names = ["torque", "speed", "rate", "stretch", "distance", "jump"]
    each = float(np.mean(processor))
    print(f"ours: {np.median(walls):.2f} s ({min(walls):.2f} at best), {each:.2f} s of processor")
    print(f"  it says it is worth {posterior.effective_sample_size:.0f} of 2000 draws; by the")
    print(f"  spread of {fits} fits: " + _row(names, effective, "{:.0f}"))

    model = _scipy_model()
    density = functools.partial(scipy_log_density, problem, model)
    rng = np.random.default_rng(1)
    places = posterior.mode + 0.1 * rng.standard_normal((solved, problem.trajectory.size))
    begun = time.process_time()
    theirs = np.array([density(place) for place in places])
    cost = (time.process_time() - begun) / solved
    wrong = np.max(np.abs(theirs - problem.log_density(places)))
    print(f"SciPy: {1e3 * cost:.0f} ms a density, within {wrong:.2g} of ours in the logarithm")

    print("processor time for one independent draw, SciPy over ours, if every density that")
    print("SciPy solves gave one, as no sampler can:")
    print("  " + _row(names, cost * effective / each, "{:.0f}"))

    free = np.flatnonzero(_matter(problem))
    walkers = 2 * (free.size + free.size % 2) + 2
    start = posterior.mode + rng.standard_normal((walkers, problem.trajectory.size)) * 0.3

    def many(points: np.ndarray) -> np.ndarray:
        unknowns = np.zeros((len(points), problem.trajectory.size))
        unknowns[:, free] = points
        return problem.log_density(unknowns)

    sampler = emcee.EnsembleSampler(walkers, free.size, many, vectorize=True)
    sampler.random_state = np.random.RandomState(2).get_state()
    state = sampler.run_mcmc(start[:, free], steps // 4, skip_initial_state_check=True)
    sampler.reset()
    thin = 10
    sampler.run_mcmc(state, steps // thin, thin_by=thin)
    chain = sampler.get_chain()
    unknowns = np.zeros((chain.shape[0] * walkers, problem.trajectory.size))
    unknowns[:, free] = chain.reshape(-1, free.size)
    values = figures(problem, unknowns).reshape(chain.shape[0], walkers, -1)
    tau = emcee.autocorr.integrated_time(values, quiet=True) * thin
    print(f"emcee: {walkers} walkers, {steps} steps; steps for one independent draw of each")
    print("  walker: " + _row(names, tau, "{:.0f}"))
    per_draw = cost * tau  # each of the walkers takes one density a step
    ratio = per_draw / (each / effective)
    print("processor time for one independent draw, SciPy and emcee over ours:")
    print("  " + _row(names, ratio, "{:.0f}"))
    if steps < 50 * np.max(tau):
        print("  The run is shorter than 50 times the longest of these: they are too small rather")
        print("  than too large, and so are the ratios.")
    print("A whole run of theirs at our quality would take")
    print(f"  {np.max(per_draw * effective) / 3600:.0f} h of processor; the ratio is the cost of")
    print("  one density by SciPy times the steps for one independent draw, over ours.")
    shift = np.abs(values.mean(axis=(0, 1)) - means.mean(axis=0)) / sd
    print("distance of the means, in deviations: " + _row(names, shift, "{:.2f}"))
    widths = values.std(axis=(0, 1)) / sd
    print("deviations, theirs over ours: " + _row(names, widths, "{:.2f}"))


def _matter(problem: Problem) -> np.ndarray:
    """Unknowns that any reading sees; the others keep their prior in either way."""
    _, jacobian = problem.linearised(np.zeros(problem.trajectory.size))
    return np.any(np.abs(jacobian) > 0, axis=0) | (
        np.arange(problem.trajectory.size) < N_STATE * len(problem.trajectory.dates)
    )


def _row(names: list[str], values: np.ndarray, form: str) -> str:
    return ", ".join(
        f"{name} {form.format(value)}" for name, value in zip(names, values, strict=True)
    )
