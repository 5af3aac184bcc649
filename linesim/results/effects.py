"""What the factors of a sweep do: level by level, or along a straight line where each point has its own value."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pandas as pd

from linesim.results.intervals import estimate

MOST_LEVELS = 12  # that are told one by one; a factor with more, all of them numbers, is a range
NUMBER_AND_UNIT = r"^([-+]?[.\d]+(?:e[-+]?\d+)?)\s*(.*)$"


def of_levels(table: pd.DataFrame, factors: Sequence[pd.Series[str]], measure: str) -> pd.DataFrame:
    """factor, level, points, mean, less_first, low, high.

    mean: over all points of a level; less_first: what it has more than the factor's first level, with 95 % interval.
    table: a row a run. factors: the levels of all points, by factor. All points meet the same random numbers, so the
    interval is that of the differences between the means of one replication; only replications that all points of a
    level have are used. Each interval holds by itself.
    """
    rows = []
    for factor in factors:
        first: pd.Series[float] | None = None
        for level in dict.fromkeys(factor):
            part = table.loc[table[factor.name] == level]
            wide = part.pivot(index="replication", columns="point", values=measure).dropna()
            means = wide.mean(axis=1)
            difference = estimate([] if first is None else (means - first).dropna())
            first = means if first is None else first
            rows.append((factor.name, level, wide.shape[1], means.mean(), *difference[:3]))
    return pd.DataFrame(rows, columns=["factor", "level", "points", "mean", "less_first", "low", "high"])


def along_ranges(table: pd.DataFrame, factors: Sequence[str], measure: str) -> pd.DataFrame:
    """factor, lowest, highest, change, low, high: what the measure gains from a factor's lowest to its highest value.

    By a straight line in all these factors together, least squares over the points of each replication; the 95 %
    interval is over the replications. It says nothing about bends. Empty with too few points for as many factors.
    """
    columns = ["factor", "lowest", "highest", "change", "low", "high"]
    per_replication = table.groupby("replication").size()
    if not factors or len(table) == 0 or per_replication.min() < len(factors) + 2:
        return pd.DataFrame(columns=columns)
    values = {factor: numbers(table[factor]) for factor in factors}
    spans = {factor: (value.min(), value.max()) for factor, value in values.items()}
    scaled = pd.DataFrame({factor: (values[factor] - low) / (high - low) for factor, (low, high) in spans.items()})
    found = []
    for _, part in table.groupby("replication"):
        design = np.column_stack([np.ones(len(part)), scaled.loc[part.index].to_numpy()])
        found.append(np.linalg.lstsq(design, part[measure].to_numpy(), rcond=None)[0][1:])
    rows = []
    for factor, changes in zip(factors, np.transpose(found), strict=True):
        unit = table[factor].str.extract(NUMBER_AND_UNIT)[1].iloc[0]
        ends = [f"{value:g} {unit}".rstrip() for value in spans[factor]]
        rows.append((factor, *ends, *estimate(changes)[:3]))
    return pd.DataFrame(rows, columns=columns)


def is_range(levels: pd.Series[str]) -> bool:
    """Whether a factor took more numbers, of one unit, than are told one by one, or one at each of several points."""
    several = 3 <= levels.nunique() == len(levels)
    if not several and levels.nunique() <= MOST_LEVELS:
        return False
    parts = levels.str.extract(NUMBER_AND_UNIT)
    return bool(parts[0].notna().all()) and parts[1].nunique() == 1


def numbers(levels: pd.Series[str]) -> pd.Series[float]:
    """The numbers in front of their unit; NaN for words."""
    return pd.to_numeric(levels.str.extract(NUMBER_AND_UNIT)[0], errors="coerce")
