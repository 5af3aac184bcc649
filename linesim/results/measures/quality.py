"""Sizes: what share is out of tolerance, and the capability that was realised."""

from __future__ import annotations

import pandas as pd

from linesim.engine.contract.ledger import Ledger
from linesim.line.model import Line
from linesim.results.measures.planned import ratio

TIME, CHARACTERISTIC, SIZE_NM = 0, 3, 4  # columns of sizes
NM_PER_UM = 1000


def characteristics(ledger: Ledger, line: Line) -> pd.DataFrame:
    """A row a characteristic, of the sizes made in the measured time. Cp and Cpk: from memory, common practice."""
    measured = ledger.sizes[ledger.sizes[:, TIME] >= ledger.warmup_us]
    rows = []
    for number, (station, name) in enumerate(ledger.characteristics):
        tolerance = line.stations[station].characteristics[name].tolerance
        sizes_um = measured[measured[:, CHARACTERISTIC] == number, SIZE_NM] / NM_PER_UM
        out = int(((sizes_um < tolerance.low) | (sizes_um > tolerance.high)).sum())
        mean = float(sizes_um.mean()) if len(sizes_um) else float("nan")
        sd = float(sizes_um.std(ddof=1)) if len(sizes_um) > 1 else float("nan")
        rows.append(
            {
                "station": station,
                "characteristic": name,
                "made_parts": len(sizes_um),
                "out_parts": out,
                "out_share": ratio(out, len(sizes_um)),
                "mean_um": mean - tolerance.middle,
                "sd_um": sd,
                "cp": ratio(tolerance.width, 6 * sd),
                "cpk": ratio(min(tolerance.high - mean, mean - tolerance.low), 3 * sd),
            }
        )
    columns = ["station", "characteristic", "made_parts", "out_parts", "out_share", "mean_um", "sd_um", "cp", "cpk"]
    return pd.DataFrame(rows, columns=columns)
