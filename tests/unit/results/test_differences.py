"""Paired differences, worked out by hand."""

import math

import pandas as pd
import pytest

from linesim.results.differences import LESS, MORE, NOT_SHOWN, from_base, from_best, paired, wide


def series(*values: float, first: int = 1) -> "pd.Series[float]":
    return pd.Series(values, index=range(first, first + len(values)), dtype=float)


def test_a_paired_difference_of_three_replications_is_that_worked_out_by_hand() -> None:
    """Differences 1, 2, 0: mean 1, deviation 1, t = 4.3027: half width 2.4841. Variances 1 and 1 against 1: twice."""
    found = paired(series(2, 4, 3), series(1, 2, 3))
    assert (found.mean, found.replications, found.helped) == (1, 3, 2)
    assert (round(found.low, 4), round(found.high, 4)) == (-1.4841, 3.4841)
    assert found.shown == NOT_SHOWN


def test_several_statements_together_take_wider_intervals() -> None:
    """Two intervals at 97.5 % each: t = 6.20535 with 2 degrees (printed tables: 6.205), half width 3.5827."""
    found = paired(series(2, 4, 3), series(1, 2, 3), statements=2)
    assert round(found.high - found.mean, 4) == 3.5827


def test_only_replications_of_both_lines_are_matched() -> None:
    found = paired(series(5, 7, 9), series(6, 8, 10, first=2))
    assert (found.mean, found.replications) == (1, 2)


def test_one_replication_in_common_shows_nothing_and_none_is_no_number() -> None:
    one = paired(series(5), series(3))
    assert (one.mean, one.shown) == (2, NOT_SHOWN)
    assert math.isnan(one.low)
    assert math.isnan(paired(series(5), series(3, first=2)).mean)


def test_sharing_the_random_numbers_can_do_harm() -> None:
    """Opposite luck: variances 1 and 1, variance of the difference 4."""
    assert paired(series(1, 2, 3), series(3, 2, 1)).helped == 0.5


def test_a_difference_that_never_varies_is_shown_and_needs_no_word_on_luck() -> None:
    found = paired(series(1, 2, 3), series(2, 3, 4))
    assert (found.low, found.high, found.shown) == (-1, -1, LESS)
    assert math.isnan(found.helped)
    assert paired(series(2, 3), series(1, 2)).shown == MORE


def lines() -> pd.DataFrame:
    """Three lines: the second always one above the first, the third two above the second."""
    return pd.DataFrame({"a": series(1, 5, 9), "b": series(2, 6, 10), "c": series(4, 8, 12)})


def test_every_line_is_compared_with_the_first() -> None:
    table = from_base(lines())
    assert table[["line", "mean", "shown"]].to_numpy().tolist() == [["b", 1, MORE], ["c", 3, MORE]]


def test_each_line_stands_against_the_best_of_the_others() -> None:
    """c leads b by 2; a is 3 behind c, b 2 behind it."""
    table = from_best(lines())
    assert table.to_numpy().tolist() == [["a", -3, -3, False], ["b", -2, -2, False], ["c", 2, 2, True]]


def test_where_less_is_better_the_least_is_best() -> None:
    assert from_best(lines(), most_is_best=False)["may_be_best"].tolist() == [True, False, False]


def test_with_one_replication_every_line_may_be_the_best() -> None:
    assert from_best(lines().head(1))["may_be_best"].tolist() == [True, True, True]


def test_a_wide_table_matches_replications_by_their_number() -> None:
    tables = {
        "a": pd.DataFrame({"replication": [1, 2], "m": [10.0, 20.0]}),
        "b": pd.DataFrame({"replication": [2, 3], "m": [7.0, 8.0]}),
    }
    table = wide(tables, "m")
    assert table["a"].tolist()[1] == 20
    assert table["b"].tolist()[1:] == [7, 8]
    assert table["b"].isna().tolist() == [True, False, False]


@pytest.mark.parametrize(("statements", "quantile"), [(1, 2.262), (3, 2.933), (10, 3.690)])
def test_quantiles_for_several_statements_are_those_of_printed_tables(statements: int, quantile: float) -> None:
    """Bonferroni t with 9 degrees: two-sided 5 %, 5/3 % and 0.5 % (the last also in NIST's table of t: 3.690)."""
    values = series(*range(10))
    found = paired(values, values * 0, statements)
    spread = math.sqrt(sum((v - 4.5) ** 2 for v in range(10)) / 9)
    assert round((found.high - found.mean) / spread * math.sqrt(10), 3) == quantile
