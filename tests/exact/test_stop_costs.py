"""What tools and dressings cost a good part: by hand, by the rough-cut sheet, and as simulated.

The formula of the dressing interval n: (dressing + wheel / N dressings) / n for each part made, and s / (1 - s)
scrapped parts beside each good one, s being the mean over n parts of the share that wear has carried out of tolerance.
Common practice; written anew here, from the definition of the normal distribution.
"""

from __future__ import annotations

from statistics import NormalDist

import pytest

import linesim
from linesim.line import load_line, summary
from linesim.line.money import cost_at_demand
from linesim.line.stop_costs import stop_costs_per_good_part
from tests.helpers.lines import Plain, alone
from tests.helpers.seeds import EXACT

MONEY = {"life": "10 years", "blank": "3 /part", "tooling": "0.2 /part"}
DEMAND = {"volume": "100000 /year", "planned": "4000 h/year"}


def rows(line: Plain) -> dict[str, float]:
    found = cost_at_demand(load_line(line))
    assert found is not None
    return found.rows


def milling(tool_change: Plain, **station: object) -> Plain:
    mill = {"cycle": "30 s", "tool_change": tool_change, **station}
    return alone(mill) | {"demand": DEMAND, "money": MONEY}


def test_stops_cost_a_part_their_price_over_its_interval_beside_other_tooling() -> None:
    """18 each 120 parts and 6 each 40 parts are 0.15 and 0.15, beside 0.20 of other tooling."""
    tools = {"insert": {"every": "120 parts", "takes": "60 s", "cost": "18 each"}}
    tools |= {"drill": {"every": "40 parts", "takes": "60 s", "cost": "6 each"}}
    assert rows(milling(tools))["tooling"] == pytest.approx(0.15 + 0.15 + 0.20)


def test_tools_that_scrapped_parts_use_up_count_once() -> None:
    """A fifth is scrapped: 125 parts for 100 good ones, 12.50 of tools at 0.10 a part: 0.10 a part and a quarter more.

    In all 100 good parts bear 12.50 of tools, 25 of tooling at 0.20, and 25 blanks of 3.00.
    """
    tools = {"insert": {"every": "120 parts", "takes": "60 s", "cost": "12 each"}}
    line = milling(tools, defects={"size": "20 %"}, inspection={})
    found = rows(line)
    assert found["tooling"] == pytest.approx(0.10 + 0.20)
    assert found["scrap"] == pytest.approx(0.25 * (3 + 0.30))
    assert stop_costs_per_good_part(load_line(line)) == pytest.approx({("mill", "tool_change", "insert"): 0.125})


def test_a_stop_by_working_time_costs_by_the_cycle_and_one_by_the_calendar_by_the_hour() -> None:
    """Cycle 30 s: 8 each 20 min of work is 8 x 30 / 1200 = 0.20. Every 3 h 50 min for 10 min, 10 each: a quarter of an
    hour's worth each hour, 2.50, over 25 good parts an hour: 0.10."""
    tools = {
        "belt": {"every": "20 min", "clock": "working", "takes": "60 s", "cost": "8 each"},
        "coolant": {"every": "230 min", "takes": "10 min", "cost": "10 each"},
    }
    costs = stop_costs_per_good_part(load_line(milling(tools)))
    assert costs == pytest.approx({("mill", "tool_change", "belt"): 0.20, ("mill", "tool_change", "coolant"): 0.10})


def test_broken_tools_cost_what_their_breakage_does() -> None:
    """Life 40 or 120 parts alike, planned every 100: 70 parts from one to the next, half of them broken at 30, half
    changed at 10; one part in 140 is lost, so 140 / 139 are made for a good one."""
    life = {"family": "empirical", "values": ["40 parts", "120 parts"]}
    insert = {"every": "100 parts", "takes": "60 s", "cost": "10 each", "life": life}
    insert["breakage"] = {"takes": "60 s", "cost": "30 each"}
    costs = stop_costs_per_good_part(load_line(milling({"insert": insert})))
    made = 140 / 139
    assert costs == pytest.approx(
        {("mill", "breakage", "insert"): made * 15 / 70, ("mill", "tool_change", "insert"): made * 5 / 70}
    )


def test_unequal_machines_wear_their_own_tools() -> None:
    """The quick one makes two parts in three, with tools at 0.30 a part; the other's cost 0.60: 0.20 + 0.20."""
    tools = {"insert": {"every": "10 parts", "takes": "0 s", "cost": "3 each"}}
    machines = {"quick": {}, "slow": {"cycle": "60 s", "tool_change": {"insert": {"cost": "6 each"}}}}
    costs = stop_costs_per_good_part(load_line(milling(tools, machines=machines)))
    assert costs == pytest.approx({("mill", "tool_change", "insert"): 0.40})


