"""Which of many points may still be the best, looked at again and again while replications are added.

Source: Kim & Nelson 2001, a fully sequential procedure for indifference-zone selection; the formulas from memory.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
import pandas as pd

from linesim.line.problems import Problem
from linesim.results.intervals import CONFIDENCE
from linesim.results.precision import read_wanted

Choice = tuple[str, float]  # a measure, and a difference in it that does not matter [its unit]
FEWEST_FIRST = 10  # replications from which the variances of the differences are judged


def survivors(
    values: pd.DataFrame,
    first: int,
    candidates: int,
    indifference: float,
    most_is_best: bool = True,
) -> list[int]:
    """The columns of `values` that may still be the best: all but those that another has left clearly behind.

    values: a row a replication from number 1 on, a column a point that survived so far, nothing missing. first: how
    many of these were made before the first look; the variances are judged from them alone, and never again.
    candidates: how many points there were at the beginning. indifference: a difference that does not matter. If points
    are looked at whenever replications were added, and only survivors go on, then with 95 % confidence the best is
    never lost if it leads by `indifference`; common random numbers and unequal variances do no harm.

    Raises ValueError for fewer than ten first replications, or not as many rows.
    """
    made = len(values)
    if first < FEWEST_FIRST or made < first:
        raise ValueError(f"screening needs {FEWEST_FIRST} first replications at least, and all of them")
    names = [int(name) for name in values.columns]
    if candidates < 2 or len(names) < 2:
        return names
    error = (1 - CONFIDENCE) / (candidates - 1)
    reach = ((2 * error) ** (-2 / (first - 1)) - 1) * (first - 1)  # h squared
    table = values.to_numpy(dtype=float) * (1 if most_is_best else -1)
    means = table.mean(axis=0)
    kept = []
    for at, name in enumerate(names):
        variances = (table[:first, [at]] - table[:first]).var(axis=0, ddof=1)
        allowed = np.maximum(0.0, indifference / (2 * made) * (reach * variances / indifference**2 - made))
        if np.all(means[at] >= means - allowed):
            kept.append(name)
    return kept


def read_indifference(asked: Mapping[str, Any], first: int) -> tuple[Choice | None, list[Problem]]:
    """What {"throughput_per_h": 0.2} asks for (None for nothing), and what is wrong; first: replications of each."""
    differences, problems = read_wanted(asked, "indifference")
    problems += [
        Problem(
            f"indifference.{each.measure}", asked[each.measure], "must be a number in the measure's unit", "write 0.2"
        )
        for each in differences
        if each.relative
    ]
    if len(asked) > 1:
        problems.append(Problem("indifference", asked, "looks at one measure", "keep the one that decides"))
    if asked and first < FEWEST_FIRST:
        rule = f"is too few to judge by which can be left out; {FEWEST_FIRST} at least"
        problems.append(Problem("replications", first, rule, f"write replications={FEWEST_FIRST}"))
    return (differences[0].measure, differences[0].half_width) if differences else None, problems
