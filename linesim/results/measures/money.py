"""Cost of a good part at the output of a replication, by the same rows as the cost sheet of the line."""

from __future__ import annotations

import pandas as pd

from linesim.engine.contract.ledger import HOUR_US, Fate, Ledger
from linesim.line.model import Line
from linesim.line.money import ITEMS, PartCost, part_cost, planned_hours_a_year
from linesim.line.power import has_power
from linesim.results.measures.energy import energy_per_good_part_kwh
from linesim.results.measures.output import count_left, left
from linesim.results.measures.planned import planned_us
from linesim.results.measures.stops import stop_costs

NOT_DEFINED = float("nan")


def money_measures(ledger: Ledger, line: Line) -> dict[str, float]:
    """Energy and cost of a good part; NaN where they are not defined."""
    energy_kwh = energy_per_good_part_kwh(ledger, line, count_left(ledger, Fate.GOOD))
    cost = _cost(ledger, line, energy_kwh)
    return {
        "energy_per_good_part_kwh": energy_kwh,
        "cost_per_good_part": cost.conversion if cost else NOT_DEFINED,
        "annual_cost_per_good_part": cost.annuity_and_running if cost else NOT_DEFINED,
    }


def _cost(ledger: Ledger, line: Line, energy_kwh: float) -> PartCost | None:
    """None without money, demand (which gives the planned hours of a year) or good parts."""
    good, gone = count_left(ledger, Fate.GOOD), len(left(ledger))  # samples cost as much as scrap
    if line.money is None or line.demand is None or not good:
        return None
    good_a_year = good / (planned_us(ledger) / HOUR_US) * planned_hours_a_year(line)
    counted_kwh = energy_kwh if has_power(line) else None
    return part_cost(line, good_a_year, (gone - good) / good, counted_kwh, sum(stop_costs(ledger, line)) / good)


def costs(ledger: Ledger, line: Line) -> pd.DataFrame:
    """A row an item of the conversion cost: item, per_good_part [currency]; none where the cost is not defined."""
    cost = _cost(ledger, line, energy_per_good_part_kwh(ledger, line, count_left(ledger, Fate.GOOD)))
    rows = [(item, cost.rows[item]) for item in ITEMS] if cost else []
    return pd.DataFrame(rows, columns=["item", "per_good_part"]).astype({"per_good_part": float})
