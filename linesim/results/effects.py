"""What the factors of a sweep do, each with the others alike: level by level, or along a straight line."""

from __future__ import annotations

from collections.abc import Collection
from typing import NamedTuple

import numpy as np
import pandas as pd

from linesim.results.intervals import estimate

MOST_LEVELS = 12  # that are told one by one; a factor with more, all of them numbers, is a range
NUMBER_AND_UNIT = r"^([-+]?[.\d]+(?:e[-+]?\d+)?)\s*(.*)$"
ABSENT = ""  # the level of a factor that the line of a point has not
EXACT = 1e-9


class _Told(NamedTuple):
    """How a factor is told. names: its levels, or the ends of its range. ends: where each of these stands.

    columns: where each point stands. A row a point or name, a column a level but the first one, or one for a range;
    NaN where the line of a point has not the factor. counts: points at each name.
    """

    names: list[str]
    ends: np.ndarray
    columns: np.ndarray
    counts: list[int]


def main_effects(
    table: pd.DataFrame, points: pd.DataFrame, ranges: Collection[str], measure: str, first: int = 1
) -> pd.DataFrame:
    """factor, level, points, mean, less_first, low, high; of a range its two ends.

    less_first: what the level has more than the first one with all other factors alike, with 95 % interval. It comes of
    one model in which the effects of all factors add up, fitted by least squares; in a full grid that is the difference
    of the plain means. NaN where the points do not tell the factors apart. mean: that of the level, the others as they
    are over all points.

    table: a row a run. points: by number, a column a factor. ranges: factors told along a straight line. first: sound
    runs that a point has at least once its first round is over; one that has hardly begun is left out. All points meet
    the same random numbers, so the model is fitted to each replication that all points have, and the interval is over
    the replications. It holds by itself, and tells nothing of bends, and of factors that help or hinder each other.
    """
    wide = _complete(table, measure, first)
    used = points.loc[wide.columns]
    told = {name: (_range if name in ranges else _levels)(points[name], used[name]) for name in points.columns}
    blocks = [np.nan_to_num(each.columns - _centre(each)) for each in told.values()]
    design = np.hstack([np.ones((len(used), 1)), *blocks])
    inverse = np.linalg.pinv(design) if len(used) else design.T
    apart = np.abs(inverse @ design - np.eye(design.shape[1])).max(axis=1, initial=0.0) < EXACT
    if len(used) <= design.shape[1] and any(name in ranges for name in points.columns):
        apart[:] = False  # a straight line through as many points as it has parts fits anything
    found = inverse @ wide.to_numpy().T  # a row a column of the design, a column a replication
    rows, start = [], 1
    for name, each in told.items():
        own = slice(start, start + each.columns.shape[1])
        start = own.stop
        base = wide.loc[:, _there(each)].to_numpy()
        all_apart = bool((apart[own] | ~np.nan_to_num(each.columns).any(axis=0)).all()) and base.size > 0
        for level, end, count in zip(each.names, each.ends, each.counts, strict=True):
            beyond = end - each.ends[0]
            less = beyond @ found[own] if count and level != each.names[0] and apart[own][beyond != 0].all() else []
            mean = base.mean() + np.mean((end - _centre(each)) @ found[own]) if count and all_apart else np.nan
            rows.append((name, level, count, float(mean), *estimate(less)[:3]))
    return pd.DataFrame(rows, columns=["factor", "level", "points", "mean", "less_first", "low", "high"])


def along_ranges(effects: pd.DataFrame, ranges: Collection[str]) -> pd.DataFrame:
    """factor, lowest, highest, change, low, high: of each range, as `main_effects` has it, if it can be told."""
    columns = ["factor", "lowest", "highest", "change", "low", "high"]
    rows = []
    for name in ranges:
        first, last = effects.loc[effects["factor"] == name].to_dict("records")
        rows.append((name, first["level"], *(last[key] for key in ("level", "less_first", "low", "high"))))
    return pd.DataFrame(rows, columns=columns).dropna(subset=["change"])


def _complete(table: pd.DataFrame, measure: str, first: int) -> pd.DataFrame:
    """A row a replication that all points have, a column a point; without points that have hardly begun."""
    wide = table.pivot(index="replication", columns="point", values=measure)
    counts = wide.notna().sum()
    return wide.loc[:, counts >= min(first, counts.median())].dropna()


def _levels(asked: pd.Series[str], used: pd.Series[str]) -> _Told:
    names = [level for level in dict.fromkeys(asked) if level != ABSENT]
    ends = np.eye(len(names))[:, 1:]
    columns = np.full((len(used), ends.shape[1]), np.nan)
    for level, end in zip(names, ends, strict=True):
        columns[(used == level).to_numpy()] = end
    return _Told(names, ends, columns, [int((used == level).sum()) for level in names])


def _range(asked: pd.Series[str], used: pd.Series[str]) -> _Told:
    values, every = numbers(used).to_numpy(), numbers(asked)
    low, high = (values.min(), values.max()) if len(values) else (every.min(), every.max())
    unit = asked.str.extract(NUMBER_AND_UNIT)[1].iloc[0]
    columns = ((values - low) / ((high - low) or 1)).reshape(-1, 1)
    names = [f"{value:g} {unit}".rstrip() for value in (low, high)]
    return _Told(names, np.array([[0.0], [1.0]]), columns, [int((values == value).sum()) for value in (low, high)])


def _centre(told: _Told) -> np.ndarray:
    """The mean place of the points that have the factor, so that others are told as the mean over its levels."""
    there = told.columns[_there(told)]
    return there.mean(axis=0) if len(there) else np.zeros(told.columns.shape[1])


def _there(told: _Told) -> np.ndarray:
    """Which points have the factor."""
    return ~np.isnan(told.columns).any(axis=1)


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
