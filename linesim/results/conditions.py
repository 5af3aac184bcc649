"""Tables of lines or points, asked under a condition: which meet it, and which of these are the best."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd

from linesim.line.problems import nearest
from linesim.results.definitions import LESS_IS_BETTER, MEASURES

INVESTMENT, DEMAND = "investment", "demand_per_h"
OF_LINE = (INVESTMENT, DEMAND)  # columns that hold what a line is, beside what it does


def meeting(table: pd.DataFrame, where: str | None) -> pd.DataFrame:
    """The rows that meet a condition on the columns, as pandas reads it; all of them without one.

    Columns of text that hold numbers only count as numbers. Raises ValueError for a condition that can't be read.
    """
    if not where:
        return table
    try:
        return table[np.asarray(table.apply(_as_numbers).eval(where), dtype=bool)]
    except Exception as error:  # pandas raises whatever its parts raise
        plain = [name for name in table.columns if name.removesuffix("_low").removesuffix("_high") not in MEASURES]
        said = str(error).partition(" (<unknown>")[0]
        raise ValueError(
            f"the condition {where!r} can't be read: {said}. It may use {', '.join(plain)}, and every measure by "
            f"itself, with _low or with _high; a name with a dot stands between backticks"
        ) from None


def best(table: pd.DataFrame, by: str, count: int | None) -> pd.DataFrame:
    """So many rows, the best by a measure or by investment first; those without a value are left out.

    Raises ValueError for what is no measure.
    """
    less = measure(by) in LESS_IS_BETTER or by == INVESTMENT
    ranked = table.dropna(subset=[by]).sort_values(by, ascending=less, kind="stable")
    return ranked if count is None else ranked.head(count)


def measure(name: str) -> str:
    """The name, if it is that of a measure or of the investment; raises ValueError if not."""
    if name not in MEASURES and name != INVESTMENT:
        near = nearest(name, [INVESTMENT, *MEASURES]) or next(
            (known for known in MEASURES if known.startswith(name)), ""
        )
        meant = f". Did you mean {near}?" if near else ""
        raise ValueError(f"{name!r} is no measure; there are {INVESTMENT}, {', '.join(MEASURES)}{meant}")
    return name


def _as_numbers(column: pd.Series[Any]) -> pd.Series[Any]:
    numbers = pd.to_numeric(column, errors="coerce")
    return numbers if numbers.notna().all() else column
