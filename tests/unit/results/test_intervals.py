"""Means and t-intervals."""

import math

import pandas as pd
import pytest

from linesim.results.demand import MET, NOT_MET, NOT_SHOWN, verdict
from linesim.results.intervals import Estimate, averaged, estimate, t_quantile, within


@pytest.mark.parametrize(("degrees", "quantile"), [(1, 12.706), (4, 2.776), (9, 2.262), (29, 2.045)])
def test_t_quantiles_are_those_of_the_printed_table(degrees: int, quantile: float) -> None:
    """NIST/SEMATECH e-Handbook 1.3.6.7.2, two-sided 95 %, three decimals."""
    assert round(t_quantile(degrees), 3) == quantile


@pytest.mark.parametrize(
    ("values", "mean", "deviation"),
    [
        ([10000001, 10000003, 10000002], 10000002, 1),  # NIST StRD NumAcc1
        ([10000000.2, *([10000000.1, 10000000.3] * 500)], 10000000.2, 0.1),  # NIST StRD NumAcc4
    ],
)
def test_large_values_with_a_small_spread_keep_their_digits(values: list[float], mean: float, deviation: float) -> None:
    """Certified values of NIST StRD, univariate summary statistics."""
    found = estimate(values)
    assert found.mean == pytest.approx(mean, rel=1e-12)
    half = t_quantile(len(values) - 1) * deviation / math.sqrt(len(values))
    assert found.half_width == pytest.approx(half, rel=1e-6)


def test_interval_of_three_values_is_that_worked_out_by_hand() -> None:
    """Mean 2, deviation 1, t = 4.3027 with 2 degrees: half width 4.3027 / sqrt 3 = 2.4841."""
    found = estimate([1.0, 2.0, 3.0])
    assert (found.mean, found.replications) == (2.0, 3)
    assert (round(found.low, 4), round(found.high, 4)) == (-0.4841, 4.4841)


def test_one_value_has_no_interval_and_undefined_ones_do_not_count() -> None:
    found = estimate([5.0, math.nan])
    assert (found.mean, found.replications) == (5.0, 1)
    assert math.isnan(found.low)
    assert math.isnan(found.high)
    assert estimate([math.nan]).replications == 0


def test_averages_take_each_thing_by_itself_in_its_first_order() -> None:
    table = pd.DataFrame({"buffer": ["z", "a", "z", "a"], "replication": [1, 1, 2, 2], "level": [1.0, 5.0, 3.0, 5.0]})
    found = averaged(table, ["buffer"], "level")
    assert found["buffer"].tolist() == ["z", "a"]
    assert found["mean"].tolist() == [2.0, 5.0]
    assert found["low"].tolist() == [estimate([1.0, 3.0]).low, 5.0]


@pytest.mark.parametrize(
    ("low", "high", "demand", "words"),
    [
        (24.5, 25.0, 24.4, MET),
        (24.4, 25.0, 24.4, MET),
        (23.0, 24.39, 24.4, NOT_MET),
        (24.0, 25.0, 24.4, NOT_SHOWN),
        (math.nan, math.nan, 24.4, NOT_SHOWN),
        (24.5, 25.0, None, None),
    ],
)
def test_demand_is_judged_by_the_whole_interval(
    low: float, high: float, demand: float | None, words: str | None
) -> None:
    assert verdict(Estimate(24.6, low, high, 5), demand) == words


@pytest.mark.parametrize(
    ("found", "most", "ends"),
    [
        ((0.98, 0.95, 1.01), 1.0, (0.95, 1.0)),  # a share ends at 100 %
        ((0.01, -0.02, 0.04), 1.0, (0.0, 0.04)),
        ((0.5, 0.4, 0.6), 1.0, (0.4, 0.6)),
        ((1.02, 0.99, 1.05), 1.0, (0.99, 1.05)),  # an effectiveness above 100 % has no end there
        ((3.0, -1.0, 7.0), math.inf, (0.0, 7.0)),
        ((-0.3, -0.5, -0.1), math.inf, (-0.5, -0.1)),  # a change may be below nothing
    ],
)
def test_an_interval_is_cut_where_the_quantity_ends(
    found: tuple[float, float, float], most: float, ends: tuple[float, float]
) -> None:
    cut = within(Estimate(*found, 5), most)
    assert (cut.low, cut.high) == ends
    assert (cut.mean, cut.replications) == (found[0], 5)


def test_an_interval_that_is_not_there_is_not_cut_to_one() -> None:
    cut = within(Estimate(0.5, math.nan, math.nan, 1), 1.0)
    assert math.isnan(cut.low)
    assert math.isnan(cut.high)
