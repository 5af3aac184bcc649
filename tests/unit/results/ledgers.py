"""A ledger written by hand, small enough to work every measure out on paper. Times below are seconds.

Two mills and a gauge, measured for 1000 s after 100 s, in windows of 300 s. Nothing was run to get these numbers.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from linesim.engine.contract.ledger import (
    US,
    CarriageState,
    CrewCounts,
    EndCounts,
    Fate,
    Ledger,
    MachineCounts,
    MachineState,
    Owner,
    StationCounts,
    StoppageCounts,
)
from linesim.line import Line, load_line

MILL_1 = {"waiting_repair": 50, "under_repair": 200, "tool_change": 60, "working": 350, "loading": 40, "blocked": 300}
MILL_2 = {"dressing": 86, "working": 290, "loading": 24, "starved": 600}
GAUGE = {"working": 240, "starved": 760}
GANTRY = {"moving_empty": 100, "moving_loaded": 150, "handling": 250, "waiting_at_machine": 20, "idle": 480}
DEPARTURES = [  # left, part, entered, fate, defect, charged to, reworks
    (50, 0, 10, Fate.GOOD, -1, -1, 0),  # in the warm-up
    (100, 1, 20, Fate.GOOD, -1, -1, 0),  # just at its end: measured
    (300, 2, 150, Fate.GOOD, -1, -1, 0),  # at the end of a window: belongs to the next
    (450, 3, 250, Fate.SCRAPPED, 0, 0, 0),  # the mill's defect
    (590, 4, 390, Fate.GOOD, -1, -1, 1),
    (700, 5, 450, Fate.GOOD, 0, -1, 0),  # a bad one that nobody noticed
    (900, 6, 580, Fate.GOOD, -1, -1, 1),
    (1099, 7, 800, Fate.SCRAPPED, -1, 1, 0),  # a false alarm of the gauge
]
SIZES = [  # made, part, machine, characteristic, size, set to
    (50, 1, 1, 0, 900, 900),  # in the warm-up
    (100, 2, 1, 0, -2000, 0),
    (300, 3, 1, 0, 1000, 0),
    (450, 4, 2, 0, 2001, 0),  # out by a nanometre
    (900, 5, 1, 0, 2000, 0),
]
READINGS = [  # read, part, gauge, characteristic, machine, size, reading, moved
    (99, 1, 4, 0, 1, 900, 2500, -5),  # in the warm-up
    (100, 2, 4, 0, 1, -2000, -2001, 7),  # good, read as bad
    (400, 3, 4, 0, 1, 1000, 1200, 0),
    (500, 4, 4, 0, 2, 2001, 2000, -6),  # bad, read as good
    (950, 5, 4, 0, 1, 2000, 2600, 0),  # good, read as bad
]


def line(**changes: Any) -> Line:
    """The line of the ledger; 20 good parts/h are wanted. Invented data."""
    return load_line(
        {
            "name": "by hand",
            "demand": {"volume": "80000 /year", "planned": "4000 h/year"},
            "route": ["stocker", "mill", "park", "gauge", "tray"],
            "infeed": {"stocker": {}},
            "outfeed": {"tray": {}},
            "stations": {
                "mill": {
                    "cycle": "60 s",
                    "machines": 2,
                    "defects": {"size": "5 %"},
                    "characteristics": {"bore": {"tolerance": "4 um", "spread": "1 um"}},
                },
                "gauge": {"cycle": "20 s", "inspection": {"rework": {"to": "mill", "at_most": 1}}},
            },
            "buffers": {"park": {"capacity": 2}},
            **changes,
        }
    )


def ledger(**changes: Any) -> Ledger:
    """The ledger; `changes` replace its fields."""
    owners = (
        Owner("stocker", "infeed", "stocker"),
        Owner("mill.1", "machine", "mill"),
        Owner("mill.2", "machine", "mill"),
        Owner("park", "buffer", "park"),
        Owner("gauge.1", "machine", "gauge"),
        Owner("tray", "outfeed", "tray"),
        Owner("gantry.1", "carriage", "gantry"),
        Owner("technician", "crew", "technician"),
    )
    return replace(
        Ledger(
            seed=1,
            replication=1,
            warmup_us=100 * US,
            horizon_us=1100 * US,
            window_us=300 * US,
            planned=np.array([(0, 1100)], dtype=np.int64) * US,
            owners=owners,
            states={
                "mill.1": machine_states(MILL_1),
                "mill.2": machine_states(MILL_2),
                "gauge.1": machine_states(GAUGE),
                "gantry.1": np.array([GANTRY.get(state.name.lower(), 0) for state in CarriageState]) * US,
            },
            departures=departures(DEPARTURES),
            entered=8,
            inside_start=1,
            inside_end=2,
            wip=np.array([100, 300, 400, 200, 0, 0]) * US,
            levels={"park": np.array([500, 300, 200]) * US},
            windows=np.array([(100, 60, 1), (300, 200, 1), (600, 600, 2), (900, 450, 1), (1100, 450, 2)]) * [US, US, 1],
            of_stations=(StationCounts("mill", 10, 1, 2, 0, 0), StationCounts("gauge", 12, 1, 0, 1, 0)),
            of_machines=(
                MachineCounts("mill.1", "mill", 6),
                MachineCounts("mill.2", "mill", 4),
                MachineCounts("gauge.1", "gauge", 12),
            ),
            of_ends=(EndCounts("stocker", "infeed", 60, 20_000 * US, 50 * US, 100 * US),),
            of_stoppages=(
                StoppageCounts("mill.1", "jam", "breakdown", 2, 50 * US, 200 * US),
                StoppageCounts("mill.2", "wheel", "dressing", 3, 0, 86 * US),
            ),
            of_crews=(CrewCounts("technician", 2, 2000 * US, 400 * US, 50 * US, 4, 1, 60 * US),),
            defects=(("mill", "size"),),
            part_types=(),
            characteristics=(("mill", "bore"),),
            sizes=sizes(SIZES),
            readings=readings(READINGS),
            spells=np.array([(1, 0, 400), (4, 300, 1000), (2, 990, 1100)], dtype=np.int64) * [1, US, US],
            visits=24,
            events=60,
        ),
        **changes,
    )


def machine_states(times_s: dict[str, int]) -> np.ndarray:
    """Time in each state [us], shape (16,), from seconds by name."""
    return np.array([times_s.get(state.name.lower(), 0) for state in MachineState], dtype=np.int64) * US


def departures(rows: Sequence[tuple[int, ...]]) -> np.ndarray:
    """Rows of departures, their times turned from seconds into microseconds; without a part type all are alike, and
    scrap was found at the gauge."""
    whole = [(*row, -1, 1 if row[3] == Fate.SCRAPPED else -1)[:9] if len(row) == 7 else row for row in rows]
    return np.array(whole, dtype=np.int64).reshape(-1, 9) * [US, 1, US, 1, 1, 1, 1, 1, 1]


def readings(rows: Sequence[tuple[int, int, int, int, int, int, int, int]]) -> np.ndarray:
    """Rows of readings, their times turned from seconds into microseconds."""
    return np.array(rows, dtype=np.int64).reshape(-1, 8) * [US, 1, 1, 1, 1, 1, 1, 1]


def sizes(rows: Sequence[tuple[int, int, int, int, int, int]]) -> np.ndarray:
    """Rows of sizes, their times turned from seconds into microseconds."""
    return np.array(rows, dtype=np.int64).reshape(-1, 6) * [US, 1, 1, 1, 1, 1]
