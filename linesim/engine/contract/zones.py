"""Zones of a loader that people open: it ends its leg or handling, then stands still until they are out again.

It goes on working while they come. While it is down it stands anyway and the zone may be opened at once: whoever waits
to get in might be the one who must do the repair.

A stop of a machine that holds its loader, to bring a master part for instance, begins likewise once that stands.
People who have come for it do without a loader that is down. A loader off duty is waited for, and what a machine does
by itself waits for the repair too.
"""

from __future__ import annotations

from linesim.engine.contract.crews import call
from linesim.engine.contract.log import ROW_STOP, note
from linesim.engine.contract.order import is_at_work
from linesim.engine.contract.records import (
    CLOSED,
    CREW,
    DOWN,
    DUTY,
    HELD_BY,
    HOLDS,
    IS_BREAKDOWN,
    N_HELD_BY,
    N_OWN_STOPPAGES,
    NONE,
    NUMBER,
    ON_DUTY,
    OWN_STOPPAGES,
    OWNER,
    PROGRESS,
    START_STOPPAGE,
    STEP,
    STOP,
    STOPPAGE_NUMBER,
    STOPPAGE_SIZE,
    THERE,
    UNDER_WAY,
    Floor,
)
from linesim.engine.contract.touch import touch, wake


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
    for at in range(floor[carriage + HELD_BY], floor[carriage + HELD_BY] + floor[carriage + N_HELD_BY]):
        if floor[floor[at] + PROGRESS] == THERE:
            begin_with_loader(floor, floor[at])


def begin_with_loader(floor: Floor, stop: int) -> None:
    """A stop of a machine whose crew is there begins, if the loader that it holds is free for it."""
    machine, carriage = floor[stop + OWNER], floor[stop + HOLDS]
    by_itself = floor[stop + CREW] == NONE
    if floor[carriage + STOP]:
        return
    if by_itself and (floor[machine + DOWN] or floor[machine + CLOSED] or floor[carriage + DOWN]):
        return
    if not floor[carriage + DOWN] and (floor[carriage + DUTY] != ON_DUTY or is_at_work(floor, carriage)):
        return
    floor[carriage + STOP] = stop
    floor[stop + PROGRESS] = UNDER_WAY
    wake(floor, START_STOPPAGE, stop)
    touch(floor, floor[machine + STEP])


def is_held(floor: Floor, carriage: int) -> bool:
    """Whether a stop of a machine holds this carriage now, and goes on: the machine is not closed."""
    stop = floor[carriage + STOP]
    return stop != NONE and floor[stop + OWNER] != carriage and not floor[floor[stop + OWNER] + CLOSED]
