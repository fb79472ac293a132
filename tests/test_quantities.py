import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from saltus.quantities import INTERVAL, Estimate


def test_normal_interval_holds_eighty_per_cent():
    estimate = Estimate.normal(10.0, 2.0)

    within = stats.norm(10, 2).cdf(estimate.high) - stats.norm(10, 2).cdf(estimate.low)
    assert within == pytest.approx(INTERVAL, abs=1e-12)


def test_sample_agrees_with_numpy_quantiles():
    sample = np.random.default_rng(1).gamma(2.0, size=501)

    estimate = Estimate.of_sample(sample)

    assert (estimate.low, estimate.value, estimate.high) == pytest.approx(
        tuple(np.quantile(sample, [0.1, 0.5, 0.9]))
    )
    assert estimate.sd == pytest.approx(sample.std())


@given(st.lists(st.integers(1, 5), min_size=3, max_size=20))
def test_whole_weights_are_repetitions(counts):
    """A weighted sample says what the sample with repetitions says."""
    values = np.linspace(-1, 1, len(counts))

    weighted = Estimate.of_sample(values, counts)
    repeated = np.repeat(values, counts)

    assert weighted.value == np.quantile(repeated, 0.5, method="inverted_cdf")
    assert weighted.sd == pytest.approx(repeated.std())


@pytest.mark.parametrize("sample", [[], [1.0, np.nan], [np.inf]])
def test_refuses_a_sample_that_says_nothing(sample):
    with pytest.raises(ValueError, match="finite"):
        Estimate.of_sample(sample)


def test_refuses_ends_that_do_not_enclose_the_value():
    with pytest.raises(ValueError, match="does not lie"):
        Estimate(1.0, 2.0, 3.0, 0.1)


def test_scaled_turns_every_part_into_the_new_unit():
    assert Estimate(0.3, 0.2, 0.5, 0.1).scaled(100) == Estimate(30.0, 20.0, 50.0, 10.0)
    with pytest.raises(ValueError, match="positive"):
        Estimate(0.3, 0.2, 0.5, 0.1).scaled(-1)
