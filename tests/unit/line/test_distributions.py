"""Laws know their mean and sd, and hand out one stream of numbers however it is cut up."""

import math

import numpy as np
import pytest

from linesim.line.distributions import (
    Constant,
    Empirical,
    Exponential,
    Gamma,
    Lognormal,
    Normal,
    Triangular,
    Uniform,
    Weibull,
)

LAWS = [
    Constant(3.0),
    Exponential(20.0),
    Gamma(0.4, 7.0),
    Gamma(7.0, 2.0),
    Weibull(1.7, 600.0),
    Lognormal(10.0, 0.8),
    Normal(40.0, 10.0),
    Normal(1.0, 1.0),  # not allowed in a file; every sixth draw is below zero
    Triangular(1.0, 2.0, 6.0),
    Uniform(2.0, 5.0),
    Empirical((1.0, 4.0, 4.0, 9.0)),
]


@pytest.mark.parametrize("law", LAWS, ids=str)
def test_draws_are_the_same_in_one_call_and_in_pieces(law):
    whole = law.draw(np.random.default_rng(5), 300)
    pieces = np.random.default_rng(5)
    cut = np.concatenate([law.draw(pieces, size) for size in (1, 0, 7, 64, 128, 100)])
    assert np.array_equal(whole, cut)


@pytest.mark.parametrize("law", LAWS, ids=str)
def test_draws_have_the_mean_and_spread_the_law_claims(law):
    draws = law.draw(np.random.default_rng(11), 20_000)
    assert draws.min() >= 0
    assert draws.mean() == pytest.approx(law.mean, abs=5 * law.sd / math.sqrt(len(draws)))
    assert draws.std() == pytest.approx(law.sd, rel=0.06)


def test_weibull_moments_equal_the_published_fit():
    """NIST/SEMATECH e-Handbook 8.4.1.3: shape 1.7208, scale 606.5280, mean 540.737, sd 323.806."""
    law = Weibull(1.7208, 606.5280)
    assert law.mean == pytest.approx(540.737, abs=0.01)
    assert law.sd == pytest.approx(323.806, abs=0.01)


def test_a_normal_cut_at_its_own_centre_is_half_normal():
    """With the centre at zero what is left has mean sqrt(2/pi) and variance 1 - 2/pi."""
    law = Normal(0.0, 1.0)
    assert law.mean == pytest.approx(math.sqrt(2 / math.pi))
    assert law.sd == pytest.approx(math.sqrt(1 - 2 / math.pi))


def test_a_normal_four_sd_from_zero_is_as_good_as_uncut():
    law = Normal(40.0, 10.0)
    assert law.mean == pytest.approx(40, rel=1e-4)
    assert law.sd == pytest.approx(10, rel=1e-3)
