"""Output by day, by week and by planned year of the measured time."""

from __future__ import annotations

import numpy as np
import pandas as pd

from linesim.engine.contract.ledger import HOUR_US, Fate, Ledger
from linesim.line.demand import needed_per_h, planned_h_per_year
from linesim.line.model import Line
from linesim.results.measures.output import TIME, left
from linesim.results.measures.planned import planned_before_us

DAY, WEEK, YEAR = "day", "week", "year"
CLOCK_H = {DAY: 24, WEEK: 168}
ROUNDING = 1e-9  # a volume over its hours, times these hours, may come out a little above the volume


def periods(ledger: Ledger, line: Line) -> pd.DataFrame:
    """A row a whole period, counted from the end of the warm-up: period, number, from_h, to_h, planned_h, good_parts,
    throughput_per_h (per planned hour), below.

    A planned year is as much planned time as the demand has in a year; days and weeks without planned time are left
    out. below: 1 if fewer good parts left than demand asks for in the planned time, else 0; NaN without a demand.
    """
    good = left(ledger, Fate.GOOD)[:, TIME]
    needed = needed_per_h(line)
    rows = []
    for period, edges in _edges_us(ledger, line).items():
        counts = np.diff(np.searchsorted(good, edges))  # what leaves at the very end is the next one's
        planned_h = np.diff(planned_before_us(ledger, edges)) / HOUR_US
        for at in np.flatnonzero(planned_h > 0):
            made, hours = int(counts[at]), float(planned_h[at])
            below = float(made < needed * hours * (1 - ROUNDING)) if needed is not None else float("nan")
            ends = edges[at] / HOUR_US, edges[at + 1] / HOUR_US
            rows.append((period, at + 1, *ends, hours, made, made / hours, below))
    columns = ["period", "number", "from_h", "to_h", "planned_h", "good_parts", "throughput_per_h", "below"]
    return pd.DataFrame(rows, columns=columns)


def _edges_us(ledger: Ledger, line: Line) -> dict[str, np.ndarray]:
    """Where the whole periods of each kind begin and end [us]."""
    begin, end = ledger.warmup_us, ledger.horizon_us
    edges = {name: np.arange(begin, end + 1, hours * HOUR_US) for name, hours in CLOCK_H.items()}
    year_h = planned_h_per_year(line)
    if year_h:
        before, after = planned_before_us(ledger, np.array([begin, end]))
        edges[YEAR] = _at_planned_us(ledger, np.arange(before, after + 1, round(year_h * HOUR_US)))
    return edges


def _at_planned_us(ledger: Ledger, planned_us: np.ndarray) -> np.ndarray:
    """The times by which so much planned time is over, the first of them [us]."""
    begin, end = ledger.planned.T
    over = np.cumsum(end - begin)
    stretch = np.minimum(np.searchsorted(over, planned_us), len(over) - 1)
    times: np.ndarray = end[stretch] - (over[stretch] - planned_us)
    return times
