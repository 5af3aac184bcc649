"""What a day, a week and a planned year bring: how many stay below the demand, and what nearly all of them make."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import pandas as pd

from linesim.results.intervals import CONFIDENCE, Estimate, estimate

LOW_SHARE = 0.05  # the quantile that is told: 19 of 20 make at least as much
COLUMNS = ["period", "count", "below_share", "below_low", "below_high", "p05_per_h", "p05_low", "p05_high"]


class Bounds(NamedTuple):
    """A value and its 95 % interval; NaN where there are too few to tell."""

    value: float
    low: float
    high: float


def outlook(periods: pd.DataFrame) -> pd.DataFrame:
    """A row a kind of period (`measures/periods.py`, all replications) with COLUMNS.

    below_share: share with fewer good parts than the demand asks for. p05_per_h: good parts per planned hour that 19 of
    20 make at least. Both with 95 % intervals; that of the quantile takes periods as independent of each other.
    """
    rows = []
    for period, group in periods.groupby("period", sort=False):
        below = share_of_periods(group)
        p05 = quantile_interval(group["throughput_per_h"].to_numpy(), LOW_SHARE)
        rows.append((period, len(group), *below, *p05))
    return pd.DataFrame(rows, columns=COLUMNS)


def share_of_periods(group: pd.DataFrame) -> Bounds:
    """Share of periods below the demand. Periods of one replication may hang together, replications do not.

    So it is a t-interval over the replications' shares. Where each has one period, or all have the same share, it is
    that of Clopper & Pearson for so many independent trials as there are replications.
    """
    if group["below"].isna().any():
        return Bounds(math.nan, math.nan, math.nan)
    shares = group.groupby("replication")["below"].mean()
    count = len(shares)
    if len(group) == count or (shares.nunique() == 1 and shares.iloc[0] in (0.0, 1.0)):
        return binomial_interval(round(float(shares.sum())), count)
    found: Estimate = estimate(shares)
    return Bounds(found.mean, max(0.0, found.low), min(1.0, found.high))


def binomial_interval(hits: int, trials: int) -> Bounds:
    """A share from independent trials, with bounds that hold at least so often. Source: Clopper & Pearson 1934."""
    from scipy.special import betaincinv

    tail = (1 - CONFIDENCE) / 2
    low = float(betaincinv(hits, trials - hits + 1, tail)) if hits > 0 else 0.0
    high = float(betaincinv(hits + 1, trials - hits, 1 - tail)) if hits < trials else 1.0
    return Bounds(hits / trials, low, high)


def quantile_interval(values: Sequence[float] | np.ndarray, share: float) -> Bounds:
    """The value that `share` of all stay below, between two of the sorted values; NaN where none lies far enough out.

    Source: order statistics, David & Nagaraja 2003 (from memory): of n independent values a binomial number lies below
    the quantile. It takes no law of the values.
    """
    from scipy.special import bdtr

    ordered = np.sort(np.asarray(values, dtype=float))
    count, tail = len(ordered), (1 - CONFIDENCE) / 2
    if count == 0:
        return Bounds(math.nan, math.nan, math.nan)
    at_most = np.array([float(bdtr(below, count, share)) for below in range(count)])  # P(so many lie below, or fewer)
    lows, highs = np.flatnonzero(at_most <= tail), np.flatnonzero(at_most >= 1 - tail)
    value = float(ordered[max(0, math.ceil(share * count) - 1)])
    low = float(ordered[lows[-1]]) if len(lows) else math.nan
    high = float(ordered[highs[0]]) if len(highs) else math.nan
    return Bounds(value, low, high)


def fewest_for_quantile() -> int:
    """How many values it takes until the smallest of them is a lower bound of what 19 of 20 make: 0.95^n is small."""
    return math.ceil(math.log((1 - CONFIDENCE) / 2) / math.log(1 - LOW_SHARE))
