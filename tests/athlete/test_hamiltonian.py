import numpy as np
import pytest

from saltus.athlete.hamiltonian import hamiltonian_turns


def test_a_skewed_and_a_wide_normal_are_sampled():
    """Known moments: log of a gamma variate, and a normal three times as wide as said."""
    shape, sd, centre = 4.0, 3.0, -2.0

    def density(x):
        skewed, wide, plain = x.T
        value = shape * skewed - np.exp(skewed) - 0.5 * ((wide - centre) / sd) ** 2 - plain**2 / 2
        slope = np.stack([shape - np.exp(skewed), -(wide - centre) / sd**2, -plain], axis=1)
        return value, slope

    rng = np.random.default_rng(4)
    start = rng.standard_normal((400, 3))
    turns = hamiltonian_turns(density, start, rng, settling=24, kept=20)
    points, densities = map(np.array, zip(*turns, strict=True))

    assert points.shape == (20, 400, 3)
    assert densities[-1] == pytest.approx(density(points[-1])[0])
    flat = points.reshape(-1, 3)
    # Digamma and trigamma of 4 (Abramowitz & Stegun 1964, ch. 6). Even if the 20 points of a
    # chain were one, 400 chains give means to four standard errors of 0.2 deviations.
    assert flat.mean(axis=0) == pytest.approx([1.2561, centre, 0.0], abs=0.12)
    assert flat.std(axis=0) == pytest.approx([np.sqrt(0.28382), sd, 1.0], rel=0.06)


@pytest.mark.filterwarnings("error")
def test_a_path_that_runs_off_is_refused_without_a_word():
    def density(x):
        far = np.exp(700 * x[:, 0])  # overflows just beyond 1
        return -far - x[:, 1] ** 2 / 2, np.stack([-700 * far, -x[:, 1]], axis=1)

    rng = np.random.default_rng(2)
    start = -np.abs(rng.standard_normal((50, 2)))
    turns = hamiltonian_turns(density, start, rng, settling=16, kept=4)
    for points, densities in turns:
        assert np.isfinite(points).all()
        assert np.isfinite(densities).all()
