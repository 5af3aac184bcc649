"""Survival and mean up to an age: by hand where that is short, and against draws of the law itself for every family."""

import math

import numpy as np
import pytest

from linesim.line import distributions as laws
from linesim.line.survival import mean_up_to, mean_whole_up_to, survival

FAMILIES = [
    laws.Constant(30.0),
    laws.Exponential(30.0),
    laws.Gamma(2.5, 12.0),
    laws.Weibull(3.0, 33.0),
    laws.Lognormal(28.0, 0.4),
    laws.Normal(30.0, 7.0),
    laws.Triangular(10.0, 25.0, 60.0),
    laws.Uniform(10.0, 50.0),
    laws.Empirical((20.0, 30.0, 45.0)),
]


@pytest.mark.parametrize("law", FAMILIES, ids=lambda law: type(law).__name__)
@pytest.mark.parametrize("age", [15.0, 27.0, 44.0])
def test_every_family_survives_as_its_own_draws_do(law, age):
    """200,000 draws: four standard errors are 0.0045 for a share, and below 0.2 for the mean up to the age."""
    drawn = law.draw(np.random.default_rng(5), 200_000)
    assert survival(law, age) == pytest.approx((drawn > age).mean(), abs=0.0045)
    assert mean_up_to(law, age) == pytest.approx(np.minimum(drawn, age).mean(), abs=0.2)
    assert mean_whole_up_to(law, round(age)) == pytest.approx(np.minimum(np.ceil(drawn), round(age)).mean(), abs=0.2)


def test_without_a_limit_the_mean_is_the_mean():
    assert mean_up_to(laws.Weibull(3.0, 33.0), math.inf) == laws.Weibull(3.0, 33.0).mean


def test_an_exponential_up_to_its_mean_lasts_1_less_1_over_e_of_it():
    assert mean_up_to(laws.Exponential(10.0), 10.0) == pytest.approx(10 * (1 - math.exp(-1)), rel=1e-9)
