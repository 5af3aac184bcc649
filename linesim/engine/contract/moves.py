"""Direct hand-overs: parts that move on by themselves, the most downstream possible move first, until none is left."""

from __future__ import annotations

from linesim.engine.contract.changeovers import set_up
from linesim.engine.contract.ends import stock_changed
from linesim.engine.contract.loops import enter_loops, leave_loops
from linesim.engine.contract.places import put_part, take_part
from linesim.engine.contract.records import (
    ENDS_WATCHED,
    FIRST_PLACE,
    KIND,
    MACHINE_SIZE,
    MIX,
    MOVES,
    N_LOOPS,
    N_MOVES,
    N_PLACES,
    NEXT_BY_TYPE,
    NONE,
    ON_MOVES,
    OWNER_KIND,
    ROOM,
    ROOM_FOR,
    ROOM_TAKEN,
    SINCE,
    STATION,
    STEP,
    Floor,
)
from linesim.engine.contract.touch import touch_supply
from linesim.engine.contract.ways import index_of, is_ready, next_step, room_in, way_between


def move_directly(floor: Floor) -> None:
    """Make every direct move that is possible. Each move may make others possible up and down the line."""
    while floor[N_MOVES]:
        floor[N_MOVES] -= 1
        step = floor[floor[MOVES] + floor[N_MOVES]]
        floor[step + ON_MOVES] = 0
        _move_from(floor, step)


def _move_from(floor: Floor, step: int) -> None:
    """Move one part on from this step if any can go: of several finished machines, from the one that finished first."""
    best = target = NONE
    is_station = floor[step + KIND] == STATION
    place = floor[step + FIRST_PLACE]
    for _ in range(floor[step + N_PLACES]):
        if is_ready(floor, place) and (best == NONE or floor[place + SINCE] < floor[best + SINCE]):
            to_step = next_step(floor, place)
            if way_between(floor, step, to_step) == NONE:
                way = floor[place + ROOM] if is_station else NONE
                if way == NONE:
                    way = room_in(floor, step, to_step, NONE, -1)
                if way:
                    best = place
                    target = way
        place += MACHINE_SIZE
    if best:
        _move(floor, step, best, target)


def _move(floor: Floor, step: int, place: int, target: int) -> None:
    if floor[step + KIND] == STATION and floor[place + ROOM]:  # reserved at the start, and counted in loops then
        if floor[target + OWNER_KIND] != STATION:
            floor[target + ROOM_TAKEN] -= 1
    elif floor[N_LOOPS]:
        enter_loops(floor, step, floor[target + STEP])
    part = take_part(floor, place, -1)
    if floor[N_LOOPS]:
        leave_loops(floor, step, index_of(floor, target))
    put_part(floor, target, part, -1)
    if floor[MIX]:
        set_up(floor, target)
    if floor[ENDS_WATCHED]:
        stock_changed(floor, place)
        stock_changed(floor, target)
    if (
        floor[step + N_PLACES] > 1
        or floor[step + NEXT_BY_TYPE]
        or floor[floor[target + STEP] + N_PLACES] > 1
        or floor[target + OWNER_KIND] != STATION
        or floor[target + ROOM_FOR]
    ):
        touch_supply(floor, step)  # another part may follow at once
