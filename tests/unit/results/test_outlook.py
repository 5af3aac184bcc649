"""Days, weeks and years: which there are, how many stay below the demand, and bounds from tables."""

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pandas as pd
import pytest

from linesim.engine.contract.ledger import HOUR_US, Fate, Ledger
from linesim.results import Results
from linesim.results.measures.periods import periods
from linesim.results.outlook import binomial_interval, fewest_for_quantile, outlook, quantile_interval
from tests.unit.results.ledgers import departures, ledger, line


def year(**changes: Any) -> Ledger:
    """Two days and an hour after ten hours, planned from 8 to 16 h of each day; five parts leave, in hours."""
    left = [(9, 0), (34, 1), (34, 2), (35, 3), (57, 4)]  # the second at the end of the first day: the next one's
    rows = [(hour * 3600, part, 0, Fate.GOOD, -1, -1, 0) for hour, part in left]
    shift = np.array([(8, 16), (32, 40), (56, 59)], dtype=np.int64)
    given = {"warmup_us": 10 * HOUR_US, "horizon_us": 59 * HOUR_US, "planned": shift * HOUR_US}
    return ledger(departures=departures(rows), **given, **changes)


def test_whole_days_count_from_the_end_of_the_warm_up_by_their_planned_time() -> None:
    """10 to 34 h: planned 10 to 16 and 32 to 34, 8 h, no part. 34 to 58 h: 34 to 40 and 56 to 58, 8 h, four parts."""
    given = line(demand={"volume": "2000 /year", "planned": "4000 h/year"})  # 0.5 an hour
    table = periods(year(), given)
    assert table["period"].tolist() == ["day", "day"]
    assert table["from_h"].tolist() == [10, 34]
    assert table["to_h"].tolist() == [34, 58]
    assert table["planned_h"].tolist() == [8, 8]
    assert table["good_parts"].tolist() == [0, 4]
    assert table["throughput_per_h"].tolist() == [0, 0.5]
    assert table["below"].tolist() == [1, 0], "4 in 8 h are just enough"


def test_a_planned_year_is_as_much_planned_time_as_the_demand_has() -> None:
    """8 planned hours a year: over after 6 + 2 h at 34 h, and again at 34 + 6 h and 2 h more, 58 h."""
    table = periods(year(), line(demand={"volume": "4 /year", "planned": "8 h/year"}))
    years = table[table["period"] == "year"]
    assert years[["from_h", "to_h", "planned_h", "good_parts", "below"]].to_numpy().tolist() == [
        [10, 34, 8, 0, 1],
        [34, 58, 8, 4, 0],
    ]


def test_without_a_demand_nothing_is_below_it_and_there_is_no_year() -> None:
    table = periods(year(), line(demand=None))
    assert set(table["period"]) == {"day"}
    assert table["below"].isna().all()
    assert outlook(table.assign(replication=1))["below_share"].isna().all()


@pytest.mark.parametrize(
    ("hits", "trials", "low", "high"),
    [(0, 10, 0.0, 0.3085), (1, 10, 0.0025, 0.4450), (5, 10, 0.1871, 0.8129), (10, 10, 0.6915, 1.0)],
)
def test_binomial_bounds_are_those_of_the_tables(hits: int, trials: int, low: float, high: float) -> None:
    """Exact 95 % limits, as tabled in books on statistics after Clopper & Pearson 1934 (from memory)."""
    found = binomial_interval(hits, trials)
    assert (found.low, found.high) == pytest.approx((low, high), abs=5e-5)


def test_the_median_of_ten_lies_between_the_second_and_the_ninth() -> None:
    """P(B <= 1) = 11 / 1024 = 0.011 and P(B <= 2) = 0.055: so the 2nd and 9th, as in tables for the median."""
    assert quantile_interval([float(n) for n in range(1, 11)], 0.5) == (5.0, 2.0, 9.0)


def test_the_twentieth_part_has_no_lower_bound_from_few_values() -> None:
    """0.95^71 = 0.0262 and 0.95^72 = 0.0249: it takes 72."""
    assert fewest_for_quantile() == 72
    assert math.isnan(quantile_interval(range(71), 0.05).low)
    assert quantile_interval(range(72), 0.05).low == 0
    assert all(map(math.isnan, quantile_interval([], 0.05)))


def table(shares: list[list[float]]) -> pd.DataFrame:
    """Weeks of several replications: for each whether it stayed below."""
    rows = [("week", number, below, 20.0) for number, weeks in enumerate(shares) for below in weeks]
    return pd.DataFrame(rows, columns=["period", "replication", "below", "throughput_per_h"])


def test_the_interval_of_a_share_takes_replications_for_independent_not_weeks() -> None:
    """Shares 0 and 0.5: mean 0.25, half width 12.706 x 0.354 / 1.414 = 3.2, which ends at nothing and at all."""
    (row,) = outlook(table([[0, 0], [0, 1]])).to_dict("records")
    assert (row["below_share"], row["below_low"], row["below_high"]) == (0.25, 0.0, 1.0)


def test_a_share_that_all_replications_agree_on_keeps_a_bound() -> None:
    (row,) = outlook(table([[0, 0]] * 10)).to_dict("records")
    assert (row["below_share"], row["below_low"], row["below_high"]) == pytest.approx((0.0, 0.0, 0.3085), abs=5e-5)
    (row,) = outlook(table([[1], [0]] * 5)).to_dict("records")
    assert (row["below_low"], row["below_high"]) == pytest.approx((0.1871, 0.8129), abs=5e-5), "one a replication"


def test_the_summary_tells_years_that_meet_the_demand() -> None:
    given = line(demand={"volume": "4 /year", "planned": "8 h/year"})
    idle = replace(year(replication=2), departures=departures([]))
    told = Results(given, [year(), idle]).text_summary()
    assert "  met in a planned year              25.0 %  (0.0 % to 100.0 %)   of 4" in told
    assert "  below it in a day                  75.0 %  (0.0 % to 100.0 %)   of 4" in told