def test_the_sheet_tells_what_each_stop_costs() -> None:
    tools = {"insert": {"every": "120 parts", "takes": "60 s", "cost": "18 each"}}
    text = summary(load_line(milling(tools)))
    assert [line.split() for line in text.splitlines() if "of it" in line] == [
        ["of", "it", "mill,", "tool", "change", "insert", "0.150"]
    ]


def test_a_run_counts_the_stops_that_began_in_the_measured_time() -> None:
    """Cycle 54 s and 18 s every 3 parts, 60 parts an hour; in the measured hour 20 changes at 9 each, 3 a part."""
    tools = {"insert": {"every": "3 parts", "takes": "18 s", "cost": "9 each", "age": "0 parts"}}
    line = milling(tools, cycle="54 s")
    results = linesim.simulate(load_line(line), hours=1, warmup_hours=1, replications=1, seed=EXACT, engine="simpy")
    stops = results.stoppages.iloc[0]
    assert (stops["count"], stops["cost"]) == (20, 180)
    assert results.costs.set_index("item")["per_good_part"]["tooling"] == pytest.approx(3 + 0.2)


# ---- the interval between dressings at the lowest cost ----

TOLERANCE_UM, SPREAD_UM, OFFSET_UM, DRIFT_UM = 12.0, 1.2, -1.2, 0.5
DRESSING, WHEEL, DRESSINGS = 1.8, 900.0, 500
INTERVALS = (4, 6, 8, 9, 10, 11, 12, 14, 18)


def grinding(every: int) -> Plain:
    station = {
        "cycle": "82 s",
        "dressing": {"wheel": {"every": f"{every} parts", "takes": "28 s", "cost": f"{DRESSING} each"}},
        "tool_change": {"wheel": {"every": f"{DRESSINGS} dressings", "takes": "45 min", "cost": f"{WHEEL} each"}},
        "characteristics": {
            "raceway": {
                "tolerance": f"{TOLERANCE_UM} um",
                "spread": f"{SPREAD_UM} um",
                "offset": f"{OFFSET_UM} um",
                "drift": f"{DRIFT_UM} um/part",
                "after": {"wheel": "0 um"},
            }
        },
        "inspection": {},
        "price": "800 k",
    }
    money = {"life": "8 years", "blank": "7 /part", "wages": "40 /h"}
    return alone(station) | {"demand": DEMAND, "money": money, "crews": {"operator": {"paid": "50 %"}}}


def out_of_tolerance(every: int) -> float:
    size = NormalDist(0, SPREAD_UM)
    means = [OFFSET_UM + DRIFT_UM * part for part in range(every)]
    half = TOLERANCE_UM / 2
    return sum(size.cdf(-half - mean) + 1 - size.cdf(half - mean) for mean in means) / every


def by_formula(every: int, good_a_year: float) -> float:
    """Cost of a good part: 100 k of depreciation and 80 k of wages a year, tools of all parts, scrap at blank + all."""
    scrapped = out_of_tolerance(every) / (1 - out_of_tolerance(every))
    a_part = 180_000 / good_a_year + (DRESSING + WHEEL / DRESSINGS) / every
    return a_part + scrapped * (7 + a_part)


@pytest.mark.parametrize("every", INTERVALS)
def test_the_sheet_has_the_cost_of_each_dressing_interval(every: int) -> None:
    found = cost_at_demand(load_line(grinding(every)))
    assert found is not None
    assert found.conversion == pytest.approx(by_formula(every, 100_000), abs=1e-9)


def test_the_interval_at_the_lowest_cost_is_neither_the_shortest_nor_the_longest() -> None:
    """Dressed more often, wheels cost more; less often, scrap does. The sheet finds the same best as the formula."""
    sheet = {every: sum(rows(grinding(every)).values()) for every in INTERVALS}
    formula = {every: by_formula(every, 100_000) for every in INTERVALS}
    best = min(formula, key=lambda every: formula[every])
    assert min(sheet, key=lambda every: sheet[every]) == best
    assert INTERVALS[0] < best < INTERVALS[-1]


def test_simulated_lines_have_the_cost_of_the_formula_and_the_comparison_finds_its_best() -> None:
    """At the simulated output: the formula with that output lies within the interval of each line, or nearly (95 %).

    The wheel change is left out of the clock of the formula, but not of its cost: output is taken from the run.
    """
    few = (6, 10, 18)
    lines = {f"every {every}": load_line(grinding(every)) for every in few}
    compared = linesim.compare(lines, hours=400, warmup_hours=10, replications=8, seed=EXACT, engine="compiled")
    for every in few:
        results = compared.results[f"every {every}"]
        table = results.replications
        good_a_year = table["throughput_per_h"] * 4000
        expected = by_formula(every, float(good_a_year.mean()))
        costs = table["cost_per_good_part"]
        standard_error = costs.std(ddof=1) / len(costs) ** 0.5
        assert abs(costs.mean() - expected) < 4 * standard_error
        assert standard_error < 0.02
    means = {every: compared.results[f"every {every}"].replications["cost_per_good_part"].mean() for every in few}
    assert min(means, key=lambda every: means[every]) == 10
