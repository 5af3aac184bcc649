"""Differences between lines that were run on the same random numbers, with intervals that hold together.

Replication n of every line met the same luck, so lines are compared replication by replication. Several statements at
once are each made at a higher confidence, so that all of them hold together at 95 % (Bonferroni's inequality; exact for
two lines, careful for many).
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
import pandas as pd

from linesim.results.intervals import CONFIDENCE, t_quantile

MORE, LESS, NOT_SHOWN = "more", "less", "no difference shown"


class Difference(NamedTuple):
    """Mean of one less another, with its interval; NaN where fewer than two replications have both.

    helped: how many times as many replications it would take on random numbers that the two do not share: sum of their
    variances / variance of the difference. Below 1 sharing did harm; NaN where nothing varies.
    """

    mean: float
    low: float
    high: float
    replications: int
    helped: float

    @property
    def shown(self) -> str:
        if self.low > 0:
            return MORE
        return LESS if self.high < 0 else NOT_SHOWN


def paired(one: pd.Series[float], other: pd.Series[float], statements: int = 1) -> Difference:
    """`one` less `other`, matched by replication; statements: how many intervals are to hold together at 95 %.

    Source: paired t-interval (Student 1908) on common random numbers, common practice in simulation.
    """
    both = pd.concat([one, other], axis=1, join="inner").dropna().to_numpy(dtype=float)
    count = len(both)
    if count == 0:
        return Difference(math.nan, math.nan, math.nan, 0, math.nan)
    apart = both[:, 0] - both[:, 1]
    mean = float(apart.mean())
    if count == 1:
        return Difference(mean, math.nan, math.nan, 1, math.nan)
    spread = float(apart.std(ddof=1))
    half = t_quantile(count - 1, 1 - (1 - CONFIDENCE) / statements) * spread / math.sqrt(count)
    helped = float(both.var(axis=0, ddof=1).sum()) / spread**2 if spread > 0 else math.nan
    return Difference(mean, mean - half, mean + half, count, helped)


def from_base(values: pd.DataFrame) -> pd.DataFrame:
    """Each line less the first; values: a row a replication, a column a line.

    Returns line, mean, low, high, replications, helped, shown; the intervals hold together at 95 %.
    """
    base, *others = values.columns
    found = {name: paired(values[name], values[base], len(others)) for name in others}
    rows = [(name, *difference, difference.shown) for name, difference in found.items()]
    return pd.DataFrame(rows, columns=["line", *Difference._fields, "shown"])


def from_best(values: pd.DataFrame, most_is_best: bool = True) -> pd.DataFrame:
    """How each line stands to the best of the others, and whether it may be the best; values as in `from_base`.

    Returns line, low, high (of its advantage over the best of the others; negative if it is behind), may_be_best. All
    pairs together hold at 95 %, so with 95 % confidence the best line is among those that may be.
    Source: Hsu 1984, multiple comparisons with the best; here by all pairs, which needs no equal variances.
    """
    names = list(values.columns)
    pairs = len(names) * (len(names) - 1) // 2
    sign = 1 if most_is_best else -1
    rows = []
    for name in names:
        over = [paired(sign * values[name], sign * values[other], pairs) for other in names if other != name]
        low, high = min(each.low for each in over), min(each.high for each in over)
        rows.append((name, low, high, not high < 0))
    return pd.DataFrame(rows, columns=["line", "low", "high", "may_be_best"])


def wide(tables: dict[str, pd.DataFrame], measure: str) -> pd.DataFrame:
    """A row a replication, a column a line, from each line's table of replications."""
    columns = {name: table.set_index("replication")[measure] for name, table in tables.items()}
    return pd.DataFrame(columns, dtype=np.float64)


def stacked(tables: dict[str, pd.DataFrame], named: str) -> pd.DataFrame:
    """Tables one under the other, what each is of in a first column."""
    return pd.concat(tables, names=[named]).reset_index(named).reset_index(drop=True)
