"""Parts inside the line: WIP and the levels of its buffers."""

from __future__ import annotations

import numpy as np
import pandas as pd

from linesim.engine.contract.ledger import Ledger
from linesim.results.measures.output import ENTERED, TIME, left
from linesim.results.measures.planned import ratio


def mean_wip(ledger: Ledger) -> float:
    """Time-weighted mean of the number of parts inside."""
    return _mean(ledger.wip)


def wip_by_little(ledger: Ledger) -> float:
    """Rate of leaving x mean time inside of the parts that left, good or not; near the mean WIP when the run is long.

    Source: Little 1961, L = lambda W.
    """
    rows = left(ledger)
    return ratio(float((rows[:, TIME] - rows[:, ENTERED]).sum()), ledger.measured_us)


def wip(ledger: Ledger) -> pd.DataFrame:
    """parts, share: share of the measured time with so many parts inside, up to the most there were."""
    return _shares(np.trim_zeros(ledger.wip, "b"))


def buffers(ledger: Ledger) -> pd.DataFrame:
    """A row a buffer: buffer, capacity_parts, mean_level, share_full, share_empty."""
    rows = [
        (
            name,
            len(times) - 1,
            _mean(times),
            ratio(int(times[-1]), int(times.sum())),
            ratio(int(times[0]), int(times.sum())),
        )
        for name, times in ledger.levels.items()
    ]
    return pd.DataFrame(rows, columns=["buffer", "capacity_parts", "mean_level", "share_full", "share_empty"])


def ends(ledger: Ledger) -> pd.DataFrame:
    """A row an infeed or outfeed with a limited stock: end, kind, capacity_parts (NaN: parts arrive), mean_stock,
    share_empty, share_full."""
    told, measured_us = ledger.ends, ledger.measured_us
    return pd.DataFrame(
        {
            "end": told["end"],
            "kind": told["kind"],
            "capacity_parts": told["capacity"].where(told["capacity"] > 0),
            "mean_stock": told["stock_us"] / measured_us,
            "share_empty": told["empty_us"] / measured_us,
            "share_full": told["full_us"] / measured_us,
        }
    )


def levels(ledger: Ledger) -> pd.DataFrame:
    """buffer, parts, share: share of the measured time with so many parts in the buffer."""
    tables = [_shares(times).assign(buffer=name) for name, times in ledger.levels.items()]
    columns = ["buffer", "parts", "share"]
    return pd.concat(tables, ignore_index=True)[columns] if tables else pd.DataFrame(columns=columns)


def _mean(times_us: np.ndarray) -> float:
    return ratio(float(np.arange(len(times_us)) @ times_us), float(times_us.sum()))


def _shares(times_us: np.ndarray) -> pd.DataFrame:
    return pd.DataFrame({"parts": np.arange(len(times_us)), "share": times_us / max(1, times_us.sum())})
