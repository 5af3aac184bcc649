"""A sweep by hand: two machines or one, a slow or a quick loader; outputs and prices chosen, nothing was run."""

from __future__ import annotations

import pandas as pd

from linesim.results import Sweep
from linesim.results.definitions import MEASURES

POINTS = [(1, "1", "slow", 100_000.0), (2, "1", "quick", 120_000.0), (3, "2", "slow", 180_000.0)]
POINTS += [(4, "2", "quick", 200_000.0)]
OUTPUT = {1: (20.0, 21.0, 22.0), 2: (24.0, 25.0, 26.0), 3: (20.5, 21.4, 22.4), 4: (24.0, 25.1, 26.3)}


def sweep(extra_level: str = "quick", planned: int = 12) -> Sweep:
    """extra_level: how the quick loader is called."""
    points = pd.DataFrame(POINTS, columns=["point", "turn.machines", "loader", "investment"])
    points["loader"] = points["loader"].replace("quick", extra_level)
    rows = pd.DataFrame(
        [
            {"point": point, "replication": number, "error": pd.NA, "throughput_per_h": made, "wip_parts": 5.0}
            for point, outputs in OUTPUT.items()
            for number, made in enumerate(outputs, 1)
        ],
        columns=["point", "replication", "error", *MEASURES],
    )
    rows = rows.astype({"error": "string", **dict.fromkeys(MEASURES, "float64")})
    about = {"hours": 100.0, "warmup_hours": 10.0, "seed": 7, "planned": planned, "round": 1}
    return Sweep({**about, "rounds": {"first": 2, "best_by": None, "precision": None}}, points, rows)
