"""From ledgers to the tables of a run: each tidy, with the replication in its first column."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import pandas as pd

from linesim.engine.contract.ledger import Ledger
from linesim.line.capacity import cycle_and_load_s, ideal_interval_s, pace_stage
from linesim.line.demand import needed_per_h
from linesim.line.lead_time import least_lead_time_s
from linesim.line.model import Line
from linesim.results.measures.aside import chutes, drawers
from linesim.results.measures.bottleneck import bottleneck
from linesim.results.measures.by_part import parts
from linesim.results.measures.energy import energy
from linesim.results.measures.leadtime import histograms, lead_time_measures, lead_times_s
from linesim.results.measures.losses import loss_bridge
from linesim.results.measures.money import costs, money_measures
from linesim.results.measures.oee import line_oee, stations
from linesim.results.measures.output import columns_of_windows, counts, share_below, windows
from linesim.results.measures.owners import loaders, states
from linesim.results.measures.periods import periods
from linesim.results.measures.quality import characteristics
from linesim.results.measures.sizes_over_time import sizes_over_time
from linesim.results.measures.stock import buffers, ends, levels, mean_wip, wip, wip_by_little
from linesim.results.measures.stops import crews, stoppages


def tables_of(line: Line, ledgers: Sequence[Ledger]) -> dict[str, pd.DataFrame]:
    """Every table of a run by its name; what each holds stands in `definitions.TABLES`."""
    stage, yardstick = pace_stage(line), Yardstick.of(line)
    part_s = cycle_and_load_s(line)[stage]
    makers: dict[str, Callable[[Ledger], pd.DataFrame]] = {
        "replications": lambda ledger: pd.DataFrame([measures(ledger, yardstick)]),
        "states": states,
        "stations": lambda ledger: stations(ledger, line),
        "parts": parts,
        "losses": lambda ledger: loss_bridge(ledger, line, stage, part_s),
        "buffers": buffers,
        "levels": levels,
        "ends": ends,
        "chutes": lambda ledger: chutes(ledger, line),
        "drawers": lambda ledger: drawers(ledger, line),
        "wip": wip,
        "windows": windows,
        "periods": lambda ledger: periods(ledger, line),
        "loaders": loaders,
        "crews": crews,
        "stoppages": lambda ledger: stoppages(ledger, line),
        "characteristics": lambda ledger: characteristics(ledger, line),
        "sizes": sizes_over_time,
        "bottleneck": bottleneck,
        "energy": lambda ledger: energy(ledger, line),
        "costs": lambda ledger: costs(ledger, line),
    }
    numbers = [ledger.replication for ledger in ledgers]
    tables = {name: _stack(numbers, [make(ledger) for ledger in ledgers]) for name, make in makers.items()}
    tables["wip"] = _same_levels(tables["wip"])
    tables["lead_times"] = _stack(numbers, histograms([lead_times_s(ledger) for ledger in ledgers]))
    return tables


@dataclass(frozen=True)
class Yardstick:
    """A line, and what the measures of all its replications are held against."""

    line: Line
    needed_per_h: float | None
    least_lead_time_s: float
    ideal_interval_s: float  # of the pace stage

    @classmethod
    def of(cls, line: Line) -> Yardstick:
        return cls(line, needed_per_h(line), least_lead_time_s(line), max(ideal_interval_s(line).values()))


def measures(ledger: Ledger, yardstick: Yardstick) -> dict[str, float]:
    """The measures of one replication, as defined in `definitions.MEASURES`."""
    return {
        **counts(ledger),
        "windows_below_demand_share": share_below(columns_of_windows(ledger), yardstick.needed_per_h),
        "wip_parts": mean_wip(ledger),
        "wip_by_little_parts": wip_by_little(ledger),
        **lead_time_measures(ledger, yardstick.least_lead_time_s),
        "line_oee": line_oee(ledger, yardstick.ideal_interval_s),
        **money_measures(ledger, yardstick.line),
    }


def _stack(numbers: Sequence[int], tables: Sequence[pd.DataFrame]) -> pd.DataFrame:
    """One table of all replications; an empty one keeps the columns."""
    for number, table in zip(numbers, tables, strict=True):
        table.insert(0, "replication", number)
    filled = [table for table in tables if not table.empty]
    return pd.concat(filled, ignore_index=True) if filled else tables[0]


def _same_levels(table: pd.DataFrame) -> pd.DataFrame:
    """Every replication with the same levels, so that one that was never reached counts as no time there."""
    wide = table.pivot(index="replication", columns="parts", values="share").fillna(0.0)
    tidy = wide.reset_index().melt(id_vars="replication", var_name="parts", value_name="share")
    return tidy.sort_values(["replication", "parts"], kind="stable", ignore_index=True).astype({"parts": "int64"})
