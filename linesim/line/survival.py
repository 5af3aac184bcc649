"""How long something with a random life lasts: the chance to outlive an age, and the mean life if ended at that age.

Works for every distribution of distributions.py, whatever the unit: seconds, or parts.
"""

from __future__ import annotations

import math

import numpy as np

from linesim.line import distributions as laws
from linesim.line.distributions import Distribution

INTERVALS = 2000  # of Simpson's rule; errors far below what a rough-cut sheet shows
NEGLIGIBLE = 1e-9


def survival(law: Distribution, age: float) -> float:
    """The chance that a life exceeds this age."""
    from scipy import special, stats  # slow to import, and rarely needed

    match law:
        case laws.Constant(value):
            return float(age < value)
        case laws.Exponential(mean):
            return math.exp(-age / mean)
        case laws.Gamma(shape, scale):
            return float(special.gammaincc(shape, age / scale))
        case laws.Weibull(shape, scale):
            return math.exp(-((age / scale) ** shape))
        case laws.Lognormal(median, sigma):
            return float(special.ndtr(-math.log(age / median) / sigma)) if age > 0 else 1.0
        case laws.Normal(centre, spread):
            return float(special.ndtr((centre - age) / spread) / special.ndtr(centre / spread))
        case laws.Triangular(low, mode, high):
            return float(stats.triang.sf(age, (mode - low) / (high - low), low, high - low))
        case laws.Uniform(low, high):
            return min(1.0, max(0.0, (high - age) / (high - low)))
        case laws.Empirical(values):
            return float(np.mean(np.asarray(values) > age))
    raise TypeError(f"no survival of {law!r} is known")


def mean_up_to(law: Distribution, age: float) -> float:
    """Mean of the life or the age, whichever comes first: the integral of the survival from 0 to the age."""
    if isinstance(law, laws.Constant):
        return min(law.value, age)
    if isinstance(law, laws.Empirical):
        return float(np.minimum(law.values_s, age).mean())
    if math.isinf(age):
        return law.mean
    heights = np.array([survival(law, age * n / INTERVALS) for n in range(INTERVALS + 1)])
    weights = np.ones(INTERVALS + 1)
    weights[1:-1:2], weights[2:-1:2] = 4, 2
    return float(weights @ heights * age / INTERVALS / 3)


def mean_whole_up_to(law: Distribution, age: float) -> float:
    """The same for a life that is rounded up to whole parts: the sum of the survival at 0, 1, ..., below the age."""
    total, part = 0.0, 0
    while part < age:
        alive = survival(law, part)
        total, part = total + alive, part + 1
        if alive < NEGLIGIBLE:
            break
    return total
