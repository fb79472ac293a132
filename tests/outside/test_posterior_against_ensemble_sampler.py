"""The posterior against a general-purpose ensemble sampler on the same density.

The sampler is emcee (Foreman-Mackey et al. 2013, PASP 125:306-312).
"""

import datetime as dt

import emcee
import numpy as np
import pytest

from saltus.athlete.observations import Jump, JumpMethod, JumpStyle, Lift, Maximum
from saltus.athlete.person import BodyMass, Person, Sex
from saltus.athlete.posterior import Problem, fit
from saltus.athlete.prior import N_STATE, Constant

ON = dt.date(2026, 11, 1)
PERSON = Person(
    name="invented",
    body_masses=(BodyMass(ON, 70.0),),
    sex=Sex.FEMALE,
    stature_m=1.72,
    training_age_years=4.0,
)
TESTS = (
    Jump(
        date=ON,
        style=JumpStyle.COUNTERMOVEMENT,
        method=JumpMethod.MAT,
        heights_m=(0.31, 0.32, 0.30),
    ),
    Jump(date=ON, style=JumpStyle.SQUAT, method=JumpMethod.MAT, heights_m=(0.27, 0.28)),
    Maximum(date=ON, lift=Lift.BACK_SQUAT, load_kg=95.0),
)
USED = (Constant.SEGMENT, Constant.SQUAT_START, Constant.SQUAT_SKILL, Constant.BIAS_MAT)


@pytest.mark.slow
def test_means_deviations_and_quantiles_agree():
    problem = Problem(PERSON, TESTS, [], ON)
    # Constants that no reading sees keep their prior exactly and are left out of the sampling.
    free = [*range(N_STATE), *(N_STATE + constant for constant in USED)]

    def log_density(points):
        unknowns = np.zeros((len(points), problem.trajectory.size))
        unknowns[:, free] = points
        return problem.log_density(unknowns)

    walkers = 40
    start = np.random.default_rng(1).standard_normal((walkers, len(free)))
    sampler = emcee.EnsembleSampler(walkers, len(free), log_density, vectorize=True)
    sampler.random_state = np.random.RandomState(2).get_state()
    sampler.run_mcmc(start, 2500)
    chain = sampler.get_chain(discard=500, flat=True)
    tau = sampler.get_autocorr_time(discard=500, quiet=True).max()
    independent = len(chain) / tau

    posterior = fit(problem, draws=8000)
    prior = problem.prior
    z = (posterior.now - prior.state_mean) / prior.state_sd
    for place in range(N_STATE):
        mean = np.average(z[:, place], weights=posterior.weights)
        sd = np.sqrt(np.average((z[:, place] - mean) ** 2, weights=posterior.weights))
        # Four standard errors of both Monte Carlo means.
        margin = 4 * sd * np.sqrt(1 / independent + 1 / posterior.effective_sample_size)
        assert mean == pytest.approx(chain[:, place].mean(), abs=margin)
        assert sd == pytest.approx(chain[:, place].std(), rel=0.08)
        ends = np.quantile(
            z[:, place], [0.1, 0.9], weights=posterior.weights, method="inverted_cdf"
        )
        assert ends == pytest.approx(np.quantile(chain[:, place], [0.1, 0.9]), abs=0.12)
