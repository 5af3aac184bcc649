"""The serial line of the comparisons: equal stations, exponential cycles, breakdowns and repairs, small buffers."""

from __future__ import annotations

import linesim
from linesim.line.model import Line

STATIONS = 10
CYCLE_S = 60.0
MTBF_S = 12_000.0  # working time
MTTR_S = 600.0
BUFFER_PARTS = 5


def serial_line(stations: int = STATIONS, buffer_parts: int = BUFFER_PARTS) -> Line:
    """The line as a line file would give it; no infeed and no outfeed."""
    machine = {
        "cycle": {"family": "exponential", "mean": f"{CYCLE_S} s"},
        "breakdowns": {"jam": {"mtbf": f"{MTBF_S} s", "mttr": f"{MTTR_S} s"}},
    }
    route = [name for at in range(stations) for name in (f"m{at}", f"b{at}")][:-1]
    return linesim.load_line(
        {
            "name": "serial line",
            "route": route,
            "stations": {f"m{at}": machine for at in range(stations)},
            "buffers": {f"b{at}": {"capacity": buffer_parts} for at in range(stations - 1)},
        }
    )
