"""Sizes: what share is out of tolerance, the capability that was realised, and what gauges made of it."""

from __future__ import annotations

import numpy as np
import pandas as pd

from linesim.engine.contract.ledger import Ledger
from linesim.line.model import Line, Tolerance
from linesim.results.measures.containment import Containment, containment
from linesim.results.measures.planned import ratio

TIME, CHARACTERISTIC, SIZE_NM = 0, 3, 4  # columns of sizes
READ_SIZE_NM, READING_NM, MOVED_PM = 5, 6, 7  # columns of readings; time and characteristic as there
NM_PER_UM = 1000
COLUMNS = ["station", "characteristic", "made_parts", "out_parts", "out_share", "mean_um", "sd_um", "cp", "cpk"]
COLUMNS += ["measured_parts", "false_rejects", "false_accepts", "corrections"]
COLUMNS += [*Containment._fields, "low_um", "high_um"]


def characteristics(ledger: Ledger, line: Line) -> pd.DataFrame:
    """A row a characteristic, of sizes made and read in the measured time. Cp and Cpk: from memory, common practice."""
    made = ledger.sizes[ledger.sizes[:, TIME] >= ledger.warmup_us]
    read = ledger.readings[ledger.readings[:, TIME] >= ledger.warmup_us]
    rows = []
    for number, (station, name) in enumerate(ledger.characteristics):
        tolerance = line.stations[station].characteristics[name].tolerance
        sizes_um = made[made[:, CHARACTERISTIC] == number, SIZE_NM] / NM_PER_UM
        out = int(_is_out(sizes_um, tolerance).sum())
        readings = read[read[:, CHARACTERISTIC] == number]
        bad = _is_out(readings[:, READ_SIZE_NM] / NM_PER_UM, tolerance)
        rejected = _is_out(readings[:, READING_NM] / NM_PER_UM, tolerance)
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
                "measured_parts": len(readings),
                "false_rejects": int((rejected & ~bad).sum()),
                "false_accepts": int((bad & ~rejected).sum()),
                "corrections": int((readings[:, MOVED_PM] != 0).sum()),
                **containment(ledger, number, NM_PER_UM * tolerance.low, NM_PER_UM * tolerance.high)._asdict(),
                "low_um": tolerance.low,
                "high_um": tolerance.high,
            }
        )
    return pd.DataFrame(rows, columns=COLUMNS)


def _is_out(sizes_um: np.ndarray, tolerance: Tolerance) -> np.ndarray:
    out: np.ndarray = (sizes_um < tolerance.low) | (sizes_um > tolerance.high)
    return out
