"""The simplest queue, M/M/1, from empty: how many are in it after a while, in the mean.

Source: the birth-and-death equations of any book on queues, solved numerically; that is independent of the closed forms
in Abate & Whitt 1987, Queueing Systems 2, whose figures it must reproduce.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from scipy.sparse import diags
from scipy.sparse.linalg import expm_multiply


def mean_in_system(rho: float, until: float, steps: int, most: int = 400) -> np.ndarray:
    """Mean number in the system at times 0, until / steps, ..., until, in mean service times; shape (steps + 1,).

    rho: load, below 1. most: states beyond it are left out; their probability must be negligible.
    """
    ups, downs = np.full(most, rho), np.full(most, 1.0)
    leaving = -(np.append(ups, 0.0) + np.append(0.0, downs))
    rates = diags([ups, leaving, downs], [-1, 0, 1], format="csc")  # column: from, row: to
    start = np.zeros(most + 1)
    start[0] = 1.0
    found: np.ndarray = expm_multiply(rates, start, start=0.0, stop=until, num=steps + 1, endpoint=True)
    return found @ np.arange(most + 1)


def shortfall(rho: float, cuts: Sequence[float], measured: float, step: float = 10.0) -> np.ndarray:
    """By how much the mean number over `measured` after each cut stays below rho / (1 - rho); in service times."""
    steps = round((max(cuts) + measured) / step)
    curve = mean_in_system(rho, steps * step, steps)
    area = np.concatenate([[0.0], np.cumsum((curve[1:] + curve[:-1]) / 2 * step)])
    grid = np.arange(steps + 1) * step
    made = [np.interp(cut + measured, grid, area) - np.interp(cut, grid, area) for cut in cuts]
    return rho / (1 - rho) - np.array(made) / measured
