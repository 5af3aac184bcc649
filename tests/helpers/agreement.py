"""Does a simulated mean agree with a known value? The tolerance comes from the samples themselves."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np


def assert_agrees(
    samples: Sequence[float] | np.ndarray, expected: float, meaningful_share: float = 0.01, limit_se: float = 4.0
) -> None:
    """Fail when the mean of the replications is further than `limit_se` standard errors from `expected`.

    It fails too when the samples scatter so much that an error of `meaningful_share` of `expected` could pass unseen,
    or not at all, which no set of replications with chance in it does: such a test would prove nothing.
    """
    values = np.asarray(samples, dtype=float)
    if len(values) < 5:
        raise AssertionError(f"too few replications: {len(values)}, at least 5 are needed for a standard error")
    standard_error = float(values.std(ddof=1)) / math.sqrt(len(values))
    if standard_error == 0.0:
        raise AssertionError("the replications are all equal: nothing was left to chance")
    reach, smallest = limit_se * standard_error, meaningful_share * abs(expected)
    if reach > smallest:
        needed = math.ceil(len(values) * (reach / smallest) ** 2)
        raise AssertionError(
            f"too few replications to see an error of {meaningful_share:.2%}: {len(values)} of them see "
            f"{reach / abs(expected):.2%}; about {needed} are needed"
        )
    gap = float(values.mean()) - expected
    if abs(gap) > reach:
        raise AssertionError(
            f"mean {values.mean():.6g}, expected {expected:.6g}: off by {gap / expected:+.2%}, that is "
            f"{gap / standard_error:+.1f} standard errors (limit {limit_se:g})"
        )


def steadied(samples: np.ndarray, controls: np.ndarray, known_means: Sequence[float]) -> np.ndarray:
    """The samples less the luck that quantities with a known mean reveal (control variates, by linear regression).

    samples: shape (replications,); controls: shape (replications, controls), measured in the same runs; known_means:
    their true means. Whoever uses this must also check the controls themselves with `assert_agrees`, as a wrong one
    would be corrected away. The regression is fitted to the same samples: keep replications well above controls.
    """
    luck = np.asarray(controls, dtype=float) - np.asarray(known_means, dtype=float)
    centred = luck - luck.mean(axis=0)
    slopes, *_ = np.linalg.lstsq(centred, samples - np.mean(samples), rcond=None)
    steady: np.ndarray = samples - luck @ slopes
    lost = luck.shape[1]  # degrees of freedom that the fit used up; widened so that the standard error stays honest
    widened: np.ndarray = steady.mean() + (steady - steady.mean()) * math.sqrt(
        (len(steady) - 1) / (len(steady) - 1 - lost)
    )
    return widened


def assert_between(samples: Sequence[float] | np.ndarray, low: float, high: float, limit_se: float = 4.0) -> None:
    """Fail when the mean of the replications lies more than `limit_se` standard errors outside [low, high].

    It fails too when those standard errors are wider than half of that range.
    """
    values = np.asarray(samples, dtype=float)
    reach = limit_se * float(values.std(ddof=1)) / math.sqrt(len(values))
    if not 0 < reach <= (high - low) / 2:
        raise AssertionError(f"mean {values.mean():.6g} +- {reach:.3g} is no measurement against {low:g} to {high:g}")
    if not low - reach <= values.mean() <= high + reach:
        raise AssertionError(f"mean {values.mean():.6g} +- {reach:.3g} lies outside {low:g} to {high:g}")
