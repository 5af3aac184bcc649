"""Intervals of comparisons hold as often as they claim. Normal values on shared luck, so that the truth is known."""

import numpy as np
import pandas as pd
import pytest

from linesim.results.differences import from_base, from_best
from tests.helpers.seeds import COMPARISONS

EXPERIMENTS = 1000
MEANS = np.array([10.0, 10.3, 10.1, 9.8])


def experiments(lines: int) -> list[pd.DataFrame]:
    """Ten replications a line: a common part and one of its own, of unequal spread."""
    source = np.random.default_rng(COMPARISONS)
    common = source.normal(0, 1, (EXPERIMENTS, 10, 1))
    own = source.normal(0, 1, (EXPERIMENTS, 10, lines)) * np.array([0.2, 0.6, 0.4, 0.3])[:lines]
    return [pd.DataFrame(values, columns=list("abcd")[:lines]) for values in MEANS[:lines] + common + own]


@pytest.mark.statistical
def test_the_interval_of_two_lines_covers_the_true_difference_in_95_of_100() -> None:
    """Exact for normal values: 93 to 97 % are three standard errors of 1,000 experiments."""
    found = [from_base(values).iloc[0] for values in experiments(2)]
    covered = np.mean([row["low"] <= MEANS[1] - MEANS[0] <= row["high"] for row in found])
    assert 0.93 <= covered <= 0.97


@pytest.mark.statistical
def test_intervals_against_the_base_hold_together_in_95_of_100() -> None:
    """Bonferroni: at least 95 %, less 3 standard errors; far above that they would be needlessly wide."""
    truth = MEANS[1:] - MEANS[0]
    tables = [from_base(values) for values in experiments(4)]
    held = np.mean([((table["low"] <= truth) & (truth <= table["high"])).all() for table in tables])
    assert 0.93 <= held <= 0.985


@pytest.mark.statistical
def test_the_best_line_is_among_those_that_may_be_best_in_95_of_100_and_one_far_behind_is_not() -> None:
    """The last line is set back to 1.3 behind the best, six standard errors of its difference."""
    tables = [from_best(values.assign(d=values["d"] - 0.8)) for values in experiments(4)]
    assert np.mean([table["may_be_best"][1] for table in tables]) >= 0.95
    assert np.mean([table["may_be_best"][3] for table in tables]) < 0.05
