"""Zones of a loader that people open: it ends its leg or handling, then stands still until they are out again.

It goes on working while they come. While it is down it stands anyway and the zone may be opened at once: whoever waits
to get in might be the one who must do the repair.
"""

from __future__ import annotations

from linesim.engine.contract.crews import call
from linesim.engine.contract.log import ROW_STOP, note
from linesim.engine.contract.order import is_at_work
from linesim.engine.contract.places import wake
from linesim.engine.contract.records import (
    DOWN,
    IS_BREAKDOWN,
    N_OWN_STOPPAGES,
    NUMBER,
    OWN_STOPPAGES,
    OWNER,
    PROGRESS,
    START_STOPPAGE,
    STOP,
    STOPPAGE_NUMBER,
    STOPPAGE_SIZE,
    THERE,
    UNDER_WAY,
    Floor,
)


def ask_for_zone(floor: Floor, zone: int) -> None:
    """A zone is to be opened: its crew is called."""
    carriage = floor[zone + OWNER]
    note(floor, ROW_STOP, floor[carriage + NUMBER], -1, floor[zone + STOPPAGE_NUMBER])
    call(floor, zone)


def open_zones(floor: Floor, carriage: int) -> None:
    """A carriage that stands lets people who are there into their zone, one zone at a time, in file order."""
    if floor[carriage + STOP] or (is_at_work(floor, carriage) and not floor[carriage + DOWN]):
        return
    for n in range(floor[carriage + N_OWN_STOPPAGES]):
        zone = floor[carriage + OWN_STOPPAGES] + n * STOPPAGE_SIZE
        if floor[zone + PROGRESS] == THERE and not floor[zone + IS_BREAKDOWN]:
            floor[zone + PROGRESS] = UNDER_WAY
            floor[carriage + STOP] = zone
            wake(floor, START_STOPPAGE, zone)
            return
