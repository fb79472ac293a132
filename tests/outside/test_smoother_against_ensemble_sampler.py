"""Smoothed strength over several dates against a general-purpose ensemble sampler.

Isometric pulls alone make the model a local level with t errors (Harvey 1989, Forecasting,
Structural Time Series Models and the Kalman Filter, ch. 2 and 6): the logarithm of the peak
is that of the strength, which walks at random, and a constant of the person. That model is
written out here by itself, and sampled by emcee (Foreman-Mackey et al. 2013, PASP
125:306-312).
"""

import datetime as dt

import emcee
import numpy as np
import pytest
from scipy.stats import norm, t

from saltus.athlete.measurement_error import isometric_error
from saltus.athlete.observations import IsometricPull
from saltus.athlete.person import BodyMass, Person, Sex
from saltus.athlete.posterior import FREEDOM, Problem, fit
from saltus.athlete.prior import Constant, State

FIRST = dt.date(2026, 3, 2)
DAYS = (0, 14, 28, 63, 70, 112)
PEAKS_N = (2450.0, 2500.0, 2210.0, 2600.0, 3300.0, 2680.0)  # invented; the fifth is far off
PERSON = Person(
    name="invented",
    body_masses=(BodyMass(FIRST, 70.0),),
    sex=Sex.FEMALE,
    stature_m=1.72,
    training_age_years=4.0,
)


@pytest.mark.slow
def test_smoothed_means_and_bands_agree():
    dates = [FIRST + dt.timedelta(days=day) for day in DAYS]
    pulls = [IsometricPull(date=d, peak_n=p) for d, p in zip(dates, PEAKS_N, strict=True)]
    problem = Problem(PERSON, pulls, [], dates[-1])
    posterior = fit(problem, draws=8000)

    prior = problem.prior
    level_sd, walk_sd = prior.state_sd[State.TORQUE], prior.walk_sd[State.TORQUE]
    walks = walk_sd * np.sqrt(np.diff(DAYS) / 7)
    # Peak = 0.65 * mass * torque per kg / (segment * cos 65°), as docs/model.md has it; what
    # people differ in, efficiency and leg, is one normal constant.
    constant_sd = np.hypot(
        prior.constant_sd[Constant.PULL_EFFICIENCY], prior.constant_sd[Constant.SEGMENT]
    )
    expected = np.log(0.65 * 70.0 / (0.28 * 1.72 * np.cos(np.radians(65.0))))
    error = isometric_error()

    def log_density(points):
        levels, constant = points[:, :-1], points[:, -1]
        read = np.log(PEAKS_N) - expected - levels - constant[:, None]
        scale = error * np.sqrt((FREEDOM - 2) / FREEDOM)
        return (
            norm.logpdf(levels[:, 0], prior.state_mean[State.TORQUE], level_sd)
            + norm.logpdf(np.diff(levels, axis=1), 0.0, walks).sum(axis=1)
            + norm.logpdf(constant, 0.0, constant_sd)
            + t.logpdf(read, FREEDOM, scale=scale).sum(axis=1)
        )

    walkers, size = 40, len(DAYS) + 1
    rng = np.random.default_rng(1)
    start = np.column_stack(
        [
            prior.state_mean[State.TORQUE] + 0.02 * rng.standard_normal((walkers, len(DAYS))),
            0.05 * rng.standard_normal(walkers),
        ]
    )
    sampler = emcee.EnsembleSampler(walkers, size, log_density, vectorize=True)
    sampler.random_state = np.random.RandomState(2).get_state()
    sampler.run_mcmc(start, 6000)
    chain = sampler.get_chain(discard=1000, flat=True)
    tau = sampler.get_autocorr_time(discard=1000, quiet=True).max()
    independent = len(chain) / tau

    ours, weights = posterior.states[:, :, State.TORQUE], posterior.weights
    mean = weights @ ours
    sd = np.sqrt(weights @ (ours - mean) ** 2)
    # Four standard errors of both Monte Carlo samples, for means, deviations and quantiles
    # (that of a tenth is sqrt(0.1 * 0.9)/phi(1.28) = 1.71 standard errors of a mean).
    share = 4 * np.sqrt(1 / independent + 1 / posterior.effective_sample_size)
    assert share < 0.2
    theirs = chain[:, :-1]
    assert np.all(np.abs(mean - theirs.mean(axis=0)) < share * sd)
    assert sd == pytest.approx(theirs.std(axis=0), rel=share)
    for end in (0.1, 0.9):
        band = [
            np.quantile(column, end, weights=weights, method="inverted_cdf") for column in ours.T
        ]
        assert np.all(np.abs(band - np.quantile(theirs, end, axis=0)) < 1.71 * share * sd)
    # What happened between dates, which the constant leaves alone, is told as sharply.
    rise, their_rise = ours[:, -1] - ours[:, 0], theirs[:, -1] - theirs[:, 0]
    centre = weights @ rise
    width = np.sqrt(weights @ (rise - centre) ** 2)
    assert centre == pytest.approx(their_rise.mean(), abs=share * width)
    assert width == pytest.approx(their_rise.std(), rel=share)
