"""Sizes over time: what the first machine of each characteristic was set to, and what it made, in short stretches."""

from __future__ import annotations

import numpy as np
import pandas as pd

from linesim.engine.contract.ledger import HOUR_US, SIZE_COLUMNS, Ledger

MOST_STRETCHES = 200
NM_PER_UM = 1000
COLUMNS = ["station", "characteristic", "machine", "from_h", "to_h", "parts"]
COLUMNS += ["set_to_um", "mean_um", "lowest_um", "highest_um"]


def sizes_over_time(ledger: Ledger) -> pd.DataFrame:
    """A row a stretch of equally many parts of one machine, from the start on; as many as there are, if few.

    All are deviations from nominal: the mean setting (offset, wear and corrections, without chance), and the mean, the
    least and the largest of its sizes.
    """
    sizes = pd.DataFrame(ledger.sizes, columns=list(SIZE_COLUMNS))
    tables = []
    for number, (station, name) in enumerate(ledger.characteristics):
        rows = sizes[sizes["characteristic"] == number]
        rows = rows[rows["machine"] == rows["machine"].min()]
        each = max(1, -(-len(rows) // MOST_STRETCHES))
        groups = rows.groupby(np.arange(len(rows)) // each)
        made = groups["size_nm"]
        stretches = {
            "from_h": groups["time_us"].min() / HOUR_US,
            "to_h": groups["time_us"].max() / HOUR_US,
            "parts": groups.size(),
            "set_to_um": groups["set_to_nm"].mean() / NM_PER_UM,
            "mean_um": made.mean() / NM_PER_UM,
            "lowest_um": made.min() / NM_PER_UM,
            "highest_um": made.max() / NM_PER_UM,
        }
        machine = ledger.owners[int(rows["machine"].iloc[0])].name if len(rows) else ""
        tables.append(pd.DataFrame({"station": station, "characteristic": name, "machine": machine, **stretches}))
    filled = [table for table in tables if len(table)]
    return pd.concat(filled, ignore_index=True) if filled else pd.DataFrame(columns=COLUMNS)
