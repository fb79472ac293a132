"""Simulated pushes per second, against SciPy's solvers on the same model at equal accuracy."""

import importlib.util
import time
from pathlib import Path

import numpy as np

from saltus.athlete.pushoff import Start, simulate

TESTS = Path(__file__).parents[1] / "tests" / "outside" / "test_simulator_against_scipy.py"


def _same_model() -> type:
    """The model in SciPy's hands, as the tests against it write it out."""
    spec = importlib.util.spec_from_file_location("scipy_pushoff", TESTS)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module.Reference


def _athletes(n: int) -> dict[str, np.ndarray]:
    rng = np.random.default_rng(1)

    def spread(middle: float, share: float) -> np.ndarray:
        return middle * np.exp(share * rng.standard_normal(n))

    mass = rng.uniform(50, 100, n)
    return {
        "mass_kg": mass,
        "segment_m": rng.uniform(0.45, 0.55, n),
        "torque_nm": mass * spread(11.5, 0.18),
        "speed_rad_s": spread(17.5, 0.10),
        "rfd_nm_s": mass * spread(75, 0.35),
        "distance_m": spread(0.41, 0.07),
        "stretch_gain": spread(0.10, 0.60),
        "load_kg": rng.uniform(0, 30, n),
        "drop_m": rng.uniform(0.1, 0.6, n),
    }


def _solve(model: type, start: Start, who: dict[str, np.ndarray], n: int) -> np.ndarray:
    solvers = (model(**{k: float(x[i]) for k, x in who.items()}) for i in range(n))
    return np.array([getattr(solver, start.value)()[0] for solver in solvers])


def run(pushes: int = 40_000, solved: int = 20) -> None:
    """Processor time of `pushes` of ours and `solved` of SciPy's, for each start."""
    model = _same_model()
    who = _athletes(pushes)
    print(f"{'start':16}{'ours':>10}{'error':>10}{'SciPy':>12}{'error':>10}{'ratio':>9}  with")
    for start in Start:
        few = {k: x[:solved] for k, x in who.items()}
        heights = simulate(start, **few).height_m  # compiles, too
        truth = _solve(model, start, who, solved)
        error = np.max(np.abs(heights - truth))
        ours = np.inf
        for _ in range(5):
            begun = time.process_time()
            simulate(start, **who)
            ours = min(ours, (time.process_time() - begun) / pushes)
        # The loosest setting of each solver that is as accurate, and of those the fastest.
        best = (np.inf, np.inf, "none")
        for method in ("RK45", "DOP853", "LSODA"):
            for rtol in 10.0 ** -np.arange(4, 12):
                loose = type(
                    "Loose",
                    (model,),
                    {"method": method, "rtol": rtol, "atol": rtol / 10, "first_step": None},
                )
                begun = time.process_time()
                found = _solve(loose, start, who, solved)
                each = (time.process_time() - begun) / solved
                wrong = np.max(np.abs(found - truth))
                if wrong <= max(error, 1e-6):
                    best = min(best, (each, wrong, f"{method}, rtol {rtol:.0e}"))
                    break
        each, wrong, how = best
        print(
            f"{start.value:16}{1e6 * ours:7.2f} us{1e6 * error:7.2f} um{1e6 * each:9.0f} us"
            f"{1e6 * wrong:7.2f} um{each / ours:9.0f}  {how}"
        )
