"""Output windows: stretches of equal length that follow each other, and what they hold beside the departures."""

from __future__ import annotations

from linesim.engine.contract.ledger import WINDOW_COLUMNS
from linesim.engine.contract.levels import count_inside
from linesim.engine.contract.records import (
    INSIDE,
    N_WINDOWS,
    NOW,
    WINDOW,
    WINDOW_ENDS,
    WINDOWS_AT,
    WIP_AREA,
    Floor,
)

WINDOW_WIDTH = len(WINDOW_COLUMNS)


def close_window(floor: Floor) -> None:
    """An output window ends now, and the next begins."""
    count_inside(floor, 0)
    row = floor[WINDOWS_AT] + WINDOW_WIDTH * floor[N_WINDOWS]
    floor[row] = floor[NOW]
    floor[row + 1] = floor[WIP_AREA]
    floor[row + 2] = floor[INSIDE]
    floor[N_WINDOWS] += 1
    floor[WIP_AREA] = 0
    floor[WINDOW_ENDS] = floor[NOW] + floor[WINDOW]
