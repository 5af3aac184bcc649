"""What several replications say together: mean and 95 % interval."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import NamedTuple

import numpy as np
import pandas as pd

CONFIDENCE = 0.95


class Estimate(NamedTuple):
    """Mean over replications with its 95 % interval; low and high are NaN with fewer than two replications."""

    mean: float
    low: float
    high: float
    replications: int

    @property
    def half_width(self) -> float:
        return (self.high - self.low) / 2


def estimate(values: Iterable[float]) -> Estimate:
    """Mean and t-interval of independent values; those that are not defined (NaN) are left out.

    Source: Student 1908; the replications of a simulation are independent and their means nearly normal.
    """
    given = np.asarray(list(values), dtype=float)
    known = given[~np.isnan(given)]
    count = len(known)
    if count == 0:
        return Estimate(math.nan, math.nan, math.nan, 0)
    mean = float(known.mean())
    if count == 1:
        return Estimate(mean, math.nan, math.nan, 1)
    half = t_quantile(count - 1) * float(known.std(ddof=1)) / math.sqrt(count)
    return Estimate(mean, mean - half, mean + half, count)


def estimates(table: pd.DataFrame) -> list[Estimate]:
    """The rows of a table that has a column for each field of an estimate."""
    return [Estimate(*row) for row in table[list(Estimate._fields)].itertuples(index=False)]


def within(found: Estimate, most: float = math.inf) -> Estimate:
    """The same with its interval cut at nothing and at `most`, where the quantity ends.

    The t-interval knows no such ends, and near one it can reach beyond. A mean that lies beyond shows that the quantity
    does not end there, such as an effectiveness above 100 %: then nothing is cut.
    """
    low = found.low if found.mean < 0 else max(found.low, 0.0)
    high = found.high if found.mean > most else min(found.high, most)
    return Estimate(found.mean, low, high, found.replications)


def t_quantile(degrees: int, confidence: float = CONFIDENCE) -> float:
    """Quantile of Student's t that leaves half of what `confidence` leaves out above it."""
    from scipy.special import stdtrit

    return float(stdtrit(degrees, (1 + confidence) / 2))


def averaged(table: pd.DataFrame, by: Sequence[str], value: str) -> pd.DataFrame:
    """A tidy table with a row a replication and thing, averaged over the replications.

    by: columns that name the thing. Returns these columns, then mean, low, high, replications; things keep their order.
    """
    rows = [
        (*(key if isinstance(key, tuple) else (key,)), *estimate(group))
        for key, group in table.groupby(list(by), sort=False, observed=True)[value]
    ]
    return pd.DataFrame(rows, columns=[*by, *Estimate._fields])
