"""Direct hand-overs: parts that move on by themselves, the most downstream possible move first, until none is left."""

from __future__ import annotations

from collections.abc import MutableSequence

from linesim.engine.contract.loops import enter_loops, leave_loops
from linesim.engine.contract.places import put_part, take_part
from linesim.engine.contract.records import (
    BUFFER,
    FIRST_PLACE,
    MOVES,
    N_MOVES,
    N_PLACES,
    NONE,
    ON_MOVES,
    OWNER_KIND,
    PLACE_SIZE,
    ROOM,
    ROOM_TAKEN,
    SINCE,
    STATION,
    STEP,
)
from linesim.engine.contract.ways import index_of, is_ready, way_of, way_on


def move_directly(floor: MutableSequence[int]) -> None:
    """Make every direct move that is possible. Each move may make others possible up and down the line."""
    while floor[N_MOVES]:
        floor[N_MOVES] -= 1
        step = floor[floor[MOVES] + floor[N_MOVES]]
        floor[step + ON_MOVES] = 0
        place = _next_to_move(floor, step)
        if place:
            _move(floor, place, way_on(floor, place))


def _next_to_move(floor: MutableSequence[int], step: int) -> int:
    """The place of this step whose part moves on: of several finished machines the one that finished first."""
    best = NONE
    for n in range(floor[step + N_PLACES]):
        place = floor[step + FIRST_PLACE] + n * floor[step + PLACE_SIZE]
        if (
            is_ready(floor, place)
            and way_of(floor, place) == NONE
            and (best == NONE or floor[place + SINCE] < floor[best + SINCE])
            and way_on(floor, place) != NONE
        ):
            best = place
    return best


def _move(floor: MutableSequence[int], place: int, target: int) -> None:
    if floor[place + OWNER_KIND] == STATION and floor[place + ROOM]:  # reserved at the start, and counted in loops then
        if floor[target + OWNER_KIND] == BUFFER:
            floor[target + ROOM_TAKEN] -= 1
    else:
        enter_loops(floor, floor[place + STEP], floor[target + STEP])
    part = take_part(floor, place, -1)
    leave_loops(floor, floor[place + STEP], index_of(floor, target))
    put_part(floor, target, part, -1)
